"""No distribution scores better in expectation than the true one, however much of the truth a set can tell.

Shown without trust in any proof: over true distributions drawn at random, against others drawn at random, against those
that are nearly true, and against those that put what cannot be told apart wherever it would pay.
"""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelyard.engine.arrays import Floats, Whole
from steelyard.engine.backtest.scores import crps, errors, log_score
from steelyard.engine.backtest.trials import LONGEST

from .distributions import OUTCOMES, cdf_of, dense, each_told, rows, whole

Score = Callable[[Floats, Whole, Whole], Floats]
# Taken to its end; an attempt; stopped at five or at six by plan.
TOLD = {"to its end": LONGEST, "1 or more": 1, "5 or more": 5, "6 or more": 6}
ROUNDING = 1e-9
shares = st.sampled_from((0.001, 0.05, 0.5, 1.0))


def negative_log(cdf: Floats, seen: Whole, told_up_to: Whole) -> Floats:
    """The log score as a loss."""
    return -log_score(cdf, seen, told_up_to)


def absolute_error(cdf: Floats, seen: Whole, told_up_to: Whole) -> Floats:
    """How far the median lies off."""
    return np.abs(errors(cdf, seen, told_up_to)).astype(float)


LOSSES: dict[str, Score] = {"log score": negative_log, "CRPS": crps, "absolute error": absolute_error}


def expected(loss: Score, truth: Floats, said: Floats, told: int) -> float:
    """The mean loss where what is possible comes from the truth and a set tells so much of it."""
    seen, most = each_told(told)
    weight = np.append(truth[:told], truth[told:].sum())
    return float(weight @ loss(rows(cdf_of(said), len(seen)), seen, most))


def cheats(truth: Floats, told: int) -> list[Floats]:
    """The truth with all that cannot be told apart in one place: the nearest, the likeliest or the farthest."""
    moved = []
    for place in (told, told + int(np.argmax(truth[told:])), LONGEST):
        said = np.append(truth[:told], np.zeros(OUTCOMES - told))
        said[place] += truth[told:].sum()
        moved.append(said)
    return [*moved, *(0.9 * truth + 0.1 * said for said in moved)]


def better_than_true(loss: Score, truth: Floats, others: list[Floats], told: int) -> list[float]:
    """By how much false distributions beat the true one."""
    best = expected(loss, truth, truth, told)
    gains = [best - expected(loss, truth, said, told) for said in others]
    return [gain for gain in gains if gain > ROUNDING]


@pytest.mark.parametrize("told", TOLD.values(), ids=TOLD)
@pytest.mark.parametrize("loss", LOSSES.values(), ids=LOSSES)
@given(truth=dense(), other=dense(), share=shares)
def test_nothing_scores_better_than_the_truth(
    loss: Score, told: int, truth: Floats, other: Floats, share: float
) -> None:
    others = [(1 - share) * truth + share * other, *cheats(truth, told)]
    assert better_than_true(loss, truth, others, told) == []


@given(truth=dense(), other=dense(), share=shares, mix=st.lists(st.integers(0, LONGEST), min_size=2, max_size=4))
def test_sets_of_every_kind_together_stay_honest(truth: Floats, other: Floats, share: float, mix: list[int]) -> None:
    """How much a set can tell may vary as it will, as long as it does not depend on what was possible."""
    said = (1 - share) * truth + share * other
    for loss in (negative_log, crps):
        gained = sum(expected(loss, truth, truth, told) - expected(loss, truth, said, told) for told in mix)
        assert gained <= ROUNDING


@given(truth=dense(), other=dense())
def test_only_the_truth_is_best_where_all_is_told(truth: Floats, other: Floats) -> None:
    """What scores as well as the truth is the truth: a score that likes everything would pass the tests above."""
    apart = float(np.max(np.abs(cdf_of(truth) - cdf_of(other))))
    for loss in (negative_log, crps):
        gain = expected(loss, truth, other, LONGEST) - expected(loss, truth, truth, LONGEST)
        assert gain >= apart**2 / 2 - ROUNDING


@given(truth=dense(), other=dense(), told=st.integers(1, 10))
def test_what_cannot_be_told_apart_makes_no_difference(truth: Floats, other: Floats, told: int) -> None:
    rest = other[told:] / other[told:].sum() * truth[told:].sum()
    said = np.append(truth[:told], rest)
    for loss in LOSSES.values():
        assert expected(loss, truth, said, told) == pytest.approx(expected(loss, truth, truth, told), abs=ROUNDING)


def test_a_score_that_is_not_proper_is_seen() -> None:
    """Two that look right: thresholds chosen by what was seen, and the probability itself instead of its logarithm."""

    def decided(cdf: Floats, seen: Whole, told_up_to: Whole) -> Floats:
        """Every threshold that what was seen decides: all of them after a miss, only one after a lift made."""
        return crps(cdf, seen, np.where(seen < told_up_to, LONGEST, told_up_to))

    def probability(cdf: Floats, seen: Whole, told_up_to: Whole) -> Floats:
        return -np.exp(log_score(cdf, seen, told_up_to))

    truth = np.append([0.1, 0.1, 0.15, 0.2, 0.2, 0.1, 0.08, 0.05, 0.02], np.zeros(OUTCOMES - 9))
    certain = np.zeros(OUTCOMES)
    certain[3] = 1.0
    assert better_than_true(decided, truth, cheats(truth, 1), 1)
    assert better_than_true(probability, truth, [certain], LONGEST)
    assert better_than_true(crps, truth, [*cheats(truth, 1), certain], 1) == []


def test_misses_alone_would_favour_whoever_expects_misses() -> None:
    """Why what is ranked must not depend on how it went: of fives, only those missed are scored."""
    truth = np.append(np.full(10, 0.1), np.zeros(OUTCOMES - 10))
    gloomy = np.append(np.full(5, 0.2), np.zeros(OUTCOMES - 5))
    seen = whole(0, 1, 2, 3, 4)
    missed = [negative_log(rows(cdf_of(said), 5), seen, np.full(5, LONGEST)).mean() for said in (truth, gloomy)]
    assert missed[1] < missed[0]
    nearly = 0.999 * gloomy + 0.001 * truth
    assert expected(negative_log, truth, nearly, 5) > expected(negative_log, truth, truth, 5)
