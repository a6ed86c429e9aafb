"""How fast a line may rise: the limits as values, and bound(), the one function that applies them."""

from collections.abc import Callable, Iterable
from datetime import date
from decimal import Decimal
from typing import Literal

from msgspec import Struct, structs

from .equipment import Loadable
from .log import OverruleBody
from .phases import Phased, best_equivalent
from .policy import Policy
from .quantities import Load, kg, plain
from .reasons import (
    AnyReason,
    LimitOverruled,
    NoLoadUnderLimit,
    PauseServed,
    RegainLimit,
    SmallestJump,
    SmallestJumpRefused,
    StepLimit,
    TwelveWeekLimit,
    WeeklyLimit,
)
from .yardstick import COUNT_STEP, SLACK, Yardstick

TRAINING_WEEK_DAYS = 7
TWELVE_WEEKS_DAYS = 84
PAUSE_DAYS = 14
EquivalentCode = Literal["weekly-limit", "twelve-week-limit", "regain-limit"]
_REASONS: dict[EquivalentCode, Callable[..., WeeklyLimit | TwelveWeekLimit | RegainLimit]] = {
    "weekly-limit": WeeklyLimit,
    "twelve-week-limit": TwelveWeekLimit,
    "regain-limit": RegainLimit,
}


class Wish(Struct, frozen=True, kw_only=True):
    """What progress asks of one line: total load (kg), count, reserve."""

    total: Decimal
    count: int
    rir: int


class EquivalentLimit(Struct, frozen=True, kw_only=True):
    """The equivalent may rise so far over a reference (kg)."""

    code: EquivalentCode
    reference: float
    ceiling: Decimal
    least_rise: float = 0.0
    after_pause: float = 0.0
    evidence: tuple[str, ...] = ()

    @property
    def allowed(self) -> float:
        """The highest equivalent (kg)."""
        return max(self.plain, self.after_pause)

    @property
    def plain(self) -> float:
        """The highest equivalent (kg) without a pause served."""
        return max(self.reference * (1 + float(self.ceiling)), self.reference + self.least_rise)


class StepCeiling(Struct, frozen=True, kw_only=True):
    """The total load may rise by a share or to the next one that can be made, whichever is more.

    `jump` says of a next load over the ceiling whether it may be taken.
    """

    last: Decimal
    following: Decimal | None
    ceiling: Decimal
    jump: SmallestJump | SmallestJumpRefused | None = None

    def allowed(self, ceiling: Decimal | None = None) -> Decimal:
        """The highest total load (kg), under this or another ceiling."""
        most = self.last * (1 + (self.ceiling if ceiling is None else ceiling))
        if self.following is None or self.following <= most:
            return most
        return self.following if isinstance(self.jump, SmallestJump) else self.last

    def is_jump(self, ceiling: Decimal) -> bool:
        """Whether the next load is over a ceiling."""
        return self.following is not None and self.following > self.last * (1 + ceiling)


class Limits(Struct, frozen=True, kw_only=True):
    """Every limit of one line on one day; a missing one is read as the most cautious: no rise at all.

    `body_part` is the share of the total loads (kg) that is the lifter's own body. `level` is an equivalent (kg) that a
    line may not pass where a gate raised its reserve; the gate's own reason says so.
    """

    weekly: EquivalentLimit | None = None
    twelve_weeks: EquivalentLimit | None = None
    regain: EquivalentLimit | None = None
    step: StepCeiling | None = None
    is_returning: bool = False
    overruled: tuple[OverruleBody, ...] = ()
    latest_equivalent: float | None = None
    latest_total: Decimal | None = None
    body_part: Decimal = Decimal(0)
    level: float = float("inf")
    evidence: tuple[str, ...] = ()


class Bounded(Struct, frozen=True, kw_only=True):
    """What was wanted, what is allowed, and every limit that bound or was set aside."""

    wanted: Wish
    allowed: Wish
    bound_by: tuple[AnyReason, ...]


def bound(wanted: Wish, limits: Limits, yardstick: Yardstick, loadable: Loadable, floor_count: int) -> Bounded:
    """The nearest line to the wish that is above no limit: load first brought under its step, then repetitions down
    to `floor_count`, then load. Nothing skips it; `loadable` holds total loads (kg)."""
    ceilings = _equivalent_ceilings(limits)
    step_total, traces = _step(wanted, limits)
    traces += [trace for limit, overrule in ceilings for trace in _traces(wanted, limit, overrule, yardstick)]
    in_force = [held for limit, overrule in ceilings if (held := _in_force(limit, overrule)) is not None]
    allowed = min((limits.level, *(limit.allowed for limit in in_force)))
    total: Decimal | None = loadable.at_most(min(wanted.total, step_total))
    while total is not None:
        # A line that had to be lightened may go as high as it wished to, never higher.
        count = min(wanted.count, yardstick.most_count(total, allowed, wanted.rir))
        if count >= min(floor_count, wanted.count):
            return _result(wanted, Wish(total=total, count=count, rir=wanted.rir), traces)
        total = loadable.below(total)
    lightest = loadable.magnitudes[0]
    count = max(1, min(wanted.count, yardstick.most_count(lightest, allowed, wanted.rir)))
    traces.append(NoLoadUnderLimit(lightest=_shown(lightest, limits)))
    return _result(wanted, Wish(total=lightest, count=count, rir=wanted.rir), traces)


def _result(wanted: Wish, allowed: Wish, traces: list[AnyReason]) -> Bounded:
    return Bounded(wanted=wanted, allowed=allowed, bound_by=tuple(traces))


def _equivalent_ceilings(limits: Limits) -> list[tuple[EquivalentLimit, OverruleBody | None]]:
    """Every equivalent limit with the overruling that lifts it, if any; a missing one holds at the latest level."""
    held = EquivalentLimit(
        code="weekly-limit", reference=limits.latest_equivalent or 0.0, ceiling=Decimal(0), evidence=limits.evidence
    )
    present = [limits.weekly or held, limits.twelve_weeks or held]
    if limits.is_returning:
        present.append(limits.regain or held)
    return [(limit, _overrule(limits, limit.code)) for limit in present]


def _in_force(limit: EquivalentLimit, overrule: OverruleBody | None) -> EquivalentLimit | None:
    """The limit as a coach left it: as it is, at another ceiling, or off."""
    if overrule is None:
        return limit
    return None if overrule.ceiling is None else _replaced(limit, overrule.ceiling)


def _replaced(limit: EquivalentLimit, ceiling: Decimal) -> EquivalentLimit:
    return structs.replace(limit, ceiling=ceiling, after_pause=0.0)


def _overrule(limits: Limits, code: str) -> OverruleBody | None:
    return next((o for o in reversed(limits.overruled) if o.limit == code), None)


def _traces(
    wanted: Wish, limit: EquivalentLimit, overrule: OverruleBody | None, yardstick: Yardstick
) -> list[AnyReason]:
    """The reason for a limit that the wish is above; a coach's overruling wherever it makes a difference."""
    level = yardstick.equivalent_at(wanted.total, wanted.count, wanted.rir) or 0.0
    in_force = _in_force(limit, overrule)
    is_over = in_force is not None and level > in_force.allowed * (1 + SLACK)
    out: list[AnyReason] = []
    if overrule is not None and (is_over or level > limit.allowed * (1 + SLACK)):
        out.append(overruled_reason(overrule))
    elif not is_over and level > limit.plain * (1 + SLACK):
        out.append(
            PauseServed(
                allowed_kg=tenth(limit.allowed),
                reference_kg=tenth(limit.reference),
                ceiling=limit.ceiling,
                evidence=limit.evidence,
            )
        )
    if in_force is not None and is_over:
        reason = _REASONS[in_force.code]
        out.append(
            reason(
                wanted_kg=tenth(level),
                allowed_kg=tenth(in_force.allowed),
                reference_kg=tenth(in_force.reference),
                ceiling=in_force.ceiling,
                evidence=in_force.evidence,
            )
        )
    return out


def overruled_reason(by: OverruleBody) -> LimitOverruled:
    """The trace of a coach's overruling."""
    return LimitOverruled(limit=by.limit, ceiling=by.ceiling, by=by.by, why=by.why, until=by.until)


def _step(wanted: Wish, limits: Limits) -> tuple[Decimal, list[AnyReason]]:
    """The highest total load that the step ceiling leaves, with its trace."""
    overrule, step = _overrule(limits, "step-limit"), limits.step
    latest = step.last if step is not None else limits.latest_total
    rises = latest is not None and wanted.total > latest
    traces: list[AnyReason] = [overruled_reason(overrule)] if overrule is not None and rises else []
    if overrule is not None and overrule.ceiling is None:
        return wanted.total, traces
    if step is None:
        return latest if latest is not None else Decimal(0), traces
    ceiling = step.ceiling if overrule is None or overrule.ceiling is None else overrule.ceiling
    allowed = step.allowed(ceiling)
    if rises and step.jump is not None and step.is_jump(ceiling):
        traces.append(step.jump)
    elif wanted.total > allowed:
        traces.append(
            StepLimit(
                wanted=_shown(wanted.total, limits),
                allowed=_shown(allowed, limits),
                last=_shown(step.last, limits),
                ceiling=ceiling,
                evidence=limits.evidence,
            )
        )
    return allowed, traces


def tenth(kilograms: float) -> Decimal:
    """Kilograms as they are said of an estimate: to a tenth."""
    return Decimal(f"{kilograms:.1f}")


def weekly_reference(line: tuple[Phased, ...], on: date, training_weeks: int) -> tuple[Phased, ...]:
    """The exposures of the latest weeks of normal training, however old, before this week.

    A week is seven days counted back from the day asked for. Without an earlier one: this week's first day.
    """
    normal = current_normal(line)
    spans = {(on - p.exposure.on).days // TRAINING_WEEK_DAYS for p in normal}
    earlier = sorted(span for span in spans if span >= 1)[:training_weeks]
    if earlier:
        return tuple(p for p in normal if (on - p.exposure.on).days // TRAINING_WEEK_DAYS in earlier)
    return tuple(p for p in normal if p.exposure.on == normal[0].exposure.on)  # none at all where nothing counts


def twelve_week_reference(line: tuple[Phased, ...], on: date, training_weeks: int) -> tuple[Phased, ...]:
    """The exposures of the latest weeks of normal training twelve or more weeks ago; else of the first week."""
    normal = current_normal(line)
    spans = sorted({(on - p.exposure.on).days // TRAINING_WEEK_DAYS for p in normal})
    old = [span for span in spans if span >= TWELVE_WEEKS_DAYS // TRAINING_WEEK_DAYS][:training_weeks]
    if not old and spans and spans[-1] == 0:
        return weekly_reference(line, on, training_weeks)
    if old and (on - normal[0].exposure.on).days >= TWELVE_WEEKS_DAYS + TRAINING_WEEK_DAYS:
        return tuple(p for p in normal if (on - p.exposure.on).days // TRAINING_WEEK_DAYS in old)
    # Counted from its first day, so that it is the same week on whichever day one asks.
    return tuple(p for p in normal if (p.exposure.on - normal[0].exposure.on).days < TRAINING_WEEK_DAYS)


def level_after_pause(line: tuple[Phased, ...], on: date, weekly_ceiling: Decimal, yardstick: Yardstick) -> float:
    """What a line may reach beyond the twelve-week ceiling: a week's share over training two weeks old, so that every
    rise beyond it is followed by a week's hold."""
    old = [p.exposure for p in current_normal(line) if (on - p.exposure.on).days >= PAUSE_DAYS]
    return (best_equivalent(old, yardstick) or 0.0) * (1 + float(weekly_ceiling))


def current_normal(line: tuple[Phased, ...]) -> tuple[Phased, ...]:
    """Normal training since the last new start; without any, whatever there is since then."""
    now = tuple(p for p in line if p.epoch == line[-1].epoch and any(s.count > 0 for s in p.exposure.work))
    return tuple(p for p in now if p.phase == "normal") or now


def equivalent_limit(
    code: EquivalentCode, reference: tuple[Phased, ...], ceiling: Decimal, yardstick: Yardstick
) -> EquivalentLimit | None:
    """A limit over the best of some exposures; None where they hold no countable set."""
    exposures = [p.exposure for p in reference]
    best = best_equivalent(exposures, yardstick)
    if best is None:
        return None
    least_rise = 0.0
    if yardstick.measure != "reps":
        # Holds and carries move by whole steps; one step a week always fits.
        least_rise = max(max(float(s.total), 1.0) for e in exposures for s in e.work) * COUNT_STEP[yardstick.measure]
    return EquivalentLimit(
        code=code,
        reference=best,
        ceiling=ceiling,
        least_rise=least_rise,
        evidence=tuple(i for e in exposures for i in e.evidence)[-6:],
    )


def ceilings(policy: Policy, on: date) -> tuple[Decimal, Decimal]:
    """The weekly and the twelve-week ceiling that hold for this lifter."""
    if policy.is_beginner(on):
        return policy.weekly_ceiling_beginner, policy.twelve_week_ceiling_beginner
    return policy.weekly_ceiling, policy.twelve_week_ceiling


def stricter_overrules(overrules: Iterable[OverruleBody], policy: Policy, on: date) -> tuple[OverruleBody, ...]:
    """The overrulings that only lower a limit, the lowest last: no other counts where a gate is closed."""
    weekly, twelve_weeks = ceilings(policy, on)
    usual = {"weekly-limit": weekly, "twelve-week-limit": twelve_weeks, "step-limit": policy.step_ceiling}
    lower = [o for o in overrules if o.ceiling is not None and o.ceiling < usual[o.limit]]
    return tuple(sorted(lower, key=lambda o: -(o.ceiling or 0)))


def _shown(total: Decimal, limits: Limits) -> Load:
    """A total load as the added load that is put on."""
    return kg(plain(total - limits.body_part))
