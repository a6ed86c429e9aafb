"""Who the lifters are: taken in once, changed part by part, told apart, and read by the rest of the program."""

from datetime import date, timedelta
from decimal import Decimal
from typing import Any, get_args

import pytest
from msgspec import UNSET
from tests.builders import an_equipment
from tests.services.training import MONDAY, ask, line_of, month, train

from steelyard.cli.commands import lifter as lifter_command
from steelyard.engine.equipment import PlatePair
from steelyard.engine.log import THE_HOUSE, Aim, CheckInBody, EquipmentBody, LifterBody
from steelyard.engine.planning import policy_on
from steelyard.engine.quantities import kg, lb
from steelyard.services.explaining import why
from steelyard.services.lifter_shown import roster, show_lifter
from steelyard.services.lifters import all_lifters, find_lifter, log_of
from steelyard.services.policies import change_policy
from steelyard.services.refusal import Refused
from steelyard.services.roster import (
    About,
    Forgettable,
    add_lifter,
    change_lifter,
    read_days,
    read_since,
    rename_lifter,
    unit_of,
)
from steelyard.services.scribe import Scribe
from steelyard.store import queries
from steelyard.wording.quantity import Voice

FULL = About(
    unit="lb",
    birth_year=1988,
    trained_since=date(2024, 5, 1),
    training_days=("mon", "wed", "fri"),
    sessions_per_week=3,
    place="home",
    aims=("strength", "meet"),
    aim_words="a first meet",
)


def said(scribe: Scribe) -> dict[str, Any]:
    """What is known of the only lifter."""
    shown = show_lifter(None, scribe)
    return {name: getattr(shown, name) for name in LifterBody.__struct_fields__ if name != "name"}


def test_what_is_said_is_kept_and_shown(scribe: Scribe) -> None:
    kept = add_lifter("  Ines   Falk ", FULL, scribe)
    assert (kept.lifter, kept.is_new, kept.is_place_known) == ("Ines Falk", True, False)
    assert said(scribe) == {
        "unit": "lb",
        "birth_year": 1988,
        "trained_since": "2024-05-01",
        "training_days": ("mon", "wed", "fri"),
        "sessions_per_week": 3,
        "place": "home",
        "aims": ("strength", "meet"),
        "aim_words": "a first meet",
    }
    (line,) = roster(scribe).lifters
    assert (line.lifter, line.aims, line.unit, line.last_session) == ("Ines Falk", ("strength", "meet"), "lb", None)
    assert line.screening.code == "not-asked"


def test_parts_that_are_not_named_stay_and_can_be_forgotten(scribe: Scribe) -> None:
    add_lifter("Ines", FULL, scribe)
    change_lifter("ines", About(sessions_per_week=4), (), scribe)
    assert (said(scribe)["sessions_per_week"], said(scribe)["place"]) == (4, "home")
    change_lifter("ines", About(), get_args(Forgettable), scribe)
    assert log_of(find_lifter("Ines")).lifter == LifterBody(name="Ines")
    assert log_of(find_lifter("Ines")).disputes == ()
    with pytest.raises(Refused, match="nothing was to be changed"):
        change_lifter("Ines", About(), ("born",), scribe)


def test_a_new_name_keeps_everything(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    change_lifter("Ada", FULL, (), scribe)
    person, before = find_lifter("Ada").person, said(scribe)
    assert rename_lifter("ada", "Ada Lind", scribe).was == "Ada"
    assert find_lifter("ada lind").person == person
    assert said(scribe) == before
    assert rename_lifter("Ada Lind", "ADA LIND", scribe).lifter == "ADA LIND"
    with pytest.raises(Refused, match="no lifter 'Ada'"):
        find_lifter("Ada")


def test_a_name_that_another_one_left_is_another_person(scribe: Scribe) -> None:
    """On the same day, on the same device."""
    add_lifter("Ada", About(), scribe)
    rename_lifter("Ada", "Ada Lind", scribe)
    add_lifter("Ada", About(), scribe)
    assert [x.name for x in all_lifters()] == ["Ada", "Ada Lind"]
    assert len({x.person for x in all_lifters()}) == 2


@pytest.mark.parametrize("name", ["ada", "ADA", " Ada "])
def test_two_of_one_name_are_refused(scribe: Scribe, name: str) -> None:
    add_lifter("Ada", About(), scribe)
    add_lifter("Bo", About(), scribe)
    with pytest.raises(Refused, match="called 'Ada' already"):
        add_lifter(name, About(), scribe)
    with pytest.raises(Refused, match="called 'Ada' already"):
        rename_lifter("Bo", name, scribe)
    assert queries.count_entries() == 2


@pytest.mark.parametrize(
    ("about", "words"),
    [
        (About(birth_year=1899), "born in 1899"),
        (About(birth_year=2027), "born in 2027"),
        (About(trained_since=date(2026, 11, 3)), "after today"),
        (About(trained_since=date(1980, 1, 1), birth_year=1988), "before they are born"),
        (About(sessions_per_week=0), "1 to 14 sessions"),
        (About(sessions_per_week=15), "1 to 14 sessions"),
        (About(place="\x07"), "control characters"),
        (About(aim_words="x" * 3000), "longer than"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_kept(scribe: Scribe, about: About, words: str) -> None:
    with pytest.raises(Refused, match=words):
        add_lifter("Ada", about, scribe)
    assert queries.count_entries() == 0
    add_lifter("Ada", About(), scribe)
    with pytest.raises(Refused, match=words):
        change_lifter("Ada", about, (), scribe)
    assert queries.count_entries() == 1


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("mon,wed,fri", ("mon", "wed", "fri")),
        ("Friday Monday", ("mon", "fri")),
        ("di; do; so", ("tue", "thu", "sun")),
        ("Mittwoch, Samstag, mittwoch", ("wed", "sat")),
    ],
)
def test_days_are_read_as_people_write_them(text: str, days: tuple[str, ...]) -> None:
    assert read_days(text) == days


@pytest.mark.parametrize("text", ["", "mon,,x", "someday", "1"])
def test_what_is_no_day_of_the_week_is_refused(text: str) -> None:
    with pytest.raises(Refused, match="no day of the week"):
        read_days(text)


def test_a_month_is_its_first_day() -> None:
    assert (read_since("2024-05"), read_since("2024-05-17")) == (date(2024, 5, 1), date(2024, 5, 17))
    for text in ("2024", "2024-13", "May", "2024-05-40"):
        with pytest.raises(Refused, match="2024-05"):
            read_since(text)


def test_since_when_they_train_wins_over_the_policy(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    change_policy("Ada", {"trained_since": "2020-01-01"}, MONDAY - timedelta(days=60), scribe)
    assert not policy_on(log_of(find_lifter("Ada")), MONDAY).is_beginner(MONDAY)
    change_lifter("Ada", About(trained_since=date(2026, 9, 1)), (), scribe)
    policy = policy_on(log_of(find_lifter("Ada")), MONDAY)
    assert policy.trained_since == date(2026, 9, 1)
    assert policy.is_beginner(MONDAY)
    change_lifter("Ada", About(), ("trained-since",), scribe)
    assert policy_on(log_of(find_lifter("Ada")), MONDAY).trained_since == date(2020, 1, 1)


def test_a_sheet_is_made_anew_when_what_is_said_of_the_lifter_bears_on_it(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    first = ask(scribe)
    change_lifter("Ada", About(aims=("size",)), (), scribe)
    assert ask(scribe).sheet == first.sheet
    change_lifter("Ada", About(trained_since=date(2026, 9, 1)), (), scribe)
    assert ask(scribe).sheet != first.sheet


def test_their_place_is_where_next_and_why_look(scribe: Scribe) -> None:
    """61 kg less 10 % is 54.9 kg: the gym makes 52.5, the cellar only 40."""
    train(scribe, "Ada", [s for s in month(load="61") if s.on < MONDAY - timedelta(days=20)])
    change_lifter("Ada", About(place="cellar"), (), scribe)
    assert ask(scribe).place == "gym", "nobody described the cellar yet"
    gear = {
        "gym": an_equipment(PlatePair(kg(10), 3), PlatePair(kg("1.25"), 3), PlatePair(kg("2.5"), 3), PlatePair(kg(5))),
        "cellar": an_equipment(PlatePair(kg(10), 3)),
    }
    scribe.write([scribe.entry(THE_HOUSE, EquipmentBody(place=p, equipment=e)) for p, e in gear.items()])
    coming = why("Ada", None, MONDAY + timedelta(days=1), Voice(), scribe).lines[0]
    assert {s.load_kg for s in coming.sets if s.kind == "work"} == {40.0}
    shown = ask(scribe)
    assert shown.place == "cellar"
    assert {s.load_kg for s in line_of(shown).sets if s.kind == "work"} == {40.0}
    there = ask(scribe, place="gym")
    assert {s.load_kg for s in line_of(there).sets if s.kind == "work"} == {52.5}


def test_their_unit_is_known_where_one_is_meant(scribe: Scribe) -> None:
    assert unit_of(None) is None
    add_lifter("Ada", About(unit="lb"), scribe)
    assert (unit_of(None), unit_of("ADA"), unit_of("Bo")) == ("lb", "lb", None)
    add_lifter("Bo", About(), scribe)
    assert (unit_of(None), unit_of("Ada"), unit_of("Bo")) == (None, "lb", None)


def test_body_mass_is_shown_over_time_the_latest_word_of_a_day(scribe: Scribe) -> None:
    masses = [(1, kg("82.5")), (9, lb(180)), (1, kg(82)), (5, kg("81.4"))]
    bodies = [CheckInBody(on=date(2026, 10, day), body_mass=mass) for day, mass in masses]
    person = train(scribe, "Ada", month())
    scribe.write([scribe.entry(person, body) for body in bodies])
    shown = show_lifter("Ada", scribe)
    # 180 lb x 0.45359237 = 81.6466266 kg
    assert [(m.date, m.body_mass_kg) for m in shown.body_masses] == [
        ("2026-10-01", 82.0),
        ("2026-10-05", 81.4),
        ("2026-10-09", float(Decimal("81.6466266"))),
    ]
    assert (shown.sessions, shown.last_session) == (8, "2026-10-29")


def test_the_command_offers_what_the_log_knows() -> None:
    """Its lists stand apart, so that help imports little."""
    assert tuple(lifter_command.AIMS) == get_args(Aim)
    assert tuple(lifter_command.FORGETTABLE) == get_args(Forgettable)
    assert {n for n in About.__struct_fields__ if getattr(About(), n) is UNSET} == set(LifterBody.__struct_fields__) - {
        "name"
    }
