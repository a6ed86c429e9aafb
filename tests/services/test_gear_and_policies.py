"""What a place can load, and the settings that the rules read."""

from datetime import timedelta
from decimal import Decimal

import pytest
from tests.services.training import MONDAY, ask, codes, line_of, month, train

from steelyard.engine.equipment import PlatePair, Steps
from steelyard.engine.policy import settings
from steelyard.engine.quantities import Load, kg, lb
from steelyard.services.gear import GearChange, change_gear, show_gear
from steelyard.services.policies import change_policy, show_policy
from steelyard.services.refusal import Refused
from steelyard.services.scribe import Scribe
from steelyard.store import queries


@pytest.mark.usefixtures("log_place")
def test_nobody_said_is_said() -> None:
    gear = show_gear(None)
    assert gear.is_assumed
    assert gear.place == "gym"
    assert gear.bar_loads_kg[0] == 20.0


def test_parts_that_are_not_named_stay(scribe: Scribe) -> None:
    change_gear(None, GearChange(bar=lb(45), plates=(PlatePair(lb(45), 2), PlatePair(lb(5)))), scribe)
    gear = change_gear(None, GearChange(dumbbells=(Steps(kg(2), kg(2), kg(20)),)), scribe)
    assert not gear.is_assumed
    assert (gear.bar, gear.plates) == (lb(45), (PlatePair(lb(45), 2), PlatePair(lb(5))))
    # 45 lb x 0.45359237 = 20.41165665 kg; with every plate 45 + 2 x (2 x 45 + 5) = 235 lb.
    assert (gear.bar_loads_kg[0], gear.bar_loads_kg[-1]) == (20.41165665, 106.59420695)
    assert show_gear("gym") == gear


def test_loads_go_down_to_what_the_place_makes_never_up(scribe: Scribe) -> None:
    train(scribe, "Ada", [s for s in month(load="61") if s.on < MONDAY - timedelta(days=20)])
    coarse = GearChange(bar=kg(20), plates=(PlatePair(kg(10), 3),))
    change_gear(None, coarse, scribe)
    line = line_of(ask(scribe))
    work = {s.load_kg for s in line.sets if s.kind == "work"}
    assert line.course == "return"  # 10 % off 61 kg is 54.9 kg; the bar makes 20, 40, 60 and 80
    assert work == {40.0}
    assert "rounded-down" in codes(line)
    assert {tuple(s.plates_per_side) for s in line.sets if s.kind == "work"} == {("10",)}


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (GearChange(bar=kg(0)), "masses above zero"),
        (GearChange(bar=Load(Decimal(3), "mark")), "masses above zero"),
        (GearChange(stack=Steps(kg(0), kg(5), kg(50))), "masses above zero"),
        (GearChange(stack=Steps(kg(1), kg("0.01"), kg(50))), "at most 500 steps"),
        (GearChange(plates=(PlatePair(kg(20), 61),)), "more than 60 pairs"),
    ],
)
def test_equipment_that_cannot_be_is_refused(scribe: Scribe, change: GearChange, message: str) -> None:
    with pytest.raises(Refused, match=message):
        change_gear(None, change, scribe)
    assert list(queries.all_entries()) == []


@pytest.mark.usefixtures("log_place")
def test_every_setting_is_shown_with_bounds_source_and_mark(scribe: Scribe) -> None:
    shown = {s.name: s for s in show_policy(None, None, scribe).settings}
    assert set(shown) == set(settings())
    for setting in shown.values():
        assert setting.value == setting.default
        assert setting.mark
        assert setting.source
        assert setting.meaning
    assert shown["weekly_ceiling"].bounds == "0.005-0.05"


def test_a_change_is_in_force_from_its_day_on(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    change_policy("Ada", {"target_rir": "3"}, MONDAY, scribe)
    for days, value in ((-1, "2"), (0, "3"), (30, "3")):
        shown = {s.name: s.value for s in show_policy("Ada", MONDAY + timedelta(days=days), scribe).settings}
        assert shown["target_rir"] == value
    assert {s.target_rir for s in line_of(ask(scribe)).sets if s.kind == "work"} == {3}
    change_policy("Ada", {"target_rir": "1", "trained_since": "2026-09-01"}, MONDAY, scribe)
    shown = {s.name: s.value for s in show_policy("Ada", MONDAY, scribe).settings}
    assert (shown["target_rir"], shown["trained_since"]) == ("1", "2026-09-01")


OUT_OF_BOUNDS = [
    (name, str(value))
    for name, s in settings().items()
    if s.least is not None and s.most is not None
    for value in (s.least - Decimal("0.001"), s.most + 1, "much", "nan", "inf")
]


@pytest.mark.parametrize(
    ("name", "value"),
    [*OUT_OF_BOUNDS, ("equation", "guess"), ("scheme", "magic"), ("trained_since", "long ago"), ("luck", "1")],
)
def test_what_is_out_of_bounds_or_unknown_is_refused(scribe: Scribe, name: str, value: str) -> None:
    train(scribe, "Ada", [])
    before = queries.count_entries()
    with pytest.raises(Refused, match=name if name != "scheme" else "no scheme 'magic'"):
        change_policy("Ada", {name: value}, MONDAY, scribe)
    assert queries.count_entries() == before


def test_a_day_can_be_unknown_again(scribe: Scribe) -> None:
    train(scribe, "Ada", [])
    change_policy("Ada", {"trained_since": "2026-09-01"}, MONDAY, scribe)
    change_policy("Ada", {"trained_since": ""}, MONDAY + timedelta(days=1), scribe)
    shown = {s.name: s.value for s in show_policy("Ada", MONDAY + timedelta(days=2), scribe).settings}
    assert shown["trained_since"] == "unknown"
