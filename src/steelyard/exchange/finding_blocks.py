"""The blocks of a sheet: where each table stands, and which titles are above it."""

from collections.abc import Sequence
from datetime import date

from .block_columns import beside
from .blocks import Block, Column, IsExercise, Title, filled, letter
from .date_words import is_day
from .grid import Grid, Row
from .header_rows import find_headers
from .headers import CORE, HeaderWord, header_word
from .set_tokens import looks_like_sets
from .titles import is_total

MOST_TITLE_ROWS = 20


def find_blocks(grid: Grid, sheet: str, *, is_text: bool, is_exercise: IsExercise) -> list[Block]:
    """The blocks of one sheet in order; without any header the whole is lines or a table of unnamed columns."""
    rows = list(grid.rows)
    heads = find_headers(rows, is_exercise)
    if not heads:
        single = sum(len(filled(r)) == 1 for r in rows[:200])
        if is_text or single * 10 >= min(len(rows), 200) * 7:
            return [Block(sheet=sheet, is_lines=True, rows=rows)] if rows else []
        return [_unnamed(rows, sheet)]
    out: list[Block] = []
    begin = 0
    for first, last in heads:
        start = _titles_start(rows, first, begin, out[-1] if out else None)
        if out and start == first == last and _is_again(rows[first], out[-1]):
            continue
        if out:
            out[-1].rows = rows[begin:start]
        titles, header = rows[start:first], rows[first : last + 1]
        begin = last + 1
        out.append(Block(sheet=sheet, header_rows=tuple(header), titles=_titles(titles), rows=rows[begin:]))
    return [part for block in out for part in beside(block, is_exercise)]


def _is_again(row: Row, block: Block) -> bool:
    """Whether a row is the header of a table, or of one of its parts side by side, again in the middle of it."""
    header = dict(filled(block.header_rows[-1]))
    cells = filled(row)
    same = sum(header.get(i) == c for i, c in cells)
    return same >= 3 or (same == 2 and len(cells) <= 3)


def _unnamed(rows: list[Row], sheet: str) -> Block:
    width = max((len(r.cells) for r in rows), default=0)
    columns = [Column(index=i, name=letter(i), word=HeaderWord(role="unknown")) for i in range(width)]
    return Block(sheet=sheet, columns=columns, rows=rows)


def _titles(rows: Sequence[Row]) -> tuple[Title, ...]:
    return tuple(Title(r.number, letter(i), c) for r in rows for i, c in filled(r))


def _titles_start(rows: list[Row], first: int, begin: int, above: Block | None) -> int:
    """Where the titles of a header begin: all rows above the first one, else the rows of one or two words."""
    if above is None:
        return 0
    words = [(i, header_word(c)) for i, c in filled(above.header_rows[-1]) if isinstance(c, str)]
    counted = {i for i, word in words if word is not None and word.role in CORE - {"exercise"}}
    start = first
    while start > begin and first - start < MOST_TITLE_ROWS and _is_title_row(rows[start - 1], counted):
        start -= 1
    return start


def _is_title_row(row: Row, counted: set[int]) -> bool:
    """Whether a row has a title and nothing in the columns that count sets in the table above."""
    cells = [c for _, c in filled(row)]
    is_sum = bool(cells) and isinstance(cells[0], str) and is_total(cells[0])
    if is_sum or any(i in counted for i, _ in filled(row)):
        return False
    return len(cells) <= 2 and all(
        isinstance(c, date)
        or (isinstance(c, str) and not looks_like_sets(c) and (is_day(c) or not c.strip().isdecimal()))
        for c in cells
    )
