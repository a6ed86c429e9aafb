"""Judges a sheet against docs/reference/gates.md: what it must not do while gates are closed, and what it must say."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from steelyard.engine.equipment import ASSUMED, Equipment
from steelyard.engine.exercises import Catalogue
from steelyard.engine.fold import TrainingLog
from steelyard.engine.planning import Request
from steelyard.engine.reasons import code_of
from steelyard.engine.sheet import Decision, PlannedSet, Sheet

from .gate_closed import Closed, Left, left_by
from .gate_law_lines import Law
from .gate_past import Outing
from .loadable import loads

GATE_CODES = {
    "screening-not-asked",
    "screening-closed",
    "pregnancy-holds",
    "clearance-first",
    "after-clearance",
    "clinician-limits",
    "stop-sign-said",
    "fever-stops",
    "blood-pressure-high",
    "pain-episode-stop",
    "pain-episode-reduce",
    "pain-episode-hold",
    "restricted",
    "alone-under-the-bar",
    "youth-unsupervised",
    "youth-technique",
    "older-entry",
}
# What may stand beside the reasons on a sheet whose whole session is stopped: nothing that offers anything.
BESIDE_A_STOP = {*GATE_CODES, "stop-signs"}
WORK = {"work", "top", "back-off"}
# A remembered load that was typed in pounds may differ in the last place.
ROUNDING = Fraction(1, 10**6)
EASE = Fraction(75, 1000)
NEW_START_SHARE = Fraction(80, 100)


@dataclass(frozen=True)
class Breach:
    """One thing that a sheet must not do or did not say."""

    exercise: str
    rule: str
    said: str


class Judge:
    """One sheet, the log it was made from, and what is closed."""

    def __init__(
        self, log: TrainingLog, catalogue: Catalogue, request: Request, sheet: Sheet, equipment: Equipment | None
    ) -> None:
        self.law = Law(log, catalogue, request)
        self.catalogue, self.request, self.sheet = catalogue, request, sheet
        self.equipment = equipment or ASSUMED

    def breaches(self) -> list[Breach]:
        """Everything that is wrong with the sheet."""
        found = list(self._of_the_whole())
        for line in self.sheet.lines:
            found += self._of_a_line(line, self.law.of(line.exercise))
        return found

    # The whole sheet

    def _of_the_whole(self) -> Iterator[Breach]:
        cautions = [code_of(c) for c in self.sheet.cautions]
        closed = self.law.session.closed
        if "stop-signs" not in cautions:
            yield Breach("", "caution-missing", "stop-signs")
        stops = {c.code for c in closed if c.stop and c.sure}
        if stops:
            if cautions[0] not in {c.code for c in closed if c.stop}:
                yield Breach("", "stop-not-first", f"{cautions[0]} stands before {sorted(stops)}")
            if set(cautions) - BESIDE_A_STOP:
                yield Breach("", "stop-and-more", f"{sorted(set(cautions) - BESIDE_A_STOP)} beside {sorted(stops)}")
            if stops - set(cautions):
                yield Breach("", "gate-unnamed", f"{sorted(stops - set(cautions))}")
        elif cautions[0] not in {c.code for c in closed if c.stop} or any(line.sets for line in self.sheet.lines):
            unnamed = {c.code for c in closed if c.sure} - set(cautions)
            if unnamed:
                yield Breach("", "gate-unnamed", f"{sorted(unnamed)}")
            yield from self._questions(set(cautions))
        yield from self._open("", set(cautions), closed)

    def _questions(self, cautions: set[str]) -> Iterator[Breach]:
        pins = any(self.catalogue[line.exercise].pins for line in self.sheet.lines)
        if pins and self.request.alone is None and self.request.safeties != "yes" and "alone-not-asked" not in cautions:
            yield Breach("", "question-missing", "alone-not-asked")
        session = self.law.session
        answers = [session.answer(q) for q in ("active", "disease", "symptoms")]
        rests_on_a_word = None in answers and "screening-not-asked" not in {c.code for c in session.closed}
        if rests_on_a_word and not {"yes", "unknown"} & set(answers[1:]) and "screening-attested" not in cautions:
            yield Breach("", "caution-missing", "screening-attested")

    def _open(self, exercise: str, codes: set[str], closed: tuple[Closed, ...]) -> Iterator[Breach]:
        """A gate that is named is closed."""
        named = (codes & GATE_CODES) - {c.code for c in closed}
        if named:
            yield Breach(exercise, "gate-open", f"{sorted(named)} named, but open")

    # One line

    def _of_a_line(self, line: Decision, closed: tuple[Closed, ...]) -> Iterator[Breach]:
        code, left = line.exercise, left_by(closed)
        codes = {code_of(r) for r in line.reasons}
        yield from self._open(code, codes, closed)
        if left.stop:
            yield from self._left_out(line, codes, closed)
            return
        if not line.sets:
            if not codes & {*GATE_CODES, "pain-stop"}:
                yield Breach(code, "left-out-unexplained", str(sorted(codes)))
            return
        unnamed = {c.code for c in closed if decides(c, left)} - codes - {c.code for c in self.law.session.closed}
        if unnamed:
            yield Breach(code, "gate-unnamed", f"{sorted(unnamed)}")
        for rule, said in (*self._every_set(line, left), *self._rise(line, left), *self._new_start(line, closed)):
            yield Breach(code, rule, said)

    def _left_out(self, line: Decision, codes: set[str], closed: tuple[Closed, ...]) -> Iterator[Breach]:
        if line.sets or line.course != "stop":
            yield Breach(line.exercise, "not-left-out", f"{line.course} with {len(line.sets)} sets")
        if line.limit_load is not None or line.steps_around:
            yield Breach(line.exercise, "load-on-a-stop", f"{line.limit_load} {line.steps_around}")
        # What somebody allows may be lighter than anything here, which leaves a line out as well.
        enough = {c.code for c in closed if c.stop or c.most is not None}
        if not codes & enough:
            yield Breach(line.exercise, "gate-unnamed", f"left out for {sorted(codes)}")

    def _every_set(self, line: Decision, left: Left) -> Iterator[tuple[str, str]]:
        for planned in line.sets:
            if planned.kind != "warm-up" and (planned.target_rir or 0) < left.reserve:
                yield "reserve", f"{planned.kind} {planned.target_rir} in reserve, at least {left.reserve}"
            if left.most is not None and added(planned) > left.most + ROUNDING:
                yield "most-load", f"{float(added(planned))} kg, at most {float(left.most)} kg"
            # As many as fit of the lightest there is: nothing lighter could bring more.
            is_least = not any(x < added(planned) for x in loads(self.catalogue[line.exercise], self.equipment))
            is_short = planned.kind in WORK and planned.reps is not None and planned.reps < left.repetitions
            if is_short and not is_least:
                yield "repetitions", f"{planned.reps} repetitions, at least {left.repetitions}"

    def _rise(self, line: Decision, left: Left) -> Iterator[tuple[str, str]]:
        key = (line.exercise, line.implement or "")
        last = self.law.past.latest(key)
        if last is None:
            lightest = min(loads(self.catalogue[line.exercise], self.equipment))
            if left.light and any(added(planned) > lightest for planned in line.sets):
                yield from _light(line.sets)
            return
        if left.no_rise:
            if line.course == "rise":
                yield "rise", "the course is a rise"
            yield from self._above(line, last, left)
        for day in left.eased_since:
            yield from self._eased(line, self.law.past.latest(key, day) or last, day.isoformat())

    def _above(self, line: Decision, last: Outing, left: Left) -> Iterator[tuple[str, str]]:
        """Heavier, longer or more sets than the latest line, or more load times count than its best set."""
        done = f"after {float(last.added)} kg x {[int(x.count) for x in last.lifts]} on {last.on}"
        most = max(x.total * x.count for x in last.lifts)
        base = Fraction(self.catalogue[line.exercise].body_mass_share) * self.law.past.body_mass(self.request.on)
        again = max(last.same_again, Fraction(1))
        for planned in line.sets:
            if added(planned) > last.added + ROUNDING:
                yield "rise-load", f"{planned.kind} of {float(added(planned))} kg {done}"
            if planned.kind not in WORK:
                continue
            # Where so many repetitions are asked for, the load comes down to them.
            if count(planned) > (again if added(planned) >= last.added else max(again, Fraction(left.repetitions))):
                yield "rise-count", f"{float(count(planned))} each {done}"
            if base == 0 and not left.repetitions and (added(planned) + base) * count(planned) > most + ROUNDING:
                yield "rise-work", f"{float(added(planned))} kg x {float(count(planned))} {done}"
        usual = max(len(o.lifts) for o in self.law.past.lines[line.exercise, line.implement or ""])
        if sum(planned.kind in WORK for planned in line.sets) > usual:
            yield "rise-sets", f"{len(line.sets)} sets, never more than {usual}"

    def _eased(self, line: Decision, level: Outing, since: str) -> Iterator[tuple[str, str]]:
        """Down by the share and by one loadable step at the least, from the latest line up to the day of the word."""
        base = Fraction(self.catalogue[line.exercise].body_mass_share) * self.law.past.body_mass(self.request.on)
        lighter = [x for x in loads(self.catalogue[line.exercise], self.equipment) if x < level.added]
        step_down = max(lighter, default=level.added)
        cap = min((level.added + base) * (1 - EASE) - base, step_down)
        for planned in line.sets:
            if added(planned) > cap + ROUNDING:
                yield "not-eased", f"{float(added(planned))} kg, at most {float(cap):.2f} kg since {since}"

    def _new_start(self, line: Decision, closed: tuple[Closed, ...]) -> Iterator[tuple[str, str]]:
        """After a clearance what was lifted before it is no reference: ramp sets, at most at 80 % of the old load."""
        key = (line.exercise, line.implement or "")
        last = self.law.past.latest(key)
        is_after = any(c.code == "after-clearance" and c.sure for c in closed)
        if (
            last is None
            or not is_after
            or not self.law.session.is_before_every_clearance(self.law.past.lines[key][-1].on)
        ):
            return
        if any(planned.kind in WORK for planned in line.sets):
            yield "no-new-start", "work sets, though nothing was lifted since the clearance"
        for planned in line.sets:
            if last.added > 0 and added(planned) > NEW_START_SHARE * last.load + ROUNDING:
                yield "no-new-start", f"{float(added(planned))} kg after {float(last.load)} kg before the clearance"


def decides(gate: Closed, left: Left) -> bool:
    """Whether a gate must be named on a line: it takes something that no other gate takes further."""
    if not gate.sure:
        return False
    by_reserve = gate.reserve == left.reserve and gate.reserve > 2
    return gate.no_rise or gate.most is not None or gate.repetitions > 0 or by_reserve


def added(planned: PlannedSet) -> Fraction:
    """Added load (kg)."""
    return Fraction(planned.load.magnitude) if planned.load is not None else Fraction(0)


def count(planned: PlannedSet) -> Fraction:
    """Repetitions, seconds or metres at most: the top of a range where there is one."""
    return Fraction(max(planned.reps_top or 0, planned.reps or 0) or planned.seconds or planned.metres or 0)


def _light(sets: tuple[PlannedSet, ...]) -> Iterator[tuple[str, str]]:
    """A lift that was never done: the first three ramp sets, five in reserve."""
    if any(planned.kind in WORK for planned in sets):
        yield "not-light", "work sets of a lift that was never done"
    ramps = [planned for planned in sets if planned.kind == "ramp"]
    if len(ramps) > 3 or any((planned.target_rir or 0) < 5 for planned in ramps):
        yield "not-light", f"{len(ramps)} ramp sets, {[planned.target_rir for planned in ramps]} in reserve"
