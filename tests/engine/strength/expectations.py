"""What is expected of a lifter hangs together: distributions, chances, levels, dates; and time alone adds doubt."""

import copy
import random
from collections.abc import Sequence
from datetime import date
from itertools import pairwise
from math import inf, isfinite, log

import numpy as np

from steelyard.engine.history import LineKey
from steelyard.engine.strength.outlook import Telling, chance_to_complete, goal_dates, level_of, told_cdf
from steelyard.engine.strength.posterior import LEVELS, Posterior

from .tally import Tally

LEVEL = "a level and the ends of its intervals are numbers above 0, in order, also ten years ahead"
ROWS = "rows of told_cdf are distributions"
ROWS_BY_LOAD = "P(R <= n) does not fall with the load, at any n"
CHANCE = "a chance to complete lies in 0 to 1"
CHANCE_BY_LOAD = "a chance to complete does not rise with the load"
CHANCE_BY_SETS = "a chance to complete does not rise with the number of equal sets"
CHANCE_BY_REPS = "a chance to complete does not rise (by 0.002) with the repetitions of all sets"
CHANCE_ONE_MORE = "a chance to complete does not rise (by 0.002) with one repetition more in one set, or one set more"
GOALS = "goal dates are in order, and a higher goal is not reached earlier"
TIME = "time alone never narrows the interval of a level"
AHEAD = "looking ahead never narrows the interval of a level"
TIME_IN_CELL = "time alone narrowed the level's variance in one cell: share"
SHARES = (0.3, 0.6, 0.8, 0.9, 1.0, 1.1, 1.5)
DAYS = (1, 7, 30, 100, 400, 3000)
ROUNDING = 1e-9
# A steepness that is normal can be below 0, however unlikely; two thousandths of a chance nobody minds (our judgement).
TAIL = 0.002


def expect(posterior: Posterior, key: LineKey, on: date, where: str, chance: random.Random, tally: Tally) -> None:
    """Put what is expected of one exercise to all of these; `on` is the day of the last session."""
    _levels(posterior, key, where, tally)
    kg = level_of(posterior, key).kg
    loads = [kg * share for share in SHARES]
    _rows(posterior, key, loads, where, tally)
    _chances(posterior, key, loads, where, chance, tally)
    _goals(posterior, key, on, where, tally)
    _time(posterior, key, on, where, chance, tally)


def _rise(values: Sequence[float]) -> float:
    """The largest step up."""
    return max((float(after) - float(before) for before, after in pairwise(values)), default=0.0)


def _levels(posterior: Posterior, key: LineKey, where: str, tally: Tally) -> None:
    for weeks in (0.0, 4.0, 52.0, 520.0):
        found = level_of(posterior, key, weeks)
        ends = (found.low95_kg, found.low80_kg, found.kg, found.high80_kg, found.high95_kg)
        is_sound = all(isfinite(end) and end > 0 for end in ends) and list(ends) == sorted(ends)
        tally.hold(LEVEL, 0.0 if is_sound else inf, where)


def _rows(posterior: Posterior, key: LineKey, loads: Sequence[float], where: str, tally: Tally) -> None:
    for share in (0.0, 0.4):
        rows = np.concatenate([told_cdf(posterior, key, [load], Telling(share, 2.0)) for load in loads])
        is_sound = np.isfinite(rows).all() and (np.diff(rows, axis=1) >= 0).all() and (rows[:, 0] >= 0).all()
        tally.hold(ROWS, 0.0 if is_sound and (rows[:, -1] == 1).all() else inf, where)
        tally.hold(ROWS_BY_LOAD, float(-np.diff(rows, axis=0).min()), where, ROUNDING)


def _chances(
    posterior: Posterior, key: LineKey, loads: Sequence[float], where: str, chance: random.Random, tally: Tally
) -> None:
    by_load = [chance_to_complete(posterior, key, load, [5, 5, 5]) for load in loads]
    tally.hold(CHANCE, 0.0 if all(0 <= found <= 1 for found in by_load) else inf, where)
    tally.hold(CHANCE_BY_LOAD, _rise(by_load), where, ROUNDING)
    load = chance.choice(loads)
    by_reps = [chance_to_complete(posterior, key, load, [reps] * 3) for reps in (1, 2, 3, 5, 8, 12, 20)]
    _hold_unless_absurd(CHANCE_BY_REPS, _rise(by_reps), where, tally)
    by_sets = [chance_to_complete(posterior, key, load, [5] * sets) for sets in (1, 2, 3, 6)]
    tally.hold(CHANCE_BY_SETS, _rise(by_sets), where, ROUNDING)
    reps = [chance.randint(1, 12) for _ in range(3)]
    found = chance_to_complete(posterior, key, load, reps)
    place = chance.randrange(3)
    more = [count + (n == place) for n, count in enumerate(reps)]
    for asked_more in (more, [*reps, chance.randint(1, 12)]):
        rise = chance_to_complete(posterior, key, load, asked_more) - found
        _hold_unless_absurd(CHANCE_ONE_MORE, float(rise), where, tally)


def _hold_unless_absurd(law: str, excess: float, where: str, tally: Tally, allowed: float = TAIL) -> None:
    """What was learned from loads of 1 kg and 10 t may be a steepness or a slope that nobody has."""
    if where.endswith("absurd"):
        tally.measure(f"{law}: excess after absurd logs", excess, where)
    else:
        tally.hold(law, excess, where, allowed)


def _goals(posterior: Posterior, key: LineKey, on: date, where: str, tally: Tally) -> None:
    kg = level_of(posterior, key).kg
    earlier: tuple[date, ...] = ()
    for share in (0.9, 1.05):
        found = goal_dates(posterior, key, kg * share, on)
        dates = tuple(d or date.max for d in (found.earliest, found.middle, found.latest))
        is_sound = list(dates) == sorted(dates) and all(a <= b for a, b in zip(earlier, dates, strict=False))
        tally.hold(GOALS, 0.0 if is_sound and dates[0] >= on else inf, where)
        earlier = dates


def _time(posterior: Posterior, key: LineKey, on: date, where: str, chance: random.Random, tally: Tally) -> None:
    known, in_cell = width(posterior, key), level_variance(posterior, key)
    for days in chance.sample(DAYS, 3):
        later = copy.deepcopy(posterior)
        later.pass_time(on.toordinal() + days)
        _hold_unless_absurd(TIME, 1 - width(later, key) / known, where, tally, ROUNDING)
        narrowed = 1 - level_variance(later, key) / in_cell
        tally.measure(TIME_IN_CELL, float(narrowed.max()), where)
        _hold_unless_absurd(AHEAD, 1 - width(posterior, key, days / 7) / known, where, tally, ROUNDING)


def width(posterior: Posterior, key: LineKey, weeks: float = 0.0) -> float:
    """The width (ln) of a level's 95 % interval."""
    found = level_of(posterior, key, weeks)
    return log(found.high95_kg / found.low95_kg)


def level_variance(posterior: Posterior, key: LineKey) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """The variance of a level (ln) by cell."""
    places = [*LEVELS, posterior.place_of(key)]
    return np.asarray(posterior.along(places, [*posterior.relations[key].loadings, 1.0])[1])
