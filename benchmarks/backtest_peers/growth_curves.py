"""Strength of each exercise over the logarithm of time, by lifter: statsmodels' linear mixed model on other lifters."""

import warnings
from collections import defaultdict
from collections.abc import Iterable, Sequence
from math import log1p

import numpy as np
from msgspec import Struct
from statsmodels.regression.mixed_linear_model import MixedLM

from steelyard.engine.arrays import Floats
from steelyard.engine.backtest.models import LineKey
from steelyard.engine.backtest.sessions import session_level
from steelyard.engine.backtest.trials import LifterTrials

# An exercise has a model of its own from so many lifters on; a series is fitted from so many sessions on.
LEAST_LIFTERS, LEAST_SESSIONS = 8, 3
# ln: a session that far from the middle of its series is a slip of the pen, and no fit should bend to it.
SLIP = 0.4
# Without enough other lifters: the open data's 3 % scatter, anything possible of the level, a slope of a few percent.
UNKNOWN_LEVEL, USUAL_SLOPE, USUAL_SLOPE_SPREAD, USUAL_SCATTER = 2.0, 0.03, 0.05, 0.03


class Curve(Struct, frozen=True):
    """Level and slope over log time: their mean and covariance between lifters; variance of a session around them."""

    mean: Floats
    covariance: Floats
    scatter: float


class Series(Struct, frozen=True):
    """One exercise of one lifter: log time and level (ln kg) of each session whose best is measured."""

    key: LineKey
    times: tuple[float, ...]
    levels: tuple[float, ...]


USUAL = Curve(np.array([0.0, USUAL_SLOPE]), np.diag([UNKNOWN_LEVEL**2, USUAL_SLOPE_SPREAD**2]), USUAL_SCATTER**2)


def log_time(days: int) -> float:
    """The logarithm of weeks since the exercise was begun, plus one."""
    return log1p(days / 7)


def series_of(lifter: LifterTrials, equation: str) -> list[Series]:
    """What can be fitted of a lifter."""
    begun: dict[LineKey, int] = {}
    found: dict[LineKey, list[tuple[float, float]]] = defaultdict(list)
    for session in lifter.sessions:
        for entry in session.entries:
            day = session.on.toordinal()
            level = session_level(entry, equation)
            passed = log_time(day - begun.setdefault(entry.key, day))
            if level.told == "measured":
                found[entry.key].append((passed, level.ln_kg))
    return [
        Series(key, *zip(*kept, strict=True))
        for key, points in found.items()
        if len(kept := _without_slips(points)) >= LEAST_SESSIONS
    ]


def _without_slips(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    middle = float(np.median([level for _, level in points]))
    return [(time, level) for time, level in points if abs(level - middle) < SLIP]


def fit_curves(others: Iterable[Series]) -> tuple[dict[LineKey, Curve], Curve]:
    """A curve for each exercise that enough lifters do, and one for all exercises that says nothing of the level."""
    by_key: dict[LineKey, list[Series]] = defaultdict(list)
    for series in others:
        by_key[series.key].append(series)
    own = {key: fitted for key, found in by_key.items() if (fitted := _fit(found)) is not None}
    centred = [_centred(series) for found in by_key.values() for series in found]
    pooled = _fit(centred) or USUAL
    covariance = pooled.covariance.copy()
    covariance[0, 0] = UNKNOWN_LEVEL**2
    covariance[0, 1] = covariance[1, 0] = 0.0
    return own, Curve(np.array([0.0, pooled.mean[1]]), covariance, pooled.scatter)


def _centred(series: Series) -> Series:
    middle = float(np.mean(series.levels))
    return Series(series.key, series.times, tuple(level - middle for level in series.levels))


def _fit(found: Sequence[Series]) -> Curve | None:
    """Restricted maximum likelihood; None for few lifters or where the search ends nowhere."""
    if len(found) < LEAST_LIFTERS:
        return None
    times = np.concatenate([s.times for s in found])
    levels = np.concatenate([s.levels for s in found])
    who = np.concatenate([[i] * len(s.times) for i, s in enumerate(found)])
    design = np.column_stack([np.ones(len(times)), times])
    # It warns where a variance ends at nought or the gradient is not quite nought; what it found is then still used.
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            fitted = MixedLM(levels, design, groups=who, exog_re=design).fit(reml=True, method=["lbfgs"], maxiter=60)
        except np.linalg.LinAlgError:
            return None
    mean, covariance = np.asarray(fitted.fe_params, float), np.asarray(fitted.cov_re, float)
    if not (np.isfinite(mean).all() and np.isfinite(covariance).all() and fitted.scale > 0):
        return None
    return Curve(mean, covariance, float(fitted.scale))
