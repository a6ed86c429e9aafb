"""Simple rules that people use by hand to say how strong somebody is today, from the sessions of one exercise."""

from collections.abc import Callable
from statistics import fmean

from msgspec import Struct

from .population import Population, gap_index

SEVEN = ("epley", "brzycki", "lander", "lombardi", "mayhew", "oconner", "wathan")
LINE_SESSIONS, LINE_LEAST = 8, 3


class Past(Struct):
    """The sessions of one exercise so far: day (ordinal) and level (ln kg) of each, oldest first."""

    days: list[int] = []
    levels: list[float] = []


class Rule(Struct, frozen=True, kw_only=True):
    """A rule: its name as it is shown, the level it foresees, its equation ("" for the one that was asked for).

    One that repeats foresees each set as it was last time, not by the usual pattern of sets.
    """

    name: str
    level: Callable[[Past, int, Population], float]
    equation: str = ""
    is_repeat: bool = False


def last(past: Past, day: int, population: Population) -> float:
    """As last time."""
    return past.levels[-1]


def best_of_last_three(past: Past, day: int, population: Population) -> float:
    """The best of the last three sessions."""
    return max(past.levels[-3:])


def weighted_mean(past: Past, day: int, population: Population) -> float:
    """A mean of all sessions in which each newer one weighs more, by a weight learned from the other lifters."""
    level = past.levels[0]
    for newer in past.levels[1:]:
        level += population.weight * (newer - level)
    return level


def line_through_last_eight(past: Past, day: int, population: Population) -> float:
    """A straight line (least squares over days) through the last eight sessions, drawn on to today."""
    days, levels = past.days[-LINE_SESSIONS:], past.levels[-LINE_SESSIONS:]
    middle, level = fmean(days), fmean(levels)
    spread = sum((d - middle) ** 2 for d in days)
    if len(days) < LINE_LEAST or spread == 0:
        return past.levels[-1]
    slope = sum((d - middle) * (v - level) for d, v in zip(days, levels, strict=True)) / spread
    return level + slope * (day - middle)


def last_with_usual_gain(past: Past, day: int, population: Population) -> float:
    """As last time, and the gain that others usually have over so many days."""
    return past.levels[-1] + population.gains[gap_index(day - past.days[-1])]


RULES: tuple[Rule, ...] = (
    Rule(name="repeat", level=last, is_repeat=True),
    *(Rule(name=f"last session, {equation}", level=last, equation=equation) for equation in SEVEN),
    Rule(name="best of last three", level=best_of_last_three),
    Rule(name="weighted mean", level=weighted_mean),
    Rule(name="line through last eight", level=line_through_last_eight),
    Rule(name="last with usual gain", level=last_with_usual_gain),
)
