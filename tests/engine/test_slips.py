"""Doubtful values: what is asked about, and what is left alone. Thresholds: our judgement, no source."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.builders import a_set

from steelyard.engine.log import SetBody
from steelyard.engine.quantities import Load
from steelyard.engine.slips import SlipKind, slips

TODAY = date(2026, 3, 1)
FIRST = date(2026, 1, 5)


def trained(loads: list[str], exercise: str = "bench-press", reps: int = 8) -> list[SetBody]:
    """Sessions four days apart, one load each, three sets."""
    return [a_set(FIRST + timedelta(4 * n), exercise, load, reps) for n, load in enumerate(loads) for _ in range(3)]


def kinds(sets: list[SetBody], known: list[SetBody] | None = None) -> list[tuple[int, SlipKind]]:
    """Which sets are doubtful, and how."""
    return [(slip.index, slip.kind) for slip in slips(sets, known or [], TODAY)]


def test_a_lost_decimal_mark_is_asked_about_and_what_was_meant_is_offered() -> None:
    sets = trained(["60", "62.5", "62.5", "65"])
    odd = a_set(FIRST + timedelta(20), "bench-press", "625", 8)
    (slip,) = slips([*sets, odd], [], TODAY)
    assert (slip.index, slip.kind, slip.meant) == (len(sets), "tenfold", Decimal("62.5"))


def test_a_nought_too_few_is_asked_about() -> None:
    sets = [*trained(["100", "100", "105", "105"]), a_set(FIRST + timedelta(20), "bench-press", "10.5", 8)]
    (slip,) = slips(sets, [], TODAY)
    assert (slip.kind, slip.meant) == ("tenth", Decimal(105))


def test_what_is_known_of_the_lifter_counts_too() -> None:
    known = trained(["60", "62.5", "62.5", "65"])
    assert kinds([a_set(FIRST + timedelta(30), "bench-press", "650", 5)], known) == [(0, "tenfold")]


def test_warming_up_with_the_bar_is_no_slip() -> None:
    day = [
        a_set(FIRST + timedelta(7 * n), "deadlift", load, 5) for n in range(5) for load in ("20", "60", "120", "220")
    ]
    assert kinds(day) == []


def test_a_load_far_above_all_others_is_asked_about() -> None:
    sets = [*trained(["60", "60", "62.5", "62.5"]), a_set(FIRST + timedelta(20), "bench-press", "140", 8)]
    assert kinds(sets) == [(12, "far-above")]


def test_a_beginner_who_doubles_a_small_load_is_left_alone() -> None:
    assert kinds(trained(["4", "5", "6", "7", "8", "9", "10"], "lateral-raise")) == []


def test_ninety_repetitions_at_a_heavy_load_are_asked_about() -> None:
    sets = [*trained(["100", "100", "102.5", "102.5"], reps=3), a_set(FIRST + timedelta(20), "bench-press", "100", 90)]
    (slip,) = slips(sets, [], TODAY)
    assert (slip.kind, slip.meant) == ("many-repetitions", Decimal(9))


def test_many_repetitions_without_load_are_training() -> None:
    assert kinds([a_set(FIRST + timedelta(n), "push-up", None, 60) for n in range(8)]) == []


def test_a_day_in_the_future_is_asked_about_and_today_is_not() -> None:
    assert kinds([a_set(TODAY, "squat", "60", 5), a_set(TODAY + timedelta(1), "squat", "60", 5)]) == [(1, "future-day")]


def test_a_year_mistyped_stands_alone() -> None:
    sets = [a_set(FIRST + timedelta(3 * n), "squat", "60", 5) for n in range(10)]
    assert kinds([*sets, a_set("2016-01-08", "squat", "60", 5)]) == [(10, "lone-day")]


def test_a_lifter_who_comes_back_after_years_is_no_slip() -> None:
    before = [a_set(date(2021, 1, 4) + timedelta(3 * n), "squat", "60", 5) for n in range(10)]
    now = [a_set(FIRST + timedelta(3 * n), "squat", "50", 5) for n in range(10)]
    assert kinds([*before, *now]) == []


@given(
    st.lists(
        st.tuples(st.integers(0, 200), st.decimals(0, 300, places=1), st.integers(0, 200)), min_size=1, max_size=30
    ),
    st.integers(-300, 300),
)
def test_dates_can_be_shifted_and_each_set_is_doubted_once(rows: list[tuple[int, Decimal, int]], shift: int) -> None:
    sets = [a_set(FIRST + timedelta(day), "squat", Load(load, "kg"), reps) for day, load, reps in rows]
    moved = [a_set(s.on + timedelta(shift), "squat", s.load, s.reps) for s in sets]
    here, there = slips(sets, [], TODAY), slips(moved, [], TODAY + timedelta(shift))
    assert here == there
    assert len({slip.index for slip in here}) == len(here)


@pytest.mark.parametrize("factor", [Decimal("0.45359237"), Decimal(1)])
def test_the_unit_does_not_matter(factor: Decimal) -> None:
    sets = [a_set(s.on, s.exercise, Load(s.load.value / factor, "lb" if factor != 1 else "kg"), 8)
            for s in [*trained(["60", "60", "60", "60"]), a_set(TODAY, "bench-press", "600", 8)] if s.load]  # fmt: skip
    assert [kind for _, kind in kinds(sets)] == ["tenfold"]
