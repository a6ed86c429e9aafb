"""Columns that together say the sets of one line: of a set number, a day or an exercise above them."""

from collections.abc import Sequence

from msgspec import Struct

from .blocks import Column
from .cell_text import text_of
from .grid import Cell, Row
from .headers import Role


class Group(Struct, frozen=True, kw_only=True):
    """Some columns of a row, and what their heading says; `heading` is the column whose heading is a day, or -1."""

    columns: tuple[Column, ...]
    exercise: str = ""
    heading: int = -1


def groups_of(columns: Sequence[Column]) -> tuple[tuple[Column, ...], list[Group]]:
    """The columns that hold for the whole row, and the groups that each hold sets."""
    shared = tuple(c for c in columns if not c.set_number and not c.heading_kind and c.word.kind is None)
    keys: dict[tuple[str, int, str, str], list[Column]] = {}
    for column in columns:
        if column not in shared:
            key = (text_of(column.heading), column.set_number, column.heading_kind, column.word.kind or "")
            keys.setdefault(key, []).append(column)
    if not keys:
        return shared, [Group(columns=())]
    out = [_group(key, found) for key, found in keys.items()]
    # Work sets beside a warm-up column are a group of their own.
    counting: set[Role] = {"reps", "set-cell"}
    if any(c.word.role in counting for c in shared):
        out.append(Group(columns=()))
    return shared, out


def _group(key: tuple[str, int, str, str], found: list[Column]) -> Group:
    heading, _, kind, _ = key
    return Group(
        columns=tuple(found),
        exercise=heading if kind == "exercise" else "",
        heading=found[0].index if kind in {"date", "label"} else -1,
    )


def cell_of(row: Row, column: Column) -> Cell:
    """The cell of a column, "" where the row ends before it."""
    return row.cells[column.index] if column.index < len(row.cells) else ""
