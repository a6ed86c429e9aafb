"""What all rows of one block share while they are read."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal

from steelyard.wording.message import tell

from . import cells
from .blocks import filled
from .cell_text import text_of
from .findings import Findings
from .found import Place
from .headers import Role
from .memory import Memory
from .naming_titles import Names
from .survey import Survey, SurveyedRow
from .training_days import DayPool


class RowContext:
    """The block, the writer's ways, the days and names of the file, and what was found so far."""

    def __init__(
        self, survey: Survey, memory: Memory, pool: DayPool, names: Names, day: date | None, findings: Findings
    ) -> None:
        self.survey, self.memory, self.pool, self.names, self.findings = survey, memory, pool, names, findings
        self.day = day
        self.sheet = survey.block.sheet
        self.column_names: dict[Role, str] = {c.word.role: c.name for c in reversed(survey.block.columns)}
        # A spreadsheet may have stood between; JSON was never in one.
        self.plain: Callable[[str], str] = cells.plain_text if survey.block.is_json else cells.text
        self.is_own = "exercise-code" in self.column_names
        self.sessions: dict[tuple[str, date], dict[str, int]] = {}
        self.masses: set[tuple[str, date, Decimal]] = set()

    def name_of(self, role: Role) -> str:
        """The header of the column with that role, else the role's own word."""
        return self.column_names.get(role, role)

    def without_sets(self, surveyed: SurveyedRow) -> None:
        """A row with content that says no set; where a column waits for its role, so does the row."""
        if "unknown" in self.column_names and self.findings.waits_for("column"):
            return
        value = " | ".join(text_of(c) for _, c in filled(surveyed.row))
        self.findings.pass_over(Place(self.sheet, surveyed.row.number, ""), value, tell("no set stands here"))
