"""Each score against a reference that was written apart: properscoring, SciPy's discrete distributions, plain sums."""

from math import inf, log

import numpy as np
import properscoring  # type: ignore[import-untyped]  # it comes without types
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from steelyard.engine.arrays import Floats
from steelyard.engine.backtest.scores import below, crps, errors, is_covered, log_score, medians, transforms, up_to
from steelyard.engine.backtest.trials import LONGEST

from .distributions import cdf_of, each_outcome, each_told, probabilities, rows, whole

CLOSE = 1e-10
told_up_to = st.integers(1, LONGEST)


def clipped(found: Floats, told: int) -> Floats:
    """P(lesser of R and what can be told = 0, 1 ...): written as what it is, one outcome after the other."""
    clipped_to = np.zeros(LONGEST + 1)
    for count, probability in enumerate(found):
        clipped_to[min(count, told)] += probability
    return clipped_to


@given(probabilities(), told_up_to)
def test_crps_is_that_of_properscoring_over_what_can_be_told(found: Floats, told: int) -> None:
    seen, most = each_told(told)
    values = each_outcome().astype(float)
    theirs = properscoring.crps_ensemble(
        seen.astype(float), rows(values, len(seen)), weights=rows(clipped(found, told), len(seen))
    )
    assert crps(rows(cdf_of(found), len(seen)), seen, most) == pytest.approx(theirs, abs=CLOSE)


@given(probabilities(), told_up_to)
def test_crps_is_the_mean_distance_less_half_the_mean_difference(found: Floats, told: int) -> None:
    """Gneiting & Raftery 2007, equation 21 (from memory): E|X - y| - E|X - X'| / 2."""
    seen, most = each_told(told)
    outcomes, weights = each_outcome(), clipped(found, told)
    apart = np.abs(outcomes[:, None] - outcomes[None, :])
    expected = (apart @ weights)[: told + 1] - weights @ apart @ weights / 2
    assert crps(rows(cdf_of(found), len(seen)), seen, most) == pytest.approx(expected, abs=CLOSE)


@given(probabilities(), st.data())
def test_crps_sums_the_thresholds_that_the_set_could_decide(found: Floats, data: st.DataObject) -> None:
    told = data.draw(told_up_to)
    seen = data.draw(st.integers(0, told))
    total = 0.0
    for threshold in range(told):
        within = sum(float(p) for count, p in enumerate(found) if count <= threshold)
        total += (within - (1 if seen <= threshold else 0)) ** 2
    assert crps(cdf_of(found)[None], whole(seen), whole(told))[0] == pytest.approx(total, abs=CLOSE)


@given(probabilities(), told_up_to)
def test_log_score_and_cdf_are_those_of_scipy(found: Floats, told: int) -> None:
    seen, most = each_told(told)
    cdf = rows(cdf_of(found), len(seen))
    theirs = stats.rv_discrete(values=(each_outcome(), clipped(found, told)))
    with np.errstate(divide="ignore"):
        expected = theirs.logpmf(seen)
    assert log_score(cdf, seen, most) == pytest.approx(expected, abs=CLOSE)
    everything = stats.rv_discrete(values=(each_outcome(), found))
    assert up_to(cdf, seen) == pytest.approx(everything.cdf(seen), abs=CLOSE)
    assert below(cdf, seen) == pytest.approx(everything.cdf(seen - 1), abs=CLOSE)


@given(probabilities(), st.data())
def test_log_score_is_of_the_part_of_the_outcomes_that_tell_the_same(found: Floats, data: st.DataObject) -> None:
    told = data.draw(told_up_to)
    seen = data.draw(st.integers(0, told))
    part = sum(float(p) for count, p in enumerate(found) if min(count, told) == seen)
    score = log_score(cdf_of(found)[None], whole(seen), whole(told))[0]
    assert score == (pytest.approx(log(part), abs=CLOSE) if part > 0 else -inf)


@given(probabilities(), st.data())
def test_a_set_that_could_tell_nothing_scores_nothing(found: Floats, data: st.DataObject) -> None:
    """A bound of no repetitions: whatever was possible, it was not less than nought."""
    chance = data.draw(st.floats(0, 1, exclude_min=True, exclude_max=True))
    asked = (cdf_of(found)[None], whole(0), whole(0))
    assert (log_score(*asked)[0], crps(*asked)[0], errors(*asked)[0]) == (0, 0, 0)
    assert transforms(*asked, np.array([chance]))[0] == chance


@given(probabilities(), st.data())
def test_the_error_is_of_scipys_median_as_far_as_the_set_could_tell(found: Floats, data: st.DataObject) -> None:
    told = data.draw(told_up_to)
    seen = data.draw(st.integers(0, told))
    asked = (cdf_of(found)[None], whole(seen), whole(told))
    assert medians(asked[0])[0] == stats.rv_discrete(values=(each_outcome(), found)).ppf(0.5)
    assert errors(*asked)[0] == stats.rv_discrete(values=(each_outcome(), clipped(found, told))).ppf(0.5) - seen


@given(probabilities(), st.data())
def test_the_transform_lies_on_the_step_that_was_seen(found: Floats, data: st.DataObject) -> None:
    told = data.draw(told_up_to)
    seen = data.draw(st.integers(0, told))
    chance = data.draw(st.floats(0, 1, exclude_min=True, exclude_max=True))
    before = sum(float(p) for count, p in enumerate(found) if min(count, told) < seen)
    step = sum(float(p) for count, p in enumerate(found) if min(count, told) == seen)
    transformed = transforms(cdf_of(found)[None], whole(seen), whole(told), np.array([chance]))[0]
    assert transformed == pytest.approx(before + chance * step, abs=CLOSE)


@pytest.mark.parametrize(
    ("transformed", "share", "is_within"),
    [
        (0.5, 0.5, True),
        (0.26, 0.5, True),
        (0.74, 0.5, True),
        (0.24, 0.5, False),
        (0.76, 0.5, False),
        (0.11, 0.8, True),
        (0.09, 0.8, False),
        (0.949, 0.9, True),
        (0.951, 0.9, False),
        (0.049, 0.9, False),
    ],
)
def test_the_middle_leaves_as_much_above_as_below(transformed: float, share: float, is_within: bool) -> None:
    assert bool(is_covered(np.array([transformed]), share)[0]) is is_within


def test_of_two_halves_the_median_is_the_lower() -> None:
    halves = np.where(each_outcome() < 3, 0.0, np.where(each_outcome() < 7, 0.5, 1.0))[None]
    assert medians(halves)[0] == 3


def test_a_point_mass_on_what_was_seen_is_the_best_there_is() -> None:
    certain = np.where(each_outcome() >= 5, 1.0, 0.0)[None]
    told = whole(LONGEST)
    assert [score(certain, whole(5), told)[0] for score in (log_score, crps, errors)] == [0, 0, 0]
    assert [score(certain, whole(8), told)[0] for score in (log_score, crps, errors)] == [-inf, 3, -3]
    assert [score(certain, whole(1), told)[0] for score in (log_score, crps, errors)] == [-inf, 4, 4]


def test_an_attempt_is_judged_only_by_whether_the_load_could_be_lifted() -> None:
    """By hand: 0.3 to miss; the log of it or of the rest, its square or the square of the rest."""
    cdf = np.array([0.3, *np.linspace(0.4, 1, LONGEST)])[None]
    made, missed = (cdf, whole(1), whole(1)), (cdf, whole(0), whole(1))
    assert [log_score(*made)[0], log_score(*missed)[0]] == pytest.approx([log(0.7), log(0.3)], abs=CLOSE)
    assert [crps(*made)[0], crps(*missed)[0]] == pytest.approx([0.09, 0.49], abs=CLOSE)
    assert [errors(*made)[0], errors(*missed)[0]] == [0, 1]
