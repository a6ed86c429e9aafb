"""A coach sets a limit aside: who, for what, until when, and why."""

from datetime import date, timedelta
from decimal import Decimal
from typing import Literal

from msgspec import Struct

from steelyard.engine.log import OverruleBody
from steelyard.exchange.cells import CellRefused
from steelyard.exchange.cells import exercise as read_exercise
from steelyard.wording.message import spoken, tell

from .lifters import find_lifter, log_of
from .own_exercises import catalogue_of
from .refusal import Refused
from .scribe import Scribe

LimitCode = Literal["weekly-limit", "step-limit", "twelve-week-limit"]
DAYS = 7
# A share typed for a percentage (0.06 for 6) is caught here; what is over the most is no limit any more.
LEAST, MOST = Decimal("0.005"), Decimal("0.25")
LONGEST = timedelta(days=92)


class Overruled(Struct, frozen=True, kw_only=True):
    """What was set aside."""

    lifter: str
    exercise: str
    limit: str
    ceiling: float | None
    on: str
    until: str
    by: str
    why: str


def overrule(
    name: str | None,
    exercise: str,
    limit: LimitCode,
    *,
    ceiling: Decimal | None,
    on: date | None,
    until: date | None,
    by: str,
    why: str,
    scribe: Scribe,
) -> Overruled:
    """Keep an overruling; without a ceiling (a share, such as 0.06) the limit is off until the day named."""
    lifter = find_lifter(name)
    try:
        found = read_exercise(exercise, catalogue_of(log_of(lifter)))
    except CellRefused as refused:
        raise Refused(f"{exercise!r} {refused.problem}", refused.remedy) from refused
    start = on or scribe.today()
    end = until or start + timedelta(days=DAYS)
    if not start < end <= start + LONGEST:
        raise Refused(tell("an overruling ends after it begins, within 92 days"), tell("Give another day with --until"))
    if ceiling is not None and not (ceiling.is_finite() and LEAST <= ceiling <= MOST):
        raise Refused(tell("a ceiling lies between 0.5 and 25 %"), tell("Write it as one, such as 6"))
    if not by.strip() or not why.strip():
        raise Refused(tell("an overruling says who and why"), tell("Give --by and --why"))
    body = OverruleBody(
        on=start, until=end, exercise=found.code, limit=limit, ceiling=ceiling, by=by.strip(), why=why.strip()
    )
    scribe.write([scribe.entry(lifter.person, body)])
    return Overruled(
        lifter=lifter.name,
        exercise=found.name[spoken()],
        limit=limit,
        ceiling=float(ceiling) if ceiling is not None else None,
        on=start.isoformat(),
        until=end.isoformat(),
        by=body.by,
        why=body.why,
    )
