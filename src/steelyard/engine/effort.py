"""Repetitions in reserve, also when effort was given as RPE."""

from decimal import Decimal
from typing import Literal

from msgspec import Struct

from .refused import ValueRefused

# Zourdos et al. 2016, J Strength Cond Res 30(1):267-275: RPE 10 = 0 in reserve, 9 = 1, and so on.
# The half points are from memory; each is read as its smaller reserve, which never raises a load.
_RIR_OF_RPE = {
    Decimal("10"): Decimal(0),
    Decimal("9.5"): Decimal(0),
    Decimal("9"): Decimal(1),
    Decimal("8.5"): Decimal(1),
    Decimal("8"): Decimal(2),
    Decimal("7.5"): Decimal(2),
    Decimal("7"): Decimal(3),
    Decimal("6"): Decimal(4),
    Decimal("5"): Decimal(4),
}
MOST_RIR = Decimal(10)


class EffortRefused(ValueRefused):
    """An effort that the scale cannot hold."""


class Effort(Struct, frozen=True):
    """Effort of one set as it was given: repetitions in reserve, or RPE 5-10."""

    value: Decimal
    scale: Literal["rir", "rpe"] = "rir"

    def __post_init__(self) -> None:
        if self.scale == "rpe" and self.value not in _RIR_OF_RPE:
            raise EffortRefused(
                "RPE {value} is not 5, 6, 7, 7.5 ... 10; lighter effort says nothing of reserve", value=self.value
            )
        if self.scale == "rir" and not (self.value.is_finite() and 0 <= self.value <= MOST_RIR):
            raise EffortRefused("RIR {value} is not between 0 and {most}", value=self.value, most=MOST_RIR)

    @property
    def rir(self) -> Decimal:
        """Repetitions in reserve."""
        return _RIR_OF_RPE[self.value] if self.scale == "rpe" else self.value

    @property
    def is_load_short(self) -> bool:
        """Whether the lifter said that no repetition, but a little more load, was left (RPE 9.5)."""
        return self.scale == "rpe" and self.value == Decimal("9.5")
