"""From a line to a decision: gates, lever, limits, rounding, warm-up, each leaving its reason."""

from collections.abc import Sequence
from decimal import Decimal

from msgspec import structs

from .baseline import ramp_totals
from .closed import LIGHT_RIR, LIGHT_RUNGS, OPEN, Guard
from .deload import deload_proposal
from .equipment import Equipment, Loadable
from .exercises import Exercise
from .gates import GATES
from .gates.line_gates import kept
from .guarded import (
    bearing,
    capped,
    capping,
    checked_sets,
    clamped,
    least,
    leveled,
    most_sets,
    rising,
    with_least_count,
)
from .history import BASELINE_FROM_DAYS, BodyMass, LineKey
from .limits import Bounded, Wish, bound
from .line import Line, totals
from .planned import planned_sets, ramp_sets
from .policy import Policy
from .proposal import Proposal
from .quantities import Load, kg, plain
from .reasons import (
    AnyReason,
    BaselineAfterClearance,
    BaselineAfterLayoff,
    BaselineRamp,
    BodyMassAssumed,
    DensityNever,
    EquipmentAssumed,
    LimitsEase,
    LimitsHold,
    OwnRange,
    RangeNotFull,
    Regain,
    RoundedDown,
    SchemeHolds,
    SetsLater,
)
from .schemes import SCHEMES
from .sheet import Considered, Course, Decision, DoneSet, Lever, PlannedSet, PreviousLine

ROUNDING_NOTED = Decimal("0.001")


def prescribe(
    line: Line,
    equipment: Equipment,
    *,
    guard: Guard = OPEN,
    otherwise: Sequence[Line] = (),
    deload_sets: int | None = None,
    is_second_of_pattern: bool = False,
) -> Decision:
    """The decision on one line; `otherwise` is the same line as it would be read with less in reserve, or more history.

    What a gate makes of a line never asks for more than it would have been, so the least of these decisions holds.
    """
    decision, *others = (
        _decide(one, equipment, guard, deload_sets, is_second_of_pattern) for one in (line, *otherwise)
    )
    return least(line, decision, others)


def _decide(
    line: Line, equipment: Equipment, guard: Guard, deload_sets: int | None, is_second_of_pattern: bool
) -> Decision:
    """The first gate that speaks, else the scheme; then the limits, then what can be made."""
    allowed = capped(line, guard)
    if guard.stopping or allowed is None:
        return _stopped(line, guard.stopping or capping(guard))
    line, loads = allowed, line.loadable
    gate = next((p for p in (gate(line) for gate in GATES) if p is not None), None)
    if gate is not None and gate.course == "stop":
        return _stopped(line, gate.reasons)
    if line.days_off >= BASELINE_FROM_DAYS or line.is_new_start:
        return _baseline_again(line, equipment, guard)
    if deload_sets is not None and (gate is None or gate.course in {"hold", "repeat"}):
        gate = deload_proposal(line, deload_sets)
    chosen, limited, considered = _chosen(line, guard, gate)
    counted = with_least_count(line, limited, guard.least_count)
    most = most_sets(line, chosen.sets) if guard.holding else chosen.sets
    sets, index = checked_sets(line, counted.allowed, most)
    is_made = loads.at_most(chosen.total) == line.loadable.at_most(chosen.total)
    rounding = _rounding(line, chosen, limited) if is_made else []  # what a gate takes away could be made
    bears = [r for r in bearing(line, guard, limited.allowed, counted.allowed) if r not in chosen.reasons]
    reasons = [*chosen.reasons, *bears, *counted.bound_by, *rounding, *index]
    if chosen.course not in {"return", "deload"}:
        reasons.insert(1, _own_range(line))
    return Decision(
        exercise=line.exercise.code,
        implement=line.key[1] or None,
        course=_course(line, chosen, counted),
        lever=chosen.lever,
        sets=planned_sets(line, counted.allowed, sets, equipment, is_second_of_pattern),
        previous=previous_line(line),
        limit_load=_limit_load(line, counted.allowed),
        steps_around=_steps_around(line, counted.allowed.total),
        reasons=(*reasons, *_cautions(line, equipment)),
        considered=(*considered, *_other_levers(line, chosen.lever)),
    )


def _chosen(line: Line, guard: Guard, gate: Proposal | None) -> tuple[Proposal, Bounded, list[Considered]]:
    """What is asked for, what the limits leave of it, and what was refused on the way."""
    is_low = line.exercise.measure == "reps" and line.count < guard.least_count
    holding = guard.holding or (guard.holding_low if gate is None and is_low else ())
    if not holding:
        if gate is not None:
            return gate, _bounded(line, gate), _refused_by_gate(line, gate)
        return _rise(rising(line, guard.least_count))
    rise = None
    if gate is None or isinstance(gate.reasons[0], Regain):
        rise = _rise(rising(line, guard.least_count))[1] if gate is None else None
        gate = structs.replace(kept(line, holding[0]), reasons=holding)
    return gate, clamped(line, _bounded(line, gate), rise), _refused_by_gate(line, gate)


def baseline(
    exercise: Exercise,
    key: LineKey,
    equipment: Equipment,
    body_mass: BodyMass,
    policy: Policy,
    guard: Guard = OPEN,
) -> Decision:
    """The decision on an exercise that was never done: ramp sets, fewer and lighter behind a closed gate."""
    loadable = totals(exercise, equipment, body_mass.on_or_assumed(), None)
    base = exercise.body_mass_share * body_mass.on_or_assumed()
    most = guard.most_added
    if most is not None:
        loadable = Loadable(tuple(m for m in loadable.magnitudes if m - base <= most))
    if guard.stopping or not loadable.magnitudes:
        return left_out(key, guard.stopping or capping(guard))
    rungs = ramp_totals(exercise, loadable, None)
    cautions: list[AnyReason] = [EquipmentAssumed()] if equipment.is_assumed else []
    loads = [kg(plain(total - base)) for total in rungs]
    return Decision(
        exercise=exercise.code,
        implement=key[1] or None,
        course="baseline",
        sets=_ramp(exercise, loads, equipment, guard),
        reasons=(BaselineRamp(), *(c.reason for c in guard.closed if c.is_effective), *cautions),
    )


def left_out(key: LineKey, reasons: tuple[AnyReason, ...]) -> Decision:
    """A line without any number, and why."""
    return Decision(exercise=key[0], implement=key[1] or None, course="stop", sets=(), reasons=reasons)


def _ramp(exercise: Exercise, loads: list[Load], equipment: Equipment, guard: Guard) -> tuple[PlannedSet, ...]:
    """Ramp sets; behind a closed gate only the lightest few, and ended earlier."""
    floor, planned = guard.least_rir, ramp_sets(exercise, loads, equipment)
    if guard.is_light_start:
        planned, floor = planned[:LIGHT_RUNGS], max(floor, LIGHT_RIR)
    return tuple(structs.replace(s, target_rir=max(s.target_rir or 0, floor)) for s in planned)


def _baseline_again(line: Line, equipment: Equipment, guard: Guard) -> Decision:
    """A new baseline after a long layoff, or since a clinician cleared training."""
    cap = line.total * (1 - line.policy.return_cut_long)
    rungs = ramp_totals(line.exercise, line.loadable, cap)
    reason: AnyReason = BaselineAfterLayoff(days=line.days_off, cap=line.shown(cap), evidence=line.latest.evidence)
    if line.days_off < BASELINE_FROM_DAYS:
        reason = BaselineAfterClearance(cap=line.shown(cap), evidence=line.latest.evidence)
    return Decision(
        exercise=line.exercise.code,
        implement=line.key[1] or None,
        course="baseline",
        sets=_ramp(line.exercise, [line.shown(total) for total in rungs], equipment, guard),
        previous=previous_line(line),
        reasons=(reason, *(c.reason for c in guard.closed if c.is_effective), *_cautions(line, equipment)),
    )


def _stopped(line: Line, reasons: tuple[AnyReason, ...]) -> Decision:
    return structs.replace(
        left_out(line.key, reasons),
        previous=previous_line(line),
        considered=tuple(Considered(lever=lever, reason=reasons[0]) for lever in ("reps", "load")),
    )


def _bounded(line: Line, proposal: Proposal) -> Bounded:
    wish = Wish(total=proposal.total, count=proposal.count, rir=proposal.rir)
    limits = line.limits if proposal.course == "rise" else leveled(line)
    return bound(wish, limits, line.yardstick, line.loadable, line.range.bottom)


def _rise(line: Line) -> tuple[Proposal, Bounded, list[Considered]]:
    """The first proposal of the scheme that is still a rise under the limits, or a hold with what stood in the way."""
    refused: list[Considered] = []
    in_the_way: list[AnyReason] = []
    scheme = SCHEMES.get(line.policy.scheme)  # a log from a version with more schemes: nothing rises
    for proposal in scheme.propose(line) if scheme is not None else ():
        limited = _bounded(line, proposal)
        if _is_rise(line, proposal, limited.allowed):
            return proposal, limited, refused
        in_the_way += limited.bound_by
        if proposal.lever is not None and limited.bound_by:
            refused.append(Considered(lever=proposal.lever, reason=limited.bound_by[0]))
    return *_held(line, in_the_way), refused


def _held(line: Line, in_the_way: list[AnyReason]) -> tuple[Proposal, Bounded]:
    """The same line again, or as much of it as the limits leave, with what keeps it from rising."""
    evidence = line.latest.evidence
    hold = Proposal(
        course="hold",
        total=line.total,
        count=line.held_count,
        sets=line.usual_sets,
        rir=line.policy.target_rir,
        reasons=(SchemeHolds(scheme=line.policy.scheme, evidence=evidence),),
    )
    limited = _bounded(line, hold)
    made = line.loadable.at_most(line.total)
    if limited.allowed.count < hold.count or (made is not None and limited.allowed.total < made):
        return structs.replace(hold, reasons=(LimitsEase(evidence=evidence),)), limited
    if limited.allowed.total < line.total:
        return structs.replace(hold, reasons=()), limited  # only what can be made here lowers it: rounding says so
    if in_the_way:
        hold = structs.replace(hold, reasons=(LimitsHold(evidence=evidence), *dict.fromkeys(in_the_way)))
    return hold, limited


def _is_rise(line: Line, proposal: Proposal, allowed: Wish) -> bool:
    """Whether what the limits leave of a proposal is more than the latest line; never past the policy's repetitions."""
    if line.exercise.measure == "reps" and allowed.count > line.policy.most_repetitions:
        return False
    if proposal.lever == "load":
        return allowed.total > line.total and allowed.count >= min(line.range.bottom, proposal.count)
    return allowed.total >= line.total and allowed.count > line.count


def _course(line: Line, chosen: Proposal, limited: Bounded) -> Course:
    """A hold that the limits had to lower is an ease."""
    lowered = limited.allowed.total < line.total or limited.allowed.count < min(line.count, limited.wanted.count)
    return "ease" if chosen.course in {"hold", "repeat"} and lowered else chosen.course


def _own_range(line: Line) -> OwnRange:
    return OwnRange(bottom=line.range.bottom, top=line.range.top, sets=line.usual_sets)


def _rounding(line: Line, chosen: Proposal, limited: Bounded) -> list[AnyReason]:
    """The reason for a load that nothing here makes; limits that lowered the load have their own."""
    made = line.loadable.at_most(chosen.total)
    if made is None or limited.allowed.total != made or abs(made - chosen.total) < ROUNDING_NOTED:
        return []
    return [RoundedDown(wanted=kg(plain(line.added_of(chosen.total).quantize(Decimal("0.01")))), made=line.shown(made))]


def _refused_by_gate(line: Line, gate: Proposal) -> list[Considered]:
    levers: tuple[Lever, ...] = ("reps", "load")
    return [Considered(lever=lever, reason=gate.reasons[0]) for lever in levers]


def _other_levers(line: Line, taken: Lever | None) -> list[Considered]:
    """What was not tried, and why: one kind of change at a time, repetitions and load first."""
    return [
        *([Considered(lever="load", reason=RangeNotFull(top=line.range.top))] if taken == "reps" else []),
        Considered(lever="sets", reason=SetsLater()),
        Considered(lever="frequency", reason=SetsLater()),
        Considered(lever="density", reason=DensityNever()),
    ]


def _cautions(line: Line, equipment: Equipment) -> list[AnyReason]:
    out: list[AnyReason] = []
    if equipment.is_assumed:
        out.append(EquipmentAssumed())
    if line.latest.is_body_mass_assumed:
        out.append(BodyMassAssumed(assumed=kg(plain(line.policy.assumed_body_mass_kg))))
    return out


def previous_line(line: Line) -> PreviousLine:
    """The latest session of the exercise, as it was done."""
    latest = line.past[-1].exposure
    return PreviousLine(
        on=latest.on, sets=tuple(DoneSet(load=kg(plain(s.added)), count=s.count, rir=s.rir) for s in latest.work)
    )


def _limit_load(line: Line, allowed: Wish) -> Load | None:
    """The heaviest added load that today's repetitions may have under the limits, for the beam."""
    heaviest = line.loadable.magnitudes[-1]
    wish = Wish(total=heaviest, count=allowed.count, rir=allowed.rir)
    top = bound(wish, line.limits, line.yardstick, line.loadable, allowed.count).allowed
    return line.shown(max(top.total, allowed.total)) if top.count >= allowed.count else None


def _steps_around(line: Line, total: Decimal) -> tuple[Load, ...]:
    """The added loads that can be made near today's, for the beam's marks."""
    return tuple(line.shown(m) for m in _window(line.loadable, min(total, line.total), max(total, line.total)))


def _window(loadable: Loadable, low: Decimal, high: Decimal) -> list[Decimal]:
    made = list(loadable.magnitudes)
    inside = [i for i, m in enumerate(made) if low <= m <= high] or [0]
    return made[max(inside[0] - 4, 0) : inside[-1] + 6]
