"""From a strength and its uncertainty to a distribution of repetitions at a load, through a published equation."""

from functools import cache
from math import inf, log

import numpy as np
from msgspec import Struct
from scipy.special import ndtr

from steelyard.engine.arrays import Floats
from steelyard.engine.formulas import EQUATIONS

from .trials import LONGEST

# Our judgement: one prediction in twelve is three times as uncertain as the others, and two in a thousand say nothing
# at all (a slip of the pen, another machine). Without them one odd set would outweigh a year.
WIDE_SHARE, WIDER = 1 / 12, 3.0
LOST_SHARE = 0.002


class Forecast(Struct, frozen=True):
    """What is foreseen of one exercise in one session, in ln kg of total load.

    For each set its expected ln 1RM; the spread of one set; the session's best 1RM and its spread.
    """

    sets: tuple[float, ...]
    spread: float
    best: float
    best_spread: float


@cache
def ln_ratios(equation: str) -> tuple[float, ...]:
    """ln(1RM / load) for 0, 1 ... LONGEST + 1 repetitions to failure: infinite where the equation ends, 0 for a single.

    A load that cannot be lifted once is above the 1RM, however little: 0 repetitions have no ratio and stand as -inf.
    """
    known = EQUATIONS[equation]
    ratios = [-inf, 0.0]
    for repetitions in range(2, LONGEST + 2):
        is_defined = repetitions < known.defined_below
        # An equation that puts two repetitions under a single would make more repetitions less likely than fewer.
        ratios.append(max(-log(known.fraction(repetitions)), ratios[-1]) if is_defined else inf)
    return tuple(ratios)


def ln_one_rm(load_kg: float, repetitions: int, equation: str) -> float:
    """ln 1RM of a set of so many repetitions to failure; a longer one than the equation knows counts as its longest."""
    ratios = ln_ratios(equation)
    while ratios[repetitions] == inf:
        repetitions -= 1
    return log(load_kg) + ratios[repetitions]


def repetition_cdf(loads_kg: Floats, expected: Floats, spread: Floats, equation: str) -> Floats:
    """P(R <= 0) to P(R <= 60) at each load, for an expected ln 1RM and its spread."""
    ratios = np.array(ln_ratios(equation)[1:])
    with np.errstate(invalid="ignore"):
        needed = (np.log(loads_kg)[:, None] + ratios[None, :] - expected[:, None]) / spread[:, None]
    cdf = (1 - WIDE_SHARE) * ndtr(needed) + WIDE_SHARE * ndtr(needed / WIDER)
    nothing = np.arange(1, LONGEST + 2) / (LONGEST + 1)
    cdf = (1 - LOST_SHARE) * cdf + LOST_SHARE * nothing
    cdf[:, LONGEST] = 1.0
    return np.asarray(cdf)


def strength_transform(actual: Floats, expected: Floats, spread: Floats) -> Floats:
    """Where a session's best (ln kg) lies in its predicted distribution, 0 to 1."""
    apart = (actual - expected) / spread
    return np.asarray((1 - WIDE_SHARE) * ndtr(apart) + WIDE_SHARE * ndtr(apart / WIDER))
