"""What each column of a block holds, settled by its header and its cells; asked where neither says."""

import re
from collections.abc import Callable, Mapping, Sequence
from typing import get_args

from msgspec import structs

from steelyard.engine.exercises import folded_name
from steelyard.wording.message import tell

from .blocks import Block, Column, filled, is_empty
from .cell_text import text_of
from .cells import CellRefused
from .date_words import day_number, is_day, is_serial, week_named, weekday_named
from .findings import Findings
from .found import Choice, Place
from .grid import Cell
from .headers import HeaderWord, Role, kind_named, unit_named
from .json_sets import join_columns
from .load_cells import read_load_cell
from .made_lifts import made_said
from .numbers import number
from .role_names import role_name
from .set_tokens import looks_like_sets
from .ticked_plans import TICKS
from .titles import is_rule, is_total

SAMPLE = 400
_ASKED: tuple[Role, ...] = (
    "exercise", "sets", "reps", "load", "set-cell", "rpe", "rir", "note", "lifter", "date", "day", "seconds", "metres",
    "body-mass", "side", "session", "pain", "technique", "made", "missed", "tempo", "rest", "unit", "implement",
    "kind", "ignore",
)  # fmt: skip
_ONE_A_ROW: frozenset[Role] = frozenset({
    "date", "lifter", "exercise", "sets", "reps", "load", "unit", "rpe", "rir", "technique", "body-mass", "session",
    "seconds", "metres", "side",
})  # fmt: skip
_CLOCK = re.compile(r"(?:[5-9]|1\d|2[0-3]):[0-5]\d(?::\d\d)?(?:\s*(?:uhr|am|pm))?", re.IGNORECASE)
IsExercise = Callable[[str], bool]


def settle_columns(blocks: Sequence[Block], is_exercise: IsExercise, findings: Findings) -> None:
    """Give each column of all blocks its role; columns of one name that could count or number sets agree."""
    numbering = _numbering(blocks)
    for block in blocks:
        _settle_block(block, numbering, is_exercise, findings)


def _settle_block(block: Block, numbering: Mapping[str, set[str]], is_exercise: IsExercise, findings: Findings) -> None:
    """Give each column of a block its role; unknown ones without content are left out."""
    samples = _samples(block)
    filled_roles = {c.word.role for c in block.columns if c.index in samples}
    settled: list[Column] = []
    for column in block.columns:
        cells = samples.get(column.index, [])
        if not cells:
            if column.word.role not in {"unknown", "ignore", *filled_roles}:
                settled.append(column)
            continue
        role = _settled(column, cells, filled_roles, is_exercise)
        if role == "set-number" and column.word.role in {"sets", "set-number"}:
            role = _counted_or_numbered(column, numbering.get(folded_name(column.name), set()), findings)
        settled.append(structs.replace(column, word=structs.replace(column.word, role=role)))
    if any(c.word.role == "unknown" for c in settled):
        settled = [_inferred(c, settled, samples.get(c.index, []), is_exercise) for c in settled]
    settled = settled if _is_titled(block, is_exercise) else _machines_named(settled)
    settled = [_asked(c, samples.get(c.index, []), findings) if c.word.role == "unknown" else c for c in settled]
    if block.is_json:
        settled = join_columns(block, settled, _ONE_A_ROW)
    row = block.header_rows[-1].number if block.header_rows else 0
    block.columns = _without_doubles(settled, samples, findings, block.sheet, row)


def _is_titled(block: Block, is_exercise: IsExercise) -> bool:
    """Whether an exercise stands above the table, or alone between its rows."""
    alone = [cells[0][1] for row in block.rows[:SAMPLE] if len(cells := filled(row)) == 1]
    return any(is_exercise(text_of(cell)) for cell in (*(title.text for title in block.titles), *alone))


def _machines_named(columns: list[Column]) -> list[Column]:
    """Where no column holds exercises, those of a column of machines are what was done."""
    has_exercise = any(c.word.role == "exercise" or c.heading_kind == "exercise" for c in columns)
    machines = [c for c in columns if c.word.role == "implement"]
    if has_exercise or len(machines) != 1:
        return columns
    named = structs.replace(machines[0], word=HeaderWord(role="exercise"))
    return [named if c is machines[0] else c for c in columns]


def _samples(block: Block) -> dict[int, list[Cell]]:
    wanted = {c.index for c in block.columns}
    out: dict[int, list[Cell]] = {}
    step = max(1, len(block.rows) // SAMPLE)
    headers = {(c.index, c.name) for c in block.columns}
    for i, row in enumerate(block.rows):
        if i % step and i > SAMPLE:
            missing = wanted - out.keys()
            if not missing or len(row.cells) <= min(missing):
                continue
        first = next((c for c in row.cells if not is_empty(c)), "")
        if isinstance(first, str) and (is_total(first) or is_rule(first) or first.startswith("#")):
            continue
        for index in wanted:
            if index < len(row.cells) and not is_empty(row.cells[index]) and (index, row.cells[index]) not in headers:
                out.setdefault(index, []).append(row.cells[index])
    return out


def _share(cells: Sequence[Cell], holds: Callable[[Cell], bool]) -> float:
    return sum(map(holds, cells)) / len(cells) if cells else 0.0


def _is_day(cell: Cell) -> bool:
    return is_day(cell) or is_serial(cell)


def _is_label(cell: Cell) -> bool:
    text = text_of(cell)
    return weekday_named(text) is not None or day_number(text) is not None or week_named(text) is not None


def _is_number(cell: Cell) -> bool:
    return isinstance(cell, int | float) or number(text_of(cell)) is not None


def _is_set_like(cell: Cell) -> bool:
    return isinstance(cell, str) and looks_like_sets(cell)


def _settled(column: Column, cells: Sequence[Cell], filled_roles: set[Role], is_exercise: IsExercise) -> Role:
    """The role by header, put right by what the cells hold."""
    role = column.word.role
    is_plain = not column.set_number and not column.heading_kind
    is_undated = is_plain and "date" not in filled_roles
    if role == "ignore" and column.name.casefold() in {"time", "zeit"}:
        return "ignore" if _share(cells, _is_clock) > 0.8 else "unknown"
    checks: tuple[tuple[bool, Callable[[Cell], bool], float, Role], ...] = (
        (role == "date", lambda c: _is_label(c) and not _is_day(c), 0.5, "day"),
        (role in {"day", "set-cell"} and is_undated, _is_day, 0.5, "date"),
        (role == "lifter" and "exercise" not in filled_roles, lambda c: is_exercise(text_of(c)), 0.3, "exercise"),
        (role in {"session", "unit"}, lambda c: unit_named(text_of(c)) is not None, 0.5, "unit"),
        (role in {"session", "unit"}, lambda c: unit_named(text_of(c)) is None, 0.49, "session"),
        (role in {"sets", "set-number"}, _is_set_like, 0.3, "set-cell"),
        (role in {"sets", "set-number"}, _is_number, 0.5, "set-number"),
        (role == "kind", lambda c: kind_named(text_of(c)) is None, 0.7, "note"),
        (role == "made", lambda c: made_said(text_of(c)) is None, 0.3, "unknown"),
        (
            role == "set-cell" and is_plain,
            lambda c: not _has_digit(c) and text_of(c).casefold() not in TICKS,
            0.7,
            "unknown",
        ),
    )
    return next((found for applies, holds, least, found in checks if applies and _share(cells, holds) > least), role)


def _is_named(cell: Cell, is_exercise: IsExercise) -> bool:
    """Whether a cell names an exercise, and is no load (`pin 9` is near to more than one lift)."""
    text = text_of(cell)
    if not is_exercise(text):
        return False
    try:
        read_load_cell(text, ".")
    except CellRefused:
        return True
    return False


def _is_words(cell: Cell) -> bool:
    return isinstance(cell, str) and any(map(str.isalpha, cell)) and not looks_like_sets(cell)


def _is_clock(cell: Cell) -> bool:
    """Whether a cell is a time of day."""
    return _CLOCK.fullmatch(text_of(cell)) is not None


def _has_digit(cell: Cell) -> bool:
    return not isinstance(cell, str) or any(map(str.isdigit, cell))


def _is_tick(cell: Cell) -> bool:
    return text_of(cell).casefold() in TICKS


def _numbering(blocks: Sequence[Block]) -> dict[str, set[str]]:
    """For each name of a column of small numbers, what its blocks show: "counts" sets, or "numbers" them."""
    out: dict[str, set[str]] = {}
    for block in blocks:
        for column in block.columns:
            if column.word.role in {"sets", "set-number"}:
                out.setdefault(folded_name(column.name), set()).add(_shown(block, column))
    return out


def _shown(block: Block, column: Column) -> str:
    """What one column shows: numbers begin with 1 at each exercise of a day and rise by 1, and some do rise."""
    beside = [c.index for c in block.columns if c.word.role in {"exercise", "date", "day", "week", "lifter"}]
    last, rises = 0, 0
    held: dict[int, str] = {}
    for row in block.rows[: SAMPLE * 5]:
        cells = row.cells
        said = {i: text_of(cells[i]) for i in beside if i < len(cells) and not is_empty(cells[i])}
        value = number(text_of(cells[column.index])) if column.index < len(cells) else None
        is_new = any(held.get(i) != text for i, text in said.items())
        held |= said
        if value is None or value != int(value):
            last = 0 if is_new else last
            continue
        if value == last + 1 and not is_new:
            rises += 1
        elif value != 1 or not (is_new or last != 1):
            return "counts"
        last = int(value)
    return "numbers" if rises else "either"


def _counted_or_numbered(column: Column, shown: set[str], findings: Findings) -> Role:
    """Where rows fit both, a column called `Set` numbers; one called `Sets`, or one at odds, must be asked for."""
    if "numbers" not in shown:
        return "sets"
    if "counts" not in shown and column.word.role == "set-number":
        return "set-number"
    asks = tell("Does {column} count the sets of a row, or number them?", column=column.name)
    choices = (Choice("sets", tell("it counts them")), Choice("set-number", tell("it numbers them")))
    answer = findings.ask(f"sets:{column.name}", asks, (), choices)
    return "sets" if answer == "sets" else "set-number"


def _inferred(column: Column, columns: list[Column], cells: Sequence[Cell], is_exercise: IsExercise) -> Column:
    """The role of a column with an unknown header, where its cells can be one thing only."""
    if column.word.role != "unknown":
        return column
    roles = {c.word.role for c in columns}
    role: Role = "unknown"
    is_matrix = any(c.heading_kind in {"date", "label"} for c in columns)
    if ("exercise" not in roles and _share(cells, lambda c: _is_named(c, is_exercise)) >= 0.5) or (
        "exercise" not in roles and is_matrix and column.index == columns[0].index and _share(cells, _is_words) > 0.8
    ):
        role = "exercise"
    elif "date" not in roles and "day" not in roles and _share(cells, _is_day) > 0.8:
        role = "date"
    elif _share(cells, _is_set_like) > 0.5:
        across = [c for c in columns if c.word.role == "unknown" or c.heading_kind == "exercise"]
        if "exercise" not in roles and len(across) > 1:
            word = HeaderWord(role="set-cell")
            return structs.replace(column, word=word, heading=column.name, heading_kind="exercise")
        role = "set-cell"
    elif _share(cells, _is_clock) > 0.9:
        role = "ignore"
    elif _share(cells, lambda c: unit_named(text_of(c)) is not None) > 0.9:
        role = "unit"
    return structs.replace(column, word=HeaderWord(role=role, unit=column.word.unit))


def _asked(column: Column, cells: Sequence[Cell], findings: Findings) -> Column:
    """A column of which nobody knows what it holds."""
    name = column.base
    asks = tell("What does the column {column} hold?", column=name)
    examples = tuple(dict.fromkeys(text_of(c)[:40] for c in cells[:40]))[:4]
    answer = findings.ask(f"column:{name}", asks, examples, tuple(Choice(r, role_name(r)) for r in _ASKED))
    role: Role = next((r for r in get_args(Role) if r == answer), "unknown")
    return structs.replace(column, word=HeaderWord(role=role, unit=column.word.unit))


def _without_doubles(
    columns: list[Column], samples: dict[int, list[Cell]], findings: Findings, sheet: str, row: int
) -> list[Column]:
    """Where two columns would hold the same, a person says what the later one is."""
    seen: set[tuple[Role, int, str, str]] = set()
    out: list[Column] = []
    for column in columns:
        key = (column.word.role, column.set_number, text_of(column.heading), column.heading_kind)
        if column.word.role in _ONE_A_ROW and key in seen and column.index in samples:
            named = structs.replace(column, name=f"{column.name} ({_ordinal(columns, column)})", below="")
            answered = _asked(structs.replace(named, set_number=0), samples[column.index], findings)
            if (answered.word.role, *key[1:]) in seen and answered.word.role in _ONE_A_ROW:
                place = Place(sheet, row, column.name)
                hint = tell("answer {answer}, or put both into one column", answer="ignore")
                findings.wrong(place, column.name, tell("holds the same as another column"), hint)
            out.append(structs.replace(answered, name=column.name, set_number=column.set_number))
        else:
            out.append(column)
        seen.add(key)
    return out


def _ordinal(columns: list[Column], column: Column) -> int:
    return sum(c.word.role == column.word.role for c in columns[: columns.index(column) + 1])


def pass_over_columns(block: Block, findings: Findings) -> None:
    """Say of each column that holds nothing of sets that it is passed over."""
    for column in block.columns:
        if column.word.role not in {"ignore", "set-number"}:
            continue
        row = block.header_rows[-1].number if block.header_rows else 0
        why = (
            tell("this column only numbers the sets")
            if column.word.role == "set-number"
            else tell("this column holds totals, plans or other things that are no sets")
        )
        findings.pass_over(Place(block.sheet, row, column.name), column.name, why)
