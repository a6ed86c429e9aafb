"""A plain reading of a training log by docs/reference/limits.md alone; it shares no rule with the engine.

Where the page leaves a choice, the reading taken is said in the comment beside it.
"""

from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise
from statistics import median

from steelyard.engine.exercises import Catalogue, Exercise
from steelyard.engine.fold import TrainingLog
from steelyard.engine.log import SetBody

from .bouts import Bout, LineState, WorkSet
from .gates_reading import GateReading
from .settings import BodyMasses, settings_on

LineKey = tuple[str, str]
NEW_START_DAYS = 63
RETURN_DAYS = 14
LONG_RETURN_DAYS = 28
REPEAT_DAYS = 7
RETURN_LASTS_DAYS = 42
PAUSE_DAYS = 14
BACK_AT = Fraction(97, 100)
WORK_FROM = Fraction(85, 100)


class Reading:
    """The whole log as the page reads it, up to and with the day that is asked for."""

    def __init__(self, log: TrainingLog, catalogue: Catalogue, on: date, gates: GateReading) -> None:
        self.log, self.catalogue, self.on, self.gates = log, catalogue, on, gates
        self._targets: dict[str, Fraction] = {}
        self.settings = settings_on(log, on)
        self.body_mass = BodyMasses(log, on, self.settings.body_mass_kg)
        self.lines: dict[LineKey, LineState] = {}
        self.confirmed = {
            span.earliest + timedelta(n)
            for span in log.trained_as_written
            for n in range((span.until - span.earliest).days)
        }
        self.days = sorted({s.body.on for s in log.sets if s.body.on <= on} | {d for d in self.confirmed if d <= on})
        for (day, number), keyed in self._sessions():
            self._read_session(day, number, keyed)

    def _sessions(self) -> list[tuple[tuple[date, int], dict[LineKey, list[SetBody]]]]:
        grouped: dict[tuple[date, int], dict[LineKey, list[SetBody]]] = {}
        for logged in self.log.sets:
            body = logged.body
            if body.on <= self.on and body.exercise in self.catalogue:
                session = grouped.setdefault((body.on, body.session), {})
                session.setdefault((body.exercise, body.implement or ""), []).append(body)
        return sorted(grouped.items(), key=lambda item: item[0])

    def _read_session(self, day: date, number: int, keyed: dict[LineKey, list[SetBody]]) -> None:
        bouts: dict[LineKey, Bout] = {}
        for key, bodies in keyed.items():
            done = [b for b in bodies if b.missed != "not-done"]  # a set that was not done is no set, so no miss either
            bout = self._bout(day, number, self.catalogue[key[0]], done) if done else None
            if bout and bout.work:
                bouts[key] = bout
        for key, bout in bouts.items():
            self._place_in_layoffs(key, bout)
        if self._looks_like_deload(bouts):
            for bout in bouts.values():
                bout.phase = "deload" if bout.marked is None else bout.phase
        for key, bout in bouts.items():
            self.lines[key].bouts.append(bout)
            self.lines[key].days.append(bout.on)

    def _bout(self, day: date, number: int, exercise: Exercise, bodies: list[SetBody]) -> Bout:
        base = exercise.body_mass_share and Fraction(exercise.body_mass_share) * self.body_mass.on(day)
        totals = [Fraction(b.load.magnitude if b.load else 0) + Fraction(base) for b in bodies]
        heaviest = max(totals)
        work = []
        for body, total in zip(bodies, totals, strict=True):
            is_work = body.kind in {"work", "top", "back-off"} or (body.kind is None and total >= WORK_FROM * heaviest)
            if is_work:
                work.append(self._work_set(body, total, Fraction(base), exercise))
        is_ramp = not work
        if is_ramp:  # a session of ramp sets only (warm-ups aside): the heaviest ramp set counts
            ramps = [
                self._work_set(b, t, Fraction(base), exercise)
                for b, t in zip(bodies, totals, strict=True)
                if b.kind == "ramp"
            ]
            work += sorted(ramps, key=lambda s: (s.total, s.count))[-1:]
        marked = next((b.phase for b in bodies if b.phase is not None), None)
        return Bout(day, number, marked, work, exercise.measure, is_ramp=is_ramp)

    def target_of(self, exercise: Exercise) -> Fraction:
        """The target of a line: the coach's, or a higher reserve that a gate asks for."""
        if exercise.code not in self._targets:
            shuts = self.gates.of(exercise)
            held = 2 if any(shut.no_rise for shut in shuts) else 0
            raised = max((shut.reserve for shut in shuts), default=0)
            self._targets[exercise.code] = max(self.settings.target_rir, Fraction(held), Fraction(raised))
        return self._targets[exercise.code]

    def _work_set(self, body: SetBody, total: Fraction, base: Fraction, exercise: Exercise) -> WorkSet:
        count = {"reps": body.reps, "seconds": body.seconds, "metres": body.metres}[exercise.measure] or 0
        target = self.target_of(exercise)
        said = Fraction(body.effort.rir) if body.effort else self.settings.target_rir
        missed = body.missed is not None or not count
        return WorkSet(
            added=total - base,
            total=total,
            count=Fraction(count),
            reserve=Fraction(0) if missed else min(said, target),  # a miss left nothing
            is_missed=missed,
            technique=body.technique,
            has_pain=body.pain is not None,
        )

    def days_off(self, key: LineKey, day: date) -> int:
        """Days off of a line before a day, by the page's section on layoffs; a span is the difference of its dates."""
        state = self.lines.get(key)
        if state is None or not state.days:
            return 0
        latest = state.days[-1]
        stops = [latest, *(d for d in self.days if latest < d < day), day]
        without_any = max((b - a).days for a, b in pairwise(stops))
        own_stops = [latest, *(d for d in sorted(self.confirmed) if latest < d < day), day]
        own = max((b - a).days for a, b in pairwise(own_stops))
        gaps = [(b - a).days for a, b in pairwise(state.days)][-8:]
        if own >= NEW_START_DAYS:  # "not done for 63 days and more", whatever its own gaps are
            return own
        # Without any gap of its own yet there is no habit that could excuse one (read so).
        if own >= RETURN_DAYS and (not gaps or own > 2 * median(gaps)):
            return own
        return without_any

    def is_away(self, days_off: int) -> bool:
        """Whether 7-13 days off are more than 1.5 times the lifter's usual gap; without any gap yet they are."""
        gaps = [(b - a).days for a, b in pairwise(self.days)][-8:]
        return days_off >= REPEAT_DAYS and (not gaps or days_off > Fraction(3, 2) * Fraction(median(gaps)))

    def _place_in_layoffs(self, key: LineKey, bout: Bout) -> None:
        """New starts and returns; the session that is back ends a return and is normal training again (read so)."""
        state = self.lines.setdefault(key, LineState())
        bout.phase = bout.marked or "normal"
        off = self.days_off(key, bout.on)
        if off >= NEW_START_DAYS or (state.days and self.gates.new_start(state.days[-1], bout.on)):
            state.started, state.returning_since = len(state.bouts), None
        elif off >= RETURN_DAYS:
            bests = [b.best for b in state.normal if b.best is not None]
            state.returning_since, state.best_before = bout.on, max(bests, default=None)
        if state.returning_since is None:
            return
        if (bout.on - state.returning_since).days > RETURN_LASTS_DAYS:
            state.returning_since = None
            return
        if bout.best is not None and state.best_before is not None and bout.best >= BACK_AT * state.best_before:
            state.returning_since = None
        elif bout.phase == "normal":
            bout.phase = "return"

    def _looks_like_deload(self, bouts: dict[LineKey, Bout]) -> bool:
        pairs = []
        for key, bout in bouts.items():
            earlier = [b for b in self.lines[key].bouts if b.phase not in {"deload", "taper"}]
            if earlier and not bout.is_ramp:  # a ramp alone says nothing of how many sets there are (read so)
                pairs.append((bout, earlier[-1]))
        if not pairs or any(b.marked is not None or b.is_missed for b in bouts.values()):
            return False
        if any((now.on - then.on).days >= RETURN_DAYS for now, then in pairs):
            return False
        lighter = [now.load <= Fraction(97, 100) * then.load for now, then in pairs]
        return (
            all(now.load <= then.load for now, then in pairs)
            and 2 * sum(lighter) >= len(pairs)
            and sum(len(now.work) for now, _ in pairs) <= Fraction(7, 10) * sum(len(then.work) for _, then in pairs)
        )

    def week_of(self, bout: Bout) -> int:
        """Training weeks back from the day asked for; this week is 0."""
        return (self.on - bout.on).days // 7

    def reference(self, state: LineState) -> Fraction | None:
        """The best of the six latest training weeks before this one; else of this week's first day."""
        weeks = self._best_by_week(state.normal)
        earlier = sorted(week for week in weeks if week >= 1)[: self.settings.weeks]
        if earlier:
            return max(weeks[week] for week in earlier)
        held = [b for b in state.normal if b.best is not None]
        return max((b.best for b in held if b.on == held[0].on and b.best is not None), default=None)

    def twelve_week_reference(self, state: LineState) -> Fraction | None:
        """The best of the six latest training weeks that are twelve and more back; else of the first seven days."""
        weeks = self._best_by_week(state.normal)
        old = sorted(week for week in weeks if week >= 12)[: self.settings.weeks]
        held = [b for b in state.normal if b.best is not None]
        if old and (self.on - held[0].on).days >= 91:
            return max(weeks[week] for week in old)
        # Where even the first seven days are this week: its first day.
        days = 1 if held and self.week_of(held[0]) == 0 else 7
        return max((b.best for b in held if (b.on - held[0].on).days < days and b.best is not None), default=None)

    def rested_best(self, state: LineState) -> Fraction | None:
        """The best of normal training that is fourteen or more days old."""
        old = [b.best for b in state.normal if (self.on - b.on).days >= PAUSE_DAYS and b.best is not None]
        return max(old, default=None)

    def _best_by_week(self, bouts: list[Bout]) -> dict[int, Fraction]:
        weeks: dict[int, Fraction] = {}
        for bout in bouts:
            if bout.best is not None:
                week = self.week_of(bout)
                weeks[week] = max(weeks.get(week, bout.best), bout.best)
        return weeks

    def regain_base(self, state: LineState) -> Fraction | None:
        """What a return's pace is counted from; None outside a return and before its first session."""
        since = self.returning_since(state)
        if since is None:
            return None
        own = [b for b in state.since_start if b.on >= since and b.best is not None]
        old = [b.best for b in own if (self.on - b.on).days >= 7 and b.best is not None]
        return max(old) if old else next((b.best for b in own), None)

    def returning_since(self, state: LineState) -> date | None:
        """First day of the return that still goes on on the day asked for, if any."""
        since = state.returning_since
        return since if since is not None and (self.on - since).days <= RETURN_LASTS_DAYS else None
