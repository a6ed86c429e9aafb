"""Ramp sets that find a baseline where there is no history, or none that still holds.

Common practice, no source: light sets upward, ended by the first sign of effort or of changing technique.
"""

from decimal import Decimal

from .equipment import Loadable
from .exercises import Exercise
from .quantities import Load
from .sheet import PlannedSet

RUNGS = 6
RAMP_RIR = 3
RAMP_COUNT = {"reps": 5, "seconds": 20, "metres": 20}
REST_S = 120
# A hold or a carry with body mass alone climbs by its length.
COUNT_RUNGS = {"seconds": (20, 30, 45, 60), "metres": (10, 20, 30, 40)}
# Kilograms between rungs, upper and lower body.
_SPACING = {
    "barbell": (Decimal(10), Decimal(20)),
    "plate-machine": (Decimal(20), Decimal(20)),
    "stack": (Decimal(10), Decimal(10)),
    "dumbbell": (Decimal(4), Decimal(4)),
    "kettlebell": (Decimal(4), Decimal(4)),
    "body-mass": (Decimal(5), Decimal(5)),
}
_START = {"dumbbell": Decimal(4), "stack": Decimal(10)}
# Shares of the old load after nine weeks or more; none is above the cut of a long layoff.
AFTER_LAYOFF = (Decimal("0.4"), Decimal("0.6"), Decimal("0.7"), Decimal("0.8"))


def ramp_counts(exercise: Exercise, rungs: int) -> tuple[int, ...]:
    """Repetitions, seconds or metres of each rung."""
    if exercise.implement == "body-mass" and exercise.measure in COUNT_RUNGS:
        return COUNT_RUNGS[exercise.measure]
    return (RAMP_COUNT[exercise.measure],) * rungs


def ramp_totals(exercise: Exercise, loadable: Loadable, cap: Decimal | None) -> tuple[Decimal, ...]:
    """Total loads (kg) of the rungs, lightest first; under a cap where an old load is known."""
    if exercise.implement == "body-mass" and exercise.measure in COUNT_RUNGS:
        return loadable.magnitudes[:1] * len(COUNT_RUNGS[exercise.measure])
    if cap is not None:
        wanted = [cap / AFTER_LAYOFF[-1] * share for share in AFTER_LAYOFF]
    else:
        step = _SPACING[exercise.implement][exercise.region == "lower"]
        start = max(loadable.magnitudes[0], _START.get(exercise.implement, loadable.magnitudes[0]))
        wanted = [start + n * step for n in range(RUNGS)]
    made = [loadable.at_most(w) for w in wanted]
    rungs = sorted({m for m in made if m is not None and (cap is None or m <= cap)})
    return tuple(rungs) or loadable.magnitudes[:1]


def ramp_set(exercise: Exercise, load: Load, count: int, plates: tuple[Load, ...]) -> PlannedSet:
    """One rung."""
    return PlannedSet(
        kind="ramp",
        load=load,
        reps=count if exercise.measure == "reps" else None,
        seconds=count if exercise.measure == "seconds" else None,
        metres=Decimal(count) if exercise.measure == "metres" else None,
        per_side=exercise.per_side,
        rest_interval_s=REST_S,
        target_rir=RAMP_RIR,
        plates_per_side=plates,
    )
