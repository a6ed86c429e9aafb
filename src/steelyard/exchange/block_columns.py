"""The columns of a table by its header, and the tables that stand side by side below one."""

from collections import Counter
from itertools import pairwise

from msgspec import structs

from .blocks import Block, Column, IsExercise, Title, filled, is_empty, is_filled, letter
from .cell_text import text_of
from .grid import Cell, Row
from .header_rows import REPEATABLE, heading_kind, set_number_of, small_number
from .headers import HeaderWord, Role, header_word, unknown_word
from .named_groups import Parts, named_groups

MOST_SAMPLED = 500
MOST_GROUP_COLUMNS = 12
DAYS: frozenset[Role] = frozenset({"date", "day", "week"})
LEADING: frozenset[Role] = frozenset({*DAYS, "lifter", "session"})


def beside(block: Block, is_exercise: IsExercise) -> list[Block]:
    """A block as the tables that stand side by side in it."""
    columns = _columns(block, is_exercise)
    _join_continued(block, columns)
    columns = sorted((*columns, *_unnamed_columns(block, columns)), key=lambda c: c.index)
    exercises = [i for i, c in enumerate(columns) if c.word.role == "exercise" and not c.heading_kind]
    if len(exercises) > 1:
        return _cut(block, columns, [0, *(_start_of(columns, number) for number in exercises[1:])])
    if parts := named_groups(block, columns, is_exercise):
        return _by_names(block, columns, parts)
    if starts := _alike(columns):
        return _cut(block, columns, starts)
    block.columns = numbered(columns)
    block.beyond = max((c.index for c in columns), default=-1) + 1
    return [block]


def _alike(columns: list[Column]) -> list[int]:
    """Where parts begin that empty columns set apart and that have most headers in common; empty if they have not."""
    starts = [0, *(i for i in range(1, len(columns)) if columns[i].index - columns[i - 1].index > 1)]
    parts = [{c.name.casefold() for c in columns[a:b]} for a, b in pairwise([*starts, len(columns)])]
    is_alike = all(len(parts[0] & part) * 2 > min(len(parts[0]), len(part)) > 3 for part in parts[1:])
    return starts if len(parts) > 1 and is_alike else []


def _start_of(columns: list[Column], number: int) -> int:
    """Where the part of an exercise column begins: with the day, week or lifter right before it."""
    start = number
    while start > 0 and columns[start].index - columns[start - 1].index == 1:
        role = columns[start - 1].word.role
        if role not in LEADING or role in {c.word.role for c in columns[start:number]}:
            break
        start -= 1
    return start


def _cut(block: Block, columns: list[Column], starts: list[int]) -> list[Block]:
    """The block as one part for each start; days left of the first exercise hold for all parts."""
    first_exercise = next((c.index for c in columns if c.word.role == "exercise"), 0)
    shared = [c for c in columns[: starts[1]] if c.word.role in DAYS and c.index < first_exercise]
    out: list[Block] = []
    for part, (start, end) in enumerate(pairwise([*starts, len(columns)])):
        own = columns[start:end]
        if part:
            own = [s for s in shared if s.word.role not in {c.word.role for c in own}] + own
        low, high = columns[start].index if part else 0, columns[end].index if end < len(columns) else 10**6
        titles = tuple(t for t in block.titles if _is_above(t, low, high, block.titles))
        others = frozenset(c.index for c in columns) - {c.index for c in own}
        out.append(structs.replace(block, columns=numbered(own), titles=titles, part=part, others=others))
    return out


def _by_names(block: Block, columns: list[Column], parts: Parts) -> list[Block]:
    """The block as one part for each name, which stands above its own part only."""
    row = block.header_rows[0].number - 1
    out: list[Block] = []
    for part, (letters, own) in enumerate(parts):
        titles = tuple(t for t in block.titles if t.row != row or t.column == letters)
        others = frozenset(c.index for c in columns) - {c.index for c in own}
        beyond = max(c.index for c in columns) + 1
        out.append(structs.replace(block, columns=own, titles=titles, part=part, others=others, beyond=beyond))
    return out


def _is_above(title: Title, low: int, high: int, titles: tuple[Title, ...]) -> bool:
    """A title alone in its row stands above all parts; several stand each above its own."""
    alone = sum(t.row == title.row for t in titles) == 1
    return (alone and title.column == "A") or low <= _index(title.column) < high


def _index(name: str) -> int:
    value = 0
    for character in name:
        value = value * 26 + ord(character) - 64
    return value - 1


def _columns(block: Block, is_exercise: IsExercise) -> list[Column]:
    """The columns of a header of one or two rows, each with what its header says."""
    upper = _carried(block.header_rows[0]) if len(block.header_rows) > 1 else {}
    out: list[Column] = []
    for index, cell in filled(block.header_rows[-1]):
        word = header_word(cell) if isinstance(cell, str) else None
        name = cell.strip() if isinstance(cell, str) else str(cell)[:10]
        if (above := upper.get(index, "")) != "":
            out.append(_under(index, name, cell, above, word, is_exercise))
        elif word is None and heading_kind(cell, is_exercise) != "other":
            out.append(_headed(index, name, cell, is_exercise))
        else:
            found = word or unknown_word(name)
            out.append(Column(index=index, name=name, word=found, set_number=found.set_number or 0))
    return out


def _headed(index: int, name: str, cell: Cell, is_exercise: IsExercise) -> Column:
    """A column of sets below a day, an exercise or the number of a set."""
    kind = heading_kind(cell, is_exercise)
    number = small_number(cell) if kind == "label" else 0
    word = HeaderWord(role="set-cell", set_number=number or None)
    if number:
        return Column(index=index, name=name, word=word, set_number=number)
    return Column(index=index, name=name, word=word, heading=cell, heading_kind=kind)


def _under(index: int, name: str, cell: Cell, above: Cell, word: HeaderWord | None, is_exercise: IsExercise) -> Column:
    """A column below a heading of its group."""
    kind = heading_kind(above, is_exercise)
    number = set_number_of(above) or (small_number(above) if kind == "label" else 0)
    upper_word = header_word(above) if isinstance(above, str) else None
    if word is None and upper_word is not None and not number and heading_kind(cell, is_exercise) != "other":
        # `Sets` above `1 | 2 | 3`.
        word, number = HeaderWord(role="set-cell"), small_number(cell)
    found = word or unknown_word(name)
    if number or kind == "other":
        full = f"{above} {name}" if number else name
        count = number or found.set_number or 0
        return Column(index=index, name=str(full), word=found, set_number=count, below=name if number else "")
    return Column(
        index=index, name=name, word=found, heading=above, heading_kind=kind, set_number=found.set_number or 0
    )


def _carried(row: Row) -> dict[int, Cell]:
    """Headings of groups, each over the columns to its right (as merged cells read), the last as far as the others."""
    cells = filled(row)
    starts = [index for index, _ in cells]
    widths = [b - a for a, b in pairwise(starts)]
    last = min(widths) if widths else MOST_GROUP_COLUMNS
    out: dict[int, Cell] = {}
    for (start, cell), width in zip(cells, [*widths, last], strict=True):
        out.update(dict.fromkeys(range(start, start + width), cell))
    return out


def numbered(columns: list[Column]) -> list[Column]:
    """Columns that repeat without a number (`kg | reps | kg | reps`) counted as sets."""
    plain = [c for c in columns if not c.set_number and not c.heading_kind and c.word.role in REPEATABLE]
    counts = Counter(c.word.role for c in plain)
    repeated = {role for role, count in counts.items() if count > 1}
    # One role that stands twice may be a slip; two that do are pairs.
    is_regular = len({counts[r] for r in repeated}) == 1 and max(counts.values()) >= (3 if len(repeated) == 1 else 2)
    is_one_kind = len({c.word.kind for c in plain if c.word.role == "set-cell"}) < 2
    is_two_units = {c.word.unit for c in plain if c.word.role == "load"} == {"kg", "lb"}
    if not repeated or not is_regular or not is_one_kind or is_two_units:
        return columns
    seen: Counter[Role] = Counter()
    out: list[Column] = []
    for column in columns:
        role = column.word.role
        if column in plain and role in repeated:
            seen[role] += 1
            out.append(structs.replace(column, set_number=seen[role], name=f"{column.name} {seen[role]}"))
        else:
            out.append(column)
    return out


def _join_continued(block: Block, columns: list[Column]) -> None:
    """What stands right of a cell below a day or an exercise, without a heading of its own, goes on with that cell."""
    named = {c.index for c in columns}
    headed = sorted(c.index for c in columns if c.heading_kind not in {"", "other"} and c.word.role == "set-cell")
    left_of: dict[int, int] = {}
    for start, end in pairwise([*headed, max(headed, default=0) + 2]):
        left_of |= {i: start for i in range(start + 1, end) if not named & set(range(start + 1, i + 1))}
    if any(is_filled(row, i) for i in left_of for row in block.rows):
        block.rows = [_joined_row(row, left_of) for row in block.rows]


def _joined_row(row: Row, left_of: dict[int, int]) -> Row:
    cells = list(row.cells)
    for index, left in sorted(left_of.items()):
        if is_filled(row, index) and not is_empty(cells[left]):
            cells[left] = f"{text_of(cells[left])} {text_of(cells[index])}"
            cells[index] = ""
    return Row(row.number, cells)


def _unnamed_columns(block: Block, columns: list[Column]) -> list[Column]:
    """Columns without a header that are filled in many rows."""
    named = {c.index for c in columns}
    width = max(named, default=0)
    counts: dict[int, int] = {}
    for row in block.rows[:MOST_SAMPLED]:
        for index, _ in filled(row):
            if index not in named and index < width:
                counts[index] = counts.get(index, 0) + 1
    least = max(2, min(len(block.rows), MOST_SAMPLED) // 5)
    is_matrix = any(c.heading_kind for c in columns)
    return [
        Column(index=index, name=letter(index), word=HeaderWord(role="unknown"))
        for index, count in sorted(counts.items())
        if count >= least or (is_matrix and index < min(named))
    ]
