"""How a lifter writes down what was done: now and then with a slip, and never more than a person would."""

from datetime import date
from decimal import Decimal
from typing import Any

from numpy.random import Generator

from steelyard.engine.effort import Effort
from steelyard.engine.log import CheckInBody, SetBody
from steelyard.engine.quantities import HEAVIEST, KG_PER_LB, Load, plain

# Share of written sets that carry a slip (our judgement, no source).
SLIP_RATE = 0.004
_THOUSANDTH = Decimal("0.001")


class Pen:
    """Writes sets with a generator of its own, so that slips change nothing else."""

    def __init__(self, rng: Generator, slip_rate: float) -> None:
        self._rng = rng
        self._slip_rate = slip_rate

    def set_of(self, on: date, exercise: str, added_kg: float, reps: int, felt: float | None, **more: Any) -> SetBody:
        """One set as it stands in the log: whole repetitions in reserve, no load where the body alone was lifted."""
        slips = self._rng.random() < self._slip_rate
        which = int(self._rng.integers(4))
        kg = plain(Decimal(repr(round(added_kg, 3))).quantize(_THOUSANDTH))
        return SetBody(
            on=on,
            exercise=exercise,
            load=None if not kg else Load(_slipped(kg, which) if slips else kg, "kg"),
            reps=reps,
            effort=None if felt is None else Effort(Decimal(min(10, max(0, round(felt))))),
            **more,
        )


def body_mass(on: date, body_mass_kg: float) -> CheckInBody:
    """A body mass as a scale shows it."""
    return CheckInBody(on=on, body_mass=Load(plain(Decimal(repr(round(body_mass_kg, 1)))), "kg"))


def _slipped(kg: Decimal, which: int) -> Decimal:
    """Ten times, a tenth, pounds where kilograms belong, or the other way; never heavier than can be written."""
    if which == 0 and kg * 10 <= HEAVIEST:
        return plain(kg * 10)
    if which == 2 and kg / KG_PER_LB <= HEAVIEST:
        return plain((kg / KG_PER_LB).quantize(Decimal("0.1")))
    if which == 3:
        return plain((kg * KG_PER_LB).quantize(Decimal("0.1")))
    return plain(kg / 10)
