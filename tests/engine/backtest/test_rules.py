"""The level that each rule foresees, against numbers worked by hand and against NumPy."""

import random
from math import exp, log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelyard.engine.backtest.fitting import fit_lifter
from steelyard.engine.backtest.population import (
    GAPS,
    PRIOR_SESSIONS,
    USUAL,
    USUAL_GAINS,
    USUAL_SPREAD,
    USUAL_WEIGHT,
    WEIGHTS,
    Crowd,
    Population,
    gap_index,
    order_index,
)
from steelyard.engine.backtest.rules import (
    LINE_SESSIONS,
    RULES,
    SEVEN,
    Past,
    best_of_last_three,
    last,
    last_with_usual_gain,
    line_through_last_eight,
    weighted_mean,
)
from steelyard.engine.formulas import EQUATIONS

from .trial_builders import STARTS, any_lifter, lifter_of, session_on, trial

levels = st.lists(st.floats(3, 6), min_size=1, max_size=20)


@st.composite
def pasts(draw: st.DrawFn) -> Past:
    """Sessions on rising days, some on the same."""
    found = draw(levels)
    gaps = draw(st.lists(st.integers(0, 60), min_size=len(found), max_size=len(found)))
    return Past([STARTS.toordinal() + sum(gaps[: n + 1]) for n in range(len(found))], found)


def weighing(weight: float) -> Population:
    """Usual settings with another weight of the newest session."""
    return Population(spreads={}, offsets={}, weight=weight, gains=USUAL_GAINS)


@given(pasts())
def test_last_and_best_of_the_last_three(past: Past) -> None:
    assert last(past, past.days[-1] + 3, USUAL) == past.levels[-1]
    assert best_of_last_three(past, past.days[-1] + 3, USUAL) == sorted(past.levels[-3:])[-1]


def test_the_best_of_the_last_three_forgets_the_fourth() -> None:
    assert best_of_last_three(Past([1, 2, 3, 4], [5.0, 4.0, 4.2, 4.1]), 9, USUAL) == 4.2


@given(pasts(), st.sampled_from(WEIGHTS))
def test_the_weighted_mean_has_a_closed_form(past: Past, weight: float) -> None:
    """w for the newest, w (1 - w) for the one before, ..., and what is left for the oldest."""
    count = len(past.levels)
    shares = [weight * (1 - weight) ** (count - 1 - n) for n in range(count)]
    shares[0] = (1 - weight) ** (count - 1)
    assert sum(shares) == pytest.approx(1)
    found = weighted_mean(past, past.days[-1], weighing(weight))
    assert found == pytest.approx(np.average(past.levels, weights=shares), abs=1e-10)


def test_the_weighted_mean_by_hand() -> None:
    """4.0, then a quarter of the way to 4.4, then a quarter of the way to 4.0."""
    assert weighted_mean(Past([1, 2, 3], [4.0, 4.4, 4.0]), 9, weighing(0.25)) == pytest.approx(4.075)


@given(pasts(), st.integers(0, 90))
def test_the_line_is_that_of_polyfit(past: Past, ahead: int) -> None:
    day = past.days[-1] + ahead
    days = np.array(past.days[-LINE_SESSIONS:], dtype=float) - day
    found = line_through_last_eight(past, day, USUAL)
    if len(days) < 3 or len(set(days)) < 2:
        assert found == past.levels[-1]
    else:
        assert found == pytest.approx(np.polyfit(days, past.levels[-8:], 1)[1], abs=1e-8)


def test_the_line_by_hand() -> None:
    """Up by 0.1 every seven days: three days on by 0.3 / 7; what is older than eight sessions does not count."""
    rising = Past([7 * n for n in range(10)], [9.0, 0.0, *(4.0 + 0.1 * n for n in range(8))])
    assert line_through_last_eight(rising, 66, USUAL) == pytest.approx(4.7 + 0.3 / 7)


@pytest.mark.parametrize(
    ("days", "gain"),
    [(0, 0), (3, 0), (4, 1), (7, 1), (8, 2), (12, 2), (13, 3), (21, 3), (22, 4), (42, 4), (43, 5), (100, 5), (101, 6)],
)
def test_the_usual_gain_is_that_of_so_many_days(days: int, gain: int) -> None:
    assert gap_index(days) == gain
    assert last_with_usual_gain(Past([10], [4.5]), 10 + days, USUAL) == 4.5 + USUAL_GAINS[gain]


def test_orders_beyond_the_fourth_are_one() -> None:
    assert [order_index(order) for order in (1, 2, 4, 5, 6, 30)] == [0, 1, 3, 4, 4, 4]


def test_every_rule_has_a_name_of_its_own_and_the_seven_their_equation() -> None:
    assert len({rule.name for rule in RULES}) == len(RULES) == 5 + len(SEVEN)
    assert [rule.equation for rule in RULES if rule.equation] == list(SEVEN)
    assert set(SEVEN) <= set(EQUATIONS)
    assert [rule.name for rule in RULES if rule.is_repeat] == ["repeat"]


def test_gains_of_others_are_their_median_drawn_to_what_is_usual() -> None:
    """Six singles to failure a week apart: gains of 0, 1, 2, 3, 10 %; the median is 2 %."""
    loads = np.cumprod([100, 1, 1.01, 1.02, 1.03, 1.10])
    other = lifter_of(*(session_on(7 * n, trial(float(load), 1)) for n, load in enumerate(loads)))
    crowd = Crowd([fit_lifter(other, "epley"), fit_lifter(lifter_of(), "epley")])
    share = 5 / (5 + PRIOR_SESSIONS)
    gains = crowd.without(1).gains
    assert gains[1] == pytest.approx(share * log(1.02) + (1 - share) * USUAL_GAINS[1], abs=1e-10)
    assert gains[0] == USUAL_GAINS[0]
    assert gains[2:] == USUAL_GAINS[2:]


def test_the_weight_is_the_one_that_would_have_erred_least_on_the_others() -> None:
    """By brute force over the levels of others: singles to failure, so that a level is the load itself."""
    chance = np.random.default_rng(5)
    others = []
    for _ in range(3):
        strength = np.cumsum(chance.normal(0.005, 0.005, 30)) + chance.normal(0, 0.03, 30) + 4.6
        others.append([float(x) for x in strength])
    lifters = [lifter_of(*(session_on(3 * n, trial(exp(x), 1)) for n, x in enumerate(found))) for found in others]
    crowd = Crowd([fit_lifter(lifter, "epley") for lifter in lifters])

    def erred(weight: float) -> float:
        total = 0.0
        for found in others:
            for n in range(1, len(found)):
                total += abs(weighted_mean(Past(list(range(n)), found[:n]), n, weighing(weight)) - found[n])
        return total

    best = min(WEIGHTS, key=erred)
    assert 0.05 < best < 1
    assert crowd.without(None).weight == best
    assert Crowd([fit_lifter(lifter_of(), "epley")] * 2).without(0).weight == USUAL_WEIGHT


def test_spreads_and_offsets_of_others_are_drawn_to_what_is_usual() -> None:
    """Against plain sums over the lifters, all but one."""

    fits = [fit_lifter(any_lifter(random.Random(seed), 30), "epley") for seed in range(4)]
    found = Crowd(fits).without(2)
    kept = [fits[0], fits[1], fits[3]]
    for rule in RULES:
        total = sum(f.best[rule.name].total for f in kept)
        count = sum(f.best[rule.name].count for f in kept)
        mean = (20 * USUAL_SPREAD.best**2 + total) / (20 + count)
        assert found.spreads[rule.name].best == pytest.approx(mean**0.5, rel=1e-12)
    for equation in SEVEN:
        for order in range(5):
            total = sum(f.offsets[equation][order].total for f in kept)
            count = sum(f.offsets[equation][order].count for f in kept)
            usual = (0.008, 0.003, -0.007, -0.017, -0.022)[order]
            assert found.offsets[equation][order] == pytest.approx((20 * usual + total) / (20 + count), rel=1e-12)
    assert len(found.gains) == len(GAPS) + 1
