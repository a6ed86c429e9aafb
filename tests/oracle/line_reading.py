"""One line of a sheet as numbers, and the ceilings that the page sets it."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from steelyard.engine.equipment import Equipment
from steelyard.engine.planning import Request
from steelyard.engine.reasons import code_of
from steelyard.engine.sheet import Decision, PlannedSet

from .bouts import LineState, worth
from .loadable import loads
from .reading import RETURN_DAYS, Reading

ROUNDING = Fraction(1, 10**9)
HOLD_STEP = 5
BASELINE_SHARE = Fraction(80, 100)
WORKING = ("work", "top", "back-off")


@dataclass(frozen=True)
class Violation:
    """One breach of the page by one line of a sheet."""

    exercise: str
    rule: str
    said: str


@dataclass(frozen=True)
class Prescribed:
    """The work sets of a line as numbers (kg, repetitions or s or m)."""

    total: Fraction
    added: Fraction
    count: Fraction
    rir: Fraction
    worth: Fraction
    sets: int


class LineReading:
    """One line, what is known of it, and how high it may go."""

    def __init__(self, decision: Decision, reading: Reading, equipment: Equipment, request: Request) -> None:
        self.decision, self.reading, self.request = decision, reading, request
        self.exercise = reading.catalogue[decision.exercise]
        self.key = (decision.exercise, decision.implement or "")
        self.state = reading.lines.get(self.key, LineState())
        self.settings = reading.settings
        share = Fraction(self.exercise.body_mass_share)
        self.base = share * reading.body_mass.on(reading.on) if share else Fraction(0)
        self.codes = [code_of(reason) for reason in decision.reasons]
        self.days_off = reading.days_off(self.key, reading.on)
        latest = self.state.latest
        self.latest = latest
        self.equipment_loads = loads(self.exercise, equipment)
        # Where nobody said what the place has, what the lifter lifted there counts as well (read so).
        lifted = ([latest] if latest else self.state.bouts[-1:]) if equipment.is_assumed else []
        own = {s.added for b in lifted for s in b.work if s.total == b.load}
        self.made = sorted({*self.equipment_loads, *own})
        self.found: list[Violation] = []
        self.shuts = reading.gates.of(self.exercise)
        self.is_shut = any(shut.counts for shut in self.shuts)
        since = self.state.days[-1] if self.state.days else None
        self.begins_anew = since is not None and reading.gates.new_start(since, reading.on)

    def note(self, rule: str, said: str) -> None:
        """Keep one breach."""
        self.found.append(Violation(self.decision.exercise, rule, said))

    def prescribed(self, work: list[PlannedSet]) -> Prescribed:
        """The set that asks most."""
        return max((self.one(s, len(work)) for s in work), key=lambda p: p.worth)

    def one(self, planned: PlannedSet, sets: int) -> Prescribed:
        """One planned set as numbers."""
        added = Fraction(planned.load.magnitude) if planned.load else Fraction(0)
        counts = {"reps": planned.reps_top or planned.reps, "seconds": planned.seconds, "metres": planned.metres}
        count = Fraction(counts[self.exercise.measure] or 0)
        rir = Fraction(planned.target_rir or 0)
        total = added + self.base
        return Prescribed(total, added, count, rir, worth(self.exercise.measure, total, count, rir), sets)

    def ceilings(self, prescribed: Prescribed) -> Iterator[tuple[str, Fraction]]:
        """Each limit of the equivalent that binds today, with its height (kg)."""
        beginner = self.is_beginner()
        latest_worth = self.latest.best if self.latest else None
        reference = self.reading.reference(self.state)
        far = self.reading.twelve_week_reference(self.state)
        step = HOLD_STEP * (prescribed.total or 1) if self.exercise.measure != "reps" else Fraction(0)
        for rule, base, share in (
            ("weekly-limit", reference, self.settings.weekly_beginner if beginner else self.settings.weekly),
            ("twelve-week-limit", far, self.settings.twelve_beginner if beginner else self.settings.twelve),
        ):
            is_set_aside, other = self.overrule(rule)
            if is_set_aside:
                continue
            if base is not None:
                easiest = (reference or base) + step if step else Fraction(0)
                rested = Fraction(0)
                if rule == "twelve-week-limit" and other is None:  # a coach's ceiling holds as it was given (read so)
                    weekly = self.settings.weekly_beginner if beginner else self.settings.weekly
                    rested = (self.reading.rested_best(self.state) or 0) * (1 + weekly)
                yield rule, max(base * (1 + (share if other is None else other)), easiest, rested)
            elif latest_worth is not None:
                yield rule, latest_worth
        if self.days_off < RETURN_DAYS and self.reading.returning_since(self.state) is not None:
            base = self.reading.regain_base(self.state)
            if base is not None:
                yield "regain-limit", max(base * (1 + self.settings.regain), base + step if step else Fraction(0))
            elif latest_worth is not None:
                yield "regain-limit", latest_worth

    def is_beginner(self) -> bool:
        """Whether a beginner's ceilings count: not behind a closed gate."""
        return self.settings.is_beginner(self.reading.on) and not self.is_shut

    def overrule(self, rule: str) -> tuple[bool, Fraction | None]:
        """Whether a coach set a limit aside today, or the height it has instead; the last entered counts.

        Behind a closed gate only the strictest of those that make the limit stricter.
        """
        if self.is_shut:
            usual = {"weekly-limit": self.settings.weekly, "twelve-week-limit": self.settings.twelve}
            heights = [
                Fraction(o.ceiling)
                for o in self.reading.log.overrules
                if o.exercise == self.decision.exercise and o.limit == rule
                if o.on <= self.reading.on < o.until and o.ceiling is not None
            ]
            lower = [height for height in heights if height < usual.get(rule, self.settings.step)]
            return False, min(lower, default=None)
        for given in reversed(self.reading.log.overrules):
            is_meant = given.exercise == self.decision.exercise and given.limit == rule
            if is_meant and given.on <= self.reading.on < given.until:  # half-open (read so)
                return given.ceiling is None, None if given.ceiling is None else Fraction(given.ceiling)
        return False, None

    def last(self) -> Fraction:
        """Total load of the latest line (kg)."""
        return self.latest.load if self.latest else self.state.bouts[-1].load

    def last_added(self) -> Fraction | None:
        """Added load of the latest line (kg), if there is one."""
        if self.latest is None:
            return None
        return min((w.added for w in self.latest.work if w.total == self.latest.load), default=None)

    def is_heavier(self, prescribed: Prescribed) -> bool:
        """Whether more is put on than in the latest line; a heavier body alone is no heavier load."""
        before = self.last_added()
        is_more_added = before is None or prescribed.added > before + ROUNDING
        return prescribed.total > self.last() + ROUNDING and is_more_added

    def step_ceiling(self) -> Fraction:
        """Heaviest total load by the step limit, taking the smallest jump where it is longer (kg)."""
        last = self.last()
        share = self.settings.step
        is_set_aside, other = self.overrule("step-limit")
        if is_set_aside:
            return self.made[-1] + self.base
        by_share = last * (1 + (share if other is None else other))
        above = [load + self.base for load in self.made if load + self.base > last + ROUNDING]
        return max(by_share, min(above, default=by_share))

    def bottom(self) -> int:
        """The bottom of the range, which this page does not define: as the sheet says it."""
        for reason in self.decision.reasons:
            if code_of(reason) in {"own-range", "smallest-jump"}:
                return int(reason.bottom)  # type: ignore[union-attr]  # both codes have it
        return 1
