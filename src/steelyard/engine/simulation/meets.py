"""Competition lifters: they train unseen, and what stands in the log are their attempts at meets."""

from datetime import date, timedelta

from numpy.random import Generator

from .diary import Diary
from .physiology import Physiology

MEET_LIFTS = ("squat", "bench-press", "deadlift")
# Our judgement, so that about a fifth of lifters fall behind in their second year (the open results: 19 and 16 %).
INJURIES_A_YEAR, INJURED_DAYS, READY_AGAIN_DAYS = 0.15, (30, 110), 42
CAUTION = 0.015  # share less that is hoped for at a first meet, half of it at the second (our judgement)
STEP_KG = 2.5  # a meet's loads are multiples of it (from memory)


def compete(body: Physiology, diary: Diary, rng: Generator, *, begins: date, weeks: int) -> None:
    """So many weeks of training that is not logged, with meets months apart, and now and then an injury."""
    ends = begins + timedelta(7 * weeks)
    months_apart = rng.uniform(4.0, 11.0)
    meet = begins + timedelta(int(rng.integers(7, 60)))
    on, meets = begins, 0
    while on < ends:
        if on >= meet:
            _meet(body, diary, rng, on, CAUTION / (1 + meets))
            meets += 1
            meet = on + timedelta(max(28, int(rng.normal(months_apart * 30, 30))))
        elif rng.random() < INJURIES_A_YEAR / 52:
            days = int(rng.integers(*INJURED_DAYS))
            body.interrupt("injury", days)
            on += timedelta(days)
            meet = max(meet, on + timedelta(READY_AGAIN_DAYS))
        elif on + timedelta(4) <= meet:
            _unseen(body, on)
        on = min(on + timedelta(7), max(meet, on + timedelta(1)))


def _unseen(body: Physiology, on: date) -> None:
    """Two sessions in short: a hard set of each lift, twice a week."""
    for day in (0, 3):
        body.begin_day(on + timedelta(day))
        for lift in MEET_LIFTS:
            body.lift(lift, body.one_rm_kg(lift) * 0.82, 6, 1.0, 240)


def _meet(body: Physiology, diary: Diary, rng: Generator, on: date, caution: float) -> None:
    body.begin_day(on)
    diary.weigh(on)
    for lift in MEET_LIFTS:
        # What the lifter hopes for: what they have shown themselves, a little too much of it (our judgement).
        hoped_kg = body.one_rm_kg(lift) * (1.005 - caution + rng.normal(0.0, 0.012))
        # Opener about 91 % of the hoped third, then about 5 and 3 % more: practice of elite lifters, from memory.
        load_kg = _rounded(hoped_kg * 0.91)
        for attempt, rise in enumerate((0.05, 0.03, 0.0)):
            possible = body.possible(lift, load_kg)
            reps = min(possible, 1)
            diary.write(
                on,
                lift,
                load_kg,
                reps,
                possible,
                None,
                kind="top",
                phase="test",
                missed=None if reps else "strength",
            )
            body.lift(lift, load_kg, 1, float(max(0, possible - 1)), 600)
            if reps and attempt < 2:
                load_kg = max(load_kg + STEP_KG, _rounded(load_kg * (1.0 + rise)))


def _rounded(load_kg: float) -> float:
    return round(load_kg / STEP_KG) * STEP_KG
