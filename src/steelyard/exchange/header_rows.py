"""Which rows of a sheet are headers: words for columns, days or exercises above columns, in one row or two."""

import re
from collections.abc import Sequence
from datetime import date
from functools import lru_cache

from .blocks import Heading, IsExercise, filled
from .cell_text import text_of
from .date_words import day_number, is_day, is_serial, week_named, weekday_named
from .grid import Cell, Row
from .headers import CORE, Role, header_word
from .set_tokens import looks_like_sets

Cells = list[tuple[int, Cell]]
MOST_LOOKED_AT = 20
# Roles that stand once a set in a table with a column for each.
REPEATABLE: frozenset[Role] = frozenset({"reps", "load", "set-cell", "rpe", "rir", "seconds", "metres"})
_DECIMAL = re.compile(r"[+-]?\d+(?:[.,]\d+)?\s*(?:kgs?|lbs?|s|sec|m|x)?", re.IGNORECASE)


def find_headers(rows: list[Row], is_exercise: IsExercise) -> list[tuple[int, int]]:
    """The first and last row of each header."""
    out: list[tuple[int, int]] = []
    after = 0
    numbers: dict[Cell, bool] = {}
    for i, row in enumerate(rows):
        if i < after or _holds_number(row, numbers):
            continue
        cells = filled(row)
        if len(cells) > 1 and (found := _header_at(rows, i, cells, out, is_exercise)) is not None:
            first, last = found
            out.append((first if first >= after else i, last))
            after = last + 1
    return out or _unknown_across(rows)


def _header_at(
    rows: list[Row], i: int, cells: Cells, above: list[tuple[int, int]], is_exercise: IsExercise
) -> tuple[int, int] | None:
    """The first and last row of the header of which this row is the lowest, or the one above the lowest."""
    if _is_record_header(cells, is_exercise):
        return (i - 1 if i and _is_group_heading(rows[i - 1], cells, is_exercise) else i), i
    if not above and i + 1 < len(rows) and _is_mass_header(dict(cells), dict(filled(rows[i + 1]))):
        return i, i
    if not _is_heading_row(cells, is_exercise):
        return None
    if above:
        last = rows[above[-1][1]]
        return (i, i) if _same_kind(last, cells) and not _names_exercise(last, cells, is_exercise) else None
    below = filled(rows[i + 1]) if i + 1 < len(rows) else []
    if _is_record_header(below, is_exercise) and repeats(below):
        return i, i + 1
    return (i, i) if _has_sets_below(rows[i + 1 : i + 30], cells) else None


def _unknown_across(rows: list[Row]) -> list[tuple[int, int]]:
    """A header of a day and names that nobody knows, where sets stand below most of the names."""
    for i, row in enumerate(rows[:MOST_LOOKED_AT]):
        cells = filled(row)
        texts = [c for _, c in cells if isinstance(c, str)]
        word = header_word(texts[0]) if len(texts) == len(cells) > 2 else None
        if word is None or word.role not in {"date", "day"} or any(map(looks_like_sets, texts)):
            continue
        below = {j for r in rows[i + 1 : i + 30] for j, c in filled(r) if isinstance(c, str) and looks_like_sets(c)}
        held = sum(j in below for j, _ in cells[1:])
        if held > 1 and held * 2 >= len(cells) - 1:
            return [(i, i)]
    return []


def _holds_number(row: Row, known: dict[Cell, bool]) -> bool:
    """Whether a number or sets stand in the row, as in no header: most rows of a log are told apart by that alone."""
    for cell in row.cells:
        found = known.get(cell)
        if found is None:
            is_sets = isinstance(cell, str) and looks_like_sets(cell) and header_word(cell) is None
            found = known[cell] = is_sets or _is_plain_number(cell)
        if found:
            return True
    return False


def _is_plain_number(cell: Cell) -> bool:
    if isinstance(cell, str):
        return _DECIMAL.fullmatch(cell.strip()) is not None and not is_heading(cell)
    return isinstance(cell, int | float) and not isinstance(cell, bool) and not is_heading(cell)


def _same_kind(row: Row, cells: list[tuple[int, Cell]]) -> bool:
    """Whether a later heading row stands in the same columns as the one before (a table under another)."""
    return {i for i, _ in filled(row)} == {i for i, _ in cells} or len(cells) >= 3


def _names_exercise(header: Row, cells: Cells, is_exercise: IsExercise) -> bool:
    """Whether a row has an exercise where the header says so: then it holds sets, and is no heading."""
    words = {i: header_word(c) for i, c in filled(header) if isinstance(c, str)}
    columns = {i for i, word in words.items() if word is not None and word.role == "exercise"}
    return any(i in columns and isinstance(c, str) and header_word(c) is None and is_exercise(c) for i, c in cells)


def _has_sets_below(rows: Sequence[Row], heading: list[tuple[int, Cell]]) -> bool:
    columns = {i for i, _ in heading}
    below = [c for row in rows for i, c in filled(row) if i in columns]
    numbers = sum(not isinstance(c, str) or any(map(str.isdigit, c)) for c in below)
    return numbers > 0


def _is_record_header(cells: list[tuple[int, Cell]], is_exercise: IsExercise) -> bool:
    words = [header_word(c) for _, c in cells if isinstance(c, str)]
    known = [w for w in words if w is not None]
    roles: set[Role] = {w.role for w in known}
    others = [c for _, c in cells if not (isinstance(c, str) and header_word(c) is not None)]
    if not known or any(not isinstance(c, str) and not is_heading(c) for c in others):
        return False
    headings = sum(is_heading(c) for c in others)
    if len(roles) + min(headings, 2) < 2 or not (roles & CORE or "exercise" in roles):
        return False
    names = [c for c in others if isinstance(c, str) and not is_heading(c)]
    if any(any(map(str.isdigit, c)) and looks_like_sets(c) for c in names) or any(map(is_exercise, names)):
        return False
    return len(known) + headings >= len(names)


def _is_mass_header(cells: dict[int, Cell], below: dict[int, Cell]) -> bool:
    """Whether a row stands above days and body masses."""
    words = {i: header_word(c) for i, c in cells.items() if isinstance(c, str)}
    roles = {word.role: below.get(i, "") for i, word in words.items() if word is not None}
    mass = roles.get("body-mass", "")
    is_number = isinstance(mass, int | float) or any(map(str.isdigit, text_of(mass)))
    return is_number and (is_day(roles.get("date", "")) or is_serial(roles.get("date", "")))


def _is_heading_row(cells: list[tuple[int, Cell]], is_exercise: IsExercise) -> bool:
    """A row of days above columns, or of exercises above columns."""
    texts = [c for _, c in cells if isinstance(c, str)]
    days = sum(is_heading(c) and not (isinstance(c, int | float) or str(c).strip().isdecimal()) for _, c in cells)
    words = sum(header_word(c) is not None for c in texts)
    if days >= 2 and days + words + 1 >= len(cells) and not any(looks_like_sets(c) for c in texts):
        return not (cells and isinstance(cells[0][1], str) and is_exercise(cells[0][1]))
    exercises = sum(header_word(c) is None and is_exercise(c) for c in texts)
    if any(map(looks_like_sets, texts)) or any(_DECIMAL.fullmatch(c.strip()) for c in texts):
        return False
    return exercises >= 2 and len(texts) == len(cells) and exercises * 2 + words * 2 >= len(cells) and days == 0


def repeats(cells: list[tuple[int, Cell]]) -> bool:
    """Whether roles of sets come again and again in a header (`kg | reps | kg | reps`)."""
    words = [header_word(c) for _, c in cells if isinstance(c, str)]
    roles = [w.role for w in words if w is not None and w.role in REPEATABLE and not w.set_number]
    return len(roles) > len(set(roles))


def _is_group_heading(row: Row, below: list[tuple[int, Cell]], is_exercise: IsExercise) -> bool:
    """Whether the row above a header sets its repeated columns apart (`Set 1 | | Set 2 |`, dates, exercises)."""
    cells = filled(row)
    words = [header_word(c) for _, c in below if isinstance(c, str)]
    exercises = sum(word is not None and word.role == "exercise" for word in words)
    if not repeats(below) or not cells or exercises > 1:
        return False
    if any(not isinstance(c, str | date) and not is_heading(c) for _, c in cells):
        return False
    named = sum(heading_kind(c, is_exercise) != "other" or set_number_of(c) > 0 for _, c in cells)
    return named >= max(1, len(cells) - 1) and not any(isinstance(c, str) and looks_like_sets(c) for _, c in cells)


def heading_kind(cell: Cell, is_exercise: IsExercise) -> Heading:
    if is_day(cell) or is_serial(cell):
        return "date"
    if isinstance(cell, int | float) and not isinstance(cell, bool):
        return "label"
    if isinstance(cell, str):
        if _is_label(cell):
            return "label"
        if is_exercise(cell):
            return "exercise"
    return "other"


def is_heading(cell: Cell) -> bool:
    """Whether a cell is a day, a week or the number of a set, as stands above a column of sets."""
    if isinstance(cell, bool):
        return False
    if is_serial(cell):
        return True
    if isinstance(cell, int | float):
        return 1 <= cell <= 12 and cell == int(cell)
    return is_day(cell) or (isinstance(cell, str) and _is_label(cell))


@lru_cache(maxsize=4096)
def _is_label(text: str) -> bool:
    return (
        week_named(text) is not None
        or day_number(text) is not None
        or weekday_named(text) is not None
        or 0 < small_number(text) <= 12
    )


def set_number_of(cell: Cell) -> int:
    if isinstance(cell, str):
        word = header_word(cell)
        return word.set_number or 0 if word is not None else 0
    return 0


def small_number(cell: Cell) -> int:
    text = str(int(cell)) if isinstance(cell, int | float) else str(cell).strip()
    return int(text) if text.isdecimal() and len(text) <= 2 else 0
