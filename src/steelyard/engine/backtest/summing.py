"""From sums to scores with intervals: lifters are drawn again and again, or months where there is only one lifter."""

from collections.abc import Mapping, Sequence

import numpy as np
from msgspec import Struct
from numpy.random import Generator

from steelyard.engine.arrays import Floats

from .tallying import OF_BESTS, OF_BOUNDS, OF_SETS, RANKED, Tallied

DRAWS = 1000
# The interval holds the middle 95 % of the draws.
TAILS = (2.5, 97.5)


class ModelScores(Struct, frozen=True, kw_only=True):
    """What `backtest` says of one model; None where there was nothing to score.

    Repetitions: absolute and signed error of the whole-number median, CRPS. Percent: of the session's best 1RM.
    `log_score`: mean ln probability, higher is better; `log_score_over_repeat`: by how much above plain repeating.
    `cover`: shares within the middle 50, 80, 90 %. Bounds apart: sets that were not taken to their end.
    `draws_without_gain`: share of the draws in which it did no better than repeating.
    `intervals`: 95 % interval of each score by its name; none where one lifter has one month.
    """

    name: str
    mae_reps: float | None
    bias_reps: float | None
    mae_pct: float | None
    bias_pct: float | None
    best_cover80: float | None
    log_score: float | None
    log_score_over_repeat: float | None
    draws_without_gain: float | None
    crps_reps: float | None
    cover50: float | None
    cover80: float | None
    cover90: float | None
    bounds_log_score: float | None
    bounds_broken: float | None
    intervals: dict[str, tuple[float, float]]
    by_evidence: dict[str, dict[str, float]]


class Weighed(Struct, frozen=True):
    """One model's sums by drawn unit (lifter, or month of the only lifter)."""

    sets: Floats
    bests: Floats
    bounds: Floats
    by_evidence: Floats


def summarise(tallied: Mapping[str, Sequence[Tallied]], reference: str, chance: Generator) -> list[ModelScores]:
    """Scores of every model over the same lifters, best log score first; intervals by the same draws for all."""
    weighed = {name: _weighed(lifters) for name, lifters in tallied.items()}
    units = len(next(iter(weighed.values())).sets) if weighed else 0
    draws = chance.multinomial(units, np.full(units, 1 / units), size=DRAWS).astype(float) if units > 1 else None
    found = [_scores(name, w, weighed[reference], draws) for name, w in weighed.items()]
    return sorted(found, key=lambda m: -(m.log_score if m.log_score is not None else -np.inf))


def _weighed(lifters: Sequence[Tallied]) -> Weighed:
    if len(lifters) == 1:
        only = lifters[0]
        sets = np.array(only.sets).reshape(-1, len(RANKED), len(OF_SETS))
        bests = np.array(only.bests).reshape(-1, len(OF_BESTS))
        bounds = np.array(only.bounds).reshape(-1, len(OF_BOUNDS))
    else:
        sets = np.stack([np.array(t.sets).reshape(-1, len(RANKED), len(OF_SETS)).sum(axis=0) for t in lifters])
        bests = np.stack([np.array(t.bests).reshape(-1, len(OF_BESTS)).sum(axis=0) for t in lifters])
        bounds = np.stack([np.array(t.bounds).reshape(-1, len(OF_BOUNDS)).sum(axis=0) for t in lifters])
    return Weighed(sets.sum(axis=1), bests, bounds, sets.sum(axis=0))


def _scores(name: str, model: Weighed, reference: Weighed, draws: Floats | None) -> ModelScores:
    apart = model.sets.copy()
    apart[:, OF_SETS.index("log_score")] -= reference.sets[:, OF_SETS.index("log_score")]
    percent = model.bests * [1.0, 100.0, 100.0, 1.0]
    columns = {
        "mae_reps": (model.sets, OF_SETS.index("absolute")),
        "bias_reps": (model.sets, OF_SETS.index("signed")),
        "mae_pct": (percent, OF_BESTS.index("absolute")),
        "bias_pct": (percent, OF_BESTS.index("signed")),
        "best_cover80": (percent, OF_BESTS.index("cover80")),
        "log_score": (model.sets, OF_SETS.index("log_score")),
        "log_score_over_repeat": (apart, OF_SETS.index("log_score")),
        "crps_reps": (model.sets, OF_SETS.index("crps")),
        "cover50": (model.sets, OF_SETS.index("cover50")),
        "cover80": (model.sets, OF_SETS.index("cover80")),
        "cover90": (model.sets, OF_SETS.index("cover90")),
        "bounds_log_score": (model.bounds, OF_BOUNDS.index("log_score")),
        "bounds_broken": (model.bounds, OF_BOUNDS.index("broken")),
    }
    values = {score: _mean(sums, column) for score, (sums, column) in columns.items()}
    drawn = {score: _drawn(sums, column, draws) for score, (sums, column) in columns.items()}
    margins = drawn["log_score_over_repeat"]
    return ModelScores(
        name=name,
        **values,
        draws_without_gain=None if margins is None else float(np.mean(margins <= 0)),
        intervals={score: _middle(means) for score, means in drawn.items() if means is not None},
        by_evidence=_by_evidence(model.by_evidence),
    )


def _mean(sums: Floats, column: int) -> float | None:
    """A mean over all sets of all units."""
    count = sums[:, 0].sum()
    return float(sums[:, column].sum() / count) if count else None


def _drawn(sums: Floats, column: int, draws: Floats | None) -> Floats | None:
    """The same mean over the units of each draw; None where nothing can be drawn."""
    if draws is None or not sums[:, 0].any():
        return None
    counts = draws @ sums[:, 0]
    return np.asarray((draws @ sums[:, column])[counts > 0] / counts[counts > 0])


def _middle(means: Floats) -> tuple[float, float]:
    """Where the middle 95 % of the draws lie."""
    low, high = np.percentile(means, TAILS)
    return float(low), float(high)


def _by_evidence(sums: Floats) -> dict[str, dict[str, float]]:
    told: dict[str, dict[str, float]] = {}
    for evidence, row in zip(RANKED, sums, strict=True):
        if row[0] > 0:
            means = {name: float(total / row[0]) for name, total in zip(OF_SETS[1:], row[1:], strict=True)}
            told[evidence] = {"sets": float(row[0]), "mae_reps": means["absolute"], "log_score": means["log_score"]}
    return told
