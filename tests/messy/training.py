"""What was lifted, before anybody writes it down: lifters, days, exercises, sets."""

from datetime import date, timedelta
from decimal import Decimal
from random import Random
from typing import Literal

from msgspec import Struct

from steelyard.engine.exercises import Exercise

from .names import LIFTERS, Name, exercises, invented, name_of
from .recipe import Recipe
from .truth import Bout, TrueSet

TODAY = date(2026, 11, 20)
SEVERAL = {"lifter-column": (2, 4), "lifter-blocks": (2, 4), "side-by-side": (2, 3), "sheet-per-lifter": (2, 4)}
_BASE_KG = {"barbell": (40, 120), "dumbbell": (14, 34), "stack": (25, 70), "plate-machine": (60, 180),
            "kettlebell": (16, 32), "body-mass": (0, 0)}  # fmt: skip


class Training(Struct, frozen=True):
    """Everything lifted, day by day, and the names as this file writes them."""

    bouts: tuple[Bout, ...]
    names: tuple[Name, ...]
    lifters: tuple[str, ...]


class Habit(Struct, frozen=True):
    """One lifter's way with one exercise: where the load began, its step, repetitions and sets."""

    name: Name
    exercise: Exercise | None
    start: Decimal
    step: Decimal
    reps: int
    sets: int
    added: str  # body mass alone, added, assisted
    unit: Literal["kg", "lb"]


def train(recipe: Recipe, rng: Random) -> Training:
    """15 to 120 sets of one or several lifters."""
    many = rng.randint(*SEVERAL.get(recipe.shape, (1, 1)))
    lifters = tuple(rng.sample(LIFTERS, many))
    chosen = _names(recipe, rng)
    goal = rng.randint(18, 108)
    days = _days(recipe, rng)
    bouts: list[Bout] = []
    per_lifter = goal // many
    for lifter in lifters:
        habits = [_habit(exercise, name, recipe, rng) for exercise, name in chosen]
        mine, count = days if recipe.shape == "sheet-per-week" else days[rng.randint(0, 1) :], 0
        for nth, day in enumerate(mine):
            today = rng.sample(habits, rng.randint(2, min(4, len(habits))))
            for habit in today:
                bout = _bout(lifter, day, habit, nth, recipe, rng)
                bouts.append(bout)
                count += len(bout.sets)
                if count >= per_lifter:
                    break
            if count >= per_lifter:
                break
    return Training(tuple(bouts), tuple(name for _, name in chosen), lifters)


def _names(recipe: Recipe, rng: Random) -> list[tuple[Exercise | None, Name]]:
    pool = [e for e in exercises() if e.code != "assisted-pull-up" or recipe.unit_place in {"cells-kg", "cells-lb"}]
    if recipe.table == "load-reps-pairs":
        pool = [e for e in pool if e.measure == "reps"]
    if recipe.is_light:
        pool = [e for e in pool if e.implement == "dumbbell" and e.measure == "reps" and e.size == "small"]
        return [(e, name_of(e, recipe, rng)) for e in rng.sample(pool, 3)]
    squat = next(e for e in pool if e.code == "squat")
    picked = [squat, *rng.sample([e for e in pool if e is not squat], rng.randint(3, 5))]  # always one with a bar
    if recipe.naming == "machine":
        picked.append(rng.choice([e for e in pool if e.implement in {"stack", "plate-machine"} and e not in picked]))
    chosen: list[tuple[Exercise | None, Name]] = [(e, name_of(e, recipe, rng)) for e in picked]
    if recipe.naming == "unknown":
        chosen.append((None, invented(recipe, rng)))
    return chosen


def _days(recipe: Recipe, rng: Random) -> list[date]:
    if recipe.shape == "sheet-per-week":
        start = TODAY - timedelta(days=rng.randint(40, 500))
        monday = start - timedelta(days=start.weekday())
        offsets = rng.choice(((0, 2, 4), (0, 3), (1, 3, 5)) if recipe.weeks == "weekdays" else ((0, 2, 4),))
        return [monday + timedelta(weeks=week, days=o) for week in range(12) for o in offsets]
    # A date without its year can only be of the twelve months before today.
    day = TODAY - timedelta(days=rng.randint(200, 330 if recipe.date_form == "weekday" else 600))
    days: list[date] = []
    while len(days) < 40 and day < TODAY - timedelta(days=1):
        if not recipe.only_early_days or day.day <= 12:
            days.append(day)
        day += timedelta(days=rng.choice((2, 2, 3, 4)))
    return days


def _habit(exercise: Exercise | None, name: Name, recipe: Recipe, rng: Random) -> Habit:
    low, high = _BASE_KG[exercise.implement] if exercise is not None else (20, 40)
    unit: Literal["kg", "lb"] = "lb" if recipe.unit == "lb" else "kg"
    if recipe.is_light:
        return Habit(name, exercise, Decimal(rng.randint(6, 8)), Decimal(1), rng.randint(8, 12), 3, "none", unit)
    if recipe.unit_place == "mixed" and rng.random() < 0.4:
        unit = "kg" if unit == "lb" else "lb"  # one machine with the other scale; its cells say so
    step = Decimal(rng.choice(("2.5", "2.5", "1.25", "5"))) if unit == "kg" else Decimal(5)
    start = (Decimal(rng.randint(low, high)) * (1 if unit == "kg" else Decimal("2.2")) / step).to_integral() * step
    added = "none"
    if exercise is not None and exercise.body_mass_share:
        assisted = ("assisted",) if exercise.code == "assisted-pull-up" else ("alone", "alone", "added")
        added = rng.choice(assisted)
        start = {"alone": Decimal(0), "added": step * 2, "assisted": Decimal(-20)}[added]
    elif exercise is not None and exercise.measure == "seconds":
        added, start = "alone", Decimal(0)
    return Habit(name, exercise, start, step, rng.randint(5, 12), rng.randint(2, 4), added, unit)


def _bout(lifter: str, on: date, habit: Habit, nth: int, recipe: Recipe, rng: Random) -> Bout:
    rise = habit.step * min(2 if recipe.is_light else 20, nth // 3) if habit.added in {"none", "added"} else Decimal(0)
    load = None if habit.added == "alone" else habit.start + rise
    measure = habit.exercise.measure if habit.exercise is not None else "reps"
    sets = []
    for number in range(habit.sets):
        tired = rng.choice((0, 0, 1)) if number else 0
        is_last = measure == "reps" and number == habit.sets - 1
        is_heavier = is_last and load is not None and load > 0 and rng.random() < 0.12
        count: dict[str, int] = {
            "seconds": {"seconds": 30 + 5 * (nth % 4)},
            "metres": {"metres": 20 + 10 * (nth % 3)},
            "reps": {"reps": max(1, habit.reps - tired)},
        }[measure]
        is_missed = is_last and rng.random() < 0.04
        sets.append(
            TrueSet(
                lifter=lifter, on=on, exercise=habit.name.code, written=habit.name.written,
                implement=habit.name.implement, unit=habit.unit,
                load=load + habit.step if load is not None and is_heavier else load,
                missed="unsaid" if is_missed else None,
                is_failed=is_missed and recipe.miss_word not in {"0", "x"}, reps=0 if is_missed else count.get("reps"),
                seconds=count.get("seconds"), metres=count.get("metres"),
            )
        )  # fmt: skip
    return Bout(lifter=lifter, on=on, exercise=habit.name.code, written=habit.name.written, sets=tuple(sets))
