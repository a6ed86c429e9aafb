"""Distributions of repetitions drawn at random, with point masses, exact in binary so that sums lose nothing."""

import numpy as np
from hypothesis import strategies as st
from numpy.typing import NDArray

from steelyard.engine.arrays import Floats, Whole
from steelyard.engine.backtest.trials import LONGEST

OUTCOMES = LONGEST + 1
WHOLE = 2**30


@st.composite
def probabilities(draw: st.DrawFn) -> Floats:
    """P(R = 0) to P(R = 60): everywhere some, or a few point masses, down to a single one."""
    parts = np.zeros(OUTCOMES, dtype=np.int64)
    if draw(st.booleans()):
        chance = np.random.default_rng(draw(st.integers(0, 2**32)))
        parts += np.int64(1) + chance.integers(0, 2 ** draw(st.integers(1, 23)), OUTCOMES)
    for place in draw(st.lists(st.integers(0, LONGEST), min_size=1, max_size=5)):
        parts[place] += draw(st.integers(1, 2**24))
    # What is wanting to the whole goes to one place, so that every probability is a number of 2**-30.
    parts[draw(st.integers(0, LONGEST))] += WHOLE - parts.sum()
    return parts / WHOLE


def dense() -> st.SearchStrategy[Floats]:
    """Everything possible, so that every score is finite."""
    seeds = st.tuples(st.integers(0, 2**32), st.sampled_from((0.05, 0.3, 1.0, 10.0)))
    return seeds.map(lambda s: _dense(*s))


def _dense(seed: int, evenness: float) -> Floats:
    drawn = np.random.default_rng(seed).dirichlet(np.full(OUTCOMES, evenness))
    return np.asarray((drawn + 1e-4) / (1 + 1e-4 * OUTCOMES))


def cdf_of(found: Floats) -> Floats:
    """P(R <= 0) to P(R <= 60)."""
    cdf = np.cumsum(found)
    cdf[-1] = 1.0
    return np.asarray(cdf)


def rows(cdf: Floats, count: int) -> Floats:
    """The same distribution for so many sets."""
    return np.tile(cdf, (count, 1))


def whole(*numbers: int) -> Whole:
    """Whole numbers as the scores take them."""
    return np.array(numbers, dtype=np.int64)


def each_outcome() -> NDArray[np.int64]:
    """0 to 60."""
    return np.arange(OUTCOMES, dtype=np.int64)


def each_told(told_up_to: int) -> tuple[Whole, Whole]:
    """Everything that a set can tell which tells so much: 0 to that, each beside it."""
    seen = np.arange(told_up_to + 1, dtype=np.int64)
    return seen, np.full(len(seen), told_up_to, dtype=np.int64)
