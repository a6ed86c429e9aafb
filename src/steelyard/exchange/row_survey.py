"""The rows of a block one after the other: titles between them, totals, remarks, and those that may hold sets."""

import re
from collections.abc import Sequence

from steelyard.wording.message import tell

from .blocks import Block, filled, is_empty, letter
from .cell_text import text_of
from .date_words import day_number, is_day, is_serial, week_named, weekday_named
from .findings import Findings
from .found import Place
from .grid import Cell, Row
from .habits import COUNTED
from .headers import Role, names_plan
from .set_tokens import looks_like_sets
from .survey import IsExercise, NamedTitle, Survey, SurveyedRow
from .titles import Facts, facts_of, is_goal, is_remark, is_rule, is_total, over, starts_day, without_day
from .training_days import DayPool, RowDay, WeekDay

Cells = list[tuple[int, Cell]]


class RowSurvey:
    """Goes through the rows of a block and remembers what an empty cell stands for."""

    def __init__(self, survey: Survey, pool: DayPool, is_exercise: IsExercise, findings: Findings) -> None:
        self.survey, self.pool, self.is_exercise, self.findings = survey, pool, is_exercise, findings
        self.block: Block = survey.block
        columns = [c for c in self.block.columns if not c.heading_kind]
        self.index = {c.word.role: c.index for c in reversed(columns)}
        self.counted = {c.index for c in self.block.columns if c.word.role in COUNTED}
        self.known = {c.index for c in self.block.columns}
        self.plans = {c.index for c in columns if c.word.role == "ignore" and names_plan(c.name)}
        self.day_columns = [c for c in columns if c.word.role in {"date", "day", "week"}]
        self.headers = [{i: c for i, c in filled(row) if i in self.known} for row in self.block.header_rows]
        self.section = survey.facts
        self.day = self.section_day = self._section_day()
        self.exercise = self.lifter = self.week_text = self.day_text = ""

    def read(self) -> None:
        """Sort every row out."""
        for row in self.block.rows:
            found = filled(row)
            if self._is_too_wide(found):
                self._too_wide(row, found)
            elif found := self._own(row, found):
                self._row(row, found)
        self.survey.after = self.section

    def _row(self, row: Row, found: Cells) -> None:
        if not any(i in self.counted for i, _ in found) or isinstance(found[0][1], str):
            why = self._why_no_sets(found)
            if why:
                self._pass_over(row, found, why)
                return
            said = self._title(row, found)
            if said is not None:
                self._begin(row, found, said)
                return
        self._data(row)

    # --- rows without sets -----------------------------------------------------------------------------

    def _is_too_wide(self, found: Cells) -> bool:
        block = self.block
        return not block.is_workbook and block.part == 0 and 0 < block.beyond <= (found[-1][0] if found else -1)

    def _too_wide(self, row: Row, found: Cells) -> None:
        """In a text file a cell too many shifts the others."""
        value = ",".join(text_of(c) for c in row.cells)
        many = found[-1][0] + 1
        problem = tell("has {count} cells where the header has {columns}", count=many, columns=self.block.beyond)
        self.findings.wrong(
            Place(self.block.sheet, row.number, ""), value, problem, tell("quote cells that hold a comma")
        )

    def _own(self, row: Row, found: Cells) -> Cells:
        """The cells of this part; one between the columns is passed over as a remark, or is a problem."""
        own = [(i, c) for i, c in found if i in self.known]
        for index, cell in found if len(own) < len(found) else []:
            if index in self.known or index in self.block.others:
                continue
            value, place = text_of(cell), Place(self.block.sheet, row.number, letter(index))
            if isinstance(cell, str) and not looks_like_sets(cell) and not cell.strip().isdecimal():
                self.findings.pass_over(place, value, tell("this remark stands beside the table"))
            else:
                hint = tell("give its column a name in the header, or move it into a note")
                self.findings.wrong(place, value, tell("stands in a column without a name"), hint)
        return own

    def _why_no_sets(self, found: Cells) -> str:
        """Why a row holds no sets, by how it begins; "" where it may hold some."""
        index, cell = found[0]
        first = text_of(cell)
        if first.startswith(("#", "//")):
            return tell("this row is a comment")
        if all(is_rule(text_of(cell)) for _, cell in found):
            return tell("this row is a line")
        if len(found) > 1 and dict(found) in self.headers:
            return tell("this row is the header again")
        if any(cell is True for i, cell in found if i in self.plans):
            return tell("this row is a plan")
        if index in self.counted or self.is_exercise(first):
            return ""
        whys = (
            (is_total(first), tell("this row sums others up")),
            (is_goal(first), tell("this row is a goal")),
            (index == self.index.get("exercise") and is_remark(first), tell("this row holds remarks")),
        )
        return next((why for is_so, why in whys if is_so), "")

    def _title(self, row: Row, found: Cells) -> Facts | None:
        """What a row without sets says of the rows below; None where it may hold sets itself."""
        if any(i in self.counted for i, _ in found) or len(found) > 2:
            return None
        index, cell = found[0]
        text = text_of(cell)
        if len(found) == 2:
            said = facts_of(f"{text.rstrip(':')}: {text_of(found[1][1])}", self.is_exercise)
            return said if said.is_read and (said.lifter or said.week is not None) else None
        said = facts_of(cell, self.is_exercise)
        is_named = bool(said.name) and not said.is_read and self._may_name(index)
        if is_named:
            at = len(self.survey.rows)
            self.survey.names.append(NamedTitle(Place(self.block.sheet, row.number, ""), said.name, at))
        elif index == self.index.get("lifter") and not said.is_read:
            said = Facts(lifter=text, is_read=True)
        is_exercise = said.exercise and index == self.index.get("exercise")
        return said if (said.is_read or is_named) and not is_exercise else None

    def _may_name(self, index: int) -> bool:
        """Whether a name in this column can be a lifter's: not where exercises stand above their sets."""
        if index == self.index.get("exercise"):
            return "exercise" not in self.survey.carried and "lifter" not in self.index
        return index not in self.index.values() or index == min(self.known)

    def _begin(self, row: Row, found: Cells, said: Facts) -> None:
        """A title begins a section; a new day takes the place of the one before, a new week that of its days."""
        self._pass_over(row, found, tell("this row is a title"))
        if starts_day(said) or said.week is not None:
            self.section = over(without_day(self.section, keep_date=said.week is None), said)
            self.day = self.section_day = self._section_day()
            self.exercise = ""
        else:
            self.section = over(self.section, said)
        if said.lifter:
            self.lifter = said.lifter

    def _pass_over(self, row: Row, found: Cells, why: str) -> None:
        value = " | ".join(text_of(c) for _, c in found)
        self.findings.pass_over(Place(self.block.sheet, row.number, ""), value, why)

    # --- rows that may hold sets -----------------------------------------------------------------------

    def _data(self, row: Row) -> None:
        cells = row.cells
        is_new = self._read_day(cells)
        lifter = self._carry("lifter", cells, self.lifter)
        if is_new or lifter != self.lifter:
            self.exercise = ""
        exercise = self._carry("exercise", cells, self.exercise)
        self.lifter = lifter or self.lifter
        self.exercise = exercise or self.exercise
        if isinstance(self.day, WeekDay) and any(i < len(cells) and not is_empty(cells[i]) for i in self.counted):
            self.pool.add_week(self.day)
        section = self.section
        self.survey.rows.append(
            SurveyedRow(row, section, self.day, exercise or section.exercise, lifter or section.lifter)
        )

    def _carry(self, role: Role, cells: Sequence[Cell], held: str) -> str:
        """The text of a role's cell; of an empty one the text above, where that is its column's habit."""
        index = self.index.get(role, -1)
        text = text_of(cells[index]) if 0 <= index < len(cells) else ""
        return text or (held if role in self.survey.carried or (index < 0 and role == "lifter") else "")

    def _section_day(self) -> RowDay:
        """The day that the titles above name."""
        facts = self.section
        near = self.pool.add(facts.day, "titles", facts.year) if facts.day != "" else -1
        if near >= 0 and facts.weekday is None and facts.day_number is None:
            if facts.week is not None:
                self.pool.add_anchor(facts.week, near)
            return near
        if facts.week is None and facts.weekday is None and facts.day_number is None:
            return None
        return WeekDay(facts.week, facts.weekday, facts.day_number, near)

    def _read_day(self, cells: Sequence[Cell]) -> bool:
        """Take the day of the row in; whether a new one begins here."""
        is_new = False
        for column in self.day_columns:
            cell = cells[column.index] if column.index < len(cells) else ""
            role, text = column.word.role, text_of(cell)
            if not text:
                if role == "date" and "date" not in self.survey.carried:
                    self.day = self.section_day
                continue
            is_new = True
            if (week := _week_text(text, role)) != "":
                self.week_text = week
                self.day_text = ""
            elif (label := _day_label(text, role)) and not is_day(cell) and not is_serial(cell):
                self.day_text = label
            else:
                self.day = self.pool.add(cell, column.name, self.section.year)
                return True
        if is_new:
            self.day = self._labelled()
        return is_new

    def _labelled(self) -> WeekDay:
        """A week and a day of columns, with what the titles say where a column says nothing."""
        section = self.section
        near = self.pool.add(section.day, "titles", section.year) if section.day != "" else -1
        weekday, number = weekday_named(self.day_text), day_number(self.day_text)
        if weekday is None and number is None:
            weekday, number = section.weekday, section.day_number
        return WeekDay(week_named(self.week_text) or section.week, weekday, number, near)


def _week_text(text: str, role: Role) -> str:
    """A numbered week; in a column of weeks its number is enough, with or without words (`3 DELOAD`)."""
    if week_named(text) is not None:
        return text
    number = re.fullmatch(r"(\d{1,2})(?:\s+[^\d\W]+)*", text) if role == "week" else None
    return f"week {number[1]}" if number is not None else ""


def _day_label(text: str, role: Role) -> str:
    """A weekday or the number of a training day, "" for anything else."""
    if weekday_named(text) is not None or day_number(text) is not None:
        return text
    return f"day {text}" if role == "day" and text.isdecimal() and 1 <= int(text) <= 9 else ""
