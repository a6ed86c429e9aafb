"""A true model is measured as true, within what chance allows, and a false one as false.

The test: the cover of all sets of 200 lifters lies within 3.5 standard errors of a binomial share (chance goes further
once in two thousand), and the covers of the single lifters spread as chance has it (chi-square, 0.05 % at each end).
The seeds are fixed, so it is always the same draw; `python -m tests.engine.backtest.calibration` prints the figures.
"""

import numpy as np
import pytest
from scipy.stats import chisquare, kstest

from steelyard.engine.backtest.scores import is_covered
from steelyard.engine.backtest.strengths import WIDE_SHARE, WIDER, repetition_cdf, strength_transform
from steelyard.engine.backtest.tallying import COVERS
from steelyard.engine.backtest.trials import LONGEST, Evidence

from .calibration import EQUATION, HALF_SURE, KINDS, SPREAD, TOO_SURE, TRUE, draw_repetitions, measured

kinds = pytest.mark.parametrize("kind", KINDS)
shares = pytest.mark.parametrize("share", COVERS)
ERRORS = 3.5
TAIL = 0.0005


@kinds
@shares
def test_a_true_model_covers_what_it_states(kind: Evidence, share: float) -> None:
    found = measured(kind)[TRUE]
    assert abs(found.z_score(share)) < ERRORS
    assert TAIL < found.tail_of_spread(share) < 1 - TAIL


@kinds
def test_the_transform_of_a_true_model_is_uniform(kind: Evidence) -> None:
    assert kstest(measured(kind)[TRUE].transformed, "uniform").pvalue > 0.001


@kinds
@shares
def test_closed_intervals_of_whole_numbers_cover_too_much(kind: Evidence, share: float) -> None:
    """Of a true model: why each whole number is spread over its step."""
    found = measured(kind)[TRUE]
    error = np.sqrt(share * (1 - share) / found.sets)
    assert found.closed[share] > share + 10 * error


@kinds
@shares
def test_a_model_twice_too_sure_covers_too_little_and_one_half_as_sure_too_much(kind: Evidence, share: float) -> None:
    found = measured(kind)
    assert found[TOO_SURE].z_score(share) < -2 * ERRORS
    assert found[HALF_SURE].z_score(share) > 1.5 * ERRORS


@kinds
@pytest.mark.parametrize("false", [TOO_SURE, HALF_SURE])
def test_both_score_worse_than_the_truth_and_the_interval_says_so(kind: Evidence, false: str) -> None:
    found = measured(kind)
    true, other = found[TRUE].scores, found[false].scores
    assert true.crps_reps is not None
    assert other.crps_reps is not None
    assert other.crps_reps > true.crps_reps
    assert other.intervals["log_score_over_repeat"][1] < 0  # over the true model, which stands as reference here
    assert other.draws_without_gain == 1


def test_the_sets_of_one_lifter_show_to_failure_what_attempts_cannot() -> None:
    """A hundred sets to failure tell of nearly every lifter that a model is twice too sure; a hundred singles not."""
    to_failure, attempts = measured("to-failure"), measured("attempt")
    assert to_failure[TOO_SURE].off_alone(0.8) > 0.95
    assert attempts[TOO_SURE].off_alone(0.8) < 0.5
    assert to_failure[TRUE].off_alone(0.8) < 0.12


@pytest.mark.parametrize("load_kg", [60.0, 80.0, 95.0, 102.0])
def test_repetitions_drawn_one_by_one_follow_the_stated_distribution(load_kg: float) -> None:
    chance = np.random.default_rng(int(load_kg))
    expected = np.log(100.0)
    drawn = np.bincount([draw_repetitions(chance, load_kg, expected) for _ in range(20_000)], minlength=LONGEST + 1)
    (row,) = repetition_cdf(np.array([load_kg]), np.array([expected]), np.array([SPREAD]), EQUATION)
    stated = np.diff(row, prepend=0.0) * 20_000
    # Cells of fewer than ten are put together, or chi-square would not hold.
    few = stated < 10
    seen = np.append(drawn[~few], drawn[few].sum())
    assert chisquare(seen, np.append(stated[~few], stated[few].sum())).pvalue > 0.001


@shares
def test_a_sessions_best_from_the_stated_mixture_is_covered_as_stated(share: float) -> None:
    chance = np.random.default_rng(3)
    spread = np.where(chance.random(20_000) < WIDE_SHARE, WIDER, 1) * 0.04
    drawn = 4.6 + spread * chance.standard_normal(20_000)
    transformed = strength_transform(drawn, np.full(20_000, 4.6), np.full(20_000, 0.04))
    error = np.sqrt(share * (1 - share) / 20_000)
    assert abs(np.mean(is_covered(transformed, share)) - share) < ERRORS * error
