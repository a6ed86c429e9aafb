"""Lists inside of JSON objects as rows: the sets of a session, or the counts of an exercise, one row a set."""

import json
from collections.abc import Iterator, Sequence, Set

from .blocks import Block, Column, is_empty, is_filled
from .bounds import MOST_ROWS
from .grid import Cell, Grid, Row
from .headers import Role, header_word

MOST_IN_A_LIST = 100
# What an object says once of all its sets belongs to the last of them, as in a row of several sets.
_WORDS: frozenset[Role] = frozenset({"note", "exercise", "lifter", "pain", "technique", "missed", "implement", "date"})
_OF_THE_LAST: frozenset[Role] = frozenset({"note", "pain", "technique", "missed", "body-mass", "rpe", "rir", "effort"})


def as_rows(grid: Grid) -> Grid:
    """The grid with a row for each thing in a list; a list that is no list of sets stays as it is."""
    rows = list(grid.rows)
    names = [str(cell) for cell in rows[0].cells] if rows else []
    has_lists = any(isinstance(c, str) and c.startswith("[") for row in rows for c in row.cells)
    roles = [_role(name) for name in names]
    if "exercise-code" in roles or (not has_lists and roles.count("exercise") < 2):
        return grid  # our own export has a list in a field of its own
    keys = {name: i for i, name in enumerate(names)}
    out: list[Row] = []
    for row in rows[1:]:
        out += _expanded(row, keys) if len(out) < MOST_ROWS else [row]
    moves = _moves(out, [i for name, i in keys.items() if _role(name) == "exercise"])
    header = tuple("" if i in moves else name for name, i in keys.items())
    return Grid(name=grid.name, rows=[Row(rows[0].number, header), *(_moved(row, moves) for row in out)])


def join_columns(block: Block, columns: list[Column], roles: Set[Role]) -> list[Column]:
    """The columns with those of one role joined, where no row has more than one of them."""
    moves: dict[int, int] = {}
    for role in roles:
        same = [c.index for c in columns if c.word.role == role and not c.heading_kind and not c.set_number]
        moves |= _moves(block.rows, same)
    if not moves:
        return columns
    block.rows = [_moved(row, moves) for row in block.rows]
    return [column for column in columns if column.index not in moves]


def _role(name: str) -> Role:
    word = header_word(name)
    return word.role if word is not None else "unknown"


def _expanded(row: Row, keys: dict[str, int]) -> Iterator[Row]:
    names = {i: _role(key) for key, i in keys.items()}
    lists = {
        i: found
        for i, cell in enumerate(row.cells)
        if names.get(i) not in _WORDS and (found := _list_in(cell)) is not None
    }
    lengths = {len(found) for found in lists.values()}
    objects = [i for i, found in lists.items() if found and all(isinstance(one, dict) for one in found)]
    if lengths == {0}:
        yield Row(row.number, tuple("" if i in lists else c for i, c in enumerate(row.cells)))
        return
    if not lists or len(lengths) > 1 or (objects and len(lists) > 1):
        yield row
        return
    count = lengths.pop()
    of_last = {i for i, role in names.items() if role in _OF_THE_LAST}
    for at in range(count):
        is_last = at == count - 1
        cells = {i: c for i, c in enumerate(row.cells) if i not in lists and (is_last or i not in of_last)}
        for i, found in lists.items():
            one = found[at]
            if isinstance(one, dict):
                _add(cells, one, keys)
            else:
                cells[i] = _cell(one)
        yield Row(row.number, tuple(cells.get(i, "") for i in range(1 + max(cells, default=0))))


def _list_in(cell: Cell) -> list[object] | None:
    if not isinstance(cell, str) or not cell.startswith("["):
        return None
    try:
        found = json.loads(cell)
    except (ValueError, RecursionError):
        return None
    is_list = isinstance(found, list) and len(found) <= MOST_IN_A_LIST
    # A text that looks like a list has blanks in it, or holds no numbers.
    is_packed = is_list and json.dumps(found, ensure_ascii=False, separators=(",", ":")) == cell
    return found if is_packed and all(isinstance(one, dict | int | float | None) for one in found) else None


def _add(cells: dict[int, Cell], one: dict[str, object], keys: dict[str, int]) -> None:
    """Put what a set says beside what its session says; words of both are kept."""
    for key, value in one.items():
        index = keys.setdefault(key, len(keys))
        held, cell = cells.get(index, ""), _cell(value)
        both = not is_empty(held) and isinstance(held, str) and isinstance(cell, str) and not is_empty(cell)
        cells[index] = f"{cell}; {held}" if both else cell if not is_empty(cell) else held


def _cell(value: object) -> Cell:
    if value is None:
        return ""
    return value if isinstance(value, str | int | float) else json.dumps(value, ensure_ascii=False)


def _moves(rows: Sequence[Row], same: list[int]) -> dict[int, int]:
    """From which column to which cells move, where no row has two of these columns."""
    if len(same) < 2 or any(sum(is_filled(row, i) for i in same) > 1 for row in rows):
        return {}
    return dict.fromkeys(same[1:], same[0])


def _moved(row: Row, moves: dict[int, int]) -> Row:
    if not any(is_filled(row, source) for source in moves):
        return row
    cells = {i: cell for i, cell in enumerate(row.cells) if not is_empty(cell)}
    for source, target in moves.items():
        if source in cells:
            cells[target] = cells.pop(source)
    return Row(row.number, tuple(cells.get(i, "") for i in range(1 + max(cells, default=0))))
