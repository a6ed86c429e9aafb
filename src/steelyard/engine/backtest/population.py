"""What lifters have in common, learned from the others or, where there are none, taken from published figures."""

from collections.abc import Iterable, Sequence

import numpy as np
from msgspec import Struct

from steelyard.engine.arrays import Floats

# Orders of sets that are told apart: the first four, and all later ones together.
ORDERS = 5
# Days since the exercise was last trained: up to 3, 7, 12, 21, 42, 100, and more.
GAPS = (3, 7, 12, 21, 42, 100)
WEIGHTS = tuple(n / 20 for n in range(1, 21))
# Our judgement: so many sessions, or sets, weigh as much as what is known of people in general.
PRIOR_SESSIONS, PRIOR_SETS = 20, 20


class Spread(Struct, frozen=True):
    """Root mean square error of a rule, in ln 1RM: of a session's best, and of a single set."""

    best: float
    sets: float


class Population(Struct, frozen=True, kw_only=True):
    """Settings that a rule takes from other lifters.

    `spreads` by rule; `offsets` by equation: how far (ln) each set in its order lies from the session's best;
    `weight` of the newest session in a weighted mean; `gains` (ln) since the last session by days between.
    """

    spreads: dict[str, Spread]
    offsets: dict[str, tuple[float, ...]]
    weight: float
    gains: tuple[float, ...]


# Own computation from the supervised log of Gschneidner, Carlson, Steele & Fisher (data posted with a 2024 preprint):
# one session scatters by 3.0 %, so one predicts the next within 4.2 %; 0.43 % a week; about a repetition less, some
# 3 %, after more than three weeks off. Later gaps, the offsets and the weight: our judgement.
USUAL_SPREAD = Spread(0.042, 0.05)
USUAL_OFFSETS = (0.008, 0.003, -0.007, -0.017, -0.022)
USUAL_GAINS = (0.001, 0.003, 0.006, 0.010, -0.03, -0.03, 0.0)
USUAL_WEIGHT = 0.4
USUAL = Population(spreads={}, offsets={}, weight=USUAL_WEIGHT, gains=USUAL_GAINS)


class Tally(Struct, frozen=True):
    """How many, and their sum."""

    count: int
    total: float


class LifterFit(Struct, frozen=True, kw_only=True):
    """What one lifter adds to the settings of all others: sums, so that each lifter's own can be left out.

    `best` and `sets`: squared errors by rule; `offsets` by equation and order; `weights`: absolute errors by weight;
    `gains`: changes since the last session, by days between.
    """

    best: dict[str, Tally]
    sets: dict[str, Tally]
    offsets: dict[str, tuple[Tally, ...]]
    weights: tuple[float, ...]
    gains: tuple[tuple[float, ...], ...]


def gap_index(days: int) -> int:
    """Which class of days between two sessions."""
    return sum(days > most for most in GAPS)


def order_index(order: int) -> int:
    """Which class of order within the session; orders begin at 1."""
    return min(order, ORDERS) - 1


class Crowd:
    """All lifters of one run, from whom settings for each can be learned without that one.

    Each time the others are summed anew: a total less a lifter's own would keep a trace of it in its last digits.
    """

    def __init__(self, fits: Sequence[LifterFit]) -> None:
        self._count = len(fits)
        self._rules = tuple(fits[0].best) if fits else ()
        self._equations = tuple(fits[0].offsets) if fits else ()
        self._best = _stacked([f.best[rule] for rule in self._rules] for f in fits)
        self._sets = _stacked([f.sets[rule] for rule in self._rules] for f in fits)
        self._offsets = _stacked([t for equation in self._equations for t in f.offsets[equation]] for f in fits)
        self._weights = np.array([f.weights for f in fits]).reshape(-1, len(WEIGHTS))
        self._gains = [np.array([c for f in fits for c in f.gains[gap]]) for gap in range(len(GAPS) + 1)]
        self._whose = [
            np.array([i for i, f in enumerate(fits) for _ in f.gains[gap]], dtype=int) for gap in range(len(GAPS) + 1)
        ]

    def without(self, own: int | None) -> Population:
        """The settings that a rule may use for a lifter, by place in the sequence; None for one who is not in it."""
        others = np.arange(self._count) != (-1 if own is None else own)
        if not others.any():
            return USUAL
        best = np.sqrt(_shrunk(self._best[others], USUAL_SPREAD.best**2, PRIOR_SESSIONS)).tolist()
        sets = np.sqrt(_shrunk(self._sets[others], USUAL_SPREAD.sets**2, PRIOR_SETS)).tolist()
        usual = np.array(USUAL_OFFSETS * len(self._equations))
        offsets = _shrunk(self._offsets[others], usual, PRIOR_SETS).reshape(-1, ORDERS).tolist()
        return Population(
            spreads={rule: Spread(best[i], sets[i]) for i, rule in enumerate(self._rules)},
            offsets={equation: tuple(offsets[i]) for i, equation in enumerate(self._equations)},
            weight=_best_weight(self._weights[others].sum(axis=0)),
            gains=tuple(self._usual_gain(gap, own) for gap in range(len(GAPS) + 1)),
        )

    def _usual_gain(self, gap: int, own: int | None) -> float:
        """The median gain over a gap; a few changes are drawn towards what is usual."""
        changes = self._gains[gap] if own is None else self._gains[gap][self._whose[gap] != own]
        if not len(changes):
            return USUAL_GAINS[gap]
        share = len(changes) / (len(changes) + PRIOR_SESSIONS)
        return float(share * np.median(changes) + (1 - share) * USUAL_GAINS[gap])


def _stacked(lifters: Iterable[list[Tally]]) -> Floats:
    """Counts and totals: lifters by tallies by 2."""
    rows = [[(t.count, t.total) for t in tallies] for tallies in lifters]
    return np.array(rows, dtype=float).reshape(len(rows), -1, 2) if rows else np.zeros((0, 0, 2))


def _shrunk(tallies: Floats, prior: float | Floats, weight: float) -> Floats:
    """Means over lifters, drawn towards a prior that counts as so many."""
    sums = tallies.sum(axis=0)
    return np.asarray((prior * weight + sums[:, 1]) / (weight + sums[:, 0]))


def _best_weight(errors: Floats) -> float:
    return WEIGHTS[int(np.argmin(errors))] if errors.any() else USUAL_WEIGHT
