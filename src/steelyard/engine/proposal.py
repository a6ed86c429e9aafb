"""What a gate or a scheme asks of one line, before any limit."""

from decimal import Decimal

from msgspec import Struct

from .line import Line
from .reasons import AnyReason
from .sheet import Course, Lever


class Proposal(Struct, frozen=True, kw_only=True):
    """One wish: total load (kg, not yet loadable), count, sets, reserve, and the reasons that led to it."""

    course: Course
    lever: Lever | None = None
    total: Decimal
    count: int
    sets: int
    rir: int
    reasons: tuple[AnyReason, ...]


def rise(line: Line, lever: Lever, *, total: Decimal, count: int, reason: AnyReason) -> Proposal:
    """A rise by one lever, everything else of the line as it is."""
    return Proposal(
        course="rise",
        lever=lever,
        total=total,
        count=count,
        sets=line.usual_sets,
        rir=line.policy.target_rir,
        reasons=(reason,),
    )
