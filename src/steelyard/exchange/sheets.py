"""Which sheets of a workbook hold a log: one that holds none is passed over, one in doubt is asked about."""

from collections.abc import Sequence, Set
from typing import Literal

from msgspec import Struct

from steelyard.wording.message import tell

from .blocks import Block, IsExercise, filled
from .cell_text import text_of
from .findings import Findings
from .found import Choice, Place
from .grid import Grid
from .headers import Role
from .set_rows import MOST_ROWS_LOOKED_AT, has_day, is_like_sets, names_exercise
from .set_tokens import looks_like_sets
from .titles import is_goal, names_body_mass

Holds = Literal["log", "perhaps", "nothing"]
COUNTING: frozenset[Role] = frozenset({"reps", "set-cell", "seconds", "metres"})
OF_SETS: frozenset[Role] = frozenset(
    {*COUNTING, "exercise", "sets", "load", "load-kg", "set-number", "missed", "body-mass"}
)
SHOWN = 4


class Sheet(Struct, kw_only=True):
    """One sheet with its blocks, and whether it holds a log; `name` is "" where it is the only one."""

    grid: Grid
    name: str
    blocks: list[Block]
    holds: Holds = "log"

    @property
    def key(self) -> str:
        """The key of the question about it."""
        return f"sheet:{self.name}"


def read_on(sheets: Sequence[Sheet], is_exercise: IsExercise, findings: Findings) -> list[Sheet]:
    """The sheets to read: without those that hold nothing of training, are left out by an answer, or wait for one."""
    if len(sheets) < 2:
        return list(sheets)
    for sheet in sheets:
        sheet.holds = _holds(sheet, is_exercise)
    if all(sheet.holds == "nothing" for sheet in sheets):
        for sheet in sheets:
            sheet.holds = "perhaps"
    has_log = any(sheet.holds == "log" for sheet in sheets)
    return [sheet for sheet in sheets if _is_read(sheet, has_log=has_log, findings=findings)]


def _is_read(sheet: Sheet, *, has_log: bool, findings: Findings) -> bool:
    answer = findings.answers.get(sheet.key)
    if sheet.holds == "perhaps" and has_log:
        answer = ask_about(sheet, findings)
        if answer is None:
            return False
    if answer != "ignore" and sheet.holds != "nothing":
        return True
    is_answered = answer == "ignore"
    why = tell("this sheet is left out, as answered") if is_answered else tell("this sheet holds no log")
    for row in sheet.grid.rows:
        value = " | ".join(text_of(cell) for _, cell in filled(row))
        findings.pass_over(Place(sheet.name, row.number, ""), value, why)
    return False


def ask_about(sheet: Sheet, findings: Findings) -> str | None:
    """Whether a sheet that is no whole log is one: "sets", "ignore", or None while that is open."""
    asks = tell("The sheet {sheet} is no whole log. Does it hold sets that were done?", sheet=sheet.name)
    examples = tuple(" | ".join(text_of(c) for _, c in filled(row))[:60] for row in sheet.grid.rows[:SHOWN])
    choices = (Choice("sets", tell("yes, read it")), Choice("ignore", tell("no, leave it out")))
    return findings.ask(sheet.key, asks, examples, choices)


def _holds(sheet: Sheet, is_exercise: IsExercise) -> Holds:
    if any(_is_whole(block, sheet, is_exercise) for block in sheet.blocks):
        # What is planned is no log although it looks like one.
        return "perhaps" if any(map(is_goal, sheet.grid.name.split())) else "log"
    if any(block.header_rows and _says(block) & OF_SETS for block in sheet.blocks):
        return "perhaps"
    rows = sheet.grid.rows
    if len(rows) > MOST_ROWS_LOOKED_AT or any(is_like_sets(row, is_exercise) for row in rows):
        return "perhaps"
    return "nothing"


def is_of_masses(roles: Set[Role], title: str) -> bool:
    """Whether a table with these columns, below this title, holds body masses of days and no sets."""
    is_named = names_body_mass(title) and "load" in roles and "exercise" not in roles
    return "date" in roles and (is_named or "body-mass" in roles) and not roles & COUNTING


def _says(block: Block) -> set[Role]:
    return {column.word.role for column in block.columns}


def _is_whole(block: Block, sheet: Sheet, is_exercise: IsExercise) -> bool:
    """Whether a block has what a log needs: exercises and counts under a header, or lines of sets below a day."""
    rows = block.rows[:MOST_ROWS_LOOKED_AT]
    if block.is_lines:
        said = [row for row in rows if any(isinstance(c, str) and looks_like_sets(c) for _, c in filled(row))]
        is_dated = has_day(sheet.grid.name) or any(has_day(c) for row in rows for _, c in filled(row))
        return is_dated and any(names_exercise(row, is_exercise) for row in said)
    roles = _says(block)
    if is_of_masses(roles, sheet.grid.name):
        return True
    headings = {column.heading_kind for column in block.columns} - {"", "other"}
    if not block.header_rows or not (roles & COUNTING or headings):
        return False
    titles = [sheet.grid.name, *(text_of(title.text) for title in block.titles)]
    is_named = "exercise" in roles or "exercise" in headings or any(map(is_exercise, titles))
    return is_named or any(names_exercise(row, is_exercise) for row in rows[:200])
