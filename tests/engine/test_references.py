"""What a line's limits are reckoned from: training weeks counted back from the day, normal training only."""

from datetime import timedelta
from decimal import Decimal

import pytest

from steelyard.engine.formulas import EQUATIONS
from steelyard.engine.limits import (
    ceilings,
    current_normal,
    equivalent_limit,
    level_after_pause,
    overruled_reason,
    twelve_week_reference,
    weekly_reference,
)
from steelyard.engine.phases import Phased
from steelyard.engine.policy import Policy
from steelyard.engine.yardstick import Yardstick

from .exposures import DAY, ago, exposure, normal
from .limit_builders import EPLEY, HOLD, overrule


def days(found: tuple[Phased, ...]) -> list[int]:
    """How many days ago each exposure was."""
    return [(DAY - p.exposure.on).days for p in found]


def line(*days_ago: int) -> tuple[Phased, ...]:
    """Normal sessions so many days ago, earliest first."""
    return tuple(normal(n, 100) for n in days_ago)


def test_this_week_is_no_reference_while_there_is_an_earlier_one() -> None:
    assert days(weekly_reference(line(13, 7, 6, 0), DAY, 6)) == [13, 7]


def test_six_weeks_that_hold_training_count_however_old() -> None:
    found = weekly_reference(line(300, 100, 61, 60, 50, 40, 30, 20, 10, 3), DAY, 6)
    assert days(found) == [61, 60, 50, 40, 30, 20, 10]


def test_a_first_week_is_reckoned_from_its_first_day() -> None:
    assert days(weekly_reference((*line(5, 5), normal(3, 110)), DAY, 6)) == [5, 5]
    assert weekly_reference((normal(3, 100, 0),), DAY, 6) == ()


def test_twelve_weeks_back_begins_at_day_84() -> None:
    assert days(twelve_week_reference(line(95, 84, 83, 3), DAY, 6)) == [95, 84]
    assert days(twelve_week_reference(line(200, 190, 170, 150, 130, 120, 110, 100, 90, 1), DAY, 6)) == [
        150, 130, 120, 110, 100, 90,
    ]  # fmt: skip


@pytest.mark.parametrize(("first", "expected"), [(91, [91, 84]), (90, [90, 84]), (92, [92])])
def test_the_first_seven_days_stand_in_until_day_91(first: int, expected: list[int]) -> None:
    # At 91 and more the weeks from day 84 count, of which one is asked for here; at 90 the first seven days do.
    weeks = 1 if first == 92 else 6
    found = days(twelve_week_reference(line(first, *(n for n in (84, 83, 20) if n < first)), DAY, weeks))
    assert found == ([84] if first == 92 else expected)


def test_the_first_seven_days_are_counted_from_the_first_of_them() -> None:
    assert days(twelve_week_reference(line(40, 34, 33, 10), DAY, 6)) == [40, 34]
    assert days(twelve_week_reference(line(85, 80, 10), DAY, 6)) == [85, 80]


def test_a_line_that_began_this_week_has_one_reference() -> None:
    assert days(twelve_week_reference(line(5, 3, 1), DAY, 6)) == [5]
    assert days(twelve_week_reference(line(7, 6, 1), DAY, 6)) == [7, 6, 1]
    assert twelve_week_reference((normal(3, 100, 0),), DAY, 6) == ()


def test_only_normal_training_since_the_new_start_counts() -> None:
    past = (
        normal(200, 150),
        normal(30, 100, epoch=1),
        normal(20, 90, phase="deload", epoch=1),
        normal(10, 100, 0, epoch=1),
        normal(9, 100, 1, epoch=1),
    )
    assert days(current_normal(past)) == [30, 9]
    # Without any, whatever there is since the new start.
    assert days(current_normal((normal(200, 150), normal(30, 80, phase="return", epoch=1)))) == [30]


def test_after_a_pause_a_week_s_share_over_training_two_weeks_old() -> None:
    past = (normal(14, 100, 8), normal(13, 120, 8))
    assert level_after_pause(past, DAY, Decimal("0.03"), EPLEY) == pytest.approx(100 * (1 + 10 / 30) * 1.03)
    assert level_after_pause(past[1:], DAY, Decimal("0.03"), EPLEY) == 0


def test_a_limit_over_the_best_of_its_reference() -> None:
    found = equivalent_limit(
        "weekly-limit", (normal(20, 100, 8, 7, 6, 5), normal(10, 90, 5, 5, 5)), Decimal("0.03"), EPLEY
    )
    assert found is not None
    assert found.reference == pytest.approx(100 * (1 + 10 / 30))
    assert (found.code, found.ceiling, found.least_rise) == ("weekly-limit", Decimal("0.03"), 0)
    assert found.evidence == ("set-20-1", "set-20-2", "set-20-3", "set-10-0", "set-10-1", "set-10-2")
    assert equivalent_limit("weekly-limit", (normal(3, 100, 0),), Decimal(0), EPLEY) is None


def test_holds_and_carries_may_rise_by_five_at_the_heaviest_load() -> None:
    past = (Phased(exposure(20, 20, 30), "normal", 0), Phased(exposure(10, 10, 30), "normal", 0))
    found = equivalent_limit("weekly-limit", past, Decimal("0.03"), HOLD)
    assert found is not None
    assert (found.reference, found.least_rise) == (600, 100)
    unloaded = equivalent_limit("weekly-limit", (normal(9, 0, 60),), Decimal("0.03"), HOLD)
    assert unloaded is not None
    assert (unloaded.reference, unloaded.least_rise) == (60, 5)


def test_a_beginner_has_the_wider_ceilings() -> None:
    assert ceilings(Policy(), DAY) == (Decimal("0.03"), Decimal("0.10"))
    assert ceilings(Policy(trained_since=ago(100)), DAY) == (Decimal("0.05"), Decimal("0.25"))
    assert ceilings(Policy(trained_since=ago(100)), DAY + timedelta(100)) == (Decimal("0.03"), Decimal("0.10"))


def test_an_overruling_is_said_whole() -> None:
    said = overruled_reason(overrule("weekly-limit", "0.06"))
    assert (said.limit, said.ceiling, said.by, said.why) == ("weekly-limit", Decimal("0.06"), "coach", "a meet")


def test_the_yardstick_of_the_policy_decides_what_is_best() -> None:
    past = (normal(20, 100, 3), normal(10, 90, 8))
    for name in ("epley", "brzycki"):
        yardstick = Yardstick(equation=EQUATIONS[name], measure="reps", target_rir=2)
        found = equivalent_limit("weekly-limit", past, Decimal(0), yardstick)
        assert found is not None
        assert found.reference == pytest.approx(
            max(yardstick.equivalent(Decimal(100), 3) or 0, yardstick.equivalent(Decimal(90), 8) or 0)
        )
