"""The statistician's peer: a linear mixed model, its population part from other lifters, updated by each session.

Each exercise has a level and a slope over log time, drawn by lifter from a normal distribution that was fitted on the
others; what is foreseen is the exact normal posterior from the lifter's own past. Two things a careful statistician
adds: a session further off than four spreads counts as four, and sets are calibrated on the other lifters.
"""

from collections.abc import Iterable, Sequence
from math import sqrt

import numpy as np
from msgspec import Struct

from steelyard.engine.arrays import Floats
from steelyard.engine.backtest.models import Asked, LineKey, RepetitionForecast
from steelyard.engine.backtest.population import ORDERS, PRIOR_SETS, order_index
from steelyard.engine.backtest.sessions import SessionLevel, session_level
from steelyard.engine.backtest.trials import ExerciseEntry, LifterTrials, TrialSession

from .calibrating import UNCALIBRATED, Calibration, Forecasts, calibrate
from .folds import folds
from .growth_curves import Curve, Series, fit_curves, log_time, series_of
from .strength_bands import band_of, repetition_rows

CLIP = 4.0
# A first session that only bounds strength lies below it by about so much (ln): our judgement.
BOUND_SCATTER = 0.1


class Learned(Struct, frozen=True):
    """All that other lifters tell."""

    curves: dict[LineKey, Curve]
    usual: Curve
    calibration: Calibration


class Line:
    """One exercise of the followed lifter: the posterior of its level and slope."""

    def __init__(self, curve: Curve, day: int, first: float, *, is_level_known: bool) -> None:
        self.begun, self.scatter = day, curve.scatter
        self.mean = curve.mean if is_level_known else curve.mean + np.array([first, 0.0])
        self.covariance = curve.covariance
        self.is_attempt = False

    def foreseen(self, day: int) -> tuple[float, float]:
        """Mean and variance of the level on a day, before the scatter of a session."""
        at = np.array([1.0, log_time(day - self.begun)])
        return float(at @ self.mean), float(at @ self.covariance @ at)

    def update(self, day: int, level: float, extra: float = 0.0) -> None:
        """The exact posterior after a session."""
        at = np.array([1.0, log_time(day - self.begun)])
        along = self.covariance @ at
        variance = float(at @ along) + self.scatter + extra
        apart = level - float(at @ self.mean)
        apart = max(-CLIP * sqrt(variance), min(CLIP * sqrt(variance), apart))
        self.mean = self.mean + along * (apart / variance)
        self.covariance = self.covariance - np.outer(along, along) / variance


class Habits:
    """How this lifter's sets lie around what was foreseen, drawn towards the other lifters'."""

    def __init__(self) -> None:
        self.count, self.squares = 0, 0.0
        self.counts, self.sums = [0] * ORDERS, [0.0] * ORDERS

    def see(self, index: int, apart: float, spread: float) -> None:
        """One set that ended so far (ln) above what was expected."""
        kept = max(-3 * spread, min(3 * spread, apart))
        self.count += 1
        self.squares += (kept / spread) ** 2
        self.counts[index] += 1
        self.sums[index] += kept

    def offset(self, index: int) -> float:
        """What to add for a set of this order."""
        return self.sums[index] / (PRIOR_SETS + self.counts[index])

    @property
    def factor(self) -> float:
        """By how much this lifter scatters more than others."""
        return sqrt((PRIOR_SETS + self.squares) / (PRIOR_SETS + self.count))


class MixedModelFollower:
    """The model with what it has seen of one lifter."""

    def __init__(self, learned: Learned, equation: str) -> None:
        self.learned, self._equation = learned, equation
        self._lines: dict[LineKey, Line] = {}
        self._habits = Habits()

    def forecast(self, asked: Asked) -> RepetitionForecast | None:
        """What is foreseen; None for an exercise never seen."""
        line = self._lines.get(asked.key)
        if line is None:
            return None
        best, variance = line.foreseen(asked.day)
        expected, spread = self._sets(line, asked.day, len(asked.loads_kg))
        wide = self.learned.calibration.wide_share
        cdf = repetition_rows(asked.loads_kg, expected, spread, wide, self._equation)
        return RepetitionForecast(cdf=cdf, best=best, best_spread=sqrt(variance + line.scatter))

    def learn(self, session: TrialSession) -> None:
        """See a session that is over."""
        day = session.on.toordinal()
        for entry in session.entries:
            level = session_level(entry, self._equation)
            line = self._lines.get(entry.key)
            if line is None:
                line = self._lines[entry.key] = self._begin(entry.key, day, level)
            else:
                self._see_sets(line, day, entry)
                _take(line, day, level)
            line.is_attempt = all(t.evidence == "attempt" for t in entry.trials)

    def told(self, session: TrialSession) -> Iterable[tuple[float, float, float, float, int, bool]]:
        """Bands of a session's ranked sets beside what is expected of them, as `calibrate` takes them."""
        for entry in session.entries:
            line = self._lines.get(entry.key)
            if line is None:
                continue
            expected, spread = self._sets(line, session.on.toordinal(), len(entry.trials))
            for i, trial in enumerate(entry.trials):
                if trial.is_ranked:
                    band = band_of(trial, self._equation)
                    index = order_index(trial.order)
                    yield band.lower, band.upper, float(expected[i]), float(spread[i]), index, line.is_attempt

    def _begin(self, key: LineKey, day: int, level: SessionLevel) -> Line:
        curve = self.learned.curves.get(key)
        line = Line(curve or self.learned.usual, day, level.ln_kg, is_level_known=curve is not None)
        line.update(day, level.ln_kg, 0.0 if level.told == "measured" else BOUND_SCATTER**2)
        return line

    def _sets(self, line: Line, day: int, count: int) -> tuple[Floats, Floats]:
        """Expected strength of each set and its spread."""
        mean, variance = line.foreseen(day)
        calibration, kind = self.learned.calibration, int(line.is_attempt)
        indices = [order_index(order) for order in range(1, count + 1)]
        own = np.array([0.0 if line.is_attempt else self._habits.offset(i) for i in indices])
        spread = sqrt(variance + line.scatter) * float(calibration.factors[kind]) * self._habits.factor
        return mean + calibration.offsets[kind, indices] + own, np.full(count, spread)

    def _see_sets(self, line: Line, day: int, entry: ExerciseEntry) -> None:
        expected, spread = self._sets(line, day, len(entry.trials))
        for i, trial in enumerate(entry.trials):
            middle = band_of(trial, self._equation).middle
            if trial.is_ranked and middle is not None and not line.is_attempt:
                self._habits.see(order_index(trial.order), middle - float(expected[i]), float(spread[i]))


def _take(line: Line, day: int, level: SessionLevel) -> None:
    """A bound only raises what was known, a miss only lowers it."""
    known, _ = line.foreseen(day)
    told = {"measured": True, "at-least": level.ln_kg > known, "below": level.ln_kg < known}
    if told[level.told]:
        line.update(day, level.ln_kg)


def learn_from(others: Sequence[tuple[LifterTrials, list[Series]]], equation: str) -> Learned:
    """Fit curves on other lifters, then follow them once to see how far off that is."""
    curves, usual = fit_curves(series for _, found in others for series in found)
    bare = Learned(curves, usual, UNCALIBRATED)
    rows: list[tuple[float, float, float, float, int, bool]] = []
    for lifter, _ in others:
        follower = MixedModelFollower(bare, equation)
        for session in lifter.sessions:
            rows += follower.told(session)
            follower.learn(session)
    table = np.array(rows, dtype=float).reshape(-1, 6)
    lower, upper, expected, spread, order, is_attempt = table.T
    told = Forecasts(lower, upper, expected, spread, order.astype(np.int64), is_attempt.astype(np.int64))
    return Learned(curves, usual, calibrate(told))


def mixed_model_followers(lifters: Sequence[LifterTrials], equation: str) -> list[MixedModelFollower]:
    """One follower a lifter, each fitted without that lifter."""
    series = [series_of(lifter, equation) for lifter in lifters]
    found: dict[int, MixedModelFollower] = {}
    for fold in folds(len(lifters)):
        learned = learn_from([(lifters[i], series[i]) for i in fold.others], equation)
        found |= {i: MixedModelFollower(learned, equation) for i in fold.followed}
    return [found[i] for i in range(len(lifters))]
