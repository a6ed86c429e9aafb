"""What any file of rows is before anybody reads meaning into it: named grids of plain cells."""

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta

from msgspec import Struct

from .problems import Problem

# Text is kept as it stands in the file; a workbook also has true numbers, dates and times. An empty cell is "".
Cell = str | int | float | bool | date | datetime | time | timedelta


class Row(Struct, frozen=True):
    """One row: its number as a spreadsheet counts (from 1; in text the line on which it begins) and its cells."""

    number: int
    cells: Sequence[Cell]


class Grid(Struct, frozen=True, kw_only=True):
    """One sheet of a workbook, or a whole text file; rows without any content are left out, numbers keep counting."""

    name: str
    rows: Sequence[Row]


class Opened(Struct, frozen=True, kw_only=True):
    """A file as grids, and how it had to be read to become that (shown to the person who imports it)."""

    file: str
    kind: str
    encoding: str = ""
    separator: str = ""
    grids: tuple[Grid, ...]


class FileRefused(Exception):
    """A file that cannot be opened as rows at all: one problem says why and what to try."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.problem)
        self.problem = problem
