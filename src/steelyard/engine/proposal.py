"""What a gate or a scheme asks of one line, before any limit."""

from decimal import Decimal

from msgspec import Struct

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
