"""Population settings found from a club's own logs: only what foresees lifters better who were left out is kept."""

from collections.abc import Callable, Mapping, Sequence
from math import log
from typing import Protocol

import numpy as np
from msgspec import Struct, structs
from numpy.random import Generator

from steelyard.engine.backtest.replaying import foresee
from steelyard.engine.backtest.scores import log_score
from steelyard.engine.backtest.trials import LifterTrials

from .following import StrengthFollower
from .relations import LineKey, Relation
from .settings import DEFAULTS, StrengthSettings

# What differs between clubs: how noisily sets and reserves are told, how days differ, how strength moves.
TUNED = ("set_noise", "reserve_noise", "habit_noise", "day_spread", "entry_spread", "slope_noise", "exercise_noise")
STEP, ROUNDS = 1.5, 2
# A setting that is half as large again, or a third smaller, costs as much as half a unit of log score: some sets of one
# lifter do not move it, a club does (our judgement).
PRIOR_SPREAD = 0.4
LEAST_LIFTERS, LEAST_SETS, FOLDS = 3, 30, 5
DRAWS, LEAST_SURE = 2000, 0.95


class Foreseen(Struct, frozen=True):
    """How well one lifter was foreseen: sum of the log scores, and over how many ranked sets."""

    total: float
    count: int


class Foresees(Protocol):
    """Scores of some lifters, by place, under some settings."""

    def __call__(self, settings: StrengthSettings, places: Sequence[int]) -> Mapping[int, Foreseen]: ...


class Tuned(Struct, frozen=True, kw_only=True):
    """What was found: settings, what changed, gain in log score a set on lifters left out with its 95 % interval."""

    settings: StrengthSettings
    changed: dict[str, tuple[float, float]]
    gain: float
    low: float
    high: float
    is_kept: bool


def foreseen_under(
    trials: LifterTrials, relation_of: Callable[[LineKey], Relation], equation: str, settings: StrengthSettings
) -> Foreseen:
    """How well these settings foresee one lifter, session by session."""
    found = foresee(trials, StrengthFollower(relation_of, equation, settings), equation)
    ranked = np.array([s.trial.is_ranked for s in found.sets], dtype=bool)
    if not ranked.any():
        return Foreseen(0.0, 0)
    scores = log_score(found.cdf[ranked], found.seen[ranked], found.told_up_to[ranked])
    return Foreseen(float(scores.sum()), int(ranked.sum()))


def tune(count: int, foresees: Foresees, chance: Generator, told: Callable[[int], None]) -> Tuned:
    """Find settings on all but a fold of the lifters, see what they gain on that fold; then on all of them."""
    places = list(range(count))
    folds = [places[n :: min(FOLDS, count)] for n in range(min(FOLDS, count))]
    gains: dict[int, tuple[float, int]] = {}
    for done, fold in enumerate(folds):
        found = _searched([p for p in places if p not in fold], foresees)
        before, after = foresees(DEFAULTS, fold), foresees(found, fold)
        gains |= {p: (after[p].total - before[p].total, after[p].count) for p in fold}
        told(done + 1)
    settings = _searched(places, foresees)
    told(len(folds) + 1)
    gain, low, high, sure = _gain([gains[p] for p in places], chance)
    changed = {
        name: (getattr(DEFAULTS, name), getattr(settings, name))
        for name in TUNED
        if getattr(settings, name) != getattr(DEFAULTS, name)
    }
    is_kept = bool(changed) and sure >= LEAST_SURE
    return Tuned(
        settings=settings if is_kept else DEFAULTS, changed=changed, gain=gain, low=low, high=high, is_kept=is_kept
    )


def _searched(places: Sequence[int], foresees: Foresees) -> StrengthSettings:
    """One setting after the other, up and down while it gains more than its prior costs."""

    def worth(settings: StrengthSettings) -> float:
        known = foresees(settings, places)
        strayed = sum(log(getattr(settings, n) / getattr(DEFAULTS, n)) ** 2 for n in TUNED)
        return sum(f.total for f in known.values()) - strayed / (2 * PRIOR_SPREAD**2)

    best, reached = DEFAULTS, worth(DEFAULTS)
    for _ in range(ROUNDS):
        begun = reached
        for name in TUNED:
            for step in (STEP, 1 / STEP):
                while True:
                    value = float(f"{getattr(best, name) * step:.6g}")
                    tried = structs.replace(best, **{name: value})
                    found = worth(tried)
                    if found <= reached:
                        break
                    best, reached = tried, found
        if reached == begun:
            break
    return best


def _gain(gains: Sequence[tuple[float, int]], chance: Generator) -> tuple[float, float, float, float]:
    """Gain a set, its 95 % interval by drawing lifters again, and the share of draws that gain."""
    sums, counts = np.array([g for g, _ in gains]), np.array([n for _, n in gains], dtype=float)
    drawn = chance.multinomial(len(gains), np.full(len(gains), 1 / len(gains)), size=DRAWS).astype(float)
    weights = drawn @ counts
    means = (drawn @ sums)[weights > 0] / weights[weights > 0]
    low, high = np.percentile(means, (2.5, 97.5))
    return float(sums.sum() / max(counts.sum(), 1.0)), float(low), float(high), float(np.mean(means > 0))
