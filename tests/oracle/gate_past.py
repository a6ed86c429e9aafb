"""What was lifted, as far as the page of gates asks: training days and weeks, and the latest line of an exercise."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from itertools import pairwise

from steelyard.engine.exercises import Catalogue, Exercise
from steelyard.engine.fold import TrainingLog
from steelyard.engine.log import SetBody

NEW_START_DAYS = 63
WORK_KINDS = {"work", "top", "back-off"}
ASSUMED_BODY_MASS = Fraction(50)


@dataclass(frozen=True)
class Lift:
    """One work set: added load (kg), load really moved (kg), repetitions or seconds or metres."""

    added: Fraction
    total: Fraction
    count: Fraction


@dataclass(frozen=True)
class Outing:
    """One session of one line."""

    on: date
    session: int
    lifts: tuple[Lift, ...]
    marked: str | None
    is_missed: bool

    @property
    def load(self) -> Fraction:
        """The heaviest total load that at least half of the work sets reached (kg)."""
        return sorted((x.total for x in self.lifts), reverse=True)[(len(self.lifts) - 1) // 2]

    @property
    def added(self) -> Fraction:
        """The same as added load (kg)."""
        return sorted((x.added for x in self.lifts), reverse=True)[(len(self.lifts) - 1) // 2]

    @property
    def same_again(self) -> Fraction:
        """What every set reached, but no more than one step under what half of them did."""
        counts = sorted((x.count for x in self.lifts), reverse=True)
        return max(counts[-1], counts[(len(counts) - 1) // 2] - 1)


class Past:
    """The history before a day, line by line."""

    def __init__(self, log: TrainingLog, catalogue: Catalogue, on: date) -> None:
        self.log, self.catalogue, self.on = log, catalogue, on
        self.lines: dict[tuple[str, str], list[Outing]] = {}
        self.light: set[tuple[date, int]] = set()
        self.days = sorted({s.body.on for s in log.sets if s.body.on < on and s.body.missed != "not-done"})
        for (day, session), bodies in sorted(self._sessions().items()):
            self._read(day, session, bodies)

    def _sessions(self) -> dict[tuple[date, int], dict[tuple[str, str], list[SetBody]]]:
        found: dict[tuple[date, int], dict[tuple[str, str], list[SetBody]]] = {}
        for body in (s.body for s in self.log.sets):
            if body.on <= self.on and body.missed != "not-done" and body.exercise in self.catalogue:
                lines = found.setdefault((body.on, body.session), {})
                lines.setdefault((body.exercise, body.implement or ""), []).append(body)
        return found

    def _read(self, day: date, session: int, bodies: dict[tuple[str, str], list[SetBody]]) -> None:
        now = {key: self._outing(day, session, self.catalogue[key[0]], done) for key, done in bodies.items()}
        kept = {key: outing for key, outing in now.items() if outing is not None}
        if self._looks_light(kept):
            self.light.add((day, session))
        for key, outing in kept.items():
            self.lines.setdefault(key, []).append(outing)

    def _outing(self, day: date, session: int, exercise: Exercise, done: list[SetBody]) -> Outing | None:
        base = Fraction(exercise.body_mass_share) * self.body_mass(day)
        lifts = [(b, Lift(added, added + base, _count(b, exercise.measure))) for b in done for added in (_added(b),)]
        # What was not lifted once was not reached: a miss is no line, and a count that nobody wrote is none.
        lifts = [(b, x) for b, x in lifts if x.count]
        heaviest = max((x.total for _, x in lifts), default=Fraction(0))
        work = [
            x for b, x in lifts if b.kind in WORK_KINDS or (b.kind is None and x.total >= Fraction(85, 100) * heaviest)
        ]
        ramps = [x for b, x in lifts if b.kind == "ramp"]
        if not work and ramps:
            work = [max(ramps, key=lambda x: (x.total, x.count))]
        if not work:
            return None
        marked = next((b.phase for b in done if b.phase is not None), None)
        return Outing(day, session, tuple(work), marked, any(b.missed or not _count(b, exercise.measure) for b in done))

    def _looks_light(self, now: dict[tuple[str, str], Outing]) -> bool:
        """An unmarked session that looks like a deload, by the page of limits."""
        if any(o.marked is not None or o.is_missed for o in now.values()):
            return False
        pairs = [(o, then) for key, o in now.items() if (then := self.latest(key)) is not None]
        return (
            bool(pairs)
            and all((o.on - then.on).days < 14 and o.load <= then.load for o, then in pairs)
            and 2 * sum(o.load <= Fraction(97, 100) * then.load for o, then in pairs) >= len(pairs)
            and 10 * sum(len(o.lifts) for o, _ in pairs) <= 7 * sum(len(then.lifts) for _, then in pairs)
        )

    def latest(self, key: tuple[str, str], until: date = date.max) -> Outing | None:
        """The latest session of a line that was no deload or taper, up to a day; if all since a new start were, it."""
        known = [o for o in self.lines.get(key, []) if o.on <= until]
        gaps = [n for n, (o, then) in enumerate(pairwise(known), 1) if (then.on - o.on).days >= NEW_START_DAYS]
        known = known[max(gaps, default=0) :]
        full = [o for o in known if o.marked not in {"deload", "taper"} and (o.on, o.session) not in self.light]
        usable = full or known
        return usable[-1] if usable else None

    def body_mass(self, day: date) -> Fraction:
        """Body mass on a day: the latest that was said up to it, else the first, else what is assumed (kg)."""
        said = [(c.on, Fraction(c.body_mass.magnitude)) for c in self.log.check_ins if c.body_mass is not None]
        known = sorted((pair for pair in said if pair[0] <= self.on), key=lambda pair: pair[0])
        before = [mass for on, mass in known if on <= day]
        return before[-1] if before else known[0][1] if known else ASSUMED_BODY_MASS

    @property
    def training_weeks(self) -> int:
        """Whole weeks since the first training day after the last gap of 63 days and more."""
        days = [*self.days, self.on]
        starts = [day for before, day in pairwise(days) if (day - before).days >= NEW_START_DAYS]
        return (self.on - max([days[0], *starts])).days // 7


def _added(body: SetBody) -> Fraction:
    return Fraction(body.load.magnitude) if body.load is not None else Fraction(0)


def _count(body: SetBody, measure: str) -> Fraction:
    # Of a hold or a carry that was written as repetitions the number is taken for what it was.
    return Fraction({"reps": None, "seconds": body.seconds, "metres": body.metres}[measure] or body.reps or 0)
