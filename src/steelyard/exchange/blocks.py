"""What any table is made of: its columns, its titles, its rows."""

from collections.abc import Callable, Sequence
from typing import Literal

from msgspec import Struct, field

from .grid import Cell, Row
from .headers import HeaderWord

Heading = Literal["date", "label", "exercise", "other", ""]
IsExercise = Callable[[str], bool]


class Column(Struct, frozen=True, kw_only=True):
    """One column: its name, what its header says, and the heading above it that sets it apart from its like.

    `below` is the header alone where the name has that of its group in front.
    """

    index: int
    name: str
    word: HeaderWord
    below: str = ""
    heading: Cell = ""
    heading_kind: Heading = ""
    set_number: int = 0

    @property
    def base(self) -> str:
        """The name without the number of its set or the heading of its group: `Wt` of `Wt 1` and of `Set 1 Wt`."""
        name = self.below or self.name
        return name.removesuffix(str(self.set_number)).strip(" .#") or name if self.set_number else name


class Title(Struct, frozen=True):
    """A cell above a table, or the sheet's name (row 0)."""

    row: int
    column: str
    text: Cell


class Block(Struct, kw_only=True):
    """A table with one header, or lines without any."""

    sheet: str
    is_lines: bool = False
    header_rows: tuple[Row, ...] = ()
    titles: tuple[Title, ...] = ()
    columns: list[Column] = field(default_factory=list)
    rows: Sequence[Row] = ()
    part: int = 0
    beyond: int = 0
    others: frozenset[int] = frozenset()
    is_workbook: bool = False
    is_json: bool = False


def letter(index: int) -> str:
    """The letter of a column, as a spreadsheet names it."""
    out = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        out = chr(65 + rest) + out
    return out


def is_empty(cell: Cell) -> bool:
    """Whether a cell holds nothing."""
    return isinstance(cell, str) and not cell.strip()


def filled(row: Row) -> list[tuple[int, Cell]]:
    """The cells with content, by index."""
    return [(i, c) for i, c in enumerate(row.cells) if not is_empty(c)]


def is_filled(row: Row, index: int) -> bool:
    """Whether the row has content there."""
    return index < len(row.cells) and not is_empty(row.cells[index])
