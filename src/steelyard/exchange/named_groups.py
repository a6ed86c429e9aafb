"""Groups of columns below names, with the exercises of all of them at the left: a part for each name."""

from collections import Counter
from itertools import pairwise

from .blocks import Block, Column, IsExercise
from .cell_text import text_of
from .header_rows import REPEATABLE
from .titles import facts_of

Parts = list[tuple[str, list[Column]]]


def named_groups(block: Block, columns: list[Column], is_exercise: IsExercise) -> Parts:
    """The letter of each name right above the header and its columns, shared ones first; empty where none are."""
    grouped = [c for c in columns if c.word.role in REPEATABLE and not c.heading_kind]
    if not grouped or any(c.word.set_number for c in grouped) or len(block.header_rows) != 1:
        return []
    row = block.header_rows[0].number - 1
    names = [t for t in block.titles if t.row == row]
    if len(names) < 2 or not all(_is_name(text_of(t.text), is_exercise) for t in names):
        return []
    starts = [_index(t.column) for t in names]
    shared = [c for c in columns if c.index < starts[0]]
    groups = [[c for c in columns if start <= c.index < end] for start, end in pairwise([*starts, 10**6])]
    roles = [Counter(c.word.role for c in group) for group in groups]
    is_alike = all(found == roles[0] and max(found.values(), default=0) == 1 for found in roles)
    is_whole = len(groups[0]) > 1 and {c.word.role for c in groups[0]} <= REPEATABLE and grouped[0].index >= starts[0]
    if not (is_alike and is_whole):
        return []
    return [(name.column, [*shared, *group]) for name, group in zip(names, groups, strict=True)]


def _is_name(text: str, is_exercise: IsExercise) -> bool:
    said = facts_of(text, is_exercise)
    return bool(said.name) and not said.is_read


def _index(letters: str) -> int:
    """A column's letter as a number from 0."""
    value = 0
    for character in letters:
        value = value * 26 + ord(character) - 64
    return value - 1
