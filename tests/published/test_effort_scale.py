"""Agreement with the published scale of effort by repetitions in reserve (checks S3.1-S3.3)."""

from decimal import Decimal

import pytest

from steelyard.engine.effort import Effort
from steelyard.engine.formulas import EQUATIONS
from steelyard.engine.yardstick import Yardstick


@pytest.mark.parametrize(("rpe", "rir"), [("10", 0), ("9", 1), ("8", 2), ("7", 3)])
def test_s3_1_reserve_of_whole_points(rpe: str, rir: int) -> None:
    # Zourdos et al. 2016, J Strength Cond Res 30(1):267-275.
    assert Effort(Decimal(rpe), "rpe").rir == rir


def test_s3_2_nine_and_a_half_is_a_statement_about_load() -> None:
    # The same scale, half points from memory: no repetition was left, a little more load was.
    effort = Effort(Decimal("9.5"), "rpe")
    assert effort.rir == 0
    assert effort.is_load_short


@pytest.mark.parametrize(("rpe", "least", "most"), [("8.5", 1, 2), ("7.5", 2, 3), ("6", 4, 6), ("5", 4, 6)])
def test_bands_are_read_at_their_smaller_end(rpe: str, least: int, most: int) -> None:
    # The same scale, from memory: one, perhaps two left; two, perhaps three; four to six.
    assert least <= Effort(Decimal(rpe), "rpe").rir <= most
    assert Effort(Decimal(rpe), "rpe").rir == least


@pytest.mark.parametrize(("name", "one_rm"), [("epley", 123.333), ("brzycki", 120.000), ("wathan", 124.030)])
def test_s3_3_five_with_two_left_are_seven_to_failure(name: str, one_rm: float) -> None:
    # Derived: the equations (tests of prediction equations name their sources) at 5 + 2 repetitions of 100 kg.
    yardstick = Yardstick(equation=EQUATIONS[name], measure="reps", target_rir=2)
    assert yardstick.equivalent(Decimal(100), 5) == pytest.approx(one_rm, abs=5e-3)
    assert yardstick.equivalent(Decimal(100), 5, Decimal(2)) == pytest.approx(one_rm, abs=5e-3)
