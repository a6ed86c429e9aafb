"""What a lifter of a generated log is like: habits with each exercise, and how messy the log is."""

from dataclasses import dataclass, field
from random import Random

from steelyard.catalogue import catalogue
from steelyard.engine.exercises import Exercise

USUAL_KG = {"barbell": 60, "dumbbell": 16, "stack": 35, "plate-machine": 80, "kettlebell": 16, "body-mass": 0}


@dataclass
class Habit:
    """How one lifter does one exercise, drifting along."""

    exercise: Exercise
    load_kg: float
    count: int
    sets: int
    top: int
    step_kg: float
    implement: str | None = None


@dataclass
class Temper:
    """How messy one lifter's log is: each a chance a session or a set."""

    jump: float
    miss: float
    effort: float
    technique: float
    pain: float
    gap: float
    deload: float
    marks: float
    warm_up: float
    in_pounds: bool
    keeps_time: float
    habits: list[Habit] = field(default_factory=list)


def drawn_temper(chance: Random) -> Temper:
    """A lifter's habits and messiness by chance."""
    is_calm = chance.random() < 0.4
    mess = 0.3 if is_calm else 1.0
    temper = Temper(
        jump=mess * chance.choice((0.0, 0.03, 0.1, 0.3)),
        miss=mess * chance.choice((0.0, 0.02, 0.08)),
        effort=chance.choice((0.0, 0.3, 1.0)),
        technique=mess * chance.choice((0.0, 0.0, 0.03, 0.1)),
        pain=mess * chance.choice((0.0, 0.0, 0.01, 0.03)),
        gap=mess * chance.choice((0.0, 0.02, 0.06, 0.2)),
        deload=mess * chance.choice((0.0, 0.05, 0.15)),
        marks=chance.choice((0.0, 0.5, 1.0)),
        warm_up=chance.choice((0.0, 0.3, 0.9)),
        in_pounds=chance.random() < 0.2,
        keeps_time=chance.choice((0.5, 0.8, 1.0)),
    )
    for exercise in chance.sample(catalogue().exercises, chance.randint(1, 6)):
        temper.habits.append(_habit(chance, exercise))
    return temper


def _habit(chance: Random, exercise: Exercise) -> Habit:
    usual = USUAL_KG[exercise.implement] * chance.choice((0.4, 0.7, 1.0, 1.5))
    if exercise.implement == "stack" and exercise.body_mass_share:
        usual = -chance.choice((10, 20, 30))
    bottom = chance.choice((3, 5, 6, 8, 10, 12))
    if exercise.measure != "reps":
        bottom = chance.choice((15, 20, 30, 45))
    return Habit(
        exercise=exercise,
        load_kg=usual,
        count=bottom,
        sets=chance.randint(1, 5),
        top=bottom + chance.choice((0, 2, 4)),
        step_kg=chance.choice((1, 2.5, 2.5, 5, 10)),
        implement=chance.choice((None, None, None, None, "short bar")),
    )
