"""Every row of a block, group by group: what holds for the row and what its group says, handed on as one line."""

from steelyard.wording.message import tell

from .blocks import is_empty
from .cell_text import text_of
from .found import Place
from .groups import Group, cell_of, groups_of
from .habits import COUNTED
from .headers import Role
from .row_cells import Values
from .row_context import RowContext
from .row_line import RowLine
from .survey import SurveyedRow

OF_THE_LAST: frozenset[Role] = frozenset({"note", "pain", "technique", "rpe", "rir", "effort", "percent"})
SAYING: frozenset[Role] = COUNTED | {"missed", "note"}


def _is_blank(own: Values) -> bool:
    return all(text_of(cell) in {"-", "–", "—"} for _, cell in own.values())


class RecordReader:
    """Reads the rows of one block."""

    def __init__(self, context: RowContext) -> None:
        self.context = context
        self.shared, self.groups = groups_of(context.survey.block.columns)

    def read_row(self, at: int) -> None:
        """The sets of one row."""
        surveyed = self.context.survey.rows[at]
        row = surveyed.row
        values: Values = {c.word.role: (c, cell) for c in self.shared if not is_empty(cell := cell_of(row, c))}
        if len(self.groups) == 1 and not self.groups[0].columns:
            RowLine(self.context, surveyed, at, self.groups[0], values).read()
            return
        said = [(group, own) for group in self.groups if (own := self._own(surveyed, group, values)) is not None]
        if not said:
            self.context.without_sets(surveyed)
        last = max((i for i, (_, own) in enumerate(said) if not _is_blank(own)), default=len(said) - 1)
        is_loaded = any(own.keys() & {"load", "load-kg"} for _, own in said)
        for i, (group, own) in enumerate(said):
            if is_loaded and not own.keys() & {"load", "load-kg"} and own.keys() & {"reps", "seconds", "metres"}:
                self._load_missing(surveyed, own)
                continue
            # What a row says once of all its sets belongs to the last of them.
            kept = values if i == last else {r: v for r, v in values.items() if r not in OF_THE_LAST}
            RowLine(self.context, surveyed, at, group, {**kept, **own}).read()

    def _own(self, surveyed: SurveyedRow, group: Group, values: Values) -> Values | None:
        """The cells of a group; None where it says no set."""
        if not group.columns:
            return {} if values.keys() & {"reps", "set-cell"} else None
        own: Values = {c.word.role: (c, cell) for c in group.columns if not is_empty(cell := cell_of(surveyed.row, c))}
        if own.keys() & SAYING:
            return own
        for column, cell in own.values():
            place = Place(self.context.sheet, surveyed.row.number, column.name)
            self.context.findings.pass_over(place, text_of(cell), tell("no set stands beside it"))
        return None

    def _load_missing(self, surveyed: SurveyedRow, own: Values) -> None:
        """Other sets of the row have a load in their own column, this one has none."""
        column, cell = own.get("reps") or next(iter(own.values()))
        place = Place(self.context.sheet, surveyed.row.number, column.name)
        problem, remedy = tell("has no load beside it"), tell("write it again beside each set, or BW for none")
        self.context.findings.wrong(place, text_of(cell), problem, remedy)
