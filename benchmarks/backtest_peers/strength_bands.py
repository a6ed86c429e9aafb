"""What a set says of strength as a band, and from a foreseen strength to repetitions, by a published equation.

A set of exactly r repetitions says that strength (ln 1RM) lies between what r and what r + 1 repetitions would need.
"""

from collections.abc import Sequence
from math import inf, log

import numpy as np
from msgspec import Struct
from scipy.special import ndtr

from steelyard.engine.arrays import Floats
from steelyard.engine.backtest.strengths import ln_ratios
from steelyard.engine.backtest.trials import LONGEST, Trial

# As in the ruler's own distributions: the wide part is three times as wide, and two in a thousand say nothing at all.
WIDER = 3.0
LOST_SHARE = 0.002
# A load that could not be lifted once: so far (ln) below it the strength is taken to be, where one number is needed.
UNDER_A_MISS = 0.015


class Band(Struct, frozen=True):
    """Strength (ln kg) between `lower` and `upper`, either without end; `middle` where both are known, else None."""

    lower: float
    upper: float
    middle: float | None


def band_of(trial: Trial, equation: str) -> Band:
    """The strength that a set tells; a set of more repetitions than the equation knows counts as its longest."""
    ratios = ln_ratios(equation)
    ln_load = log(trial.load_kg)
    longest = max(r for r in ratios if r != inf)
    lower = ln_load + min(ratios[trial.possible], longest)
    upper = ln_load + ratios[trial.possible + 1] if trial.possible < trial.told_up_to else inf
    if upper == inf:
        return Band(lower, inf, None)
    if lower == -inf:
        return Band(lower, upper, upper - UNDER_A_MISS)
    return Band(lower, upper, (lower + upper) / 2)


def share_below(apart: Floats, wide_share: float) -> Floats:
    """The distribution function of strength, by how many spreads a value lies above what is expected."""
    return np.asarray((1 - wide_share) * ndtr(apart) + wide_share * ndtr(apart / WIDER))


def repetition_rows(
    loads_kg: Sequence[float], expected: Floats, spread: Floats, wide_share: float, equation: str
) -> Floats:
    """P(R <= 0) to P(R <= 60) for each load."""
    needed = np.log(np.array(loads_kg))[:, None] + np.array(ln_ratios(equation)[1:])[None, :]
    cdf = share_below((needed - expected[:, None]) / spread[:, None], wide_share)
    return without_certainty(cdf)


def without_certainty(cdf: Floats) -> Floats:
    """The same with a little probability for everything: a slip of the pen is never impossible."""
    kept = (1 - LOST_SHARE) * cdf + LOST_SHARE * np.arange(1, LONGEST + 2) / (LONGEST + 1)
    kept[:, LONGEST] = 1.0
    return np.asarray(kept)


def log_probability(lower: Floats, upper: Floats, expected: Floats, spread: Floats, wide_share: float) -> Floats:
    """ln probability of each band; used to fit on other lifters exactly what is scored later."""
    inside = share_below((upper - expected) / spread, wide_share) - share_below((lower - expected) / spread, wide_share)
    return np.asarray(np.log((1 - LOST_SHARE) * np.maximum(inside, 0.0) + LOST_SHARE / (LONGEST + 1)))
