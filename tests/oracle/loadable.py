"""Which loads a place can make, reckoned apart from the engine, in exact kilograms."""

from fractions import Fraction
from functools import cache
from itertools import product

from steelyard.engine.equipment import Equipment, Steps
from steelyard.engine.exercises import Exercise


def loads(exercise: Exercise, equipment: Equipment) -> list[Fraction]:
    """Every load that can be made for an exercise, lightest to heaviest (kg; one dumbbell; added load)."""
    return _loads(exercise.implement, bool(exercise.body_mass_share), equipment)


@cache
def _loads(implement: str, moves_body: bool, equipment: Equipment) -> list[Fraction]:
    if implement == "barbell":
        return sorted(Fraction(equipment.bar.magnitude) + 2 * side for side in _sums(equipment, in_pairs=True))
    if implement == "plate-machine":
        return sorted(2 * side for side in _sums(equipment, in_pairs=True))
    if implement == "body-mass":
        return sorted(_sums(equipment, in_pairs=False))
    if implement == "stack":
        run = _run(equipment.stack)
        return sorted([*(-m for m in run), Fraction(0)]) if moves_body else sorted(run)
    runs = equipment.dumbbells if implement == "dumbbell" else equipment.kettlebells
    return sorted({m for run in runs for m in _run(run)})


def _sums(equipment: Equipment, *, in_pairs: bool) -> set[Fraction]:
    """What one side of a bar can carry; hung from the lifter, both plates of every pair one by one."""
    plates = [Fraction(p.plate.magnitude) for p in equipment.plates]
    counts = [range((p.pairs if in_pairs else 2 * p.pairs) + 1) for p in equipment.plates]
    return {sum((n * m for n, m in zip(take, plates, strict=True)), Fraction(0)) for take in product(*counts)}


def _run(steps: Steps) -> set[Fraction]:
    made, load = set(), Fraction(steps.lightest.magnitude)
    while load <= Fraction(steps.heaviest.magnitude):
        made.add(load)
        load += Fraction(steps.step.magnitude)
    return made
