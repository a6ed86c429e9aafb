"""From a strength to a distribution of repetitions: whatever is foreseen, it is a distribution, and a sensible one."""

from math import exp, inf, log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from steelyard.engine.backtest.strengths import (
    LOST_SHARE,
    WIDE_SHARE,
    WIDER,
    ln_one_rm,
    ln_ratios,
    repetition_cdf,
    strength_transform,
)
from steelyard.engine.backtest.trials import LONGEST
from steelyard.engine.formulas import EQUATIONS, estimate_one_rm

equations = st.sampled_from(sorted(EQUATIONS))
loads = st.floats(1, 500)
expected = st.floats(log(1), log(500))
spreads = st.floats(1e-3, 0.5)


@given(equations, loads, expected, spreads)
def test_a_row_rises_from_nought_or_more_to_one(equation: str, load: float, strength: float, spread: float) -> None:
    (row,) = repetition_cdf(np.array([load]), np.array([strength]), np.array([spread]), equation)
    assert row.shape == (LONGEST + 1,)
    assert row[0] >= 0
    assert row[-1] == 1
    assert (np.diff(row) > 0).all()  # nothing is impossible


@given(equations, loads, st.floats(1, 1.5), expected, spreads)
def test_more_load_is_fewer_repetitions(
    equation: str, load: float, more: float, strength: float, spread: float
) -> None:
    rows = repetition_cdf(np.array([load, load * more]), np.full(2, strength), np.full(2, spread), equation)
    assert (rows[1] >= rows[0]).all()


@given(equations, loads, expected, st.floats(0, 1), spreads)
def test_more_strength_is_more_repetitions(
    equation: str, load: float, strength: float, more: float, spread: float
) -> None:
    rows = repetition_cdf(np.full(2, load), np.array([strength, strength + more]), np.full(2, spread), equation)
    assert (rows[1] <= rows[0]).all()


@given(equations, loads, expected, spreads)
def test_so_many_repetitions_are_possible_where_the_strength_reaches_them(
    equation: str, load: float, strength: float, spread: float
) -> None:
    """One by one, with SciPy's normal distribution: R <= n where the 1RM is below what n + 1 need."""
    (row,) = repetition_cdf(np.array([load]), np.array([strength]), np.array([spread]), equation)
    known = EQUATIONS[equation]
    hardest = 0.0
    for n in range(LONGEST):
        is_defined = n + 1 < known.defined_below
        hardest = max(hardest, log(estimate_one_rm(known, 1.0, n + 1))) if is_defined else inf
        far = log(load) + hardest
        told = (1 - WIDE_SHARE) * norm.cdf(far, strength, spread) + WIDE_SHARE * norm.cdf(far, strength, WIDER * spread)
        assert row[n] == pytest.approx((1 - LOST_SHARE) * told + LOST_SHARE * (n + 1) / (LONGEST + 1), abs=1e-12)


@given(equations)
def test_more_repetitions_never_need_less(equation: str) -> None:
    ratios = ln_ratios(equation)
    assert len(ratios) == LONGEST + 2
    assert ratios[:2] == (-inf, 0)
    assert list(ratios) == sorted(ratios)


@pytest.mark.parametrize("equation", sorted(EQUATIONS))
def test_a_set_longer_than_the_equation_knows_counts_as_its_longest(equation: str) -> None:
    known = EQUATIONS[equation]
    longest = max(n for n in range(1, LONGEST + 1) if n < known.defined_below)
    assert exp(ln_one_rm(100, 1, equation)) == pytest.approx(100)
    assert exp(ln_one_rm(100, LONGEST, equation)) == pytest.approx(estimate_one_rm(known, 100, longest))


def test_the_transform_of_a_strength_is_that_of_its_mixture() -> None:
    actual = np.linspace(4.2, 5.0, 9)
    told = strength_transform(actual, np.full(9, 4.6), np.full(9, 0.05))
    mixed = (1 - WIDE_SHARE) * norm.cdf(actual, 4.6, 0.05) + WIDE_SHARE * norm.cdf(actual, 4.6, 0.15)
    assert told == pytest.approx(mixed, abs=1e-12)
    assert told[4] == pytest.approx(0.5)
