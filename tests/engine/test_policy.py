"""The coach's settings: each bounded, each with its source; nothing else can be set."""

from datetime import date, timedelta
from decimal import Decimal
from typing import Any, get_args

import msgspec
import pytest
from tests.builders import day

from steelyard.engine.formulas import EQUATIONS
from steelyard.engine.policy import Mark, Policy, PolicyRefused, Setting, changed, settings

SETTINGS = settings()
BOUNDED = {name: setting for name, setting in SETTINGS.items() if setting.least is not None}
WHOLE = {name for name in BOUNDED if isinstance(getattr(Policy(), name), int)}


def smallest_step(name: str) -> Decimal:
    """The least by which a setting can be outside its bounds."""
    return Decimal(1) if name in WHOLE else Decimal("0.0001")


def test_every_field_is_a_setting() -> None:
    assert set(SETTINGS) == {field.name for field in msgspec.structs.fields(Policy)}
    assert len(BOUNDED) > 20


@pytest.mark.parametrize("name", SETTINGS)
def test_every_setting_says_what_it_means_and_where_it_comes_from(name: str) -> None:
    setting = SETTINGS[name]
    assert setting.meaning
    assert setting.source
    assert setting.mark in get_args(Mark)
    # What is said to be published or remembered names what it was published in.
    names_a_source = "no source" not in setting.source
    assert names_a_source or setting.mark in {"common practice", "our judgement"}


@pytest.mark.parametrize("name", SETTINGS)
def test_every_number_has_both_bounds(name: str) -> None:
    default, setting = getattr(Policy(), name), SETTINGS[name]
    assert isinstance(default, int | Decimal) == (setting.least is not None) == (setting.most is not None)


@pytest.mark.parametrize("name", BOUNDED)
def test_every_default_is_inside_its_bounds(name: str) -> None:
    least, most = bounds(SETTINGS[name])
    assert least < most
    assert least <= Decimal(getattr(Policy(), name)) <= most


def bounds(setting: Setting) -> tuple[Decimal, Decimal]:
    """The bounds of a setting that has them."""
    assert setting.least is not None
    assert setting.most is not None
    return setting.least, setting.most


@pytest.mark.parametrize("name", BOUNDED)
def test_the_bounds_themselves_can_be_set(name: str) -> None:
    for bound in bounds(SETTINGS[name]):
        assert getattr(changed(Policy(), {name: str(bound)}), name) == bound


@pytest.mark.parametrize("name", BOUNDED)
def test_outside_its_bounds_a_setting_is_refused(name: str) -> None:
    least, most = bounds(SETTINGS[name])
    for outside in (least - smallest_step(name), most + smallest_step(name)):
        with pytest.raises(PolicyRefused, match=f"{name} is between {least} and {most}, not {outside}"):
            changed(Policy(), {name: str(outside)})
        with pytest.raises(PolicyRefused, match=name):
            built: dict[str, Any] = {name: int(outside) if name in WHOLE else outside}
            Policy(**built)


@pytest.mark.parametrize("typed", ["", "NaN", "sNaN", "Infinity", "-Infinity", "much", "3 %", "0,03", "null", "[1]"])
@pytest.mark.parametrize("name", BOUNDED)
def test_what_is_no_number_is_refused(name: str, typed: str) -> None:
    with pytest.raises(PolicyRefused, match=name):
        changed(Policy(), {name: typed})


@pytest.mark.parametrize("name", sorted(WHOLE))
def test_whole_settings_stay_whole(name: str) -> None:
    with pytest.raises(PolicyRefused, match=name):
        changed(Policy(), {name: f"{getattr(Policy(), name)}.5"})


@pytest.mark.parametrize("name", ["weekly_celing", "", "Policy", "__class__", "is_beginner", "weekly-ceiling"])
def test_an_unknown_setting_is_refused(name: str) -> None:
    with pytest.raises(PolicyRefused, match="there is no setting"):
        changed(Policy(), {name: "1"})


def test_one_refusal_refuses_all_and_leaves_the_policy_as_it_was() -> None:
    policy = Policy()
    with pytest.raises(PolicyRefused):
        changed(policy, {"target_rir": "3", "weekly_ceiling": "0.9"})
    assert policy == Policy()


@pytest.mark.parametrize("name", EQUATIONS)
def test_every_published_equation_can_be_chosen(name: str) -> None:
    assert changed(Policy(), {"equation": name}).equation == name


def test_an_equation_of_nobody_is_refused() -> None:
    with pytest.raises(PolicyRefused, match="epley"):
        changed(Policy(), {"equation": "guess"})


def test_changing_keeps_the_rest() -> None:
    policy = changed(Policy(), {"weekly_ceiling": "0.02", "target_rir": "3"})
    assert policy == Policy(weekly_ceiling=Decimal("0.02"), target_rir=3)


def test_the_day_training_began_can_be_set_and_taken_back() -> None:
    policy = changed(Policy(), {"trained_since": "2026-01-05"})
    assert policy.trained_since == date(2026, 1, 5)
    assert changed(policy, {"trained_since": ""}) == Policy()
    with pytest.raises(PolicyRefused, match="trained_since"):
        changed(policy, {"trained_since": "2026-02-30"})


@pytest.mark.parametrize(("days", "is_beginner"), [(-1, False), (0, True), (181, True), (182, False), (4000, False)])
def test_a_beginner_is_one_for_26_weeks_from_the_first_day(days: int, is_beginner: bool) -> None:
    began = day("2026-01-05")
    assert Policy(trained_since=began).is_beginner(began + timedelta(days)) == is_beginner


def test_unknown_training_age_is_never_a_beginners() -> None:
    assert not Policy().is_beginner(day("2026-01-05"))


def test_a_beginners_ceilings_are_not_below_the_others() -> None:
    policy = Policy()
    assert policy.weekly_ceiling <= policy.weekly_ceiling_beginner
    assert policy.twelve_week_ceiling <= policy.twelve_week_ceiling_beginner
    assert policy.return_cut_short <= policy.return_cut_long
