"""Effort as it was given, and the reserve that is read from it."""

from decimal import Decimal

import pytest
from hypothesis import given
from tests.strategies import HALF_POINTS, typed_decimals

from steelyard.engine.effort import MOST_RIR, Effort, EffortRefused


@given(typed_decimals(Decimal(0), MOST_RIR))
def test_a_reserve_is_taken_as_said(said: Decimal) -> None:
    assert Effort(said).rir == said


@pytest.mark.parametrize("value", ["-0.5", "10.5", "NaN", "sNaN", "Infinity"])
def test_a_reserve_off_the_scale_is_refused(value: str) -> None:
    with pytest.raises(EffortRefused):
        Effort(Decimal(value))


@pytest.mark.parametrize("value", ["4.5", "4", "1", "0", "10.5", "9.25", "NaN", "Infinity", "-9"])
def test_rpe_that_says_nothing_of_reserve_is_refused(value: str) -> None:
    with pytest.raises(EffortRefused):
        Effort(Decimal(value), "rpe")


def test_each_harder_rpe_leaves_no_more_in_reserve() -> None:
    reserves = [Effort(rpe, "rpe").rir for rpe in sorted(HALF_POINTS)]
    assert reserves == sorted(reserves, reverse=True)


def test_an_rpe_between_two_is_read_as_the_smaller_reserve() -> None:
    for half in ("9.5", "8.5", "7.5"):
        harder = Decimal(half) + Decimal("0.5")
        easier = Decimal(half) - Decimal("0.5")
        read = Effort(Decimal(half), "rpe").rir
        assert Effort(harder, "rpe").rir <= read < Effort(easier, "rpe").rir


def test_the_same_rpe_written_otherwise_is_the_same() -> None:
    assert Effort(Decimal("8.0"), "rpe").rir == Effort(Decimal(8), "rpe").rir == 2


def test_only_nine_and_a_half_says_that_load_was_left() -> None:
    assert [rpe for rpe in HALF_POINTS if Effort(rpe, "rpe").is_load_short] == [Decimal("9.5")]
    assert not Effort(Decimal("9.5"), "rir").is_load_short
