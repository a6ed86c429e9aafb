"""One line of a table as sets: which exercise, and each count with its load."""

import re
from datetime import date
from typing import Any

from msgspec import structs

from steelyard.engine.log import SetBody
from steelyard.engine.quantities import Load
from steelyard.wording.message import tell

from .body_mass_names import is_body_mass, may_be_body_mass
from .cell_text import count_text, text_of
from .cells import CellRefused
from .field_cells import metres, seconds
from .habits import COUNTED
from .headers import Role
from .made_lifts import as_made
from .mass_rows import ask_weight, read_body_mass
from .numbers import number
from .remarks import is_not_done
from .row_cells import RowCells
from .row_fields import NO, RowFields
from .set_reading import MOST_SETS
from .set_style import SaidCell, SaidLoad, SaidSet
from .ways import COUNTS, count_key

_TWO_LIFTS = re.compile(r"\w\s*(?:\+|&|\band\b|\bund\b)\s*\w")
_INSTEAD = re.compile(r"\w.*(?:[-=]>|[→⇒➔]).*\w")


class RowLine(RowCells):
    """One group of one row as sets."""

    def read(self) -> None:
        """Read the line and add its sets."""
        name = self.group.exercise or self.surveyed.exercise
        is_line = self.context.survey.block.is_lines
        if is_line and may_be_body_mass(name) and self._is_load(self.text("set-cell")):
            self._ask_whose(name)
            return
        is_all = ("body-mass" in self.values or is_body_mass(name, is_line=is_line)) and read_body_mass(self)
        if is_all and not self.is_not_done():
            return
        if not (self.values.keys() & COUNTED or self.is_not_done()) or self._is_words_only():
            self.context.without_sets(self.surveyed)
            return
        on, exercise = self.day(), self._exercise(name)
        said = self._said()
        loads = self._loads(said) if said is not None else None
        fields = RowFields(self)
        lifter = self.lifter()
        if said is None or loads is None or on is None or not exercise or not lifter or self.is_bad or self.is_waiting:
            return
        if said.left_out:
            value = " | ".join(text_of(cell) for _, cell in self.values.values())
            self.context.findings.pass_over(self.place(), value, said.left_out)
            return
        self._add(lifter, on, exercise, fields.each(said, lifter, on) or [], loads)

    def _ask_whose(self, name: str) -> None:
        """`Gewicht 91,2` in a line of its own: the lifter's, or something else."""
        match ask_weight(name, self.text("set-cell"), self.context.findings):
            case "body-mass":
                read_body_mass(self)
            case "ignore":
                value = " ".join(text_of(cell) for _, cell in self.values.values())
                self.context.findings.pass_over(self.place(), value, tell("is left out, as answered"))
            case _:
                self.is_waiting = True

    def _add(self, lifter: str, on: date, exercise: str, each: list[dict[str, Any]], loads: list[Load | None]) -> None:
        place = self.place()
        for fields, load in zip(each, loads, strict=False):
            whole: dict[str, Any] = {"on": on, "exercise": "", "as_written": exercise, "load": load} | fields
            self.context.findings.add_set(place, lifter, SetBody(**whole))

    def _is_words_only(self) -> bool:
        """Whether words stand where a load would, and nothing is counted (`sick`)."""
        counted = self.values.keys() & COUNTED
        if counted != {"load"} or self.is_not_done() or any(map(str.isdigit, self.text("load"))):
            return False
        return not self._is_load(self.text("load"))

    def _is_load(self, text: str) -> bool:
        try:
            self.context.memory.load(text)
        except CellRefused:
            return False
        return True

    def is_not_done(self) -> bool:
        """Whether words say that the line was missed, although nothing is counted."""
        return self.text("missed").casefold() not in NO or is_not_done(self.text("note"))

    def _exercise(self, name: str) -> str:
        try:
            plain = self.context.plain(name)
            if not plain:
                raise CellRefused(tell("no exercise is named"), tell("write one such as squat"))
            if any(plain.count(a) != plain.count(b) for a, b in ("()", "[]")):
                raise CellRefused(tell("is no name of an exercise"), tell("write the exercise, then its sets"))
            if _INSTEAD.search(plain):
                raise CellRefused(tell("names two exercises"), tell("name the one that was done"))
        except CellRefused as refused:
            self.wrong("exercise", refused, name)
            return ""
        return plain

    # --- counts ----------------------------------------------------------------------------------------

    def _said(self) -> SaidCell | None:
        """What the cells of counts say, times the sets that a cell of sets says."""
        said: SaidCell | None = None
        for role in COUNTS:
            if role not in self.values:
                continue
            try:
                key = count_key(count_text(self.values[role][1]), self.values, role, self.context.column_names)
                found = self.context.memory.count(key)
                if said is not None and said.sets and found.sets:
                    raise CellRefused(tell("counts what another cell counts too"), tell("keep one of them"))
            except CellRefused as refused:
                self.wrong(role, refused)
                return None
            self._wait_for(role, found)
            said = found if said is None or found.sets else said
        said = self._measured(said)
        if said is None or said.left_out:
            return said
        times = self._times_sets(said)
        return times if times is None else self._made(self._of_two_lifts(times))

    def _of_two_lifts(self, said: SaidCell) -> SaidCell:
        """`1+1` of a clean and jerk is one of it; other sums count two lifts of which only their writer knows."""
        name = self.group.exercise or self.surveyed.exercise
        if not _TWO_LIFTS.search(name) or not any(s.cluster for s in said.sets):
            return said
        if any(s.cluster not in {(), (1, 1)} for s in said.sets):
            role: Role = "reps" if "reps" in self.values else "set-cell"
            self.wrong(role, CellRefused(tell("counts two lifts in one"), tell("write a row for each lift")))
        sets = (structs.replace(s, reps=1, cluster=()) if s.cluster else s for s in said.sets)
        return structs.replace(said, sets=tuple(sets))

    def _made(self, said: SaidCell) -> SaidCell | None:
        """The sets with what a column says of whether they were made."""
        if "made" not in self.values:
            return said
        try:
            return as_made(said, self.text("made"))
        except CellRefused as refused:
            self.wrong("made", refused)
            return None

    def _wait_for(self, role: Role, said: SaidCell) -> None:
        style = self.context.memory.ways.style
        open_ = [doubt for doubt in said.doubts if getattr(style, doubt) is None]
        if open_:
            refused = CellRefused(tell("could mean two things"), tell("write it as sets x repetitions @ load"))
            self.wait(role, refused, *open_, "at", "at-small")

    def _measured(self, said: SaidCell | None) -> SaidCell | None:
        """Seconds and metres of columns of their own."""
        time = self.take("seconds", lambda _: seconds(count_text(self.values["seconds"][1])))
        distance = self.take("metres", metres)
        if time is None and distance is None:
            return said if said is not None or self.is_bad else self._not_counted()
        sets = said.sets if said is not None else ()
        if len(sets) > 1:
            self.wrong("seconds", CellRefused(tell("stands beside several sets"), tell("write one row a set")))
            return None
        one = sets[0] if sets else SaidSet(missed="unsaid" if time == 0 else None)
        return SaidCell(sets=(structs.replace(one, seconds=time, metres=distance),))

    def _not_counted(self) -> SaidCell | None:
        """A row with a load or a number of sets, and no repetitions: a miss where words say so."""
        if self.is_not_done():
            return SaidCell(sets=(SaidSet(reps=0, missed="unsaid"),))
        is_cell = "set-cell" in self.context.column_names and "reps" not in self.context.column_names
        role: Role = "set-cell" if is_cell else "reps"
        hint = tell("write one such as 8, and 0 for a missed lift")
        self.wrong(role, CellRefused(tell("is not a whole number of repetitions"), hint))
        return None

    def _times_sets(self, said: SaidCell) -> SaidCell | None:
        """The sets as often as a cell of sets says, which must fit what is counted."""
        if "sets" not in self.values or not said.sets:
            return said
        text = self.text("sets").casefold()
        value = number(text.removesuffix("sets").removesuffix("sätze").removesuffix("x").strip())
        if value == 0 and all(s.reps == 0 for s in said.sets):
            return said
        if value is None or value != int(value) or not 1 <= value <= MOST_SETS:
            self.wrong("sets", CellRefused(tell("is not a number of sets"), tell("write a whole number from 1 to 30")))
            return None
        many = _so_many(said, int(value))
        if many is None:
            problem = tell("says {sets} sets where {counts} are counted", sets=int(value), counts=len(said.sets))
            self.wrong("sets", CellRefused(problem, tell("correct one of the two cells")))
        return many

    # --- loads -----------------------------------------------------------------------------------------

    def _loads(self, said: SaidCell) -> list[Load | None] | None:
        """The load of each set."""
        role, loads = self._column_loads()
        if self.is_bad:
            return None
        if role is None or not loads:
            return [self.load(s.load, "set-cell") for s in said.sets]
        refused = None
        if any(s.load is not None for s in said.sets):
            refused = CellRefused(tell("says a load where another cell says one too"), tell("keep one of them"))
        elif len(loads) not in {1, len(said.sets)}:
            problem = tell("says {loads} loads for {sets} sets", loads=len(loads), sets=len(said.sets))
            refused = CellRefused(problem, tell("write one for each set"))
        if refused is not None:
            self.wrong(role, refused)
            return None
        return [self.load(one, role) for one in (loads if len(loads) > 1 else loads * len(said.sets))]

    def _column_loads(self) -> tuple[Role | None, tuple[SaidLoad, ...]]:
        """What a column of loads says; in our exports nought kilograms mean none, and the load as typed goes before."""
        if self.context.is_own and "load-typed" in self.values:
            return None, ()
        named: Role = "load" if "load" in self.values else "load-kg"
        if named not in self.values:
            return None, ()
        found = self.take(named, self.context.memory.load)
        if found is None:
            return named, ()
        if found.percent is not None:
            hint = tell("write the load that was lifted")
            self.wrong(named, CellRefused(tell("is a share of a maximum and no load"), hint))
        self.load_words = found.words
        loads = self._of_two(named, found.loads) if found.is_of_two else found.loads
        if named == "load-kg" and self.context.is_own and [one.value for one in found.loads] == [0]:
            return named, ()
        return named, loads

    def _of_two(self, role: Role, loads: tuple[SaidLoad, ...]) -> tuple[SaidLoad, ...]:
        """`2x24` as the load of one or of both, as was answered."""
        meaning = self.context.memory.ways.pieces.get(self.values[role][0].base)
        if meaning is None:
            self.wait(role, CellRefused(tell("could mean two things"), tell("write the load of one")), "pieces")
        times = 2 if meaning == "together" else 1
        return tuple(structs.replace(one, value=one.value and one.value * times) for one in loads)


def _so_many(said: SaidCell, count: int) -> SaidCell | None:
    """One set so many times, or as many as are listed; None where the two do not fit."""
    if len(said.sets) == 1:
        one = said.sets[0]
        bare = structs.replace(one, effort=None, pain=None, technique=None, note="")
        return structs.replace(said, sets=(*(bare,) * (count - 1), one))
    is_both_sides = {s.side for s in said.sets} == {"left", "right"}
    if len(said.sets) == count or (is_both_sides and len(said.sets) == 2 * count):
        return said
    return structs.replace(said, sets=said.sets * count) if is_both_sides else None
