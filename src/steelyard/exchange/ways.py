"""The ways of the writer of one file: its style of sets, its decimal mark, the unit of each column of loads."""

import re
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import NamedTuple

from msgspec import Struct, field

from steelyard.engine.quantities import Unit
from steelyard.wording.message import tell

from .blocks import Column, is_empty
from .body_mass_names import may_be_body_mass
from .cell_text import count_text, text_of
from .cells import CellRefused
from .findings import Findings
from .found import Choice
from .groups import Group, cell_of, groups_of
from .habits import is_own
from .headers import Role, unit_named
from .load_cells import read_load_cell
from .numbers import Mark, marks_of
from .set_cells import read_set_cell
from .set_conventions import decide
from .set_style import Clue, Doubt, SaidCell, SetStyle
from .survey import Survey, SurveyedRow
from .technique_signs import Signs, find_signs
from .two_of_a_kind import find_pieces

MOST_EXAMPLES = 6
# A legend such as `kg x reps (reps left in the tank)` over cells such as 40x8 (2).
_LEGEND = re.compile(r"\([^()]*(?:\b(?P<rir>rir|in reserve|in the tank)\b|\b(?P<rpe>rpe)\b)[^()]*\)", re.IGNORECASE)
COUNTS: tuple[Role, ...] = ("set-cell", "reps")
WEIGHED: tuple[Role, ...] = ("load", "body-mass")
LOADS: tuple[Role, ...] = ("load", "load-kg", "load-typed")


class CountKey(NamedTuple):
    """A cell of counts by all that its reading depends on."""

    text: str
    gives_load: bool
    is_count: bool


class Ways(Struct, kw_only=True):
    """How one file is written; a column whose unit must be asked has none. `sure`: cells that any style reads so."""

    style: SetStyle
    mark: Mark
    units: Mapping[str, Unit | None] = field(default_factory=dict)
    is_mark_open: bool = False
    sure: Mapping[CountKey, SaidCell] = field(default_factory=dict)
    signs: Mapping[str, Signs] = field(default_factory=dict)
    pieces: Mapping[str, str | None] = field(default_factory=dict)


def unit_key(column: Column | None, title: Unit | None) -> str:
    """Under which name the unit of a load is kept: the unit itself where a header or title says it.

    A title speaks of loads: who lifts pounds may still be weighed in kilograms.
    """
    if column is not None and column.word.unit is not None:
        return column.word.unit
    if column is not None and column.word.role == "body-mass":
        return title if title == "kg" else column.base
    return title or (column.base if column is not None else "")


class _Gathered(Struct, kw_only=True):
    """All that the cells of a file show, before anything is decided."""

    counts: dict[CountKey, str] = field(default_factory=dict)
    loads: dict[str, dict[str, None]] = field(default_factory=dict)
    columns: dict[str, dict[str, None]] = field(default_factory=dict)
    sure: dict[CountKey, SaidCell] = field(default_factory=dict)
    clues: list[Clue] = field(default_factory=list)
    masses: set[str] = field(default_factory=set)
    set_cell_column: str = ""
    is_unit_said: bool = False
    bare_in_cells: dict[str, list[str]] = field(default_factory=dict)
    units_in: defaultdict[str, set[Unit]] = field(default_factory=lambda: defaultdict(set))


def find_ways(surveys: Sequence[Survey], unit: Unit | None, findings: Findings) -> Ways:
    """Decide over all cells of the file; what stays open becomes a question."""
    gathered = _gather(surveys)
    style = _style(gathered, findings)
    mark, is_open = _mark(gathered, findings)
    return Ways(
        style=style,
        mark=mark,
        units=_units(gathered, style, unit, findings),
        is_mark_open=is_open,
        sure=gathered.sure,
        signs=find_signs(surveys, findings),
        pieces=find_pieces(gathered.columns, findings),
    )


def rows_with_groups(survey: Survey) -> Iterator[tuple[SurveyedRow, tuple[Column, ...], Group]]:
    """Every group of every row."""
    shared, groups = groups_of(survey.block.columns)
    for row in survey.rows:
        for group in groups:
            yield row, shared, group


def count_key(text: str, roles: Collection[Role], role: Role, columns: Collection[Role]) -> CountKey:
    """The key of a cell of counts in a row with these roles, of a table with these columns."""
    gives_load = any(load in roles for load in LOADS)
    is_count = role == "reps" or "sets" in roles or any(load in columns for load in LOADS)
    return CountKey(text, gives_load, is_count)


def _gather(surveys: Sequence[Survey]) -> _Gathered:
    gathered = _Gathered()
    for survey in surveys:
        gathered.is_unit_said = gathered.is_unit_said or survey.facts.unit is not None
        gathered.clues += _legends(survey)
        roles = {c.word.role for c in survey.block.columns}
        for surveyed, shared, group in rows_with_groups(survey):
            if survey.block.is_lines and may_be_body_mass(surveyed.exercise):
                continue
            held = {c.word.role: c for c in (*shared, *group.columns) if not is_empty(cell_of(surveyed.row, c))}
            for role in COUNTS:
                if role in held:
                    _gather_count(gathered, held, surveyed, role, roles)
            for role in WEIGHED:
                # Our own exports have points, and the load as it was typed beside them.
                if role in held and "unit" not in held and not is_own(survey.block):
                    _gather_load(gathered, held[role], surveyed)
    return gathered


def _legends(survey: Survey) -> list[Clue]:
    """What titles and headers of sets say that a number in brackets is."""
    texts = [text_of(title.text) for title in survey.block.titles]
    texts += [column.name for column in survey.block.columns if column.word.role in COUNTS]
    found = [match for text in texts if (match := _LEGEND.search(text)) is not None]
    return [Clue("bracket", "rir" if match["rir"] else "rpe") for match in found]


def _gather_load(gathered: _Gathered, column: Column, surveyed: SurveyedRow) -> None:
    name = unit_key(column, surveyed.facts.unit)
    if column.word.role == "body-mass":
        gathered.masses.add(name)
    text = text_of(cell_of(surveyed.row, column))
    gathered.loads.setdefault(name, {})[text] = None
    if column.word.role == "load":
        gathered.columns.setdefault(column.base, {})[text] = None


def _gather_count(
    gathered: _Gathered, held: Mapping[Role, Column], surveyed: SurveyedRow, role: Role, roles: set[Role]
) -> None:
    column = held[role]
    try:
        text = count_text(cell_of(surveyed.row, column))
    except CellRefused:
        return
    if "sets" in held and re.fullmatch(r"\d+\s?/\s?\d+", text):
        # `5/5` in a row of two sets counts them; in a row of three it counts sides.
        is_two = text_of(cell_of(surveyed.row, held["sets"])) == "2"
        gathered.clues.append(Clue("slash", "sets" if is_two else "sides"))
    key = count_key(text, held.keys(), role, roles)
    if key in gathered.counts:
        return
    unit = column.word.unit or surveyed.facts.unit
    gathered.counts[key] = unit or ""
    gathered.set_cell_column = gathered.set_cell_column or column.name
    gathered.is_unit_said = gathered.is_unit_said or unit is not None


def _style(gathered: _Gathered, findings: Findings) -> SetStyle:
    """Settle one round of doubts after another: an answer to one may raise the next."""
    style = SetStyle()
    tried: set[Doubt] = set()
    while True:
        clues = list(gathered.clues)
        examples = {d: e for d, e in _doubted(gathered, style, clues).items() if d not in tried}
        if not examples:
            return style
        tried |= examples.keys()
        name, is_said = gathered.set_cell_column, gathered.is_unit_said
        style = decide(style, clues, examples, name, findings, is_unit_said=is_said)


def _doubted(gathered: _Gathered, style: SetStyle, clues: list[Clue]) -> dict[Doubt, tuple[str, ...]]:
    """The doubts that are open in this style, each with cells that rest on it."""
    doubted: dict[Doubt, list[str]] = {}
    for key in gathered.counts:
        if key in gathered.sure or (key.text.isdecimal() and key.is_count):
            continue
        shown: list[Clue] = []
        try:
            found = read_set_cell(key.text, style, gives_load=key.gives_load, is_count=key.is_count, clues=shown)
        except CellRefused:
            found = SaidCell()
        else:
            if not found.doubts:
                gathered.sure[key] = found
                gathered.clues += shown
        clues += shown
        for doubt in found.doubts:
            doubted.setdefault(doubt, []).append(key.text)
    return {doubt: tuple(dict.fromkeys(texts))[:MOST_EXAMPLES] for doubt, texts in sorted(doubted.items())}


def _mark(gathered: _Gathered, findings: Findings) -> tuple[Mark, bool]:
    """The decimal mark of the file; asked where only numbers such as 1.250 stand in it."""
    texts = [text for texts in gathered.loads.values() for text in texts]
    sure, either = marks_of(texts)
    if not either or len(sure) == 1:
        return (sure.pop() if len(sure) == 1 else "."), False
    column = next(name for name, texts in gathered.loads.items() if either[0] in texts)
    plain = either[0]
    choices = (
        Choice("point", tell("{number}, the point is a decimal mark", number="1.25" if "," in plain else plain)),
        Choice("comma", tell("the comma is a decimal mark")),
    )
    asks = tell("Which is the decimal mark in numbers such as {number}?", number=plain)
    answer = findings.ask(f"decimal:{column}", asks, tuple(either), choices)
    return ("," if answer == "comma" else "."), answer is None


def _units(gathered: _Gathered, style: SetStyle, unit: Unit | None, findings: Findings) -> dict[str, Unit | None]:
    """The unit of every column of loads, and of loads inside set cells (under "")."""
    out: dict[str, Unit | None] = {"kg": "kg", "lb": "lb"}
    for name, texts in gathered.loads.items():
        if name not in out:
            out[name] = _unit_of(name, *_units_said(texts), None if name in gathered.masses else unit, findings)
    said: set[Unit] = set()
    bare: list[str] = []
    for key, header in gathered.counts.items():
        if key.text.isdecimal():
            continue
        try:
            found = gathered.sure.get(key) or read_set_cell(
                key.text, style, gives_load=key.gives_load, is_count=key.is_count
            )
        except CellRefused:
            continue
        loads = [s.load for s in found.sets if s.load is not None and s.load.value is not None]
        said |= {"lb" if load.unit == "lb" else "kg" for load in loads if load.unit in {"kg", "lb"}}
        if not header and any(load.unit == "" for load in loads):
            bare.append(key.text)
    if bare:
        out[""] = _unit_of(gathered.set_cell_column, said, bare, unit, findings)
    return out


def _units_said(texts: Mapping[str, None]) -> tuple[set[Unit], list[str]]:
    said: set[Unit] = set()
    bare: list[str] = []
    for text in texts:
        try:
            loads = read_load_cell(text, ".").loads
        except CellRefused:
            continue
        for load in loads:
            if load.unit == "" and load.value is not None:
                bare.append(text)
            elif load.unit in {"kg", "lb"}:
                said.add("lb" if load.unit == "lb" else "kg")
    return said, bare


def _unit_of(name: str, said: set[Unit], bare: list[str], unit: Unit | None, findings: Findings) -> Unit | None:
    if len(said) == 1:
        return next(iter(said))
    if unit is not None or not bare:
        return unit or "kg"
    asks = tell("Are the loads of {column} kilograms or pounds?", column=name)
    choices = (Choice("kg", tell("kilograms")), Choice("lb", tell("pounds")))
    answer = findings.ask(f"unit:{name}", asks, tuple(dict.fromkeys(bare))[:MOST_EXAMPLES], choices)
    return unit_named(answer) if answer is not None else None
