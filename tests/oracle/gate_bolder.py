"""Whether one sheet is bolder than another, exercise by exercise."""

from collections.abc import Iterator
from fractions import Fraction

from steelyard.engine.sheet import Decision, PlannedSet, Sheet

from .gate_judge import WORK, added, count


def bolder(before: Sheet, after: Sheet) -> Iterator[tuple[str, str]]:
    """In what the second sheet is bolder than the first, by exercise; warm-up sets say nothing of it."""
    was = {(line.exercise, line.implement): line for line in before.lines}
    for line in after.lines:
        earlier = was.get((line.exercise, line.implement))
        if earlier is None:
            yield line.exercise, "a line that was not there"
        else:
            for said in _bolder_line(earlier, line):
                yield line.exercise, said


def _bolder_line(before: Decision, after: Decision) -> Iterator[str]:
    was, now = lifted(before), lifted(after)
    if not now:
        return
    if not was:
        yield f"{len(now)} sets of a line that was left out"
        return
    heaviest = max(added(s) for s in was)
    if (load := max(added(s) for s in now)) > heaviest:
        yield f"{float(load)} kg, was {float(heaviest)} kg"
    counts = {load: max(count(s) for s in was if added(s) == load) for load in {added(s) for s in was}}
    for planned in now:
        most = counts.get(added(planned), Fraction(10**9))
        if count(planned) > most:
            yield f"{float(count(planned))} at {float(added(planned))} kg, was {float(most)}"
    work_was, work_now = (sum(s.kind in WORK for s in sets) for sets in (was, now))
    ramps_was, ramps_now = len(was) - work_was, len(now) - work_now
    if work_now > work_was and not ramps_was:
        yield f"{work_now} work sets, were {work_was}"
    if ramps_now > ramps_was and not work_was:
        yield f"{ramps_now} ramp sets, were {ramps_was}"
    least_was, least_now = (min(s.target_rir or 0 for s in sets) for sets in (was, now))
    if least_now < least_was:
        yield f"{least_now} in reserve, were {least_was}"
    if any(s.is_open_ended for s in now) and not any(s.is_open_ended for s in was):
        yield "an open end"


def lifted(line: Decision) -> list[PlannedSet]:
    """The sets that are not warm-up."""
    return [s for s in line.sets if s.kind != "warm-up"]
