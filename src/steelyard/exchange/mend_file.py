"""Rows that were not taken in, written so that they can be mended and read again: headers and titles with them."""

import csv
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime
from pathlib import Path

from .found import ColumnRead
from .grid import Cell, Grid, Opened, Row

# Roles whose empty cells may mean "as above": they are filled in, since the row above is not there any more.
CARRIED = ("date", "lifter", "exercise", "week", "day", "session")


def write_mend_files(
    opened: Opened,
    columns: Iterable[ColumnRead],
    taken: set[tuple[str, int]],
    why: Mapping[tuple[str, int], str],
    path: Path,
) -> tuple[str, ...]:
    """Write one CSV a sheet with rows to mend; `taken` rows are left out, `why` says by (sheet, row) what is wrong."""
    roles = {(column.sheet, column.column): column.role for column in columns}
    written = []
    several = len(opened.grids) > 1
    for grid in opened.grids:
        name = grid.name if several else ""
        if not any(sheet in {name, grid.name} for sheet, _ in why):
            continue
        target = _free(path.with_name(f"{path.stem}.{_plain(grid.name)}{path.suffix}") if several else path)
        rows = list(_rows(grid, name, roles, taken, why))
        with target.open("x", encoding="utf-8-sig", newline="") as file:
            csv.writer(file).writerows(rows)
        written.append(str(target))
    return tuple(written)


def _rows(
    grid: Grid,
    name: str,
    roles: Mapping[tuple[str, str], str],
    taken: set[tuple[str, int]],
    why: Mapping[tuple[str, int], str],
) -> Iterable[list[str]]:
    """Rows as they stand, an empty cell that means `as above` filled in, and above it as a comment what is wrong."""
    carried: dict[int, bool] = {}
    above: dict[int, str] = {}
    width = max(len(row.cells) for row in grid.rows)
    for row in grid.rows:
        cells = [_text(cell) for cell in row.cells]
        carried |= _carried_columns(row, grid.name, name, roles)
        key = (name, row.number)
        if key in why:
            filled = [cell or (above.get(i, "") if carried.get(i) else "") for i, cell in enumerate(cells)]
            yield [f"# {why[key]}", *[""] * (width - 1)]
            yield [*filled, *[""] * (width - len(filled))]
        elif key not in taken:
            yield cells
        above |= {i: cell for i, cell in enumerate(cells) if cell}


def _carried_columns(row: Row, sheet: str, name: str, roles: Mapping[tuple[str, str], str]) -> dict[int, bool]:
    found = {}
    for index, cell in enumerate(row.cells):
        role = roles.get((name, str(cell).strip())) or roles.get((sheet, str(cell).strip()))
        if role is not None:
            found[index] = role in CARRIED
    return found


def _text(cell: Cell) -> str:
    if isinstance(cell, datetime) and not (cell.hour or cell.minute or cell.second):
        return cell.date().isoformat()
    return cell.isoformat() if isinstance(cell, date) else str(cell)


def _plain(name: str) -> str:
    return "".join(c if c.isalnum() or c in "-_" else "-" for c in name)[:40] or "sheet"


def _free(path: Path) -> Path:
    """The path, or the next one with a number that does not exist yet."""
    candidates: Sequence[Path] = [path, *(path.with_name(f"{path.stem}-{n}{path.suffix}") for n in range(2, 1000))]
    return next(candidate for candidate in candidates if not candidate.exists())
