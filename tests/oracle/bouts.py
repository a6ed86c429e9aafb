"""Sessions of one line as numbers, and what they are worth by the page."""

from collections import Counter
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction


@dataclass
class WorkSet:
    """One work set that was done: load really moved (kg), repetitions, s or m, and what was said of it."""

    added: Fraction
    total: Fraction
    count: Fraction
    reserve: Fraction
    is_missed: bool
    technique: str | None
    has_pain: bool

    def worth(self, measure: str) -> Fraction | None:
        """Equivalent 1RM (kg), or load times count; None where nothing was done."""
        return None if not self.count else worth(measure, self.total, self.count, self.reserve)


def worth(measure: str, total: Fraction, count: Fraction, reserve: Fraction) -> Fraction:
    """Epley's equivalent 1RM of a set (kg); of holds and carries load times count, count alone without load."""
    if measure != "reps":
        return (total or 1) * count
    return total if count + reserve == 1 else total * (1 + (count + reserve) / 30)


@dataclass
class Bout:
    """One session of one line."""

    on: date
    number: int
    marked: str | None
    work: list[WorkSet]
    measure: str
    phase: str = "normal"
    is_ramp: bool = False

    @property
    def counting(self) -> list[Fraction]:
        """What the sets are worth that count: broken technique does not, unless all broke."""
        sound = [s for s in self.work if s.technique != "broke"] or self.work
        return [w for w in (s.worth(self.measure) for s in sound) if w is not None]

    @property
    def best(self) -> Fraction | None:
        """The best set's worth."""
        return max(self.counting, default=None)

    @property
    def load(self) -> Fraction:
        """The heaviest total load that at least half of the work sets reached."""
        loads = sorted((s.total for s in self.work), reverse=True)
        return loads[(len(loads) + 1) // 2 - 1]

    @property
    def is_missed(self) -> bool:
        """Whether any work set was missed."""
        return any(s.is_missed for s in self.work)


@dataclass
class LineState:
    """What is known of one line, session after session."""

    bouts: list[Bout] = field(default_factory=list)
    started: int = 0
    returning_since: date | None = None
    best_before: Fraction | None = None
    days: list[date] = field(default_factory=list)

    @property
    def since_start(self) -> list[Bout]:
        """Sessions since the last new start."""
        return self.bouts[self.started :]

    @property
    def normal(self) -> list[Bout]:
        """Normal training since the last new start; without any, whatever there is."""
        return [b for b in self.since_start if b.phase == "normal"] or self.since_start

    @property
    def usual_sets(self) -> int | None:
        """Work sets done most often in the last six normal sessions since the new start; the fewer of equals.

        A session of ramp sets only says nothing of it; None where no session does.
        """
        counts = Counter(len(b.work) for b in self.normal[-6:] if not b.is_ramp)
        return min((n for n in counts if counts[n] == max(counts.values())), default=None)

    @property
    def latest(self) -> Bout | None:
        """The latest line: the latest session that was no deload or taper."""
        usable = [b for b in self.since_start if b.phase not in {"deload", "taper"}]
        return usable[-1] if usable else None
