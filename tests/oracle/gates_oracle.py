"""The oracle of the gates: holds one line of a sheet against docs/reference/gates.md."""

from fractions import Fraction

from steelyard.engine.sheet import PlannedSet

from .bouts import Bout, LineState
from .codes import GATES, OWN_STOPS
from .line_reading import ROUNDING, WORKING, LineReading, Prescribed

LIGHT_RUNGS, LIGHT_RESERVE = 3, 5
EASE = Fraction(75, 1000)


class GateOracle(LineReading):
    """One line against the page of gates."""

    def gates(self) -> None:
        """Every breach of the page of gates on this line."""
        self._names()
        if any(shut.stop for shut in self.shuts):
            self._is_left_out()
            return
        if self.decision.course == "stop":
            self._may_be_left_out()
            return
        for planned in self.decision.sets:
            if planned.kind != "warm-up":
                self._of_set(planned)
        work = [s for s in self.decision.sets if s.kind in WORKING]
        if work and self.state.bouts:
            self._holds(self.prescribed(work))
        ramps = [s for s in self.decision.sets if s.kind == "ramp"]
        if ramps and any(shut.no_rise or shut.light for shut in self.shuts):
            self._light(ramps)

    def _names(self) -> None:
        """A gate that is named is closed; one that stops or holds is named."""
        named, closed = set(self.codes) & GATES, {shut.code for shut in self.shuts}
        if named - closed:
            self.note("gate-open", f"named, but open: {sorted(named - closed)}")
        must = {shut.code for shut in self.shuts if shut.no_rise or shut.load is not None}
        is_gone = any(shut.stop for shut in self.shuts) or self.decision.course in {"stop", "baseline"}
        if must - named and not is_gone:
            self.note("gate-unnamed", f"closed, but not named: {sorted(must - named)}")

    def _is_left_out(self) -> None:
        if self.decision.course != "stop" or self.decision.sets:
            self.note("gate-stop", f"course {self.decision.course} with {len(self.decision.sets)} sets")
        if self.decision.limit_load is not None or self.decision.steps_around:
            self.note("gate-stop", "a load stands on a line that is left out")
        if not {shut.code for shut in self.shuts if shut.stop} & set(self.codes):
            self.note("gate-unnamed", f"left out for {self.codes}")

    def _may_be_left_out(self) -> None:
        """Left out by its own sets, or since nothing so light can be made."""
        cap = self.cap()
        nothing = cap is not None and not any(load + self.base <= cap + ROUNDING for load in self.made)
        if not nothing and not set(self.codes) & OWN_STOPS:
            self.note("gate-open", f"left out for {self.codes}")

    def cap(self) -> Fraction | None:
        """The heaviest total load that gates leave (kg)."""
        caps = [shut.load + self.base for shut in self.shuts if shut.load is not None]
        if self.state.bouts and any(shut.no_rise for shut in self.shuts):
            lifted = last_lifted(self.state)
            caps.append((Fraction(self.made[0]) if lifted is None else self._added_in(lifted)) + self.base)
        for shut in self.shuts:
            if shut.less_from is not None and self.state.bouts:
                caps.append(self._less_than(shut.less_from.toordinal()))
        return min(caps, default=None)

    def _less_than(self, day: int) -> Fraction:
        """Load down by the share, and by one loadable step, from the latest session on or before a day."""
        before = [b for b in self.state.bouts if b.on.toordinal() <= day]
        bout = before[-1] if before else (self.latest or self.state.bouts[-1])
        # The load as it is today: what was added then, with the body as it is now.
        level = self._added_in(bout) + self.base
        below = [load + self.base for load in self.made if load + self.base < level]
        return min(level * (1 - EASE), max(below, default=level))

    @staticmethod
    def _added_in(bout: Bout) -> Fraction:
        """What at least half of the sets reached in which anything was lifted (kg, added); else the line's own load."""
        lifted = sorted((w.added for w in bout.work if w.count), reverse=True)
        return lifted[(len(lifted) - 1) // 2] if lifted else min(w.added for w in bout.work if w.total == bout.load)

    def _of_set(self, planned: PlannedSet) -> None:
        reserve = max((shut.reserve for shut in self.shuts), default=0)
        if any(shut.no_rise for shut in self.shuts):
            reserve = max(reserve, 2)
        if (planned.target_rir or 0) < reserve:
            self.note("gate-reserve", f"{planned.target_rir} in reserve, at least {reserve}")
        total, cap = self.one(planned, 1).total, self.cap()
        if cap is not None and total > cap + ROUNDING:
            self.note("gate-load", f"{float(total):.2f} kg, at most {float(cap):.2f} kg")
        least = max((shut.repetitions for shut in self.shuts), default=0)
        is_named = "no-load-under-limit" in self.codes
        if planned.kind in WORKING and planned.reps is not None and planned.reps < least and not is_named:
            self.note("gate-repetitions", f"{planned.reps} repetitions, at least {least}")

    def _holds(self, prescribed: Prescribed) -> None:
        """No rise: not more load, and not more repetitions than the same again."""
        if not any(shut.no_rise for shut in self.shuts):
            return
        if self.is_heavier(prescribed):
            self.note("gate-rise", f"{float(prescribed.total):.2f} kg after {float(self.last()):.2f} kg")
        least = max((shut.repetitions for shut in self.shuts), default=0)
        again = max(same_again(self.state, self.exercise.measure), least, 1)
        if prescribed.count > again:
            self.note("gate-rise", f"{prescribed.count} each, the same again is {again}")

    def _light(self, ramps: list[PlannedSet]) -> None:
        if any((s.target_rir or 0) < LIGHT_RESERVE for s in ramps) or len(ramps) > max(LIGHT_RUNGS, 1):
            self.note("gate-light", f"{len(ramps)} ramp sets, {[s.target_rir for s in ramps]} in reserve")


def last_lifted(state: LineState) -> Bout | None:
    """The latest session in which anything was lifted: since the last new start if there is one, and no deload."""
    now = [b for b in state.since_start if b.best is not None] or [b for b in state.bouts if b.best is not None]
    full = [b for b in now if b.phase not in {"deload", "taper"}] or now
    return full[-1] if full else None


def same_again(state: LineState, measure: str) -> int:
    """What every set of the latest line reached, but no more than one step under what half of them did."""
    bout = last_lifted(state)
    if bout is None:
        return 1
    counts = sorted((int(w.count) for w in bout.work if w.total <= bout.load), reverse=True)
    return max(counts[-1], counts[len(counts) // 2] - (1 if measure == "reps" else 5))
