"""How each study of the open data is run on a simulated body: who is drawn, what they do, what is measured."""

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from functools import cache
from typing import Any, NamedTuple

import numpy as np
from numpy.random import Generator, default_rng

from steelyard.engine.simulation.person_by_dose import Sex
from steelyard.engine.simulation.physiology import Physiology
from steelyard.engine.simulation.simulate import BodyName, body_of
from steelyard.engine.simulation.training import train
from steelyard.engine.simulation.values import Kind, Simulated

from .beginners import beginner
from .comparison import Measured, Study
from .open_data_figures import (
    Figures,
    Meet,
    beginner_figures,
    figures_of_meets,
    figures_of_series,
    meets_of,
    sampling_errors,
    series_of,
)
from .published import BEGINNERS, BOTH_SEXES, CURVE, MEN, RESERVE, TRAINING, WOMEN, Published

SEED = 0
BEGINS = date(2025, 1, 6)
CAREER_WEEKS = 4 * 365 // 7 + 1  # the four years of competing that the data speak of
GENERAL_EXERCISE = "seated-row"  # the general curve is that of all exercises but bench press and leg press
BODIES: tuple[BodyName, ...] = ("by-dose", "by-drift")


def person(body: BodyName, kind: Kind, number: int, sex: Sex | None = None) -> tuple[Physiology, Generator]:
    """One person of a kind, of either sex unless one is asked for, and the chance that is left for what they do."""
    rng = default_rng((SEED, BODIES.index(body), sex == "male", number))
    drawn: Sex = sex or ("male" if number % 2 else "female")
    return body_of(kind, rng, drawn, body), rng


def kept(body: BodyName, kind: Kind, number: int, weeks: int, sex: Sex | None = None) -> Simulated:
    """A log as a study keeps it: the rows were looked over, so no slips of the pen are left in them."""
    lifter, rng = person(body, kind, number, sex)
    return train(kind, lifter, rng, name=f"Lifter {number}", begins=BEGINS, weeks=weeks, slip_rate=0)


@cache
def career(body: BodyName, number: int, sex: Sex) -> list[Meet]:
    """The meets of one competitor of this sex."""
    return meets_of(kept(body, "competitor", number, CAREER_WEEKS, sex))


def any_career(body: BodyName, number: int) -> list[Meet]:
    """Men and women by turns."""
    return career(body, number // 2, "male" if number % 2 else "female")


def repetitions(body: BodyName, number: int) -> dict[int, int]:
    """Repetitions that one rested person reaches at shares (per cent) of the true 1RM, each on a day of its own."""
    lifter, _ = person(body, "trained", number)
    reached = {}
    for day, per_cent in enumerate((90, 80, 70, 60)):
        lifter.begin_day(BEGINS + timedelta(4 * day))
        reached[per_cent] = lifter.possible(GENERAL_EXERCISE, per_cent / 100 * lifter.one_rm_kg(GENERAL_EXERCISE))
    return reached


def curve_figures(people: Sequence[dict[int, int]]) -> Figures:
    """Mean and SD between people of the repetitions at each share."""
    found: Figures = {}
    for per_cent in people[0]:
        reached = [of[per_cent] for of in people]
        found |= {
            f"mean at {per_cent} %": float(np.mean(reached)),
            f"SD at {per_cent} %": float(np.std(reached, ddof=1)),
        }
    return found


def reserve_figures(lifters: Sequence[Simulated]) -> Figures:
    """By how many repetitions the reported reserve was less than the true one, mean over all reported."""
    less = [
        truth.possible - done.reps - float(done.effort.rir)
        for lifter in lifters
        for done, truth in zip(lifter.sets, lifter.truth, strict=True)
        if done.effort is not None and done.reps
    ]
    return {"reserve too low": float(np.mean(less)) if less else np.nan}


class Plan(NamedTuple):
    """How one study is run: what is drawn for a body and a number, what is measured, and with how many people."""

    name: str
    run_as: str
    published: tuple[Published, ...]
    draw: Callable[[BodyName, int], Any]
    measure: Callable[[Sequence[Any]], Figures]
    people: int


PLANS = (
    Plan(
        "Noise and progress in training",
        "Published: 289 trained people, 12 weeks, one set to failure on three machines. Here: 289 people.",
        TRAINING, lambda body, k: series_of(kept(body, "machine-study", k, 12).sets), figures_of_series, 289,
    ),
    Plan(
        "Beginners",
        "Published: 39 untrained people, one leg one set, the other three. Here: 390 people.",
        BEGINNERS, lambda body, k: beginner(person(body, "novice", k)[0]), beginner_figures, 390,
    ),
    Plan(
        "Meets, men",
        "Published: lifters with at least two meets (both sexes 33,901). Here: 900 men over four years.",
        MEN, lambda body, k: career(body, k, "male"), figures_of_meets, 900,
    ),
    Plan(
        "Meets, women",
        "The same for 900 women.",
        WOMEN, lambda body, k: career(body, k, "female"), figures_of_meets, 900,
    ),
    Plan(
        "Meets, both sexes",
        "The figure that the data give for men and women together. Here: the same 1,800 people.",
        BOTH_SEXES, any_career, figures_of_meets, 1800,
    ),
    Plan(
        "Load and repetitions",
        f"Published: 952 tests of 7,289 people. Here: 1,000 people, {GENERAL_EXERCISE}, shares of the true 1RM.",
        CURVE, repetitions, curve_figures, 1000,
    ),
    Plan(
        "Reserve as reported",
        "Published: 414 people, 262 effects, 95 % interval 0.17 to 1.73. Here: 100 trained lifters, 12 weeks.",
        RESERVE, lambda body, k: kept(body, "trained", k, 12), reserve_figures, 100,
    ),
)  # fmt: skip


def measured(plan: Plan, body: BodyName, people: int, first: int = 0) -> Measured:
    """One study on one body with so many people, drawn by their numbers from the first on."""
    drawn = [plan.draw(body, number) for number in range(first, first + people)]
    return Measured(plan.measure(drawn), sampling_errors(plan.measure, drawn))


def study(plan: Plan, bodies: Sequence[BodyName], people: int, first: int = 0) -> Study:
    """One study on these bodies with so many people."""
    return Study(plan.name, plan.run_as, plan.published, {body: measured(plan, body, people, first) for body in bodies})
