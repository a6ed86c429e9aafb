"""Scores of one model on one lifter, summed by month and kind of evidence, so that any part can be weighed again."""

from datetime import date
from math import log

import numpy as np
from msgspec import Struct

from steelyard.engine.arrays import Floats

from .replaying import Foreseen
from .scores import below, crps, errors, is_covered, log_score, transforms
from .strengths import strength_transform
from .trials import EVIDENCE

COVERS = (0.5, 0.8, 0.9)
# A model that calls impossible what then happened pays for that set as if it had said one in a thousand million.
LEAST_PROBABILITY = 1e-9
RANKED = EVIDENCE[:-1]
# What is summed of each ranked set, of each session's best, and of each bound.
OF_SETS = ("count", "absolute", "signed", "log_score", "crps", "cover50", "cover80", "cover90")
OF_BESTS = ("count", "absolute", "signed", "cover80")
OF_BOUNDS = ("count", "log_score", "broken")


class Tallied(Struct, frozen=True):
    """Sums by month (first index); of sets also by evidence (second), in the order of RANKED and of the OF_ names."""

    months: tuple[str, ...]
    sets: tuple[tuple[tuple[float, ...], ...], ...]
    bests: tuple[tuple[float, ...], ...]
    bounds: tuple[tuple[float, ...], ...]


def tally(foreseen: Foreseen, chance: Floats) -> Tallied:
    """The sums of one model on one lifter; `chance` has one number in (0, 1) a set."""
    months = sorted({_month(s.on) for s in foreseen.sets} | {_month(b.on) for b in foreseen.bests})
    place = {month: i for i, month in enumerate(months)}
    sets = np.zeros((len(months), len(RANKED), len(OF_SETS)))
    bounds = np.zeros((len(months), len(OF_BOUNDS)))
    bests = np.zeros((len(months), len(OF_BESTS)))
    of_sets, of_bounds = _set_scores(foreseen, chance), _bound_scores(foreseen)
    for i, found in enumerate(foreseen.sets):
        month = place[_month(found.on)]
        if found.trial.is_ranked:
            sets[month, RANKED.index(found.trial.evidence)] += of_sets[i]
        else:
            bounds[month] += of_bounds[i]
    for day, scores in _best_scores(foreseen):
        bests[place[_month(day)]] += scores
    return Tallied(tuple(months), tuple(tuple(map(tuple, m)) for m in sets.tolist()), _rows(bests), _rows(bounds))


def _set_scores(foreseen: Foreseen, chance: Floats) -> Floats:
    asked = (foreseen.cdf, foreseen.seen, foreseen.told_up_to)
    error = errors(*asked).astype(float)
    transformed = transforms(*asked, chance)
    covered = [is_covered(transformed, share).astype(float) for share in COVERS]
    scores = [np.ones(len(error)), np.abs(error), error, _told(foreseen), crps(*asked), *covered]
    return np.stack(scores, axis=1)


def _bound_scores(foreseen: Foreseen) -> Floats:
    """Of a bound: its log score, and whether it was more than nine in ten predictions held possible."""
    surprised = (below(foreseen.cdf, foreseen.seen) > 0.9).astype(float)
    return np.stack([np.ones(len(surprised)), _told(foreseen), surprised], axis=1)


def _told(foreseen: Foreseen) -> Floats:
    scores = log_score(foreseen.cdf, foreseen.seen, foreseen.told_up_to)
    return np.asarray(np.maximum(scores, log(LEAST_PROBABILITY)))


def _best_scores(foreseen: Foreseen) -> list[tuple[date, Floats]]:
    """Errors of the session's best 1RM as a share of it, and whether it lay in the middle 80 %; by day."""
    told = [(b.on, b.actual, b.foreseen, b.spread) for b in foreseen.bests if b.actual is not None]
    if not told:
        return []
    actual, expected, spread = np.array([row[1:] for row in told]).T
    share = np.expm1(expected - actual)
    covered = is_covered(strength_transform(actual, expected, spread), 0.8)
    scores = np.stack([np.ones(len(actual)), np.abs(share), share, covered], axis=1)
    return [(row[0], score) for row, score in zip(told, scores, strict=True)]


def _month(on: date) -> str:
    return f"{on:%Y-%m}"


def _rows(array: Floats) -> tuple[tuple[float, ...], ...]:
    return tuple(map(tuple, array.tolist()))
