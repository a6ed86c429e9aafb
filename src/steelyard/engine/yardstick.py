"""What makes two lines comparable: the equivalent 1RM at equal repetitions and effort."""

from decimal import Decimal
from math import floor, isinf
from typing import Literal

from msgspec import Struct

from .formulas import Equation, estimate_one_rm, repetitions_at

# A carry or a hold has no 1RM: it is compared by load times seconds or metres, and moves by this many at once.
COUNT_STEP = {"reps": 1, "seconds": 5, "metres": 5}
# Floating arithmetic: a line exactly on a limit is under it.
SLACK = 1e-9


class Yardstick(Struct, frozen=True, kw_only=True):
    """The measure of one line: equation and target of the policy, for one kind of count.

    A set without a reported reserve counts with `unsaid_rir` where that is less than the target (a gate raised it).
    """

    equation: Equation
    measure: Literal["reps", "seconds", "metres"]
    target_rir: int
    unsaid_rir: int | None = None

    def equivalent(self, total_kg: Decimal, count: int, rir: Decimal | None = None) -> float | None:
        """Equivalent 1RM (kg) at the target effort, or load times count; None where nothing was lifted.

        A set that left less than the target counts with what it left; more than the target earns nothing.
        """
        if count < 1:
            return None
        load = max(float(total_kg), 0.0)
        if self.measure != "reps":
            return max(load, 1.0) * count
        unsaid = self.target_rir if self.unsaid_rir is None else min(self.unsaid_rir, self.target_rir)
        reserve = float(unsaid if rir is None else min(rir, Decimal(self.target_rir)))
        # A set longer than the equation knows counts as its longest, here and in equivalent_at alike; no line that
        # rises comes there (the policy's most_repetitions and RIR end before).
        repetitions = min(count + reserve, self.equation.defined_below - 1)
        return estimate_one_rm(self.equation, load, repetitions)

    def most_count(self, total_kg: Decimal, allowed: float, rir: int | None = None) -> int:
        """The most repetitions (seconds, metres) at a load whose equivalent is within what is allowed; 0 if none is."""
        reserve = self.target_rir if rir is None else rir
        load = float(total_kg)
        if isinf(allowed):
            return self.longest
        if self.measure != "reps":
            step = COUNT_STEP[self.measure]
            return floor(allowed / max(load, 1.0) / step + SLACK) * step
        if load <= 0:
            return self.longest
        guess = min(self.longest, floor(repetitions_at(self.equation, load, allowed * (1 + SLACK))) + 1)
        while guess > 0 and (self.equivalent_at(total_kg, guess, reserve) or 0) > allowed * (1 + SLACK):
            guess -= 1
        return guess

    def equivalent_at(self, total_kg: Decimal, count: int, rir: int) -> float | None:
        """Equivalent of a planned set that leaves so much in reserve."""
        if self.measure != "reps" or count < 1:
            return self.equivalent(total_kg, count)
        repetitions = min(count + rir, self.equation.defined_below - 1)
        return estimate_one_rm(self.equation, max(float(total_kg), 0.0), repetitions)

    @property
    def longest(self) -> int:
        """A count that no line passes."""
        return 60 if self.measure == "reps" else 600
