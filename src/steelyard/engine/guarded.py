"""What closed gates make of a line: loads that somebody allows, nothing more than was done, more in reserve."""

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal

from msgspec import structs

from .closed import Closed, Guard
from .equipment import Loadable
from .history import RETURN_FROM_DAYS, Exposure
from .limits import Bounded, EquivalentLimit, Limits, StepCeiling, Wish, bound, stricter_overrules
from .line import Line, Range
from .log import OverruleBody
from .phases import best_equivalent
from .policy import Policy
from .reasons import AnyReason, NoLoadUnderLimit, ReturnIndex
from .sheet import Decision, PlannedSet

# Sets x repetitions x share of 1RM, the first two weeks after a layoff: Caterisano et al. 2019 (the bound from memory).
MOST_INDEX = Decimal(30)


def under_guard(
    overrules: Iterable[OverruleBody], policy: Policy, guard: Guard, on: date
) -> tuple[Policy, Iterable[OverruleBody]]:
    """Settings and overrulings as they count behind closed gates: more in reserve, no beginner's ceilings, and only
    what makes a limit stricter."""
    if not guard.is_closed:
        return policy, overrules
    careful = structs.replace(
        policy,
        target_rir=max(policy.target_rir, guard.least_rir),
        trained_since=None,
        weekly_ceiling=min(policy.weekly_ceiling, policy.weekly_ceiling_beginner),
        twelve_week_ceiling=min(policy.twelve_week_ceiling, policy.twelve_week_ceiling_beginner),
    )
    return careful, stricter_overrules(overrules, careful, on)


def capped(line: Line, guard: Guard) -> Line | None:
    """The line with the loads that its gates leave, or None where nothing so light can be made."""
    caps = [cap for closed in guard.closed if (cap := _cap(line, closed)) is not None]
    if not caps:
        return line
    left = tuple(m for m in line.loadable.magnitudes if m <= min(caps))
    return structs.replace(line, loadable=Loadable(left)) if left else None


def _cap(line: Line, closed: Closed) -> Decimal | None:
    """The heaviest total load (kg) that one gate leaves, if it says one."""
    caps = [line.total_of(_reached(line))] if closed.no_rise else []
    if closed.most_load is not None:
        caps.append(line.total_of(closed.most_load.magnitude))
    if closed.reduces_from is not None:
        before = [load for p in line.past if p.exposure.on <= closed.reduces_from for load in _loads_of(p.exposure)]
        level = line.total_of(before[-1] if before else _reached(line))
        lighter = line.loadable.below(level)
        caps.append(level * (1 - closed.cut) if lighter is None else min(level * (1 - closed.cut), lighter))
    return min(caps, default=None)


def _reached(line: Line) -> Decimal:
    """The added load (kg) of the latest session in which something was lifted: a miss at a new load is no last load."""
    exposure = _last_lifted(line)
    return _loads_of(exposure)[0] if exposure is not None else line.added_of(line.loadable.magnitudes[0])


def _last_lifted(line: Line) -> Exposure | None:
    lifted = [p for p in line.past if _loads_of(p.exposure)]
    now = [p for p in lifted if p.epoch == line.past[-1].epoch] or lifted
    full = [p for p in now if p.phase not in {"deload", "taper"}] or now
    return full[-1].exposure if full else None


def _loads_of(exposure: Exposure) -> tuple[Decimal, ...]:
    """The heaviest added load (kg) that at least half of the sets reached in which anything was lifted, if any was."""
    loads = sorted((s.added for s in exposure.work if s.count), reverse=True)
    return (loads[(len(loads) - 1) // 2],) if loads else ()


def capping(guard: Guard) -> tuple[AnyReason, ...]:
    """Reasons of the gates that say how heavy a load may be."""
    return tuple(c.reason for c in guard.closed if c.no_rise or c.most_load is not None or c.reduces_from is not None)


def leveled(line: Line) -> Limits:
    """The limits of a line that does not rise: a raised reserve asks no more than was shown before."""
    weekly = line.limits.weekly
    level = max(weekly.reference if weekly is not None else 0.0, line.limits.latest_equivalent or 0.0)
    if not line.is_floored or line.exercise.measure != "reps" or level <= 0:
        return line.limits
    return structs.replace(line.limits, level=level)


def clamped(line: Line, limited: Bounded, rise: Bounded | None) -> Bounded:
    """Never more load or repetitions than were done, nor more repetitions than a rise at that load would have had."""
    lifted = _last_lifted(line)
    held = line.held_count if lifted is None else structs.replace(line, latest=lifted).held_count
    total, count = limited.allowed.total, min(limited.allowed.count, max(held, 1))
    if rise is not None and rise.allowed.total == total:
        count = min(count, rise.allowed.count)
    return structs.replace(limited, allowed=structs.replace(limited.allowed, count=count))


def most_sets(line: Line, sets: int) -> int:
    """Sets of a line that may not rise: never more than were ever done."""
    return min(sets, max(len(p.exposure.work) for p in line.past))


def with_least_count(line: Line, limited: Bounded, least: int) -> Bounded:
    """At least so many repetitions, at no higher level: the load comes down."""
    allowed = limited.allowed
    if line.exercise.measure != "reps" or allowed.count >= least:
        return limited
    level = line.yardstick.equivalent_at(allowed.total, allowed.count, allowed.rir) or 0.0
    if level <= 0:
        return limited
    wish = structs.replace(allowed, count=least)
    held_at = EquivalentLimit(code="weekly-limit", reference=level, ceiling=Decimal(0))
    limits = Limits(
        weekly=held_at,
        twelve_weeks=held_at,
        step=StepCeiling(last=wish.total, following=None, ceiling=Decimal(0)),
        body_part=line.limits.body_part,
    )
    again = bound(wish, limits, line.yardstick, line.loadable, least)
    notes = tuple(r for r in again.bound_by if isinstance(r, NoLoadUnderLimit) and r not in limited.bound_by)
    return Bounded(wanted=limited.wanted, allowed=again.allowed, bound_by=(*limited.bound_by, *notes))


def least(line: Line, decision: Decision, others: Sequence[Decision]) -> Decision:
    """The least of several decisions on one line, with the reserve of the first and the fewest sets of any."""
    if not others or decision.course in {"stop", "baseline"}:
        return decision
    others = [d for d in others if d.course not in {"stop", "baseline"}]
    chosen = min((decision, *others), key=_height)
    many = min(sum(s.kind == "work" for s in d.sets) for d in (decision, *others))
    work = [structs.replace(s, target_rir=line.policy.target_rir) for s in chosen.sets if s.kind == "work"][:many]
    if chosen is not decision:
        work = [_within(line, s) for s in work]
    elif len(work) == sum(s.kind == "work" for s in decision.sets):
        return decision
    return structs.replace(chosen, sets=(*(s for s in chosen.sets if s.kind != "work"), *work))


def _height(decision: Decision) -> tuple[Decimal, int]:
    """The heaviest work load and its repetitions (seconds, metres)."""
    work = [s for s in decision.sets if s.kind == "work"]
    return max(((s.load.magnitude if s.load is not None else Decimal(0)), _count(s)) for s in work)


def _count(planned: PlannedSet) -> int:
    return int(planned.reps or planned.seconds or planned.metres or 0)


def _within(line: Line, planned: PlannedSet) -> PlannedSet:
    """A set with as many repetitions as the limits leave at the raised reserve."""
    if planned.reps is None or planned.load is None:
        return planned
    wish = Wish(total=line.total_of(planned.load.magnitude), count=planned.reps, rir=planned.target_rir or 0)
    allowed = bound(wish, line.limits, line.yardstick, line.loadable, 1).allowed
    return structs.replace(planned, reps=allowed.count) if allowed.total == wish.total else planned


def rising(line: Line, least_count: int) -> Line:
    """The line as a scheme may see it: its range begins no lower than a gate allows."""
    if line.exercise.measure != "reps" or line.range.bottom >= least_count:
        return line
    return structs.replace(line, range=Range(least_count, max(line.range.top, least_count)))


def bearing(line: Line, guard: Guard, before: Wish, after: Wish) -> tuple[AnyReason, ...]:
    """Reasons of the gates that bear on this line's numbers."""
    own = line.own_target_rir
    bears = [
        c
        for c in guard.closed
        if c.no_rise
        or c.least_rir > own
        or c.most_load is not None
        or c.reduces_from is not None
        or (c.least_count and (after != before or line.count < c.least_count))
    ]
    return tuple(dict.fromkeys(c.reason for c in bears))


def checked_sets(line: Line, wish: Wish, sets: int) -> tuple[int, tuple[AnyReason, ...]]:
    """Sets of the first two weeks back: fewer where the index of the session's line would pass its bound."""
    normal = [p.exposure for p in line.past if p.phase == "normal" and p.epoch == line.past[-1].epoch]
    level = best_equivalent(normal, line.yardstick)
    if line.exercise.measure != "reps" or not level or not _is_first_fortnight(line):
        return sets, ()
    share = wish.total / Decimal(level)
    most = max(1, int(MOST_INDEX / (wish.count * share))) if share > 0 else sets
    if most >= sets:
        return sets, ()
    wanted = return_index(sets, wish.count, share).quantize(Decimal("0.1"))
    return most, (ReturnIndex(wanted=wanted, most=MOST_INDEX, sets=most, evidence=line.latest.evidence),)


def return_index(sets: int, repetitions: int, share: Decimal) -> Decimal:
    """Sets times repetitions times the share of 1RM: a second check, never the guard of the load."""
    return sets * repetitions * share


def _is_first_fortnight(line: Line) -> bool:
    if line.days_off >= RETURN_FROM_DAYS:
        return True
    spell = line.past[-1].spell
    first = next((p.exposure.on for p in line.past if p.spell == spell and spell), None)
    return first is not None and (line.on - first).days < RETURN_FROM_DAYS
