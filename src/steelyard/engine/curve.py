"""Repetitions possible at a load: how far a load must lie under the 1RM so that so many can be done.

The relation is kept as ln(1RM / load) by repetitions: 0 for one, and then nearly a straight line. A person's own is
that times their steepness, which is 1 on average.
"""

from bisect import bisect_right
from functools import cache
from itertools import pairwise
from math import log

from msgspec import Struct

from .formulas import NUZZO_BENCH_PRESS, NUZZO_GENERAL, NUZZO_LEG_PRESS, RepetitionTable

# Beyond the last published row the last slope goes on; nobody has published what holds there.
LONGEST = 60


class Curve(Struct, frozen=True):
    """Monotone cubic pieces through published points (Fritsch & Carlson 1980, SIAM J Numer Anal 17:238-246).

    `repetitions`, `ratios` (ln 1RM / load) and `slopes` (ratio a repetition) at each knot; outside them straight lines.
    """

    name: str
    repetitions: tuple[float, ...]
    ratios: tuple[float, ...]
    slopes: tuple[float, ...]

    def ratio(self, repetitions: float) -> float:
        """ln(1RM / load) at which so many repetitions can just be done; below 0 for less than one."""
        left, width, share = self._piece(repetitions)
        if width == 0:
            return self.ratios[left] + self.slopes[left] * (repetitions - self.repetitions[left])
        low, high = self.ratios[left], self.ratios[left + 1]
        steep_low, steep_high = self.slopes[left] * width, self.slopes[left + 1] * width
        rest = 1 - share
        return (
            rest * rest * ((1 + 2 * share) * low + share * steep_low)
            + share * share * ((3 - 2 * share) * high - rest * steep_high)
        )  # fmt: skip

    def slope(self, repetitions: float) -> float:
        """How much the ratio rises with one repetition more: the exact derivative."""
        left, width, share = self._piece(repetitions)
        if width == 0:
            return self.slopes[left]
        rise = (self.ratios[left + 1] - self.ratios[left]) / width
        low, high = self.slopes[left], self.slopes[left + 1]
        return 6 * share * (1 - share) * rise + (1 - share) * (1 - 3 * share) * low + share * (3 * share - 2) * high

    def repetitions_at(self, ratio: float) -> float:
        """Repetitions at ln(1RM / load): the inverse of `ratio`, to the last digits."""
        if ratio <= self.ratios[0]:
            return self.repetitions[0] + (ratio - self.ratios[0]) / self.slopes[0]
        if ratio >= self.ratios[-1]:
            return self.repetitions[-1] + (ratio - self.ratios[-1]) / self.slopes[-1]
        left = bisect_right(self.ratios, ratio) - 1
        low, high = self.repetitions[left], self.repetitions[left + 1]
        guess = low + (ratio - self.ratios[left]) / (self.ratios[left + 1] - self.ratios[left]) * (high - low)
        while True:
            error = self.ratio(guess) - ratio
            low, high = (low, guess) if error > 0 else (guess, high)
            better = guess - error / self.slope(guess)
            if not low < better < high:
                better = (low + high) / 2
            if abs(better - guess) <= 1e-13 * guess or not low < better < high:
                return better
            guess = better

    def _piece(self, repetitions: float) -> tuple[int, float, float]:
        """The knot to the left, the width of the piece (0 outside the knots), and how far along it."""
        if repetitions <= self.repetitions[0]:
            return 0, 0.0, 0.0
        if repetitions >= self.repetitions[-1]:
            return len(self.repetitions) - 1, 0.0, 0.0
        left = bisect_right(self.repetitions, repetitions) - 1
        width = self.repetitions[left + 1] - self.repetitions[left]
        return left, width, (repetitions - self.repetitions[left]) / width


def curve_through(name: str, points: list[tuple[float, float]]) -> Curve:
    """A monotone curve through (mean repetitions counted, percent of 1RM), and one repetition at 100 %.

    A count is a whole number that was reached, so that a mean count is half a repetition short of what was possible.
    """
    knots = sorted([(1.0, 100.0), *((mean + 0.5, percent) for mean, percent in points)])
    repetitions = tuple(r for r, _ in knots)
    ratios = tuple(log(100.0 / percent) for _, percent in knots)
    widths = [b - a for a, b in pairwise(repetitions)]
    rises = [(b - a) / w for (a, b), w in zip(pairwise(ratios), widths, strict=True)]
    inner = [_between(rises[i], rises[i + 1], widths[i], widths[i + 1]) for i in range(len(rises) - 1)]
    return Curve(name, repetitions, ratios, (rises[0], *inner, rises[-1]))


def _between(before: float, after: float, width_before: float, width_after: float) -> float:
    """Slope at an inner knot: a harmonic mean, which keeps the pieces monotone (Fritsch & Butland 1984)."""
    first, second = 2 * width_after + width_before, width_after + 2 * width_before
    return (first + second) / (first / before + second / after)


def _points(table: RepetitionTable) -> list[tuple[float, float]]:
    return [(row.mean, float(percent)) for percent, row in table.rows.items()]


GENERAL = curve_through("general", _points(NUZZO_GENERAL))
# The bench press's own means were obtained at 80 and 70 % only.
BENCH_PRESS = curve_through("bench press", _points(NUZZO_BENCH_PRESS))
LEG_PRESS = curve_through("leg press", _points(NUZZO_LEG_PRESS))


@cache
def curve_of(exercise: str) -> Curve:
    """The curve of an exercise's code: its own where one is published, else the general one."""
    return {"bench-press": BENCH_PRESS, "leg-press": LEG_PRESS}.get(exercise, GENERAL)


@cache
def ratio_table(curve: str) -> tuple[float, ...]:
    """ln(1RM / load) of 0, 1 ... LONGEST + 1 repetitions of a curve by its name."""
    found = {c.name: c for c in (GENERAL, BENCH_PRESS, LEG_PRESS)}[curve]
    return tuple(found.ratio(float(repetitions)) for repetitions in range(LONGEST + 2))
