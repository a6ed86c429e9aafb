"""Logs that no one would keep, drawn from a seed: absurd loads and counts, years between, all on one day."""

import random
from datetime import date, timedelta
from typing import Literal

from hypothesis import strategies as st
from tests.engine.backtest.trial_builders import any_trial, entry_of, lifter_of, session_on, trial

from steelyard.engine.backtest.trials import LONGEST, LifterTrials, Trial, TrialSession
from steelyard.engine.history import LineKey

Oddness = Literal["plain", "absurd", "one load", "ten times", "one day", "years between", "missed"]
ODDNESSES: tuple[Oddness, ...] = ("plain", "absurd", "one load", "ten times", "one day", "years between", "missed")
KEYS: tuple[LineKey, ...] = (
    ("squat", ""),
    ("bench-press", ""),
    ("deadlift", ""),
    ("front-squat", ""),
    ("leg-press", "stack"),
    ("leg-press", "plates"),
    ("unknown-lift", ""),
)
ABSURD_KG = (0.1, 1.0, 20.0, 61.25, 100.0, 300.0, 10_000.0)
COUNTS = (0, 1, 2, 3, 5, 8, 12, 20, 35, 60)
STARTS = date(2026, 1, 5)


def odd_lifter(seed: int, sessions: int = 12, oddness: Oddness | None = None) -> LifterTrials:
    """A lifter whose log is odd in one way, or not at all; the way goes with the seed where none is asked for."""
    chance = random.Random(seed)
    way = oddness or ODDNESSES[seed % len(ODDNESSES)]
    keys = chance.sample(KEYS, chance.randint(1, 4))
    usual_kg = {key: chance.uniform(15, 200) for key in keys}
    on, number, found = STARTS, 1, []
    for place in range(sessions):
        gap = _gap(way, chance)
        on, number = on + timedelta(gap), (number + 1 if gap == 0 else 1)
        found.append(_session(chance, way, on, number, usual_kg, place))
    return lifter_of(*found, name=f"{seed} {way}")


def odd_lifters(most: int = 12) -> st.SearchStrategy[LifterTrials]:
    """Lifters of any oddness."""
    drawn = st.tuples(st.integers(0, 2**32), st.integers(1, most), st.sampled_from(ODDNESSES))
    return drawn.map(lambda found: odd_lifter(*found))


def plain_lifters(most: int = 12) -> st.SearchStrategy[LifterTrials]:
    """Lifters whose logs are not odd."""
    drawn = st.tuples(st.integers(0, 2**32), st.integers(1, most))
    return drawn.map(lambda found: odd_lifter(*found, oddness="plain"))


def _gap(way: Oddness, chance: random.Random) -> int:
    if way == "one day":
        return 0
    if way == "years between":
        return chance.choice((0, 7, 400, 1500, 4000))
    return chance.choice((0, 1, 2, 3, 3, 4, 7, 14, 35))


def _session(
    chance: random.Random, way: Oddness, on: date, number: int, usual_kg: dict[LineKey, float], place: int
) -> TrialSession:
    chosen = sorted(chance.sample(list(usual_kg), chance.randint(1, len(usual_kg))))
    entries = (
        entry_of(*(_trial(chance, way, usual_kg[key], place) for _ in range(chance.randint(1, 5))), key=key)
        for key in chosen
    )
    return session_on(on, *entries, number=number)


def _trial(chance: random.Random, way: Oddness, usual_kg: float, place: int) -> Trial:
    if way == "absurd":
        return any_trial(chance, chance.choice(ABSURD_KG))
    if way == "one load":
        return trial(usual_kg, 8)
    if way == "ten times":
        return trial(usual_kg * (10 if place % 2 else 1), chance.choice((3, 5, 8)))
    if way == "missed":
        evidence = chance.choice(("missed", "attempt", "bound"))
        told_up_to = 1 if evidence == "attempt" else LONGEST
        return trial(usual_kg, 0, told_up_to, evidence=evidence)
    return plain_trial(chance, usual_kg)


def plain_trial(chance: random.Random, one_rm_kg: float) -> Trial:
    """A set as someone of about this 1RM does it, of any evidence."""
    share = chance.uniform(0.55, 1.02)
    possible = max(0, round((1 / share - 1) * 30 + chance.gauss(0, 1.5)))
    load_kg = one_rm_kg * share
    evidence = chance.choice(("to-failure", "reserve", "bound", "bound", "attempt", "missed"))
    if evidence == "attempt":
        return trial(load_kg, min(possible, 1), 1, evidence=evidence)
    left = chance.randint(0, min(possible, 5)) if evidence in {"reserve", "bound"} else 0
    reps = possible - left
    if evidence == "bound":
        return trial(load_kg, reps, reps, evidence=evidence)
    return trial(
        load_kg, possible, reps=reps, evidence="to-failure" if left == 0 and evidence == "reserve" else evidence
    )
