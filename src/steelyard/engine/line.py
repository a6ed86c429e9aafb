"""Where one line stands: its latest session, its range, its usual sets, its limits."""

from collections import Counter
from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from msgspec import Struct, structs

from .equipment import Equipment, Loadable, loads_for
from .exercises import Exercise
from .formulas import EQUATIONS, repetitions_at
from .history import BodyMass, Exposure, LineKey, total_load
from .limits import (
    Limits,
    StepCeiling,
    ceilings,
    equivalent_limit,
    level_after_pause,
    twelve_week_reference,
    weekly_reference,
)
from .log import OverruleBody
from .marks import is_in_marks, marks_for
from .phases import Absences, Phased, begins_anew, best_equivalent, days_off, phased
from .policy import Policy
from .quantities import Load, kg, plain
from .reasons import SmallestJump, SmallestJumpRefused
from .yardstick import COUNT_STEP, Yardstick

# Ranges that lines are trained in: common practice, no source.
RANGES = {
    "reps": ((1, 3), (3, 5), (5, 8), (8, 12), (12, 20), (20, 30)),
    "seconds": ((10, 30), (20, 60), (60, 180)),
    "metres": ((10, 30), (20, 60), (60, 200)),
}
USUAL_SETS = {"main": 3, "accessory": 2}  # until the log shows other: common practice, no source
LOOK_BACK = 6


class Range(Struct, frozen=True):
    """From how many repetitions (seconds, metres) to how many a line is trained."""

    bottom: int
    top: int


class Line(Struct, frozen=True, kw_only=True):
    """One exercise of one lifter on one day, ready for the rules."""

    exercise: Exercise
    key: LineKey
    on: date
    past: tuple[Phased, ...]
    latest: Exposure
    latest_phase: str
    days_off: int
    range: Range
    usual_sets: int
    yardstick: Yardstick
    loadable: Loadable
    body_mass_kg: Decimal
    limits: Limits
    policy: Policy
    own_target_rir: int
    is_new_start: bool = False

    @property
    def is_floored(self) -> bool:
        """Whether a gate asks for more in reserve than the coach's settings do."""
        return self.policy.target_rir > self.own_target_rir

    @property
    def load(self) -> Decimal:
        """Added load (kg) of the latest line."""
        return self.latest.line_load

    @property
    def total(self) -> Decimal:
        """Total load (kg) of the latest line, body mass as of today."""
        return self.total_of(self.latest.line_load)

    @property
    def count(self) -> int:
        """What every set of the latest line reached."""
        return self.latest.counts[-1]

    @property
    def held_count(self) -> int:
        """What the same again means: what every set reached, but no more than one step under what half of them did.

        One set that fell off far is no reason to ask that little of all.
        """
        return max(self.count, self.latest.counts[len(self.latest.counts) // 2] - self.step)

    @property
    def next_total(self) -> Decimal | None:
        """The total load (kg) after this one: the policy's step as far as it can be made, or one loadable step."""
        step = self.policy.step_upper_kg if self.exercise.region == "upper" else self.policy.step_lower_kg
        reached = self.loadable.at_most(self.total + step)
        return reached if reached is not None and reached > self.total else self.loadable.above(self.total)

    @property
    def step(self) -> int:
        """How far the count moves at once."""
        return COUNT_STEP[self.exercise.measure]

    def total_of(self, added: Decimal) -> Decimal:
        """Total load (kg) for an added one."""
        return total_load(self.exercise, added, self.body_mass_kg)

    def added_of(self, total: Decimal) -> Decimal:
        """Added load (kg) for a total one."""
        return total - total_load(self.exercise, Decimal(0), self.body_mass_kg)

    def shown(self, total: Decimal) -> Load:
        """A total load as the added load that is put on."""
        return kg(plain(self.added_of(total)))


def read_line(
    exercise: Exercise,
    key: LineKey,
    exposures: tuple[Exposure, ...],
    *,
    on: date,
    absences: Absences,
    deloads: frozenset[tuple[date, int]],
    equipment: Equipment,
    body_mass: BodyMass,
    overrules: Iterable[OverruleBody],
    policy: Policy,
    own_target_rir: int | None = None,
    new_starts: tuple[date, ...] = (),
) -> Line:
    """The line of an exercise that was done at least once.

    Where a gate raised the policy's target, `own_target_rir` is what it was: sets without a reported reserve count so.
    """
    own = policy.target_rir if own_target_rir is None else own_target_rir
    yardstick = Yardstick(
        equation=EQUATIONS[policy.equation], measure=exercise.measure, target_rir=policy.target_rir, unsaid_rir=own
    )
    past = phased(exposures, yardstick, absences, deloads, new_starts)
    now = [p for p in past if p.epoch == past[-1].epoch]
    standing = [p for p in now if p.phase not in {"deload", "taper"}] or now
    latest = standing[-1]
    trained = [p.exposure for p in past if p.epoch == past[-1].epoch and p.phase == "normal"][-LOOK_BACK:]
    recent = tuple(trained) or (latest.exposure,)
    span = own_range(recent, exercise.measure)
    mass = body_mass.on(on)
    loadable = totals(exercise, equipment, mass, latest.exposure.line_load)
    if is_in_marks(latest.exposure):
        loadable = marks_for(work.total for e in exposures for work in e.work if work.is_mark)
    active = tuple(o for o in overrules if o.exercise == exercise.code and o.on <= on < o.until)
    return Line(
        exercise=exercise,
        key=key,
        on=on,
        past=past,
        latest=latest.exposure,
        latest_phase=latest.phase,
        days_off=days_off(exposures, on, absences),
        range=span,
        usual_sets=usual_sets(recent, exercise),
        yardstick=yardstick,
        loadable=loadable,
        body_mass_kg=mass,
        limits=_limits(exercise, past, latest, span, loadable, mass, yardstick, active, policy, on),
        policy=policy,
        own_target_rir=own,
        is_new_start=begins_anew(exposures[-1].on, on, new_starts),
    )


def totals(exercise: Exercise, equipment: Equipment, body_mass_kg: Decimal, lifted: Decimal | None) -> Loadable:
    """Total loads (kg) that can be made; where equipment is only assumed, a load that was lifted counts too."""
    made = loads_for(exercise, equipment)
    if lifted is not None and (equipment.is_assumed or not made.magnitudes):
        made = made.having(lifted)
    return Loadable(tuple(total_load(exercise, m, body_mass_kg) for m in made.magnitudes))


def own_range(exposures: tuple[Exposure, ...], measure: str) -> Range:
    """The range that the work sets lie in best: below it counts in full, above it by half; of equals the higher."""
    counts = [c for e in exposures for c in e.counts if c > 0]

    def misfit(span: tuple[int, int]) -> tuple[float, int]:
        low, high = span
        return sum(max(low - c, 0) + max(c - high, 0) / 2 for c in counts), -low

    return Range(*min(RANGES[measure], key=misfit)) if counts else Range(*RANGES[measure][-3])


def usual_sets(exposures: tuple[Exposure, ...], exercise: Exercise) -> int:
    """How many work sets the line usually has, the smaller of equals; a ramp alone says nothing of it."""
    counts = Counter(len(e.work) for e in exposures if not e.is_ramp)
    return max(counts, key=lambda n: (counts[n], -n)) if counts else USUAL_SETS[exercise.role]


def _limits(
    exercise: Exercise,
    past: tuple[Phased, ...],
    latest: Phased,
    span: Range,
    loadable: Loadable,
    body_mass_kg: Decimal,
    yardstick: Yardstick,
    overruled: tuple[OverruleBody, ...],
    policy: Policy,
    on: date,
) -> Limits:
    weekly_ceiling, twelve_ceiling = ceilings(policy, on)
    weeks = policy.reference_training_weeks
    is_returning = latest.phase == "return" or past[-1].spell > 0
    body_part = total_load(exercise, Decimal(0), body_mass_kg)
    total = latest.exposure.line_load + body_part
    twelve_weeks = equivalent_limit(
        "twelve-week-limit", twelve_week_reference(past, on, weeks), twelve_ceiling, yardstick
    )
    if twelve_weeks is not None:
        reach = level_after_pause(past, on, weekly_ceiling, yardstick)
        twelve_weeks = structs.replace(twelve_weeks, after_pause=reach)
    return Limits(
        weekly=equivalent_limit("weekly-limit", weekly_reference(past, on, weeks), weekly_ceiling, yardstick),
        twelve_weeks=twelve_weeks,
        regain=equivalent_limit("regain-limit", regain_reference(past, latest, on), policy.regain_ceiling, yardstick)
        if is_returning
        else None,
        step=_step_ceiling(latest.exposure, total, body_part, span, loadable, yardstick, policy),
        is_returning=is_returning,
        overruled=overruled,
        latest_equivalent=best_equivalent((latest.exposure,), yardstick),
        latest_total=total,
        body_part=body_part,
        evidence=latest.exposure.evidence,
    )


def regain_reference(past: tuple[Phased, ...], latest: Phased, on: date) -> tuple[Phased, ...]:
    """The sessions of the return that are a week old, deloads with them; else its first one."""
    now = past[-1].spell or latest.spell
    back = tuple(p for p in past if p.spell == now and (now or p.phase == "return"))
    old = tuple(p for p in back if (on - p.exposure.on).days >= 7)
    return old or back[:1]


def _step_ceiling(
    latest: Exposure,
    total: Decimal,
    body_part: Decimal,
    span: Range,
    loadable: Loadable,
    yardstick: Yardstick,
    policy: Policy,
) -> StepCeiling:
    """One loadable step or the ceiling, whichever is more; a step over the ceiling only where it is in reach."""
    following = loadable.above(total)
    if following is None or total <= 0:
        return StepCeiling(last=total, following=following, ceiling=policy.step_ceiling)
    predicted = predicted_count(latest, total, following, yardstick)
    sound = latest.technique not in {"rough", "broke"} and latest.pain is None and not latest.missed
    jump = SmallestJump if sound and predicted >= span.bottom else SmallestJumpRefused
    taken = jump(
        load=kg(plain(total - body_part)),
        next_load=kg(plain(following - body_part)),
        rise=((following - total) / total).quantize(Decimal("0.001")),
        predicted=predicted,
        bottom=span.bottom,
        evidence=latest.evidence,
    )
    return StepCeiling(last=total, following=following, ceiling=policy.step_ceiling, jump=taken)


def predicted_count(latest: Exposure, total: Decimal, following: Decimal, yardstick: Yardstick) -> int:
    """Repetitions at the target effort that the weakest set of a line predicts for another total load (kg)."""
    # Each set by its own load, at the body mass of today; a lighter back-off set is no proof for the line's load.
    level = min(
        yardstick.equivalent(total - latest.line_load + s.added, s.count, s.rir) or 0.0 for s in latest.line_sets
    )
    if yardstick.measure != "reps":
        return int(level / float(following or 1) + 1e-9)
    possible = repetitions_at(yardstick.equation, float(following), level) if following > 0 else 0.0
    return max(0, int(possible + 1e-9) - yardstick.target_rir)
