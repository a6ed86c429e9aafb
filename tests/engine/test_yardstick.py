"""What makes two lines comparable, and how much a limit leaves."""

from decimal import Decimal
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelyard.engine.formulas import EQUATIONS, Equation, estimate_one_rm
from steelyard.engine.yardstick import COUNT_STEP, SLACK, Yardstick

EPLEY = Yardstick(equation=EQUATIONS["epley"], measure="reps", target_rir=2)
HOLD = Yardstick(equation=EQUATIONS["epley"], measure="seconds", target_rir=2)

equations = st.sampled_from(tuple(EQUATIONS.values()))
masses = st.integers(1, 1200).map(lambda quarters: Decimal(quarters) / 4)
target_rirs = st.integers(0, 5)


def within(equivalent: float | None, allowed: float) -> bool:
    """Whether a line is under a limit, with twice the slack, so that the last bit decides nothing."""
    return equivalent is None or equivalent <= allowed * (1 + 2 * SLACK)


def test_a_set_counts_with_the_reserve_it_is_meant_to_leave() -> None:
    # 100 kg x 5, two in reserve: as seven to failure, by Epley 100 * (1 + 7/30).
    assert EPLEY.equivalent(Decimal(100), 5) == pytest.approx(123.3333, abs=1e-3)


def test_less_reserve_than_meant_counts_as_it_was() -> None:
    assert EPLEY.equivalent(Decimal(100), 5, Decimal(0)) == pytest.approx(100 * (1 + 5 / 30))
    assert EPLEY.equivalent(Decimal(100), 5, Decimal("0.5")) == pytest.approx(100 * (1 + 5.5 / 30))


@given(equations, masses, st.integers(1, 30), target_rirs, st.integers(0, 20).map(lambda halves: Decimal(halves) / 2))
def test_a_reported_reserve_never_earns_more_than_the_target(
    equation: Equation, load: Decimal, count: int, target_rir: int, reported: Decimal
) -> None:
    yardstick = Yardstick(equation=equation, measure="reps", target_rir=target_rir)
    silent, said = yardstick.equivalent(load, count), yardstick.equivalent(load, count, reported)
    assert silent is not None
    assert said is not None
    assert said <= silent
    assert (said == silent) or reported < target_rir


@pytest.mark.parametrize("yardstick", [EPLEY, HOLD])
@pytest.mark.parametrize("count", [0, -1])
def test_nothing_lifted_has_no_equivalent(yardstick: Yardstick, count: int) -> None:
    assert yardstick.equivalent(Decimal(100), count) is None
    assert yardstick.equivalent_at(Decimal(100), count, 2) is None


def test_a_single_with_nothing_left_is_the_load() -> None:
    assert EPLEY.equivalent(Decimal(140), 1, Decimal(0)) == 140


@given(equations, masses, st.integers(1, 200), target_rirs)
def test_a_set_longer_than_the_equation_still_counts(
    equation: Equation, load: Decimal, count: int, target_rir: int
) -> None:
    yardstick = Yardstick(equation=equation, measure="reps", target_rir=target_rir)
    here, more = yardstick.equivalent(load, count), yardstick.equivalent(load, count + 1)
    assert here is not None
    assert more is not None
    assert float(load) <= here <= more


def test_below_nothing_counts_as_nothing() -> None:
    # Assisted so far that less than no load is left.
    assert EPLEY.equivalent(Decimal(-5), 8) == 0
    assert EPLEY.equivalent_at(Decimal(-5), 8, 2) == 0


def test_a_hold_is_compared_by_load_times_seconds_and_without_load_by_seconds() -> None:
    assert HOLD.equivalent(Decimal(20), 30) == 600
    assert HOLD.equivalent(Decimal(0), 30) == 30
    assert HOLD.equivalent_at(Decimal(20), 30, 0) == 600


@given(equations, masses, st.integers(1, 30), target_rirs)
def test_a_planned_set_at_the_target_equals_a_done_one(
    equation: Equation, load: Decimal, count: int, target_rir: int
) -> None:
    yardstick = Yardstick(equation=equation, measure="reps", target_rir=target_rir)
    assert yardstick.equivalent_at(load, count, target_rir) == yardstick.equivalent(load, count)


@given(equations, masses, st.floats(0.2, 60), target_rirs)
def test_the_most_repetitions_are_the_most(equation: Equation, load: Decimal, times: float, rir: int) -> None:
    yardstick = Yardstick(equation=equation, measure="reps", target_rir=2)
    allowed = float(load) * times
    most = yardstick.most_count(load, allowed, rir)
    assert 0 <= most <= yardstick.longest
    assert within(yardstick.equivalent_at(load, most, rir), allowed)
    # Past its end an equation is flat: there the count is unlimited, and no line is so long.
    if most + rir + 1 < equation.defined_below - 1:
        one_more = yardstick.equivalent_at(load, most + 1, rir)
        assert one_more is not None
        assert one_more > allowed


@given(equations, masses, st.integers(1, 30), target_rirs)
def test_a_line_exactly_on_the_limit_is_under_it(equation: Equation, load: Decimal, count: int, rir: int) -> None:
    yardstick = Yardstick(equation=equation, measure="reps", target_rir=rir)
    allowed = estimate_one_rm(equation, float(load), min(count + rir, equation.defined_below - 1))
    # A limit is a product of its own: its last bits may fall below.
    assert yardstick.most_count(load, allowed * (1 - SLACK / 10)) >= count


@given(
    st.sampled_from(("seconds", "metres")),
    st.integers(0, 400).map(lambda quarters: Decimal(quarters) / 4),
    st.floats(0, 20_000),
)
def test_the_longest_hold_is_the_longest(measure: Literal["seconds", "metres"], load: Decimal, allowed: float) -> None:
    yardstick = Yardstick(equation=EQUATIONS["epley"], measure=measure, target_rir=2)
    step = COUNT_STEP[measure]
    most = yardstick.most_count(load, allowed)
    assert most % step == 0
    assert within(yardstick.equivalent(load, most), allowed + 1e-6)
    one_more = yardstick.equivalent(load, most + step)
    assert one_more is not None
    assert one_more > allowed * (1 - 1e-6)


def test_without_load_repetitions_have_no_limit() -> None:
    assert EPLEY.most_count(Decimal(0), 10.0) == EPLEY.longest
    assert EPLEY.most_count(Decimal(-10), 10.0) == EPLEY.longest
