"""From a bounded wish to sets on a sheet: warm-up, work or ramp, rest, plates per side."""

from decimal import Decimal

from .baseline import ramp_counts, ramp_set
from .equipment import Equipment, plates_per_side
from .exercises import Exercise
from .limits import Wish
from .line import Line
from .policy import Policy
from .quantities import Load
from .sheet import PlannedSet
from .warm_up import REST_S as WARM_UP_REST_S
from .warm_up import warm_ups

HEAVY_UP_TO = 6


def planned_sets(line: Line, wish: Wish, sets: int, equipment: Equipment, is_second: bool) -> tuple[PlannedSet, ...]:
    """Warm-up sets, then the work sets."""
    exercise = line.exercise
    work = _one_set(line, wish.total, wish.count, equipment, "work")
    out = []
    if exercise.is_main and exercise.measure == "reps" and not exercise.body_mass_share:
        for total, count in warm_ups(wish.total, wish.count, line.loadable, is_second):
            out.append(_one_set(line, total, count, equipment, "warm-up"))
    return (*out, *((_with_effort(work, wish.rir, line),) * sets))


def _one_set(line: Line, total: Decimal, count: int, equipment: Equipment, kind: str) -> PlannedSet:
    measure = line.exercise.measure
    load = line.shown(total)
    return PlannedSet(
        kind="warm-up" if kind == "warm-up" else "work",
        load=load,
        reps=count if measure == "reps" else None,
        seconds=count if measure == "seconds" else None,
        metres=Decimal(count) if measure == "metres" else None,
        per_side=line.exercise.per_side,
        rest_interval_s=WARM_UP_REST_S if kind == "warm-up" else None,
        plates_per_side=_plates(line.exercise, load, equipment),
    )


def _plates(exercise: Exercise, load: Load, equipment: Equipment) -> tuple[Load, ...]:
    return (plates_per_side(load, equipment) or ()) if exercise.implement == "barbell" else ()


def _with_effort(work: PlannedSet, rir: int, line: Line) -> PlannedSet:
    return PlannedSet(
        kind="work",
        load=work.load,
        reps=work.reps,
        seconds=work.seconds,
        metres=work.metres,
        per_side=work.per_side,
        rest_interval_s=rest_interval_s(line.exercise, work.reps, line.policy),
        target_rir=rir,
        plates_per_side=work.plates_per_side,
    )


def rest_interval_s(exercise: Exercise, repetitions: int | None, policy: Policy) -> int:
    """Rest between work sets (s)."""
    if exercise.size == "small":
        return policy.rest_small_s
    is_heavy = exercise.is_main and repetitions is not None and repetitions <= HEAVY_UP_TO
    return policy.rest_heavy_s if is_heavy else policy.rest_usual_s


def ramp_sets(exercise: Exercise, loads: list[Load], equipment: Equipment) -> tuple[PlannedSet, ...]:
    """Ramp sets over loads, lightest first."""
    counts = ramp_counts(exercise, len(loads))
    rungs = zip(loads, counts, strict=True)
    return tuple(ramp_set(exercise, load, count, _plates(exercise, load, equipment)) for load, count in rungs)
