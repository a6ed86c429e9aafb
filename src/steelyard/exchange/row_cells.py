"""The cells of one line by their roles, and what every line says: whose it is, on which day, in which unit."""

from collections.abc import Callable
from datetime import date
from typing import TypeVar

from steelyard.engine.quantities import Load, QuantityRefused, Unit
from steelyard.wording.message import tell, tell_refused

from .blocks import Column
from .cell_text import text_of
from .cells import CellRefused
from .found import Place
from .grid import Cell
from .groups import Group
from .headers import Role, unit_named
from .row_context import RowContext
from .set_style import SaidLoad
from .survey import SurveyedRow
from .training_days import no_day_refusal
from .ways import unit_key

T = TypeVar("T")
Values = dict[Role, tuple[Column, Cell]]
OF_DAYS = ("date", "date-order", "date-swap", "year", "start-of-weeks", "year-of-weeks", "days-of-week")
PLACED: tuple[Role, ...] = ("set-cell", "reps", "seconds", "metres", "load", "missed", "note", "exercise")


class RowCells:
    """One group of one row; what cannot be read is a problem, what waits for an answer adds nothing."""

    def __init__(self, context: RowContext, surveyed: SurveyedRow, at: int, group: Group, values: Values) -> None:
        self.context, self.surveyed, self.at, self.group, self.values = context, surveyed, at, group, values
        self.is_bad = self.is_waiting = False
        self.load_words = ""

    def text(self, role: Role) -> str:
        """The text of a role's cell, "" where it has none."""
        return text_of(self.values[role][1]) if role in self.values else ""

    def take(self, role: Role, read: Callable[[str], T]) -> T | None:
        """The cell of a role as `read` reads it; what it refuses is a problem of this row."""
        if role not in self.values:
            return None
        try:
            return read(self.text(role))
        except CellRefused as refused:
            self.wrong(role, refused)
            return None

    def wrong(self, role: Role, refused: CellRefused, value: str | None = None) -> None:
        """A problem of this row."""
        self.is_bad = True
        column = self.values[role][0].name if role in self.values else self.context.name_of(role)
        place = Place(self.context.sheet, self.surveyed.row.number, column)
        shown = self.text(role) if value is None else value
        self.context.findings.wrong(place, shown, refused.problem, refused.remedy)

    def wait(self, role: Role, refused: CellRefused, *kinds: str) -> None:
        """Wait for the answer to a question of these kinds; a problem where none stands, so that nothing is lost."""
        self.is_waiting = True
        if not self.context.findings.waits_for(*kinds):
            self.wrong(role, refused)

    def place(self) -> Place:
        """Where the sets stand: the column of counts."""
        column = next((self.values[r][0].name for r in PLACED if r in self.values), "")
        return Place(self.context.sheet, self.surveyed.row.number, column)

    def day(self) -> date | None:
        """The day of the line, or None with its problem or its question."""
        heading = self.context.survey.headings.get(self.group.heading)
        day = heading if heading is not None else self.surveyed.day
        if day is None and self.context.day is not None:
            return self.context.day
        found = self.context.pool.on(day)
        if isinstance(found, CellRefused):
            self.wrong("date", found)
            return None
        if found is None:
            is_column = day is None and "date" in self.context.column_names
            missing = no_day_refusal()
            refused = CellRefused(tell("is not a date"), missing.remedy) if is_column else missing
            # A row without any day waits only where the whole file has none.
            self.wait("date", refused, *(("date",) if day is None else OF_DAYS))
        return found

    def lifter(self) -> str:
        """Whose line it is, or "" with its problem or its question."""
        name = self.surveyed.lifter or self.context.names.at(self.context.survey, self.at)
        if not name:
            self.is_waiting = True
            if not self.is_bad and not self.context.names.is_asked and not self.context.names.is_nobody:
                hint = tell("fill it in, or give --lifter NAME for rows without one")
                self.wrong("lifter", CellRefused(tell("nobody is named"), hint))
            return ""
        try:
            plain = self.context.plain(name)
            if not any(map(str.isalpha, plain)) or ":" in plain or "   " in plain:
                hint = tell("check whether the cells of this row are shifted")
                raise CellRefused(tell("is no name of a lifter"), hint)
        except CellRefused as refused:
            self.wrong("lifter", refused)
            return ""
        return plain

    def load(self, said: SaidLoad | None, role: Role) -> Load | None:
        """A load with its unit; None for none, and for one that is refused or waits."""
        if said is None or said.value is None:
            return None
        unit = said.unit or self._unit(role)
        if unit is None:
            hint = tell("write kg or lb beside the number")
            self.wait(role, CellRefused(tell("has a load without a unit"), hint), "unit")
            return None
        if self.context.memory.ways.is_mark_open and role == "load":
            self.is_waiting = True
        try:
            return Load(said.value, unit)
        except QuantityRefused as refused:
            self.wrong(role, CellRefused(tell_refused(refused), tell("check the number")))
            return None

    def _unit(self, role: Role) -> Unit | None:
        """The unit of a bare number: its own column's, its header's, a title's, or that of the whole file."""
        named = unit_named(self.text("unit"))
        if named is not None:
            return named
        units = self.context.memory.ways.units
        column = self.values[role][0] if role in self.values else None
        if role in {"load", "load-kg", "body-mass"}:
            return units.get(unit_key(column, self.surveyed.facts.unit))
        inner = column.word.unit if column is not None else None
        return inner or self.surveyed.facts.unit or units.get("")
