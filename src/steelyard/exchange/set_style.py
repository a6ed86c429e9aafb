"""What one writer means by cells that could be read in two ways, found over the whole file or answered."""

from decimal import Decimal
from typing import Literal

from msgspec import Struct, structs

from steelyard.engine.effort import Effort
from steelyard.engine.log import Missed, Pain, SetKind, Technique

Doubt = Literal[
    "at", "at_small", "pair", "triple", "three", "slash", "comma", "bare", "range", "percent", "bracket", "spaced",
    "dash", "two",
]  # fmt: skip


class SetStyle(Struct, frozen=True, kw_only=True):
    """One meaning for each doubt; None while it is not settled (a cell that needs it then waits for an answer)."""

    at: Literal["load", "percent", "rpe", "rir"] | None = None
    at_small: Literal["load", "percent", "rpe", "rir"] | None = None
    pair: Literal["sets-first", "load-first"] | None = None
    triple: Literal["reps-sets", "sets-reps"] | None = None
    three: Literal["load-last", "load-first"] | None = None
    slash: Literal["sides", "sets"] | None = None
    comma: Literal["decimal", "list"] | None = None
    bare: Literal["reps", "single"] | None = None
    range: Literal["leave-out", "lowest", "highest"] | None = None
    percent: Literal["leave-out"] | None = None
    bracket: Literal["rir", "rpe", "note"] | None = None
    spaced: Literal["reps", "load-first"] | None = None
    dash: Literal["load-first", "leave-out"] | None = None
    two: Literal["each", "together", "sets"] | None = None


class SaidLoad(Struct, frozen=True):
    """A load as a cell says it: value None for the bare body mass; unit "" where none stands."""

    value: Decimal | None
    unit: Literal["kg", "lb", "mark", ""] = ""


class SaidSet(Struct, frozen=True, kw_only=True):
    """One set as a cell says it; `load` is None where the cell says none."""

    reps: int | None = None
    seconds: int | None = None
    metres: Decimal | None = None
    load: SaidLoad | None = None
    side: Literal["left", "right", "each"] | None = None
    cluster: tuple[int, ...] = ()
    effort: Effort | None = None
    missed: Missed | None = None
    kind: SetKind | None = None
    pain: Pain | None = None
    technique: Technique | None = None
    note: str = ""


class SaidCell(Struct, frozen=True, kw_only=True):
    """All sets of one cell, what holds for each of them, and the doubts on which the reading rests.

    `left_out` says why a cell holds no set. `sets_first` counts sets that the cell says before any repetitions.
    """

    sets: tuple[SaidSet, ...] = ()
    tempo: str | None = None
    rest_interval_s: int | None = None
    doubts: frozenset[Doubt] = frozenset()
    left_out: str = ""
    note: str = ""

    def with_last(self, **changes: object) -> "SaidCell":
        """The same with these fields on the last set."""
        if not self.sets:
            return self
        return structs.replace(self, sets=(*self.sets[:-1], structs.replace(self.sets[-1], **changes)))


class Clue(Struct, frozen=True):
    """Something that a cell shows of its writer's ways: the doubt, what it shows, the cell."""

    doubt: Doubt
    shows: str
    numbers: tuple[Decimal, ...] = ()
