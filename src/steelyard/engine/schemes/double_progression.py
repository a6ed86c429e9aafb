"""Repetitions up to the top of the range on all work sets, then load up and repetitions back to the bottom.

Common practice, no source; the load step after a full range is in ACSM 2009 (2-10 %).
"""

from decimal import Decimal

from ..line import Line
from ..proposal import Proposal, rise
from ..reasons import BeyondRange, HeaviestLoadReached, RangeFilled, RepetitionsRise


class DoubleProgression:
    """Repetitions first, then load."""

    def propose(self, line: Line) -> tuple[Proposal, ...]:
        """One more repetition, or the next load once the range is full."""
        if line.count < line.range.top:
            return (self._repetitions(line),)
        following = line.next_total
        if following is None:
            return (self._at_the_heaviest(line),)
        return (self._load(line, following), self._beyond(line, following))

    def _repetitions(self, line: Line) -> Proposal:
        goal = min(max(line.count + line.step, line.held_count, line.range.bottom), line.range.top)
        reason = RepetitionsRise(
            previous=line.latest.counts,
            load=line.shown(line.total),
            goal=goal,
            top=line.range.top,
            evidence=line.latest.evidence,
        )
        return rise(line, "reps", total=line.total, count=goal, reason=reason)

    def _load(self, line: Line, following: Decimal) -> Proposal:
        reason = RangeFilled(
            previous=line.latest.counts,
            load=line.shown(line.total),
            next_load=line.shown(following),
            bottom=line.range.bottom,
            evidence=line.latest.evidence,
        )
        return rise(line, "load", total=following, count=line.range.bottom, reason=reason)

    def _beyond(self, line: Line, following: Decimal) -> Proposal:
        goal = line.count + line.step
        # If even the nearest load is too far, that is the one to name, not the step that was wished for.
        nearest = line.loadable.above(line.total) or following
        reason = BeyondRange(
            load=line.shown(line.total),
            next_load=line.shown(nearest),
            goal=goal,
            evidence=line.latest.evidence,
        )
        return rise(line, "reps", total=line.total, count=goal, reason=reason)

    def _at_the_heaviest(self, line: Line) -> Proposal:
        reason = HeaviestLoadReached(load=line.shown(line.total), evidence=line.latest.evidence)
        return rise(line, "reps", total=line.total, count=line.count + line.step, reason=reason)
