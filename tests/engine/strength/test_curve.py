"""Repetitions at a load: as published (checks S2.3, S2.5, S2.6), and the curve between and beyond what is published."""

from itertools import pairwise
from math import exp, log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import CubicHermiteSpline, PchipInterpolator

from steelyard.engine.curve import (
    BENCH_PRESS,
    GENERAL,
    LEG_PRESS,
    LONGEST,
    Curve,
    curve_of,
    curve_through,
    ratio_table,
)

CURVES = [GENERAL, BENCH_PRESS, LEG_PRESS]
each_curve = pytest.mark.parametrize("curve", CURVES, ids=lambda curve: curve.name)
curves = st.sampled_from(CURVES)


def counted_at(curve: Curve, percent: float) -> float:
    """Repetitions that are counted on average at a percentage: whole ones, so half a one less than were possible."""
    return curve.repetitions_at(log(100 / percent)) - 0.5


# Nuzzo et al. 2024, Sports Med 54(2):303-321, table of figure 2 (read second-hand): mean repetitions by % of 1RM.
PUBLISHED = {90: 4.94, 85: 7.15, 80: 9.75, 75: 12.37, 70: 14.80, 65: 17.11, 60: 19.53}


@pytest.mark.parametrize("percent", PUBLISHED)
def test_s2_3_the_general_curve_goes_through_the_published_means(percent: int) -> None:
    # At 80 %: 9.75.
    assert counted_at(GENERAL, percent) == pytest.approx(PUBLISHED[percent], abs=0.01)
    assert exp(-GENERAL.ratio(PUBLISHED[percent] + 0.5)) == pytest.approx(percent / 100, abs=1e-12)


def test_s2_5_the_leg_press_allows_more_than_the_bench_press() -> None:
    # The same paper, tables of single exercises (read second-hand): 8.82 and 13.05 at 80 %; 14.1 and 19.0 at 70 %.
    assert counted_at(BENCH_PRESS, 80) == pytest.approx(8.82, abs=0.01)
    assert counted_at(LEG_PRESS, 80) == pytest.approx(13.05, abs=0.01)
    assert counted_at(BENCH_PRESS, 70) == pytest.approx(14.1, abs=0.01)
    assert counted_at(LEG_PRESS, 70) == pytest.approx(19.0, abs=0.01)
    # The leg press also at 90 %: 8.69.
    assert counted_at(LEG_PRESS, 90) == pytest.approx(8.69, abs=0.01)
    for percent in range(50, 100):
        assert counted_at(LEG_PRESS, percent) > counted_at(BENCH_PRESS, percent)


@each_curve
def test_s2_6_heavier_means_fewer_repetitions(curve: Curve) -> None:
    # The same paper: means fall at every step from 60 to 90 %; here at every tenth of a percent between.
    counted = [counted_at(curve, tenths / 10) for tenths in range(600, 901)]
    assert all(heavier < lighter for lighter, heavier in pairwise(counted))


def test_an_exercise_has_its_own_curve_where_one_is_published() -> None:
    assert curve_of("bench-press") is BENCH_PRESS
    assert curve_of("leg-press") is LEG_PRESS
    assert curve_of("squat") is GENERAL


@each_curve
def test_one_repetition_is_at_the_maximum(curve: Curve) -> None:
    assert curve.ratio(1.0) == 0.0
    assert curve.repetitions_at(0.0) == 1.0
    assert curve.ratio(0.0) < 0.0


@given(curves, st.floats(0.01, 60), st.floats(1e-6, 5))
def test_each_repetition_more_is_at_a_lighter_load(curve: Curve, repetitions: float, more: float) -> None:
    assert curve.ratio(repetitions + more) > curve.ratio(repetitions)
    assert curve.slope(repetitions) > 0


# Means that rise as the load falls, however unevenly.
steps = st.lists(st.tuples(st.floats(0.05, 8), st.floats(0.1, 12)), min_size=1, max_size=7)


@given(steps, st.floats(0, 1), st.floats(0, 1))
def test_a_curve_through_any_falling_means_falls(found: list[tuple[float, float]], one: float, other: float) -> None:
    points, mean, percent = [], 0.6, 100.0
    for more, lighter in found:
        mean, percent = mean + more, percent - lighter
        points.append((mean, percent))
    curve = curve_through("any", points)
    low, high = (1 + share * (mean - 0.5) for share in sorted((one, other)))
    assert curve.ratio(low) <= curve.ratio(high) + 1e-12
    assert curve.slope(low) >= -1e-12
    for mean, percent in points:
        assert curve.ratio(mean + 0.5) == pytest.approx(log(100 / percent), abs=1e-12)


@given(curves, st.floats(0.01, 60))
def test_the_inverse_gives_the_repetitions_back(curve: Curve, repetitions: float) -> None:
    assert curve.repetitions_at(curve.ratio(repetitions)) == pytest.approx(repetitions, rel=1e-11)


@given(curves, st.floats(-0.1, 2))
def test_the_inverse_gives_the_load_back(curve: Curve, ratio: float) -> None:
    assert curve.ratio(curve.repetitions_at(ratio)) == pytest.approx(ratio, rel=1e-12, abs=1e-13)


def spline(curve: Curve) -> CubicHermiteSpline:
    """SciPy's cubic pieces through the same knots with the same slopes there."""
    return CubicHermiteSpline(curve.repetitions, curve.ratios, curve.slopes)


@each_curve
def test_values_and_derivative_are_those_of_cubic_pieces(curve: Curve) -> None:
    within = np.linspace(curve.repetitions[0], curve.repetitions[-1], 1001)
    values, derivative = spline(curve)(within), spline(curve).derivative()(within)
    np.testing.assert_allclose([curve.ratio(float(r)) for r in within], values, rtol=1e-13, atol=1e-15)
    np.testing.assert_allclose([curve.slope(float(r)) for r in within], derivative, rtol=1e-11)


@each_curve
def test_the_derivative_is_how_fast_the_ratio_rises(curve: Curve) -> None:
    for repetitions in np.linspace(0.3, 45, 300):
        step = 1e-4
        # Fourth order, so that what is left is rounding; at a knot only to second order, where the third one jumps.
        near, far = (
            (curve.ratio(repetitions + width) - curve.ratio(repetitions - width)) / (2 * width)
            for width in (step, 2 * step)
        )
        assert curve.slope(float(repetitions)) == pytest.approx((4 * near - far) / 3, rel=1e-6)


@each_curve
def test_inner_slopes_are_those_of_scipys_monotone_pieces(curve: Curve) -> None:
    # The same weighted harmonic mean (Fritsch & Butland 1984). Not so at the two ends: there SciPy looks at three knots
    # and this curve goes on as a straight line, so that beyond the last published row the last slope holds.
    scipys = PchipInterpolator(curve.repetitions, curve.ratios)
    inner = np.array(curve.repetitions[1:-1])
    np.testing.assert_allclose(curve.slopes[1:-1], scipys(inner, 1), rtol=1e-12)
    between = np.linspace(inner[0], inner[-1], 200)
    np.testing.assert_allclose([curve.ratio(float(r)) for r in between], scipys(between), rtol=1e-12)


@each_curve
def test_the_ends_are_straight(curve: Curve) -> None:
    for end, next_to_it in ((0, 1), (-1, -2)):
        rise = curve.ratios[end] - curve.ratios[next_to_it]
        secant = rise / (curve.repetitions[end] - curve.repetitions[next_to_it])
        assert curve.slopes[end] == pytest.approx(secant, rel=1e-12)
    last = curve.repetitions[-1]
    assert curve.ratio(last + 10) == pytest.approx(curve.ratios[-1] + 10 * curve.slopes[-1], rel=1e-12)
    assert curve.slope(last + 10) == curve.slopes[-1]
    assert curve.ratio(0.4) == pytest.approx(-0.6 * curve.slopes[0], rel=1e-12)


@each_curve
def test_it_stays_sensible_to_forty(curve: Curve) -> None:
    # Nothing is published for forty; our judgement: between a quarter and a half of the maximum, and every repetition
    # on the way takes between half a percent and five percent of the load.
    assert 0.25 < exp(-curve.ratio(40.0)) < 0.55
    for repetitions in range(1, 40):
        costs = curve.ratio(repetitions + 1.0) - curve.ratio(float(repetitions))
        assert 0.005 < costs < 0.05


@each_curve
def test_the_table_is_the_curve_at_whole_repetitions(curve: Curve) -> None:
    table = ratio_table(curve.name)
    assert table == tuple(curve.ratio(float(repetitions)) for repetitions in range(LONGEST + 2))
    assert len(table) == 62
