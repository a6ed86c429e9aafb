"""A demo log of our own invention: one lifter, eight months, from a seeded generator.

Scatter and progress are set to what open training data show: a session's estimated 1RM scatters by about 3 % and rises
by about 0.4 % a week (supervised log of 289 people, Gschneidner, Carlson, Steele & Fisher 2024, own computation).
"""

import csv
import io
import random
from collections.abc import Callable, Iterable
from datetime import date, timedelta

from msgspec import Struct

LIFTER = "Ines Falk"
SEED = 20260126
STARTS = date(2026, 1, 26)
TRAINING_WEEKS = 35
DAY_SCATTER = 0.022
SET_SCATTER = 0.015
WEEKLY_RISE = 0.004
HOLIDAY = (17, 18)
DELOADS = (8, 26)


class DemoLift(Struct):
    """A lift as the invented lifter does it: true 1RM at the start, line, step."""

    name: str
    one_rm: float
    load: float
    low: int
    high: int
    sets: int
    step: float
    reps: int = 0


def demo_csv(rng: random.Random) -> str:
    """The whole log as CSV."""
    lifts = {
        "Squat": DemoLift("Squat", 104, 72.5, 5, 8, 3, 2.5),
        "Bench press": DemoLift("Bench press", 63, 42.5, 8, 12, 3, 2.5),
        "Barbell row": DemoLift("Barbell row", 66, 42.5, 8, 12, 3, 2.5),
        "Romanian deadlift": DemoLift("Romanian deadlift", 108, 70, 8, 12, 3, 2.5),
        "Overhead press": DemoLift("Overhead press", 42, 30, 5, 8, 3, 2.5),
        "Lat pulldown": DemoLift("Lat pulldown", 66, 45, 8, 12, 3, 5),
        "Dumbbell curl": DemoLift("Dumbbell curl", 15.5, 9, 8, 12, 2, 1),
    }
    days = (
        ("Squat", "Bench press", "Barbell row"),
        ("Romanian deadlift", "Overhead press", "Lat pulldown", "Dumbbell curl"),
    )
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("date", "lifter", "exercise", "kg", "reps", "RIR", "pain", "technique", "note"))
    count = 0
    for week in range(TRAINING_WEEKS):
        for offset in (0, 2, 4):
            on = STARTS + timedelta(days=7 * week + offset)
            if week in HOLIDAY or rng.random() < 0.05:
                continue
            form = rng.gauss(1, DAY_SCATTER)
            for name in days[count % 2]:
                _one_lift(writer.writerow, rng, lifts[name], on, week, form)
            count += 1
    return out.getvalue()


def _one_lift(
    write: Callable[[Iterable[object]], object], rng: random.Random, lift: DemoLift, on: date, week: int, form: float
) -> None:
    """One lift of one session: what was planned, what the day gave, and the lifter's own next step."""
    strength = lift.one_rm * (1 + WEEKLY_RISE * week) * form
    is_deload = week in DELOADS
    load = round(lift.load * 0.9 / lift.step) * lift.step if is_deload else lift.load
    sets = lift.sets - 1 if is_deload else lift.sets
    goal = min(max(lift.reps + 1, lift.low), lift.high)
    done = []
    for number in range(sets):
        possible = 30 * (strength * rng.gauss(1, SET_SCATTER) / load - 1) - 0.35 * number
        reps = max(0, min(goal, int(possible)))
        done.append(reps)
        left = max(0, min(5, round(possible - reps + rng.gauss(0, 0.7)))) if number == sets - 1 else ""
        remark = ("rough" if rng.random() < 0.03 else "") if number == sets - 1 else ""
        pain = "left elbow 1" if lift.name == "Overhead press" and week == 12 and number == sets - 1 else ""
        note = "deload" if is_deload and number == 0 else ""
        write((on.isoformat(), LIFTER, lift.name, f"{load:g}", reps, left, pain, remark, note))
    if not is_deload:
        _carry_on(lift, min(done))


def _carry_on(lift: DemoLift, weakest: int) -> None:
    """How the invented lifter goes on: load up after a full range, load down after a bad miss."""
    if weakest >= lift.high:
        lift.load, lift.reps = lift.load + lift.step, lift.low - 1
    elif weakest < lift.low - 2:
        lift.load, lift.reps = lift.load - lift.step, lift.low
    else:
        lift.reps = weakest
