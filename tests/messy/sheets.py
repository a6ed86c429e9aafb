"""A file before it becomes bytes: sheets of rows of cells."""

from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal

from msgspec import Struct, field

Cell = str | int | Decimal | date | datetime | None
Cells = list[Cell]


class Sheet(Struct, kw_only=True):
    """One sheet: its rows, and which cells are merged to the right (row from 0, first and last column from 0)."""

    name: str
    rows: list[Cells]
    merged: list[tuple[int, int, int]] = field(default_factory=list)


class Part(Struct, frozen=True, kw_only=True):
    """Rows of one training day in a table: what noise may stand between."""

    on: date
    rows: Sequence[Cells]


class Table(Struct, frozen=True, kw_only=True):
    """A table: the rows of its header and its days."""

    header: Sequence[Cells]
    days: Sequence[Part]

    @property
    def width(self) -> int:
        """How many columns it has."""
        return max(len(row) for rows in (self.header, *(d.rows for d in self.days)) for row in rows)
