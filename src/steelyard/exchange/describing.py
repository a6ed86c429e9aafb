"""How each column was read, in words and with examples of both sides."""

from collections.abc import Sequence
from datetime import date

from steelyard.wording.message import tell

from .blocks import Column, is_empty
from .cell_text import count_text, text_of
from .cells import CellRefused
from .found import ColumnRead
from .groups import cell_of
from .headers import Role
from .memory import Memory
from .role_names import role_name
from .set_style import SaidCell, SaidLoad, SaidSet, SetStyle
from .survey import Survey, SurveyedRow
from .training_days import DayPool
from .ways import count_key, unit_key

MOST_EXAMPLES = 3
LOOKED_AT = 60


def describe(surveys: Sequence[Survey], memory: Memory, pool: DayPool) -> tuple[ColumnRead, ...]:
    """Every column of every block, as it was read."""
    out = [_column(survey, column, memory, pool) for survey in surveys for column in survey.block.columns]
    return tuple(dict.fromkeys(out))


def _column(survey: Survey, column: Column, memory: Memory, pool: DayPool) -> ColumnRead:
    return ColumnRead(
        sheet=survey.block.sheet,
        column=column.name,
        role=column.word.role,
        how=_how(survey, column, memory, pool),
        examples=_examples(survey, column, memory, pool),
    )


def _how(survey: Survey, column: Column, memory: Memory, pool: DayPool) -> str:
    role = column.word.role
    parts = [role_name(role)]
    if role in {"date", "day", "week"} and pool.how:
        parts.append(pool.how)
    if role in {"load", "body-mass"}:
        unit = memory.ways.units.get(unit_key(column, survey.facts.unit))
        parts.append(
            tell("in {unit} where the cell says nothing else", unit=unit) if unit else tell("as each cell says")
        )
        if memory.ways.mark == ",":
            parts.append(tell("with a decimal comma"))
    if role in {"set-cell", "reps"}:
        parts += _style(memory.ways.style)
    if role in survey.carried:
        parts.append(tell("an empty cell means the one above"))
    if column.heading_kind:
        parts.append(tell("of {heading}", heading=text_of(column.heading)))
    return "; ".join(parts)


def _style(style: SetStyle) -> list[str]:
    """What was settled of the doubts."""
    said = {
        ("at", "load"): tell("a number after @ is a load"),
        ("at", "percent"): tell("a number after @ is a share of a maximum"),
        ("at_small", "load"): tell("a small number after @ is a load"),
        ("at_small", "rpe"): tell("a small number after @ is RPE"),
        ("at_small", "rir"): tell("a small number after @ is repetitions in reserve"),
        ("pair", "sets-first"): tell("3x8 is three sets of eight"),
        ("pair", "load-first"): tell("the load stands before the x"),
        ("triple", "reps-sets"): tell("after the load come repetitions, then sets"),
        ("triple", "sets-reps"): tell("after the load come sets, then repetitions"),
        ("three", "load-last"): tell("of three numbers the load is the last"),
        ("three", "load-first"): tell("of three numbers the load is the first"),
        ("slash", "sides"): tell("10/10 is each side"),
        ("slash", "sets"): tell("10/10 is two sets"),
        ("comma", "decimal"): tell("a comma in a load is a decimal mark"),
        ("comma", "list"): tell("a comma parts two loads"),
        ("bare", "reps"): tell("a number alone is repetitions"),
        ("bare", "single"): tell("a number alone is the load of one repetition"),
        ("range", "leave-out"): tell("ranges are left out"),
        ("range", "lowest"): tell("of a range the lowest number counts"),
        ("range", "highest"): tell("of a range the highest number counts"),
        ("percent", "leave-out"): tell("shares of a maximum are left out"),
        ("bracket", "rir"): tell("a number in brackets is repetitions in reserve"),
        ("bracket", "rpe"): tell("a number in brackets is RPE"),
        ("bracket", "note"): tell("a number in brackets is a remark"),
    }
    return [words for (doubt, meaning), words in said.items() if getattr(style, doubt) == meaning]


def _examples(survey: Survey, column: Column, memory: Memory, pool: DayPool) -> tuple[tuple[str, str], ...]:
    found: dict[str, str] = {}
    for surveyed in survey.rows[:LOOKED_AT]:
        cell = cell_of(surveyed.row, column)
        if is_empty(cell) or text_of(cell) in found:
            continue
        try:
            found[text_of(cell)[:60]] = _read(survey, surveyed, column, memory, pool)
        except CellRefused:
            continue
        if len(found) == MOST_EXAMPLES:
            break
    return tuple((text, read) for text, read in found.items() if read)


def _read(survey: Survey, surveyed: SurveyedRow, column: Column, memory: Memory, pool: DayPool) -> str:
    """The cell as it was read, "" where there is nothing to show."""
    cell = cell_of(surveyed.row, column)
    match column.word.role:
        case "date" | "day" | "week":
            on = pool.on(surveyed.day)
            return on.isoformat() if isinstance(on, date) else ""
        case "load" | "body-mass":
            unit = memory.ways.units.get(unit_key(column, surveyed.facts.unit)) or ""
            return ", ".join(_load(one, unit) for one in memory.load(text_of(cell)).loads)
        case "set-cell" | "reps":
            roles: set[Role] = {c.word.role for c in survey.block.columns}
            held: set[Role] = {c.word.role for c in survey.block.columns if not is_empty(cell_of(surveyed.row, c))}
            inner = column.word.unit or surveyed.facts.unit or memory.ways.units.get("") or ""
            return _sets(memory.count(count_key(count_text(cell), held, column.word.role, roles)), inner)
        case _:
            return ""


def _load(load: SaidLoad, unit: str) -> str:
    return tell("body mass") if load.value is None else f"{load.value} {load.unit or unit}".strip()


def _sets(said: SaidCell, unit: str) -> str:
    """Sets in a few words, equal ones together."""
    groups: dict[str, int] = {}
    for one in said.sets:
        groups[_set(one, unit)] = groups.get(_set(one, unit), 0) + 1
    return ", ".join(f"{count} × {words}" for words, count in groups.items()) if groups else said.left_out


def _set(one: SaidSet, unit: str) -> str:
    if one.seconds is not None:
        count = f"{one.seconds} s"
    elif one.metres is not None:
        count = f"{one.metres} m"
    else:
        count = "+".join(map(str, one.cluster)) or str(one.reps)
    load = f" @ {_load(one.load, unit)}" if one.load is not None else ""
    return f"{count}{load}"
