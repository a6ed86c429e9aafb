"""Loads as they were typed, compared as exact decimals."""

from decimal import Context, Decimal, Inexact, InvalidOperation
from typing import Literal

from msgspec import Struct

from .refused import ValueRefused

Unit = Literal["kg", "lb", "mark"]

# International pound, exact by definition (1959).
KG_PER_LB = Decimal("0.45359237")
# Twelve typed digits times the eight of the pound times the few of a ceiling are at most 28, the digits of plain
# arithmetic; those times the pound stay exact within forty, and a rounding would raise, never pass.
_EXACT = Context(prec=40, traps=[Inexact, InvalidOperation])
_DISPLAY = Context(prec=28)
MOST_DIGITS = 28
HEAVIEST = Decimal(2000)


class QuantityRefused(ValueRefused):
    """A number that cannot be a load."""


class Load(Struct, frozen=True):
    """What was typed: a mass in kg or lb, or a mark on one machine's own scale."""

    value: Decimal
    unit: Unit = "kg"

    def __post_init__(self) -> None:
        if not self.value.is_finite():
            raise QuantityRefused(
                "{value} is not a number of {unit}; write one such as 62.5", value=self.value, unit=self.unit
            )
        if abs(self.value) > HEAVIEST:
            raise QuantityRefused(
                "{value} {unit} is more than {most}; check the decimal mark",
                value=self.value,
                unit=self.unit,
                most=HEAVIEST,
            )
        if len(self.value.as_tuple().digits) > MOST_DIGITS or int(self.value.as_tuple().exponent) < -MOST_DIGITS:
            raise QuantityRefused("{value} has more than {most} digits; round it", value=self.value, most=MOST_DIGITS)

    @property
    def magnitude(self) -> Decimal:
        """Exact kilograms of a mass; the bare number of a mark, which means something on its own machine only."""
        return _EXACT.multiply(self.value, KG_PER_LB) if self.unit == "lb" else self.value


def kg(value: str | int | Decimal) -> Load:
    """A load of so many kilograms."""
    return Load(Decimal(value), "kg")


def lb(value: str | int | Decimal) -> Load:
    """A load of so many pounds."""
    return Load(Decimal(value), "lb")


def shown_in(magnitude_kg: Decimal, unit: Unit, places: str = "0.01") -> Decimal:
    """A mass (kg) in the unit asked for, rounded for showing only."""
    value = _DISPLAY.divide(magnitude_kg, KG_PER_LB) if unit == "lb" else magnitude_kg
    return plain(value.quantize(Decimal(places)))


def plain(value: Decimal) -> Decimal:
    """The same number without trailing zeros or exponent."""
    stripped = value.normalize(_DISPLAY) or Decimal(0)  # a rounded -0.001 is 0, not -0
    return stripped if int(stripped.as_tuple().exponent) <= 0 else stripped.quantize(Decimal(1))
