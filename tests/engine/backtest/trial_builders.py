"""Trials, sessions and lifters in few words, and lifters drawn at random, for tests of the ruler only."""

import random
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st
from msgspec import structs
from tests.builders import day

from steelyard.engine.backtest.trials import EVIDENCE, LONGEST, ExerciseEntry, LifterTrials, Trial, TrialSession
from steelyard.engine.history import LineKey

SQUAT: LineKey = ("squat", "")
STARTS = date(2026, 1, 5)


def trial(load_kg: float, possible: int, told_up_to: int = LONGEST, **more: Any) -> Trial:
    """A set: of so many repetitions to failure, if nothing else is said."""
    plain: dict[str, Any] = {"order": 1, "reps": possible, "evidence": "to-failure"}
    return Trial(load_kg=load_kg, possible=possible, told_up_to=told_up_to, **{**plain, **more})


def entry_of(*trials: Trial, key: LineKey = SQUAT) -> ExerciseEntry:
    """One exercise in one session, the sets in this order."""
    ordered = (structs.replace(found, order=place) for place, found in enumerate(trials, start=1))
    return ExerciseEntry(key, tuple(ordered))


def session_on(on: date | str | int, *found: ExerciseEntry | Trial, number: int = 1) -> TrialSession:
    """A session: entries, or the sets of a squat; a bare number is days since the start."""
    when = STARTS + timedelta(on) if isinstance(on, int) else day(on)
    entries = tuple(f for f in found if isinstance(f, ExerciseEntry))
    sets = tuple(f for f in found if isinstance(f, Trial))
    squat = (entry_of(*sets),) if sets else ()
    return TrialSession(when, number, tuple(sorted((*entries, *squat), key=lambda e: e.key)))


def lifter_of(*sessions: TrialSession, name: str = "Ada") -> LifterTrials:
    """A lifter with these sessions."""
    return LifterTrials(name, sessions, {})


def any_trial(chance: random.Random, load_kg: float) -> Trial:
    """A set at a load, of any evidence."""
    evidence = chance.choice(EVIDENCE)
    reps = chance.choice((0, 1, 3, 5, 8, 12, 20, LONGEST))
    if evidence == "attempt":
        return trial(load_kg, min(reps, 1), 1, evidence=evidence)
    if evidence == "bound":
        return trial(load_kg, reps, chance.choice((reps, LONGEST)), evidence=evidence)
    left = chance.choice((0, 1, 5)) if evidence == "reserve" else 0
    return trial(load_kg, min(reps + left, LONGEST), reps=reps, evidence=evidence)


def any_session(chance: random.Random, on: date, number: int, keys: Sequence[LineKey]) -> TrialSession:
    """A session of some of these exercises."""
    chosen = sorted(chance.sample(list(keys), chance.randint(1, len(keys))))
    entries = (
        entry_of(
            *(any_trial(chance, chance.choice((40.0, 61.25, 80.0, 100.0))) for _ in range(chance.randint(1, 6))),
            key=key,
        )
        for key in chosen
    )
    return session_on(on, *entries, number=number)


def any_lifter(chance: random.Random, sessions: int) -> LifterTrials:
    """A lifter of any history: two sessions on a day, long gaps, all kinds of evidence."""
    keys: list[LineKey] = [SQUAT, ("bench-press", ""), ("squat", "stack")]
    on, number, found = STARTS, 1, []
    for _ in range(sessions):
        gap = chance.choice((0, 1, 3, 7, 20, 120))
        on, number = on + timedelta(gap), (number + 1 if gap == 0 else 1)
        found.append(any_session(chance, on, number, keys))
    return lifter_of(*found)


def lifters(least: int = 4, most: int = 14) -> st.SearchStrategy[LifterTrials]:
    """Lifters with so many sessions, both included."""
    drawn = st.tuples(st.integers(0, 2**32), st.integers(least, most))
    return drawn.map(lambda found: any_lifter(random.Random(found[0]), found[1]))
