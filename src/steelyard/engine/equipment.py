"""What one place can load: the bar and its plates, dumbbells, kettlebells, a stack; and plates per side."""

from bisect import bisect_left, bisect_right
from collections.abc import Callable
from decimal import Decimal
from functools import cache

from msgspec import Struct

from .exercises import Exercise
from .quantities import Load, QuantityRefused, kg


class PlatePair(Struct, frozen=True):
    """So many pairs of one plate."""

    plate: Load
    pairs: int = 1

    def __post_init__(self) -> None:
        if self.plate.magnitude <= 0 or self.pairs < 0:
            raise QuantityRefused(
                "{pairs} pairs of {plate} {unit} cannot be hung on a bar",
                pairs=self.pairs,
                plate=self.plate.value,
                unit=self.plate.unit,
            )


class Steps(Struct, frozen=True):
    """Loads from the lightest to the heaviest by equal steps, as on a rack of dumbbells or a pin stack."""

    lightest: Load
    step: Load
    heaviest: Load

    def __post_init__(self) -> None:
        if self.step.magnitude <= 0 or self.heaviest.magnitude < self.lightest.magnitude:
            lightest, step, heaviest = (f"{x.value} {x.unit}" for x in (self.lightest, self.step, self.heaviest))
            raise QuantityRefused(
                "steps of {step} do not lead from {lightest} up to {heaviest}",
                step=step,
                lightest=lightest,
                heaviest=heaviest,
            )


class Equipment(Struct, frozen=True, kw_only=True):
    """Everything at one place that decides which loads can be made."""

    bar: Load
    plates: tuple[PlatePair, ...]
    dumbbells: tuple[Steps, ...]
    kettlebells: tuple[Steps, ...]
    stack: Steps
    is_assumed: bool = False


# Plates: the disc set of the IPF technical rules (older text, read second-hand); bar 20 kg without collars, same rules.
# Dumbbell, kettlebell and stack steps: common practice, no source; each place says its own.
ASSUMED = Equipment(
    bar=kg(20),
    plates=(PlatePair(kg(25), 4), *(PlatePair(kg(m)) for m in ("20", "15", "10", "5", "2.5", "1.25"))),
    dumbbells=(Steps(kg(1), kg(1), kg(10)), Steps(kg("12.5"), kg("2.5"), kg(60))),
    kettlebells=(Steps(kg(4), kg(4), kg(48)),),
    stack=Steps(kg(5), kg(5), kg(120)),
    is_assumed=True,
)


class Loadable:
    """The loads (kg, exact) that can be made for one exercise, lightest to heaviest."""

    def __init__(self, magnitudes: tuple[Decimal, ...]) -> None:
        self.magnitudes = magnitudes

    def at_most(self, magnitude: Decimal) -> Decimal | None:
        """The heaviest that is not above, or None."""
        place = bisect_right(self.magnitudes, magnitude)
        return self.magnitudes[place - 1] if place else None

    def above(self, magnitude: Decimal) -> Decimal | None:
        """The lightest that is above, or None."""
        place = bisect_right(self.magnitudes, magnitude)
        return self.magnitudes[place] if place < len(self.magnitudes) else None

    def below(self, magnitude: Decimal) -> Decimal | None:
        """The heaviest that is below, or None."""
        place = bisect_left(self.magnitudes, magnitude)
        return self.magnitudes[place - 1] if place else None

    def nearest(self, magnitude: Decimal) -> Decimal:
        """The nearest, the lighter one of two that are equally near."""
        return min(self.magnitudes, key=lambda made: (abs(made - magnitude), made))

    def having(self, magnitude: Decimal) -> "Loadable":
        """The same with one more load that the lifter has shown can be made."""
        return self if magnitude in self.magnitudes else Loadable(tuple(sorted((*self.magnitudes, magnitude))))


def loads_for(exercise: Exercise, equipment: Equipment) -> Loadable:
    """The loads that this equipment makes for an exercise (one dumbbell; added load where body mass counts)."""
    return _MAKERS[exercise.implement](equipment, exercise)


def plates_per_side(total: Load, equipment: Equipment) -> tuple[Load, ...] | None:
    """The plates on each side for a total, largest inside and as few as can be, or None where it cannot be made."""
    rest = total.magnitude - equipment.bar.magnitude
    if rest < 0:
        return None
    found = _side_loads(equipment).get(rest / 2)
    return None if found is None else tuple(sorted(found, key=lambda plate: -plate.magnitude))


@cache
def _side_loads(equipment: Equipment) -> dict[Decimal, tuple[Load, ...]]:
    """For each mass that one side can carry, the fewest plates that make it; of equally few, the larger inside."""
    made: dict[Decimal, tuple[Load, ...]] = {Decimal(0): ()}
    for pair in sorted(equipment.plates, key=lambda p: -p.plate.magnitude):
        for mass, plates in list(made.items()):
            for count in range(1, pair.pairs + 1):
                reached = mass + count * pair.plate.magnitude
                wanted = (*plates, *((pair.plate,) * count))
                if reached not in made or _trouble(wanted) < _trouble(made[reached]):
                    made[reached] = wanted
    return made


def _trouble(plates: tuple[Load, ...]) -> tuple[Decimal | int, ...]:
    return (len(plates), *(-plate.magnitude for plate in plates))


def _bar_loads(equipment: Equipment, _exercise: Exercise) -> Loadable:
    return Loadable(tuple(sorted(equipment.bar.magnitude + 2 * side for side in _side_loads(equipment))))


def _plate_loads(equipment: Equipment, _exercise: Exercise) -> Loadable:
    return Loadable(tuple(sorted(2 * side for side in _side_loads(equipment))))


def _added_loads(equipment: Equipment, _exercise: Exercise) -> Loadable:
    return Loadable(_hung_loads(equipment))


@cache
def _hung_loads(equipment: Equipment) -> tuple[Decimal, ...]:
    """Plates hung one by one, both of every pair, and nothing at all."""
    made = {Decimal(0)}
    for pair in equipment.plates:
        for _ in range(2 * pair.pairs):
            made |= {hung + pair.plate.magnitude for hung in made}
    return tuple(sorted(made))


def _stack_loads(equipment: Equipment, exercise: Exercise) -> Loadable:
    made = _run(equipment.stack)
    return Loadable(tuple(sorted({-m for m in made} | {Decimal(0)}))) if exercise.body_mass_share else Loadable(made)


def _dumbbell_loads(equipment: Equipment, _exercise: Exercise) -> Loadable:
    return Loadable(tuple(sorted({m for run in equipment.dumbbells for m in _run(run)})))


def _kettlebell_loads(equipment: Equipment, _exercise: Exercise) -> Loadable:
    return Loadable(tuple(sorted({m for run in equipment.kettlebells for m in _run(run)})))


def _run(steps: Steps) -> tuple[Decimal, ...]:
    count = int((steps.heaviest.magnitude - steps.lightest.magnitude) / steps.step.magnitude)
    return tuple(steps.lightest.magnitude + n * steps.step.magnitude for n in range(count + 1))


_MAKERS: dict[str, Callable[[Equipment, Exercise], Loadable]] = {
    "barbell": _bar_loads,
    "plate-machine": _plate_loads,
    "body-mass": _added_loads,
    "stack": _stack_loads,
    "dumbbell": _dumbbell_loads,
    "kettlebell": _kettlebell_loads,
}
