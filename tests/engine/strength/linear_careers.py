"""Lifters whose sets are Gaussian measurements, told to a posterior and to its twin."""

from collections.abc import Iterator
from datetime import date
from math import isnan, nan

import msgspec
import numpy as np
from msgspec import Struct

from steelyard.engine.arrays import Floats
from steelyard.engine.curve import GENERAL
from steelyard.engine.strength.posterior import (
    BIAS,
    DAY,
    ENTRY,
    HABIT,
    LEAST_HABIT,
    LEVELS,
    STEEPNESS,
    TIRING,
    Posterior,
)
from steelyard.engine.strength.relations import LEGS, PULL, PUSH, LineKey, Relation
from steelyard.engine.strength.settings import StrengthSettings
from steelyard.engine.strength.updates import measured

from .linear_twin import LinearTwin, Loadings

SQUAT, BENCH, ROW, DEADLIFT = ("squat", ""), ("bench-press", ""), ("row", ""), ("deadlift", "")
CLOSE_GRIP, BENCH_MACHINE = ("close-grip-bench-press", ""), ("bench-press", "machine")
# In the order in which they join.
LOADINGS: dict[LineKey, Loadings] = {
    SQUAT: LEGS,
    BENCH: PUSH,
    ROW: PULL,
    CLOSE_GRIP: PUSH,
    DEADLIFT: (0.0, 0.3, 0.7),
    BENCH_MACHINE: PUSH,
}
NEAR = {CLOSE_GRIP: BENCH, BENCH_MACHINE: BENCH}
# Fixed here, so that other usual values change nothing; drifts are large, so that an error in them is seen.
SETTINGS = StrengthSettings(
    level_mean=4.1,
    level_spread=0.5,
    exercise_spread=0.45,
    relative_spread=0.2,
    between_patterns=0.7,
    slope_mean=0.004,
    slope_spread=0.004,
    slope_weeks=20.0,
    slope_noise=0.004,
    level_noise=0.01,
    lasting_gain=0.0005,
    exercise_noise=0.008,
    novelty_gain=0.01,
    novelty_noise=0.03,
    novelty_sessions=3.0,
    day_spread=0.015,
    entry_spread=0.012,
    layoff_from_weeks=2.0,
    layoff_drift=-0.006,
    layoff_noise=0.02,
    noise_scales=(0.75, 1.1, 1.7),
    drift_scales=(0.4, 1.0, 2.5),
)
CELLS = [(n, d) for n in SETTINGS.noise_scales for d in SETTINGS.drift_scales]
# Days without training, longer than a layoff goes on to cost.
LONG_AWAY = 250
MONDAY = date(2026, 1, 5).toordinal()


class Seen(Struct, frozen=True):
    """A set as it reaches `measured`: ln kg (nan where it was not told), its noise, what it puts on which places."""

    row: dict[int, float]
    value: float
    spread: float


class Told(Struct, frozen=True):
    """An exercise in a session, its sets, and how far (ln) its level may be elsewhere from the second of them on."""

    key: LineKey
    sets: tuple[Seen, ...]
    elsewhere: float = 0.0


class Career(Struct, frozen=True):
    """Days with what was done on them; no exercise at all for a day on which nothing was told."""

    name: str
    days: tuple[tuple[int, tuple[Told, ...]], ...]
    is_unseen: bool = False


def career(number: int, days: int, *, is_unseen: bool = False) -> Career:
    """A lifter who gets stronger: uneven gaps and long ones, exercises that join later, sets and sessions missing."""
    rng = np.random.default_rng(number)
    keys, day, found = list(LOADINGS), MONDAY, list[tuple[int, tuple[Told, ...]]]()
    for i in range(days):
        gap = int(rng.choice([0, 1, 2, 3, 4, 7, 9, 16, 40], p=[0.08, 0.1, 0.22, 0.2, 0.15, 0.1, 0.05, 0.05, 0.05]))
        gap = LONG_AWAY if i == 25 else gap
        day += gap
        if i and gap >= 40:
            found.append((day - 20, ()))
        known = keys[: 2 + i // 4]
        chosen = [] if rng.random() < 0.15 else sorted(rng.permutation(len(known))[: rng.integers(1, 4)])
        form = rng.normal(0, 0.015)
        entries = [_told(rng, known[j], (day - MONDAY) / 7, form) for j in (chosen if i else (0, 1))]
        found.append((day, tuple(entries)))
    return Career(f"{number}", tuple(found), is_unseen)


def _told(rng: np.random.Generator, key: LineKey, weeks: float, form: float) -> Told:
    level = 4.3 + 0.1 * list(LOADINGS).index(key) + 0.004 * weeks + form + rng.normal(0, 0.01)
    sets = []
    for order in range(1, int(rng.integers(2, 5))):
        ratio, spread = float(rng.uniform(0.0, 0.3)), float(rng.uniform(0.01, 0.04))
        row = {STEEPNESS: -ratio, DAY: 1.0, ENTRY: 1.0, TIRING: order - 1.0}
        if rng.random() < 0.3:
            row |= {BIAS: -0.02} if rng.random() < 0.5 else {HABIT: -0.03}
        reserve = 0.02 * (BIAS in row) + 0.07 * (HABIT in row)
        value = level - ratio - reserve - 0.008 * (order - 1) + rng.normal(0, 0.6 * spread)
        sets.append(Seen(row, nan if rng.random() < 0.1 else float(value), spread))
    return Told(key, tuple(sets), 0.02 if rng.random() < 0.1 else 0.0)


def relation_of(key: LineKey) -> Relation:
    """Relations as the twin has them."""
    return Relation(LOADINGS[key], GENERAL, (key[0], "bench-press") if key in NEAR else (key[0],))


def posterior_of(*cells: tuple[float, float]) -> Posterior:
    """A posterior on a grid of one cell, or on a whole one."""
    noise, drift = tuple(sorted({n for n, _ in cells})), tuple(sorted({d for _, d in cells}))
    return Posterior(msgspec.structs.replace(SETTINGS, noise_scales=noise, drift_scales=drift), relation_of)


def places_of(seen: Seen, key: LineKey, place: int) -> dict[int, float]:
    """Everything that a set of an exercise at a place puts on the state."""
    levels = {p: w for p, w in zip(LEVELS, LOADINGS[key], strict=True) if w}
    return seen.row | levels | {place: 1.0, place + 1: seen.row[STEEPNESS]}


def tell_posterior(posterior: Posterior, career: Career) -> Iterator[tuple[Floats, Floats, float]]:
    """Moments and log weight of the first cell after each set, and after each day once it is over."""

    def now() -> tuple[Floats, Floats, float]:
        return posterior.means[0].copy(), posterior.covariance[0].copy(), float(posterior.log_weights[0])

    posterior.is_unseen = career.is_unseen
    for day, entries in career.days:
        posterior.pass_time(day)
        for told in entries:
            posterior.begin_entry(told.key)
            for i, seen in enumerate(told.sets):
                if not isnan(seen.value):
                    row = places_of(seen, told.key, posterior.place_of(told.key))
                    measured(posterior, told.key, list(row), list(row.values()), seen.value, seen.spread)
                    assert posterior.odd == {}, "held for a slip: no linear case"
                yield now()
                if told.elsewhere and i == 0:
                    posterior.doubt(told.key, told.elsewhere**2)
            posterior.end_entry(told.key)
        if entries:
            assert (posterior.means[:, HABIT] > LEAST_HABIT).all(), "held up: no linear case"
            posterior.end_session(day)
        yield now()


def tell_twin(career: Career, cell: tuple[float, float]) -> tuple[LinearTwin, dict[int, int]]:
    """The twin of one cell after the whole career, and the last moment of each day on which something was told."""
    twin, ends = LinearTwin(SETTINGS, LOADINGS, NEAR, cell), {}
    twin.is_unseen = career.is_unseen
    for day, entries in career.days:
        twin.pass_time(day)
        for told in entries:
            twin.begin_entry(told.key)
            for i, seen in enumerate(told.sets):
                row = np.zeros(twin.size)
                for place, weight in places_of(seen, told.key, twin.places[told.key]).items():
                    row[place] = weight
                twin.see(row, seen.value, (seen.spread * cell[0]) ** 2)
                if told.elsewhere and i == 0:
                    twin.drifts(told.key, 0.0, told.elsewhere**2)
            twin.end_entry(told.key)
        if entries:
            twin.end_session(day)
        end = twin.look()
        if entries or day in ends:
            ends[day] = end
    return twin, ends
