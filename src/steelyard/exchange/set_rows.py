"""Whether a row of any sheet may hold sets: what could be one is never dropped unasked."""

import re

from .blocks import IsExercise, filled
from .cell_text import text_of
from .date_words import is_day, is_serial, week_named, weekday_named
from .grid import Cell, Row
from .lines import cut_line
from .set_tokens import looks_like_sets

# Postcodes, years and serial numbers are larger than loads and counts.
LARGEST = 1000
MOST_ROWS_LOOKED_AT = 5000
_NUMBER = re.compile(r"(?<![\w.,/])[1-9]\d{0,2}(?:[.,/]\d{1,3})*(?:kgs?|lbs?|x|s)?(?![\w/])", re.IGNORECASE)
_TELEPHONE = re.compile(r"(?:\+|\(?0)\d[\d\s/()-]{4,}\d")


def has_day(cell: Cell) -> bool:
    """Whether a cell names a day or a week."""
    if is_day(cell) or is_serial(cell):
        return True
    return isinstance(cell, str) and (week_named(cell) is not None or weekday_named(cell) is not None)


def is_like_sets(row: Row, is_exercise: IsExercise) -> bool:
    """Whether a row may hold sets: written so, an exercise with a number, several small numbers, one beside a day."""
    cells = filled(row)
    texts = [cell for _, cell in cells if isinstance(cell, str)]
    if any(looks_like_sets(text) for text in texts):
        return True
    numbers = sum(_numbers(cell) for _, cell in cells if not has_day(cell))
    if numbers > 1 or (numbers and any(has_day(cell) for _, cell in cells)):
        return True
    return any(any(map(str.isdigit, text_of(cell))) for _, cell in cells) and names_exercise(row, is_exercise)


def names_exercise(row: Row, is_exercise: IsExercise) -> bool:
    """Whether a cell of a row is an exercise, or begins with one."""
    for _, cell in filled(row):
        if isinstance(cell, str) and not is_day(cell):
            text = cell.strip().rstrip(":")
            if is_exercise(text) or is_exercise(cut_line(text, is_exercise)[0]):
                return True
    return False


def _numbers(cell: Cell) -> int:
    """How many small numbers a cell says; one within words, as in an address, is none."""
    if isinstance(cell, bool):
        return 0
    if isinstance(cell, int | float):
        return int(0 < cell < LARGEST)
    if not isinstance(cell, str):
        return 0
    text = _TELEPHONE.sub(" ", cell)
    found = len(_NUMBER.findall(text))
    return found if found > 1 or _NUMBER.fullmatch(text.strip()) else 0
