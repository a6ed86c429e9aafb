"""What is known while one set cell is read, and what one group of it says."""

import re
from decimal import Decimal
from typing import Literal

from msgspec import Struct

from steelyard.wording.message import tell

from .cells import CellRefused
from .set_style import Clue, Doubt, SaidSet, SetStyle

MOST_SETS = 30
# Nobody does more than fifteen sets of a line, and hardly a bar is lighter than sixteen: above it a number is a load.
SURELY_LOAD = 15
FEW_SETS = 6
MANY = 30
SEPARATORS = re.compile(r"\s*[,/]\s*")
LOADS_APART = re.compile(r"\s*/\s*|\s*,\s+|\s+,\s*")


class ReadingOf:
    """What is known while one cell is read; `choose` marks each doubt that the reading needs."""

    def __init__(self, style: SetStyle, *, gives_load: bool, is_count: bool, clues: list[Clue]) -> None:
        self.style = style
        self.gives_load = gives_load
        self.is_count = is_count
        self.clues = clues
        self.doubts: set[Doubt] = set()

    def choose(self, doubt: Doubt, meanwhile: str) -> str:
        """What the writer means; `meanwhile` serves where that is not settled."""
        settled: str | None = getattr(self.style, doubt)
        if settled is None:
            self.doubts.add(doubt)
        return settled or meanwhile

    def clue(self, doubt: Doubt, shows: str, *numbers: Decimal) -> None:
        """Note what this cell shows."""
        self.clues.append(Clue(doubt, shows, numbers))


class Said(Struct, frozen=True, kw_only=True):
    """One group of sets, with what goes to its last set."""

    sets: tuple[SaidSet, ...] = ()
    words: str = ""
    notes: tuple[str, ...] = ()
    efforts: tuple[tuple[str, Literal["rpe", "rir"]], ...] = ()
    tempo: str | None = None
    rest_interval_s: int | None = None
    left_out: str = ""


class LeftOut(Exception):
    """The cell holds no set, as was answered."""


def refused(problem: str) -> CellRefused:
    """A group that cannot be understood."""
    return CellRefused(problem, tell("write sets such as {example}", example="3x8 @ 60kg"))
