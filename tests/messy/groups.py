"""Which sets share one written row."""

from collections.abc import Sequence
from itertools import groupby
from random import Random

from msgspec import Struct

from .recipe import Recipe
from .remarks import effort_of_each, remark
from .truth import Bout, TrueSet


class Group(Struct, frozen=True, kw_only=True):
    """The sets of one written row, and which row of its bout it is."""

    sets: tuple[TrueSet, ...]
    nth: int

    @property
    def one(self) -> TrueSet:
        """Any of the sets, for what they share."""
        return self.sets[0]


def grouped(bouts: Sequence[Bout], recipe: Recipe, rng: Random) -> list[Group]:
    """All sets in the rows in which this file writes them, with their remarks."""
    groups: list[Group] = []
    for bout in bouts:
        for nth, sets in enumerate(_split(bout.sets, recipe)):
            is_each = recipe.table == "set-columns" and recipe.effort_place == "suffix"
            said = (effort_of_each if is_each else remark)(sets, len(groups) + 1, recipe, rng)
            groups.append(Group(sets=said, nth=nth))
    return groups


def has_listed_counts(recipe: Recipe) -> bool:
    """Whether a row with a number of sets lists their repetitions: 3 | 8,8,7."""
    return recipe.table == "set-count-rows" and recipe.style in {"8/8/7 @ 60", "60kg 8,8,7"}


def _split(sets: Sequence[TrueSet], recipe: Recipe) -> list[tuple[TrueSet, ...]]:
    if recipe.is_across:
        return [tuple(sets)]
    if recipe.table == "set-rows":
        return [(s,) for s in sets]
    if recipe.is_count_columns or has_listed_counts(recipe):
        return [tuple(g) for _, g in groupby(sets, key=lambda s: s.load)]
    if recipe.table == "set-count-rows":
        return [tuple(g) for _, g in groupby(sets, key=lambda s: (s.load, s.reps, s.seconds, s.metres))]
    return [tuple(sets)]
