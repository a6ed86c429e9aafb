"""A file that comes in once more, corrected: which sets of the log it amends, and which ones have vanished from it."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from datetime import date

from msgspec import Struct

from steelyard.engine.fold import LoggedSet
from steelyard.engine.log import SetBody

from .known_sets import FreshSet, KnownSets

# Our judgement, no source: a file of another name is a corrected one if half of what came from one source stands in it.
SAME_FILE_SHARE = 0.5


class Changed(Struct, frozen=True):
    """A set of the log and what the file says in its place."""

    before: LoggedSet
    after: FreshSet
    is_hand_amended: bool


class Reconciled(Struct, frozen=True, kw_only=True):
    """What a file means for one lifter's log."""

    added: tuple[FreshSet, ...]
    changed: tuple[Changed, ...]
    vanished: tuple[LoggedSet, ...]
    known: int


def reconcile(known: KnownSets, bodies: Sequence[SetBody], source: str) -> Reconciled:
    """Tell apart what is new, what is corrected and what has vanished of that which the same file brought before."""
    fresh = known.fresh(bodies)
    earlier = _of_the_same_file(known, source, {body.on for body in bodies})
    fresh_left, changed = _pair(known, fresh, earlier)
    gone = {pair.before.id for pair in changed}
    return Reconciled(
        added=tuple(fresh_left),
        changed=tuple(changed),
        vanished=tuple(s for s in earlier if s.id not in gone),
        known=len(bodies) - len(fresh),
    )


def _of_the_same_file(known: KnownSets, source: str, days: set[date]) -> list[LoggedSet]:
    """Sets that an earlier state of this file brought, within the days it covers, which it does not say any more."""
    unclaimed = [known.current[i] for i in known.unclaimed]
    all_of, left_of = Counter(s.body.source for s in known.current.values()), Counter(s.body.source for s in unclaimed)
    same = {
        name
        for name, count in all_of.items()
        if name and (name == source or count - left_of[name] >= SAME_FILE_SHARE * count) and left_of[name] < count
    }
    if not days:
        return []
    earliest, latest = min(days), max(days)
    return [s for s in unclaimed if s.body.source in same and earliest <= s.body.on <= latest]


def _pair(
    known: KnownSets, fresh: Iterable[FreshSet], earlier: list[LoggedSet]
) -> tuple[list[FreshSet], list[Changed]]:
    """First sets of one day and exercise by their order, then those that say the same on another day or exercise."""
    left, open_sets = list(fresh), list(earlier)
    changed: list[Changed] = []
    for key in (_day_and_line, _day_and_numbers, _line_and_numbers):
        waiting: defaultdict[object, list[LoggedSet]] = defaultdict(list)
        for logged in open_sets:
            waiting[key(logged.body)].append(logged)
        still: list[FreshSet] = []
        for row in left:
            candidates = waiting.get(key(row.body))
            if candidates:
                before = candidates.pop(0)
                changed.append(Changed(before, row, known.is_hand_amended(before)))
            else:
                still.append(row)
        gone = {pair.before.id for pair in changed}
        left, open_sets = still, [s for s in open_sets if s.id not in gone]
    return left, changed


def _day_and_line(body: SetBody) -> object:
    return (body.on, body.session, body.exercise, body.implement)


def _day_and_numbers(body: SetBody) -> object:
    return (body.on, body.session, body.load, body.reps, body.seconds, body.metres)


def _line_and_numbers(body: SetBody) -> object:
    return (body.exercise, body.implement, body.load, body.reps, body.seconds, body.metres)
