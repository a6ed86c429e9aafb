"""The columns of a table of sets: what stands in each, in this file's words and units."""

from collections.abc import Callable, Sequence
from datetime import date
from decimal import Decimal
from random import Random

from msgspec import Struct, structs

from .dates import DayWriter
from .groups import Group, has_listed_counts
from .headers import Headers
from .recipe import Recipe
from .remarks import SIDES, TECHNIQUE, WHY, word_for
from .set_cells import SetWriter
from .sheets import Cell
from .truth import TrueSet


class Column(Struct, frozen=True):
    """One column: what it is for, its header in one or two rows, its cell for a row."""

    role: str
    header: str
    cell: Callable[[Group], Cell]
    above: str = ""


class ColumnMaker:
    """Makes the columns that one file has."""

    def __init__(self, recipe: Recipe, headers: Headers, days: DayWriter, rng: Random) -> None:
        self._recipe, self._headers, self._days, self._rng = recipe, headers, days, rng
        self.sets = SetWriter(recipe)
        self.written: dict[str, str] = {}
        self._pain_form = rng.choice(("{w} {s}", "{s} {w}", "{s}/10 {w}"))
        self._unit_gap = rng.choice(("", " "))
        self._pounds = rng.choice(("lb", "lbs"))
        self._has_own_counts = rng.random() < 0.3
        self._is_bare_count = rng.random() < 0.3
        self._plus = rng.choice(("+", "BW+", ""))
        self._coach = rng.choice(("MB", "KT", "S.L."))

    def make(self, groups: Sequence[Group], *, with_date: bool, with_lifter: bool) -> list[Column]:
        """All columns: who and when and what first, the rest mostly in the usual order."""
        front = []
        if with_date:
            front.append(self._column("date", lambda g: self._days.cell(g.one.on)))
        if with_lifter:
            front.insert(self._rng.randint(0, len(front)), self._column("lifter", lambda g: g.one.lifter))
        front.append(self._column("exercise", lambda g: g.one.written))
        body = self._work(groups)
        rest = self._remarks() + self._extras()
        if self._recipe.effort_place == "column":
            effort = self._column(
                self._recipe.effort, lambda g: None if g.sets[-1].effort is None else g.sets[-1].effort[1]
            )
            rest.insert(self._rng.randint(0, len(rest)), effort)
        made = front + body + rest
        self.written |= {c.header: c.role for c in made}
        return made

    def _column(self, role: str, cell: Callable[[Group], Cell]) -> Column:
        return Column(role, self._headers.word(role), cell)

    def _work(self, groups: Sequence[Group]) -> list[Column]:
        most = max(len(g.sets) for g in groups)
        load = self._column("load", lambda g: self.load(g.one))
        match self._recipe.table:
            case "set-rows":
                counts = self._counts(groups)
                columns = [load, *counts] if self._rng.random() < 0.5 else [*counts, load]
                return [*self._set_number(), *columns]
            case "set-count-rows":
                sets = self._column("sets", lambda g: len(g.sets))
                reps = self._column(
                    "reps", self._listed if has_listed_counts(self._recipe) else lambda g: self.count(g.one)
                )
                return self._rng.choice(([sets, reps, load], [load, sets, reps]))
            case "set-columns":
                columns = [Column("nth", self._headers.word("nth", n + 1), self._nth(n)) for n in range(most)]
                return [load, *columns] if self._recipe.is_count_columns else columns
            case "load-reps-pairs":
                return self._pairs(most)
            case _:
                return [self._column("cell", lambda g: self.sets.cell(g.sets))]

    def _set_number(self) -> list[Column]:
        is_there = "set-number" in self._recipe.extras
        return [self._column("set-number", lambda g: g.nth + 1)] if is_there else []

    def _counts(self, groups: Sequence[Group]) -> list[Column]:
        reps = self._column("reps", lambda g: self.count(g.one))
        if not self._has_own_counts:
            return [reps]
        used = {role for g in groups for role in ("seconds", "metres") if getattr(g.one, role) is not None}
        own = [self._column(role, lambda g, role=role: getattr(g.one, role)) for role in sorted(used)]  # type: ignore[misc]  # mypy cannot infer a lambda with a default
        return [Column("reps", reps.header, lambda g: self.count(g.one) if g.one.reps is not None else None), *own]

    def _pairs(self, most: int) -> list[Column]:
        columns = []
        is_two_rows = self._recipe.seed % 3 == 0
        for n in range(most):
            above = self._headers.word("nth", n + 1) if is_two_rows else ""
            for role, cell in (("load", self._nth_load(n)), ("reps", self._nth_count(n))):
                word = self._headers.word(role)
                columns.append(Column(role, word if is_two_rows else f"{word} {n + 1}", cell, above))
        return columns

    def _nth(self, n: int) -> Callable[[Group], Cell]:
        if self._recipe.is_count_columns:
            return self._nth_count(n)
        return lambda g: self.sets.single(g.sets[n]) + self.sets.effort(g.sets[n]) if n < len(g.sets) else None

    def _nth_load(self, n: int) -> Callable[[Group], Cell]:
        return lambda g: self.load(g.sets[n]) if n < len(g.sets) else None

    def _nth_count(self, n: int) -> Callable[[Group], Cell]:
        return lambda g: self.count(g.sets[n]) if n < len(g.sets) else None

    def _listed(self, group: Group) -> Cell:
        mark = "/" if self._recipe.style == "8/8/7 @ 60" else ","
        return mark.join(str(self.count(s)) for s in group.sets) if len(group.sets) > 1 else self.count(group.one)

    def load(self, one: TrueSet) -> Cell:
        """A cell in a column of loads."""
        if one.load is None:
            return int(self._recipe.bare) if self._recipe.bare.isdigit() else self._recipe.bare or None
        number = self.sets.number(abs(one.load))
        has_own_unit = self._recipe.unit_place in {"cells-kg", "cells-lb", "both"} or one.unit != self._recipe.unit
        unit = self._unit_gap + (self._pounds if one.unit == "lb" else "kg") if has_own_unit else ""
        if one.load < 0:
            return f"-{number}{unit}"
        if self.sets.load(one).startswith("BW+") and self._plus:
            return f"{self._plus}{number}{unit}"
        return f"{number}{unit}" if unit else one.load

    def count(self, one: TrueSet) -> Cell:
        """A cell in a column of repetitions."""
        if one.missed:
            return int(self._recipe.miss_word) if self._recipe.miss_word.isdigit() else self._recipe.miss_word
        if one.seconds is not None:
            return one.seconds if self.is_bare(one) else self.sets.held_or_carried(one)
        return one.reps if one.metres is None else self.sets.held_or_carried(one)

    def is_bare(self, one: TrueSet) -> bool:
        """Whether seconds stand here as a plain number among repetitions."""
        return self._is_bare_count and one.seconds is not None and not self._has_own_counts

    def _remarks(self) -> list[Column]:
        made: dict[str, Callable[[Group], Cell]] = {
            "note": lambda g: g.sets[-1].note or None,
            "pain": lambda g: self._pain(g.sets[-1]),
            "technique": lambda g: word_for(g.sets[-1].technique, TECHNIQUE[self._recipe.language], self._rng) or None,
            "side": lambda g: word_for(g.one.side, SIDES[self._recipe.language], self._rng) or None,
            "why": lambda g: self._why(g.one),
        }
        return [self._column(role, made[role]) for role in self._recipe.remarks]

    def _pain(self, last: TrueSet) -> Cell:
        if last.pain is None:
            return None
        score, words = last.pain
        return score if not words else self._pain_form.format(w=words, s=score)

    def _why(self, one: TrueSet) -> Cell:
        reason = one.missed if one.missed != "unsaid" else None
        return word_for(reason, WHY[self._recipe.language], self._rng) or None

    def _extras(self) -> list[Column]:
        made: dict[str, Callable[[Group], Cell]] = {
            "e1rm": lambda g: _rounded((g.one.load or Decimal(0)) * (1 + Decimal(g.one.reps or 0) / 30)),
            "volume": lambda g: sum((s.load or Decimal(0)) * (s.reps or 0) for s in g.sets) or None,
            "heart-rate": lambda g: self._rng.randint(92, 158),
            "coach": lambda g: self._coach,
            "duration": lambda g: 45 + g.one.on.day,
            "speed": lambda g: Decimal(self._rng.randint(30, 60)) / 100,
            "rest": lambda g: self._rng.choice((90, 120, 180)),
            "tempo": lambda g: self._rng.choice(("3-1-1", "2-0-2")),
            "target": lambda g: self._rng.choice(("3x8", "3x5", "4x8-10")),
            "body-mass": lambda g: body_mass_kg(g.one.on),
        }
        return [self._column(role, made[role]) for role in self._recipe.extras if role in made]


def body_mass_kg(on: date) -> Decimal:
    """What everybody weighs on a day, where a file says it."""
    return Decimal("81.5") + on.day % 3


def _effort(group: Group) -> Cell:
    effort = group.sets[-1].effort
    return None if effort is None else effort[1]


def _rounded(value: Decimal) -> Decimal | None:
    return value.quantize(Decimal("0.1")) or None


def as_written(groups: Sequence[Group], maker: ColumnMaker) -> list[Group]:
    """The groups, each count marked that stands bare in a column of repetitions."""
    return [
        structs.replace(g, sets=tuple(structs.replace(s, is_bare_count=maker.is_bare(s)) for s in g.sets))
        for g in groups
    ]
