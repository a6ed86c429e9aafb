"""Marks and words that stand for what was written before: the cell above, or the last sets of an exercise."""

import re
from collections.abc import Sequence

from steelyard.engine.exercises import folded_name
from steelyard.wording.message import tell

from .blocks import Block, Column, is_empty
from .cell_text import text_of
from .findings import Findings
from .found import Choice
from .grid import Cell, Row
from .headers import Role
from .titles import facts_of

_MARK = re.compile(r"[-–]?\s?(?:\"|“|”|″|〃|''|,,)\s?[-–]?|ditto|dito|dto\.?|idem", re.IGNORECASE)
AGAIN = re.compile(
    r"(?:ditto|dito|dto\.?|idem|(?:the )?same(?: as (?:last time|last week|above|before))?|"
    r"as (?:above|last time|before)|wie (?:letztes mal|letzte woche|oben|zuletzt|vorher)|dasselbe|das gleiche)\s*[!.]*",
    re.IGNORECASE,
)
_ROLES: frozenset[Role] = frozenset({
    "date", "day", "lifter", "exercise", "load", "reps", "sets", "set-cell", "seconds", "metres", "rpe", "rir", "unit",
})  # fmt: skip


def settle_dittos(blocks: Sequence[Block], findings: Findings) -> None:
    """Put what was written before where something stands for it; asked once a file, and else left as it is."""
    found = [text for block in blocks for text in _shown(block)]
    if not found:
        return
    asks = tell("Does {mark} stand for what was written before?", mark=found[0])
    choices = (
        Choice("above", tell("yes: the cell above, or in lines the last sets of the same exercise")),
        Choice("ignore", tell("no")),
    )
    if findings.ask("ditto", asks, tuple(dict.fromkeys(found)), choices) == "ignore":
        return
    last: dict[str, Cell] = {}
    for block in blocks:
        columns = _columns(block)
        block.rows = _by_exercise(block, last) if block.is_lines else _from_above(block.rows, columns)


def _columns(block: Block) -> list[Column]:
    return [column for column in block.columns if column.word.role in _ROLES]


def _shown(block: Block) -> list[str]:
    pattern = AGAIN if block.is_lines else _MARK
    columns = [c for c in _columns(block) if not block.is_lines or c.word.role == "set-cell"]
    texts = (row.cells[c.index] for row in block.rows for c in columns if c.index < len(row.cells))
    return [text.strip() for text in texts if isinstance(text, str) and pattern.fullmatch(text.strip())]


def _from_above(rows: Sequence[Row], columns: Sequence[Column]) -> list[Row]:
    held: dict[int, Cell] = {}
    out: list[Row] = []
    for row in rows:
        cells = list(row.cells)
        for index in (c.index for c in columns if c.index < len(cells)):
            cell = cells[index]
            if isinstance(cell, str) and _MARK.fullmatch(cell.strip()):
                cells[index] = held.get(index, cell)
            elif not is_empty(cell):
                held[index] = cell
        out.append(Row(row.number, tuple(cells)))
    return out


def _may_name(cell: Cell) -> bool:
    """Whether another lifter may begin here."""
    said = facts_of(cell, lambda _: False)
    return bool(said.lifter or said.name)


def _by_exercise(block: Block, last: dict[str, Cell]) -> list[Row]:
    out: list[Row] = []
    for row in block.rows:
        if len(row.cells) == 2:
            name, cell = folded_name(text_of(row.cells[0])), row.cells[1]
            if isinstance(cell, str) and AGAIN.fullmatch(cell.strip()):
                out.append(Row(row.number, (row.cells[0], last.get(name, cell))))
                continue
            last[name] = cell
        elif row.cells and _may_name(row.cells[0]):
            last.clear()
        out.append(row)
    return out
