"""Sets of one exercise as the text of one cell, in each of the ways people have."""

from collections.abc import Callable, Sequence
from decimal import Decimal
from itertools import groupby

from steelyard.catalogue import catalogue

from .recipe import Recipe
from .truth import TrueSet

_EFFORT = (" {S} {n}", " {s} {n}", " ({S} {n})", " {S}{n}")
_BODY_MASS = {e.code for e in catalogue().exercises if e.body_mass_share}


class SetWriter:
    """Writes the sets of one file in that file's one way."""

    def __init__(self, recipe: Recipe) -> None:
        self._recipe = recipe
        self._has_unit = recipe.unit_place in {"cells-kg", "cells-lb", "both"}
        self._ways: dict[str, Callable[[Sequence[TrueSet]], str]] = {
            "3x8@60kg": self._sets_reps_at,
            "3 x 8 x 60": self._sets_by_reps_by_load,
            "60kg 8,8,7": self._load_then_reps,
            "8/8/7 @ 60": self._reps_at_load,
            "60x8 60x8 60x7": lambda sets: " ".join(self.single(s) for s in sets),
            "60kg x 8": lambda sets: ", ".join(self.single(s) for s in sets),
            "3×8 @ 60 kg": self._sets_reps_at,
            "3X8@60KG": lambda sets: self._sets_reps_at(sets).upper(),
            "3 sets of 8 @ 60kg": self._sets_of,
            "60kg: 8, 8, 7": self._load_colon_reps,
            "8@60 8@60 7@60": lambda sets: " ".join(f"{self._zero(s)}@{self.load(s)}" for s in sets),
        }
        self._gap = " " if recipe.style == "3×8 @ 60 kg" else ""

    def cell(self, sets: Sequence[TrueSet]) -> str:
        """All sets of a bout, with the effort of its last one behind them if this file has it there."""
        if sets[0].seconds is not None or sets[0].metres is not None:
            written = self._held_or_carried(sets)
        else:
            written = self._ways[self._recipe.style](sets)
        return written + self.effort(sets[-1])

    def single(self, one: TrueSet) -> str:
        """One set alone: `60kg x 8`."""
        if one.seconds is not None or one.metres is not None:
            return self._held_or_carried((one,))
        if self._recipe.style == "60x8 60x8 60x7":
            return f"{self.load(one)}x{self._zero(one)}"
        return f"{self.load(one)} x {self._count(one)}"

    def load(self, one: TrueSet) -> str:
        """A load: `60kg`, `60`, `BW`, `BW+10`."""
        if one.load is None:
            return "BW"
        number = self.number(abs(one.load))
        unit = self._gap + one.unit if self._has_unit or one.unit != self._recipe.unit else ""
        if one.load < 0:
            return f"BW-{number}{unit}"
        return f"BW+{number}{unit}" if one.exercise in _BODY_MASS else f"{number}{unit}"

    def number(self, value: Decimal) -> str:
        """A number with this file's decimal mark."""
        text = f"{value.normalize():f}"
        return text.replace(".", ",") if self._recipe.decimal == "comma" else text

    def effort(self, last: TrueSet) -> str:
        """` RPE 8` behind the cell."""
        if last.effort is None or self._recipe.effort_place != "suffix":
            return ""
        scale, value = last.effort
        if self.has_bare_effort and scale == "rpe":
            return f" @{self.number(value)}"
        forms = (*_EFFORT, " ({n} {S})", " {n} {S}") if scale == "rir" else (*_EFFORT, " @{S}{n}", " @ {S} {n}")
        form = forms[self._recipe.seed // 3 % len(forms)]
        return form.format(S=scale.upper(), s=scale, n=self.number(value))

    @property
    def has_bare_effort(self) -> bool:
        """Whether RPE stands as `@8`; only where the load has its unit."""
        return self._has_unit and self._recipe.effort_place == "suffix" and self._recipe.seed % 4 == 1

    def _count(self, one: TrueSet) -> str:
        return self._recipe.miss_word if one.missed else str(one.reps)

    def _runs(self, sets: Sequence[TrueSet], *, by_reps: bool) -> list[list[TrueSet]]:
        return [list(g) for _, g in groupby(sets, key=lambda s: (s.load, s.reps if by_reps else 0))]

    def _sets_reps_at(self, sets: Sequence[TrueSet]) -> str:
        times, at = ("×", " @ ") if self._recipe.style == "3×8 @ 60 kg" else ("x", "@")
        parts = []
        for run in self._runs(sets, by_reps=True):
            behind = f"{at}{self.load(run[0])}" if run[0].load is not None else " BW"
            parts.append(f"{len(run)}{times}{self._zero(run[0])}{behind}")
        return ", ".join(parts)

    def _sets_of(self, sets: Sequence[TrueSet]) -> str:
        word, of = {"en": ("set", "of"), "de": ("Satz", "à")}[self._recipe.language]
        many = {"en": "sets", "de": "Sätze"}[self._recipe.language]
        parts = []
        for run in self._runs(sets, by_reps=True):
            counted = f"{len(run)} {many if len(run) > 1 else word} {of} {self._zero(run[0])}"
            parts.append(f"{counted} @ {self.load(run[0])}")
        return ", ".join(parts)

    def _load_colon_reps(self, sets: Sequence[TrueSet]) -> str:
        runs = self._runs(sets, by_reps=False)
        return "; ".join(f"{self.load(run[0])}: {', '.join(self._count(s) for s in run)}" for run in runs)

    def _sets_by_reps_by_load(self, sets: Sequence[TrueSet]) -> str:
        runs = self._runs(sets, by_reps=True)
        return ", ".join(f"{len(run)} x {self._zero(run[0])} x {self.load(run[0])}" for run in runs)

    def _load_then_reps(self, sets: Sequence[TrueSet]) -> str:
        runs = self._runs(sets, by_reps=False)
        return "; ".join(f"{self.load(run[0])} {','.join(self._count(s) for s in run)}" for run in runs)

    def _reps_at_load(self, sets: Sequence[TrueSet]) -> str:
        runs = self._runs(sets, by_reps=False)
        return "; ".join(f"{'/'.join(self._count(s) for s in run)} @ {self.load(run[0])}" for run in runs)

    def _zero(self, one: TrueSet) -> str:
        return "0" if one.missed else str(one.reps)

    def held_or_carried(self, one: TrueSet) -> str:
        """A time or a distance: `30s`, `0:30`, `40 m`."""
        if one.seconds is None:
            return f"{one.metres}{('m', ' m')[self._recipe.seed % 2]}"
        word = {"en": "sec", "de": "Sek"}[self._recipe.language]
        forms = ("{n}s", "{n} s", "{n}s", "{n} {w}", "0:{n:02}")
        return forms[self._recipe.seed // 2 % len(forms)].format(n=one.seconds, w=word)

    def _held_or_carried(self, sets: Sequence[TrueSet]) -> str:
        one = sets[0]
        count = self.held_or_carried(one)
        many = f"{len(sets)}x" if len(sets) > 1 else ""
        return f"{many}{count}" + (f" {self.load(one)}" if one.load is not None else "")
