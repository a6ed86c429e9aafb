"""Which lines simulated lifters do on which days, by kind; common practice, no source, where nothing else is said."""

from numpy.random import Generator

from .habits import Habit, Line
from .values import Kind


def habit_of(kind: Kind, rng: Generator) -> Habit:
    """The habit of one lifter of this kind."""
    match kind:
        case "machine-study":
            return _machine_study(rng)
        case "novice":
            return _novice(rng)
        case "body-mass":
            return _body_mass(rng)
        case _:
            return _trained(rng, events_a_year=5.0 if kind == "irregular" else 0.5)


def _machine_study(rng: Generator) -> Habit:
    lowest = int(rng.integers(6, 9))
    highest = lowest + 2
    codes = ("machine-chest-press", "machine-row", "leg-press")
    day = tuple(Line(code, 1, lowest, highest, 0.0, 120) for code in codes)
    weekdays = (0, 3) if rng.random() < 0.15 else (1,)
    return Habit(
        days=(day,) * len(weekdays),
        weekdays=weekdays,
        attends=float(rng.beta(9.0, 2.5)),
        is_to_failure=True,
        says_reserve=1.0,
    )


def _novice(rng: Generator) -> Habit:
    first = (
        Line("squat", 3, 5, 8, 2.0, 150),
        Line("bench-press", 3, 5, 8, 2.0, 150),
        Line("seated-row", 2, 8, 12, 2.0, 90),
    )
    second = (
        Line("leg-press", 3, 8, 12, 2.0, 120),
        Line("overhead-press", 3, 6, 10, 2.0, 120),
        Line("lat-pulldown", 3, 8, 12, 2.0, 90),
    )
    return Habit(
        days=(first, second, first) if rng.random() < 0.5 else (first, second),
        weekdays=(0, 2, 4),
        attends=float(rng.beta(8.0, 2.0)),
        opens_last=0.12,
        says_reserve=float(rng.choice([0.0, 0.5, 0.9])),
        says_technique=0.2,
        events_a_year=1.0,
    )


def _body_mass(rng: Generator) -> Habit:
    day = (
        Line("pull-up", 3, 4, 10, 1.0, 150, "inverted-row"),
        Line("dip", 3, 5, 12, 1.0, 120, "push-up"),
        Line("push-up", 3, 8, 25, 2.0, 90),
        Line("body-mass-squat", 2, 15, 30, 3.0, 90),
    )
    return Habit(
        days=(day, day, day),
        weekdays=(0, 2, 5),
        attends=float(rng.beta(6.0, 2.0)),
        opens_last=0.2,
        says_reserve=float(rng.choice([0.0, 0.6])),
        events_a_year=1.0,
    )


def _trained(rng: Generator, events_a_year: float) -> Habit:
    lower = (
        Line("squat", 4, 4, 7, 2.0, 180),
        Line("romanian-deadlift", 3, 6, 10, 2.0, 150),
        Line("leg-curl", 2, 8, 12, 1.0, 90),
    )
    upper = (
        Line("bench-press", 4, 4, 7, 2.0, 180),
        Line("barbell-row", 3, 6, 10, 2.0, 120),
        Line("overhead-press", 3, 5, 9, 2.0, 120),
    )
    pull = (
        Line("deadlift", 3, 3, 6, 2.0, 210),
        Line("pull-up", 3, 5, 9, 1.0, 120, "lat-pulldown"),
        Line("incline-bench-press", 3, 6, 10, 2.0, 120),
    )
    rota = (lower, upper, pull, upper) if rng.random() < 0.5 else (lower, upper, pull)
    return Habit(
        days=rota,
        weekdays=(0, 1, 3, 5) if len(rota) == 4 else (0, 2, 4),
        attends=float(rng.beta(10.0, 1.5)),
        opens_last=0.06,
        says_reserve=float(rng.choice([0.3, 0.8, 1.0])),
        says_technique=0.15,
        deload_weeks=int(rng.integers(6, 9)),
        events_a_year=events_a_year,
    )
