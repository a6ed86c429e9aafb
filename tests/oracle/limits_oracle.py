"""The oracle: holds every line of a sheet against docs/reference/limits.md and says where it breaks the page."""

from fractions import Fraction
from math import floor

from steelyard.engine.equipment import ASSUMED, Equipment
from steelyard.engine.exercises import Catalogue
from steelyard.engine.fold import TrainingLog
from steelyard.engine.planning import Request
from steelyard.engine.reasons import AnyReason, code_of
from steelyard.engine.sheet import PlannedSet, Sheet

from .bouts import worth
from .codes import GATES, LIMITS, ROLES, WHY_NOT_UP, WHY_UP
from .gates_oracle import GateOracle
from .gates_reading import GateReading
from .line_reading import BASELINE_SHARE, ROUNDING, WORKING, Prescribed, Violation
from .reading import LONG_RETURN_DAYS, NEW_START_DAYS, RETURN_DAYS, Reading


def violations(
    sheet: Sheet, log: TrainingLog, catalogue: Catalogue, equipment: Equipment | None, request: Request
) -> list[Violation]:
    """Every breach of the page that a sheet holds."""
    gates = GateReading(log, request)
    reading = Reading(log, catalogue, request.on, gates)
    gear = equipment or ASSUMED
    found = [v for decision in sheet.lines for v in LineOracle(decision, reading, gear, request).violations()]
    return [*found, *_cautions(sheet, gates)]


def _cautions(sheet: Sheet, gates: GateReading) -> list[Violation]:
    """A gate of the whole session is said first, and only where it is closed."""
    named = [code_of(reason) for reason in sheet.cautions if reason.role == "gate"]
    said_first = named == [code_of(reason) for reason in sheet.cautions[: len(named)]]
    closed = {shut.code for shut in gates.session}
    if set(named) == closed and said_first:
        return []
    return [Violation("", "gate-sheet", f"named {named}, closed {sorted(closed)}")]


class LineOracle(GateOracle):
    """One line against the page."""

    def violations(self) -> list[Violation]:
        """Every breach on this line."""
        self._roles()
        self.gates()
        work = [s for s in self.decision.sets if s.kind in WORKING]
        for planned in self.decision.sets:
            self._can_be_made(planned)
        if any(s.kind == "ramp" for s in self.decision.sets) or self.decision.course == "baseline":
            self._ramps()
        elif self.decision.course != "stop" and (
            self.begins_anew or self.days_off >= NEW_START_DAYS or not self.state.bouts
        ):
            self.note("baseline", f"{self.days_off} days off, course {self.decision.course} without ramp sets")
        elif work:
            prescribed = self.prescribed(work)
            self._limits(prescribed)
            self._layoff(prescribed)
            self._accounts(prescribed)
        elif self.decision.course != "stop":
            self.note("no-sets", f"no work sets in course {self.decision.course}")
        return self.found

    # What can be made, and what the codes are

    def _can_be_made(self, planned: PlannedSet) -> None:
        added = Fraction(planned.load.magnitude) if planned.load else Fraction(0)
        if not any(abs(added - made) <= ROUNDING for made in self.made):
            self.note("cannot-be-made", f"{planned.kind} set at {float(added)} kg")
        has_count = planned.reps or planned.seconds or planned.metres
        if not has_count:
            self.note("no-count", f"{planned.kind} set without repetitions, seconds or metres")

    def _roles(self) -> None:
        given: list[AnyReason] = [*self.decision.reasons, *(c.reason for c in self.decision.considered)]
        for reason in given:
            if ROLES.get(code_of(reason)) != reason.role:
                self.note("role", f"{code_of(reason)} is said to be a {reason.role}")

    # Ramp sets

    def _ramps(self) -> None:
        if self.decision.course != "baseline" or any(s.kind in WORKING for s in self.decision.sets):
            self.note("baseline", f"ramp sets in course {self.decision.course}")
        if not any(code.startswith("baseline-") for code in self.codes):
            self.note("unexplained", "ramp sets without their reason")
        if not self.state.bouts:
            return
        if self.days_off < NEW_START_DAYS and not self.begins_anew:
            self.note("baseline", f"ramp sets after {self.days_off} days off")
        old = self.last()
        lightest = self.made[0] + self.base
        for planned in self.decision.sets:
            total = self.one(planned, 1).total
            if total > BASELINE_SHARE * old + ROUNDING and total > lightest:
                self.note("baseline-80", f"ramp at {float(total):.2f} kg after {float(old):.2f} kg")

    # The limits

    def _limits(self, prescribed: Prescribed) -> None:
        if "no-load-under-limit" in self.codes:
            self._lightest(prescribed)
            return
        self._step(prescribed)
        self._overrule_is_named(prescribed)
        self._pause_is_named(prescribed)
        for rule, ceiling in self.ceilings(prescribed):
            if prescribed.worth > ceiling + ROUNDING:
                self.note(rule, f"worth {float(prescribed.worth):.3f} kg, allowed {float(ceiling):.3f} kg")

    def _lightest(self, prescribed: Prescribed) -> None:
        """No load fits: the lightest, with what repetitions fit, at least one."""
        if prescribed.added > self.made[0] + ROUNDING:
            self.note("not-lightest", f"{float(prescribed.added)} kg, lightest is {float(self.made[0])} kg")
            return
        ceilings = [ceiling for _, ceiling in self.ceilings(prescribed)]
        if prescribed.count > 1 and any(prescribed.worth > ceiling + ROUNDING for ceiling in ceilings):
            self.note("too-many-at-lightest", f"{float(prescribed.count)} at the lightest load are too many")
        is_wished = self.decision.course in {"rise", "hold", "repeat"}
        is_raised = self.reading.target_of(self.exercise) > self.settings.target_rir
        if is_raised or any(shut.repetitions for shut in self.shuts):
            return  # what a gate asks for may be what no load is light enough for
        bottom = worth(self.exercise.measure, prescribed.total, Fraction(self.bottom()), prescribed.rir)
        if is_wished and prescribed.total <= self.last() and all(bottom <= ceiling for ceiling in ceilings):
            self.note("no-load-under-limit", "named although the lightest load fits")

    def _pause_is_named(self, prescribed: Prescribed) -> None:
        """Above the plain twelve-week ceiling only with its name, or where a coach overruled it."""
        is_overruled = self.overrule("twelve-week-limit") != (False, None)
        is_named = bool({"pause-served", "twelve-week-limit"} & set(self.codes))
        if not is_overruled and not is_named and self._is_over_ordinary("twelve-week-limit", prescribed):
            self.note("pause-unnamed", "above the twelve-week ceiling, but no reason says so")

    def _overrule_is_named(self, prescribed: Prescribed) -> None:
        """A limit that a coach set elsewhere, and that decided, must be named."""
        if "limit-overruled" in self.codes:
            return
        for rule in ("weekly-limit", "twelve-week-limit", "step-limit"):
            if rule == "twelve-week-limit" and "pause-served" in self.codes:
                continue  # the pause alone allows it: the overruling makes no difference
            is_set_aside, other = self.overrule(rule)
            bound_by_it = any(code_of(r) == rule and r.ceiling == other for r in self.decision.reasons)  # type: ignore[union-attr]  # each of the three has one
            if other is not None and bound_by_it:
                self.note("overrule-unnamed", f"{rule} bound at the overruled {float(other)}, but no reason says so")
            if (is_set_aside or other is not None) and self._is_over_ordinary(rule, prescribed):
                self.note("overrule-unnamed", f"above the ordinary {rule}, but no reason says so")

    def _is_over_ordinary(self, rule: str, prescribed: Prescribed) -> bool:
        """Whether the line is above a limit as it would be without an overrule."""
        if rule == "step-limit":
            above = [load + self.base for load in self.made if load + self.base > self.last() + ROUNDING]
            return prescribed.total > max(self.last() * (1 + self.settings.step), min(above, default=self.last()))
        beginner = self.is_beginner()
        if rule == "weekly-limit":
            base = self.reading.reference(self.state)
            share = self.settings.weekly_beginner if beginner else self.settings.weekly
        else:
            base = self.reading.twelve_week_reference(self.state)
            share = self.settings.twelve_beginner if beginner else self.settings.twelve
        return base is not None and self.exercise.measure == "reps" and prescribed.worth > base * (1 + share) + ROUNDING

    def _step(self, prescribed: Prescribed) -> None:
        last = self.last()
        if prescribed.total > self.step_ceiling() + ROUNDING:
            self.note("step-limit", f"{float(prescribed.total):.2f} kg after {float(last):.2f} kg")
            return
        is_set_aside, other = self.overrule("step-limit")
        share = self.settings.step if other is None else other
        if is_set_aside or prescribed.total <= last * (1 + max(share, self.settings.step)) + ROUNDING:
            return
        if "smallest-jump" not in self.codes:
            self.note("jump-unnamed", f"{float(prescribed.total):.2f} kg after {float(last):.2f} kg")
        if why := self._jump_forbidden(prescribed):
            self.note("smallest-jump", f"{float(prescribed.total):.2f} kg after {float(last):.2f} kg: {why}")

    def _jump_forbidden(self, prescribed: Prescribed) -> str:
        """Why the smallest jump may not be taken, or nothing."""
        if self.latest is None:
            return "there is no latest line"
        work = self.latest.work
        if self.latest.is_missed:
            return "a set was missed"
        if any(s.technique in {"rough", "broke"} for s in work):
            return "technique was not good"
        if any(s.has_pain for s in work):
            return "pain was noted"
        weakest = min(worth(self.exercise.measure, s.total, s.count, s.reserve) for s in work)
        if self.exercise.measure == "reps":
            predicted = floor(30 * (weakest / prescribed.total - 1) - self.reading.target_of(self.exercise))
        else:
            predicted = floor(weakest / prescribed.total)
        bottom = self.bottom()
        return "" if predicted >= bottom else f"predicts {predicted}, bottom is {bottom}"

    # Layoffs

    def _layoff(self, prescribed: Prescribed) -> None:
        last = self.last()
        cut = self.settings.cut_long if self.days_off >= LONG_RETURN_DAYS else self.settings.cut_short
        said = (
            f"{float(prescribed.total):.2f} kg x {prescribed.count} @ {prescribed.rir} after {self.days_off} days off"
        )
        if self.days_off >= RETURN_DAYS:
            is_lightest = prescribed.added <= self.made[0] + ROUNDING
            if prescribed.total > last * (1 - cut) + ROUNDING and not is_lightest:
                self.note("return-load", f"{said}, latest line at {float(last):.2f} kg")
            if prescribed.rir < self.settings.return_rir:
                self.note("return-rir", said)
            usual = self.state.usual_sets
            # Half rounded down, at least one (read so); fewer only by the second check.
            half = max((usual or 0) // 2, 1)
            is_fewer = "return-index" in self.codes and 1 <= prescribed.sets < half
            if usual is not None and prescribed.sets != half and not is_fewer:
                self.note("return-sets", f"{prescribed.sets} sets, usually {usual}; {said}")
        elif (
            self.reading.is_away(self.days_off)
            and self.is_heavier(prescribed)
            and "no-load-under-limit" not in self.codes
        ):
            self.note("repeat", f"{said}, latest line at {float(last):.2f} kg")

    # What the decision says of itself

    def _accounts(self, prescribed: Prescribed) -> None:
        last = self.last()
        course, codes = self.decision.course, set(self.codes)
        is_rise = course == "rise"
        if not is_rise and not codes & WHY_NOT_UP:
            self.note("unexplained", f"course {course} with {sorted(codes)}")
        if is_rise and not codes & WHY_UP:
            self.note("unexplained", f"a rise with {sorted(codes)}")
        before = self.last_added()
        if prescribed.total < last - ROUNDING and (before is None or prescribed.added < before - ROUNDING):
            is_said = course in {"ease", "return", "deload"} or codes & (GATES | LIMITS | {"rounded-down"})
            if not is_said:
                self.note("lower-unexplained", f"{float(prescribed.total):.2f} after {float(last):.2f} kg, {course}")
        if self.is_heavier(prescribed) and not codes & {"range-filled", "regain", "no-load-under-limit"}:
            self.note("rise-unexplained", f"{float(prescribed.total):.2f} after {float(last):.2f} kg, {sorted(codes)}")
