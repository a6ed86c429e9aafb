"""bound(): the one function that every wish passes, against every limit there is."""

from datetime import date
from decimal import Decimal
from typing import Any

import msgspec
import pytest

from steelyard.engine.equipment import Loadable
from steelyard.engine.limits import Bounded, EquivalentCode, Limits, bound
from steelyard.engine.quantities import kg

from .limit_builders import BY_2_5, HOLD, codes, held, limit, overrule, step, wide, wish

# 100 kg x 8 with two in reserve is worth 100 * (1 + 10/30) = 133.33 kg by Epley with r/30.
WORTH_OF_100_BY_8 = 100 * (1 + 10 / 30)


def test_a_wish_under_every_limit_is_given_as_it_is_and_nothing_is_named() -> None:
    bounded = held(wish(100, 8), wide())
    assert bounded.wanted == bounded.allowed == wish(100, 8)
    assert bounded.bound_by == ()


@pytest.mark.parametrize("name", ["weekly", "twelve_weeks", "regain"])
def test_each_limit_of_the_equivalent_takes_repetitions_first_and_is_named(name: str) -> None:
    codes_of: dict[str, EquivalentCode] = {
        "weekly": "weekly-limit",
        "twelve_weeks": "twelve-week-limit",
        "regain": "regain-limit",
    }
    narrow = limit(codes_of[name], 127.0, "0.03")  # 130.81: 100 kg x 7 (130.00) fits, x 8 (133.33) does not
    bounded = held(wish(100, 8), wide(**{name: narrow}, is_returning=name == "regain"))
    assert bounded.allowed == wish(100, 7)
    assert codes(bounded) == [codes_of[name]]
    said = msgspec.structs.asdict(bounded.bound_by[0])
    assert said["wanted_kg"] == Decimal("133.3")
    assert said["allowed_kg"] == Decimal("130.8")
    assert said["reference_kg"] == Decimal("127.0")
    assert said["ceiling"] == Decimal("0.03")
    assert said["evidence"] == ("set-1",)


def test_a_regain_limit_outside_a_return_binds_nothing() -> None:
    assert held(wish(100, 8), wide(regain=limit("regain-limit", 50.0))).allowed == wish(100, 8)


def test_repetitions_go_down_to_the_bottom_and_then_the_load() -> None:
    # 100 x 5 is worth 123.33, 97.5 x 5 120.25; the count then goes back up as far as it fits, never over the wish.
    assert held(wish(100, 8), wide(weekly=limit("weekly-limit", 123.4))).allowed == wish(100, 5)
    assert held(wish(100, 8), wide(weekly=limit("weekly-limit", 123.3))).allowed == wish("97.5", 5)
    assert held(wish(100, 5), wide(weekly=limit("weekly-limit", 120.0))).allowed == wish(95, 5)


def test_a_wish_below_the_bottom_keeps_its_own_count() -> None:
    assert held(wish(100, 3), wide(weekly=limit("weekly-limit", 100 * (1 + 5 / 30)))).allowed == wish(100, 3)
    assert held(wish(100, 3), wide(weekly=limit("weekly-limit", 100 * (1 + 5 / 30) - 0.1))).allowed == wish("97.5", 3)


def test_exactly_at_the_allowed_equivalent_is_under_it() -> None:
    exact = wide(weekly=limit("weekly-limit", WORTH_OF_100_BY_8 / 1.03, "0.03"))
    assert held(wish(100, 8), exact) == Bounded(wanted=wish(100, 8), allowed=wish(100, 8), bound_by=())
    just_under = wide(weekly=limit("weekly-limit", WORTH_OF_100_BY_8 * (1 - 1e-6)))
    assert held(wish(100, 8), just_under).allowed == wish(100, 7)


def test_the_wished_reserve_counts() -> None:
    # With three in reserve 100 x 8 counts as eleven, 136.67 kg; with two as ten, 133.33 kg.
    between = wide(weekly=limit("weekly-limit", 135.0))
    assert held(wish(100, 8, rir=2), between).allowed == wish(100, 8, rir=2)
    assert held(wish(100, 8, rir=3), between).allowed == wish(100, 7, rir=3)


def test_no_load_under_the_limits_gives_the_lightest_with_what_fits_and_says_so() -> None:
    fits_four = wide(weekly=limit("weekly-limit", 20 * (1 + 6 / 30)))
    bounded = held(wish(100, 8), fits_four)
    assert bounded.allowed == wish(20, 4)
    assert codes(bounded) == ["weekly-limit", "no-load-under-limit"]
    assert msgspec.structs.asdict(bounded.bound_by[-1])["lightest"] == kg(20)
    fits_none = wide(weekly=limit("weekly-limit", 5.0))
    assert held(wish(100, 8), fits_none).allowed == wish(20, 1)
    below_the_lightest = held(wish(10, 8), wide())
    assert below_the_lightest.allowed == wish(20, 8)
    assert codes(below_the_lightest) == ["no-load-under-limit"]


def test_a_missing_limit_is_no_rise() -> None:
    latest = Limits(latest_equivalent=WORTH_OF_100_BY_8, latest_total=Decimal(100), evidence=("set-9",))
    assert held(wish(100, 8), latest) == Bounded(wanted=wish(100, 8), allowed=wish(100, 8), bound_by=())
    more_reps = held(wish(100, 9), latest)
    assert more_reps.allowed == wish(100, 8)
    assert codes(more_reps) == ["weekly-limit", "weekly-limit"]
    assert msgspec.structs.asdict(more_reps.bound_by[0])["evidence"] == ("set-9",)
    assert msgspec.structs.asdict(more_reps.bound_by[0])["ceiling"] == 0
    assert held(wish("102.5", 5), latest).allowed == wish(100, 5)
    returning = msgspec.structs.replace(wide(), is_returning=True, latest_equivalent=130.0)
    assert held(wish(100, 8), returning).allowed == wish(100, 7)
    assert held(wish(100, 8), Limits()).allowed == wish(20, 1)


def test_five_percent_exactly_is_under_the_step() -> None:
    assert step("100", "105").allowed() == Decimal(105)
    assert not step("100", "105").is_jump(Decimal("0.05"))
    assert step("100", "105.01").is_jump(Decimal("0.05"))
    assert not step("100", None).is_jump(Decimal("0.05"))
    bounded = held(wish(105, 5), wide(step=step("100", "102.5")))
    assert bounded.allowed == wish(105, 5)
    assert bounded.bound_by == ()


def test_over_the_step_the_load_is_the_last_one_that_can_be_made_under_it() -> None:
    limits = wide(step=step("100", "102.5"), evidence=("set-7",))
    bounded = held(wish("107.5", 5), limits)
    assert bounded.allowed == wish(105, 5)
    assert codes(bounded) == ["step-limit"]
    said = msgspec.structs.asdict(bounded.bound_by[0])
    assert (said["wanted"], said["allowed"], said["last"]) == (kg("107.5"), kg(105), kg(100))
    assert (said["ceiling"], said["evidence"]) == (Decimal("0.05"), ("set-7",))


@pytest.mark.parametrize(
    ("is_taken", "allowed", "code"), [(True, "22.5", "smallest-jump"), (False, "20", "smallest-jump-refused")]
)
def test_the_smallest_jump_is_taken_or_refused_by_name(is_taken: bool, allowed: str, code: str) -> None:
    bounded = held(wish(25, 5), wide(step=step("20", "22.5", jump=is_taken)))
    assert bounded.allowed == wish(allowed, 5)
    assert codes(bounded) == [code]


def test_a_jump_over_the_step_of_which_nothing_is_known_is_not_taken() -> None:
    assert held(wish(25, 5), wide(step=step("20", "22.5"))).allowed == wish(20, 5)


def test_without_a_heavier_load_the_share_is_the_step() -> None:
    assert step("200", None).allowed() == Decimal(210)


def test_a_line_that_does_not_rise_names_no_step() -> None:
    assert held(wish(20, 5), wide(step=step("20", "22.5", jump=True))).bound_by == ()


def test_an_overruled_step_goes_as_far_as_the_coach_said() -> None:
    narrow = step("20", "22.5", jump=False)
    lifted = held(wish(40, 5), wide(step=narrow, overruled=(overrule("step-limit", None),)))
    assert lifted.allowed == wish(40, 5)
    assert codes(lifted) == ["limit-overruled"]
    elsewhere = held(wish(40, 5), wide(step=narrow, overruled=(overrule("step-limit", "0.25"),)))
    assert elsewhere.allowed == wish(25, 5)
    assert codes(elsewhere) == ["limit-overruled", "step-limit"]
    assert msgspec.structs.asdict(elsewhere.bound_by[1])["ceiling"] == Decimal("0.25")
    lower = held(wish(105, 5), wide(step=step("100", "102.5"), overruled=(overrule("step-limit", "0.03"),)))
    assert lower.allowed == wish("102.5", 5)
    assert (
        held(wish(100, 5), wide(step=step("100", "102.5"), overruled=(overrule("step-limit", "0.03"),))).bound_by == ()
    )


def test_an_overruled_step_without_a_latest_line() -> None:
    lifted = Limits(overruled=(overrule("step-limit", None),), latest_total=Decimal(50), latest_equivalent=500.0)
    assert held(wish(100, 5), lifted).allowed == wish(100, 5)
    assert codes(held(wish(100, 5), lifted)) == ["limit-overruled"]


@pytest.mark.parametrize(("name", "code"), [("weekly", "weekly-limit"), ("twelve_weeks", "twelve-week-limit")])
def test_an_overruled_limit_of_the_equivalent(name: str, code: Any) -> None:
    narrow = {name: limit(code, 120.0, "0.03")}  # 123.6: 100 x 5
    lifted = held(wish(100, 8), wide(**narrow, overruled=(overrule(code, None),)))
    assert lifted.allowed == wish(100, 8)
    assert codes(lifted) == ["limit-overruled"]
    said = msgspec.structs.asdict(lifted.bound_by[0])
    assert (said["limit"], said["ceiling"], said["by"], said["why"]) == (code, None, "coach", "a meet")
    assert said["until"] == date(2026, 4, 1)
    elsewhere = held(wish(100, 8), wide(**narrow, overruled=(overrule(code, "0.10"),)))  # 132: 100 x 7
    assert elsewhere.allowed == wish(100, 7)
    assert codes(elsewhere) == ["limit-overruled", code]
    assert msgspec.structs.asdict(elsewhere.bound_by[1])["ceiling"] == Decimal("0.10")
    no_difference = held(wish(100, 5), wide(**narrow, overruled=(overrule(code, "0.10"),)))
    assert no_difference.bound_by == ()
    lower = held(wish(100, 5), wide(**narrow, overruled=(overrule(code, "0"),)))  # 120: not 100 x 5
    assert lower.allowed == wish("95", 5)
    assert codes(lower) == ["limit-overruled", code]


def test_the_overruling_entered_last_counts() -> None:
    both = (overrule("weekly-limit", None), overrule("weekly-limit", "0.03"))
    narrow = limit("weekly-limit", 120.0, "0.01")
    assert held(wish(100, 8), wide(weekly=narrow, overruled=both)).allowed == wish(100, 5)
    assert held(wish(100, 8), wide(weekly=narrow, overruled=both[::-1])).allowed == wish(100, 8)


def test_a_served_pause_lifts_the_limit_by_name_unless_a_coach_set_it() -> None:
    paused = msgspec.structs.replace(limit("twelve-week-limit", 120.0, "0.03"), after_pause=WORTH_OF_100_BY_8)
    lifted = held(wish(100, 8), wide(twelve_weeks=paused))
    assert lifted.allowed == wish(100, 8)
    assert codes(lifted) == ["pause-served"]
    said = msgspec.structs.asdict(lifted.bound_by[0])
    assert (said["allowed_kg"], said["reference_kg"], said["ceiling"], said["evidence"]) == (
        Decimal("133.3"),
        Decimal("120.0"),
        Decimal("0.03"),
        ("set-1",),
    )
    assert held(wish(100, 5), wide(twelve_weeks=paused)).bound_by == ()
    beyond = held(wish(100, 9), wide(twelve_weeks=paused))
    assert beyond.allowed == wish(100, 8)
    assert codes(beyond) == ["twelve-week-limit"]
    overruled = wide(twelve_weeks=paused, overruled=(overrule("twelve-week-limit", "0.10"),))
    assert held(wish(100, 8), overruled).allowed == wish(100, 7)


def test_the_part_that_is_body_is_not_shown() -> None:
    limits = wide(step=step("100", "102.5"), body_part=Decimal(80))
    said = msgspec.structs.asdict(held(wish(110, 5), limits).bound_by[0])
    assert (said["wanted"], said["allowed"], said["last"]) == (kg(30), kg(25), kg(20))
    too_heavy = held(wish(100, 8), wide(weekly=limit("weekly-limit", 5.0), body_part=Decimal(15)))
    assert msgspec.structs.asdict(too_heavy.bound_by[-1])["lightest"] == kg(5)


def test_holds_may_always_rise_by_one_step() -> None:
    narrow = limit("weekly-limit", 20.0 * 30, "0.03", least_rise=100.0)
    assert narrow.allowed == 700
    assert bound(wish(20, 35), wide(weekly=narrow), HOLD, BY_2_5, 20).allowed == wish(20, 35)
    assert bound(wish(20, 40), wide(weekly=narrow), HOLD, BY_2_5, 20).allowed == wish(20, 35)
    assert limit("weekly-limit", 5000.0, "0.03", least_rise=100.0).allowed == pytest.approx(5150)


def test_the_lightest_load_keeps_the_wish_and_its_reserve() -> None:
    # 20 kg: four with three in reserve count as seven, 24.67 kg; with two in reserve five would fit.
    narrow = wide(weekly=limit("weekly-limit", 20 * (1 + 7 / 30)))
    bounded = held(wish(100, 8, rir=3), narrow)
    assert bounded.wanted == wish(100, 8, rir=3)
    assert bounded.allowed == wish(20, 4, rir=3)


def test_without_any_level_nothing_is_allowed() -> None:
    bounded = held(wish(100, 8), Limits())
    assert msgspec.structs.asdict(bounded.bound_by[0])["allowed_kg"] == 0
    light = Loadable((Decimal("0.5"), Decimal(1)))
    no_step = held(
        wish(1, 8),
        Limits(weekly=limit("weekly-limit", 1e6), twelve_weeks=limit("twelve-week-limit", 1e6)),
        loadable=light,
    )
    assert codes(no_step) == ["no-load-under-limit"]


def test_an_overruling_at_the_very_limit_makes_no_difference() -> None:
    exact = limit("weekly-limit", WORTH_OF_100_BY_8)
    assert held(wish(100, 8), wide(weekly=exact, overruled=(overrule("weekly-limit", None),))).bound_by == ()
