"""Ticks in a column of what was done, beside a column of plans: done as planned, if its writer says so."""

from collections.abc import Sequence

from steelyard.wording.message import tell

from .blocks import Block, Column, is_empty
from .cell_text import text_of
from .findings import Findings
from .found import Choice, Place
from .grid import Cell, Row
from .headers import names_plan
from .set_tokens import looks_like_sets

TICKS = frozenset({
    "✓", "✔", "☑", "√", "✅", "ok", "done", "yes", "ja", "erledigt", "gemacht", "as planned", "wie geplant",
})  # fmt: skip


def settle_ticks(blocks: Sequence[Block], findings: Findings) -> None:
    """Put the plan where a tick stands for it, or pass the tick over; asked once a column."""
    for block in blocks:
        done = [c for c in block.columns if c.word.role == "set-cell" and not c.heading_kind]
        plans = [c for c in block.columns if c.word.role == "ignore" and names_plan(c.name)]
        if len(done) != 1 or len(plans) != 1 or not any(looks_like_sets(_text(row, plans[0])) for row in block.rows):
            continue
        ticked = [row for row in block.rows if _text(row, done[0]).casefold() in TICKS and _text(row, plans[0])]
        if ticked:
            _settle(block, done[0], plans[0], ticked, findings)


def _text(row: Row, column: Column) -> str:
    return text_of(row.cells[column.index]) if column.index < len(row.cells) else ""


def _settle(block: Block, done: Column, plan: Column, ticked: list[Row], findings: Findings) -> None:
    name, tick = done.base, _text(ticked[0], done)
    asks = tell("What does {tick} in {column} mean?", tick=tick, column=name)
    examples = tuple(f"{_text(row, plan)} | {_text(row, done)}" for row in ticked)
    choices = (
        Choice("as-planned", tell("done as planned in {column}", column=plan.name)),
        Choice("ignore", tell("nothing about sets: leave it out")),
    )
    answer = findings.ask(f"done:{name}", asks, examples, choices)
    numbers = {row.number for row in ticked}
    if answer != "as-planned":
        for row in ticked if answer == "ignore" else []:
            place = Place(block.sheet, row.number, done.name)
            findings.pass_over(place, _text(row, done), tell("is left out, as answered"))
    meant = [_with(row, done, plan if answer == "as-planned" else None) if row.number in numbers else row
             for row in block.rows]  # fmt: skip
    block.rows = meant


def _with(row: Row, done: Column, plan: Column | None) -> Row:
    """The row with its plan, or with nothing, in place of its tick."""
    cells: list[Cell] = list(row.cells)
    cells[done.index] = "" if plan is None else cells[plan.index]
    return Row(row.number, tuple(cells)) if not all(map(is_empty, cells)) else row
