"""The sheet that `next` shows: made once, kept as made, and what changed when the log has moved on."""

from datetime import timedelta

import pytest
from msgspec import structs
from tests.services.training import MONDAY, ask, codes, line_of, month, train

from steelyard.engine.log import SheetBody, decode_body
from steelyard.services.amending import amend
from steelyard.services.gear import GearChange, change_gear
from steelyard.services.lifters import find_lifter, log_of
from steelyard.services.refusal import Refused
from steelyard.services.scribe import Scribe
from steelyard.services.set_logging import log_line
from steelyard.store import queries
from steelyard.wording.quantity import Voice


def stored_sheets() -> list[SheetBody]:
    """Every sheet in the log, also those that later ones took the place of."""
    bodies = (decode_body(e.kind, e.schema, e.body) for e in queries.all_entries())
    return [body for body in bodies if isinstance(body, SheetBody)]


def test_asked_again_with_nothing_new_it_is_the_same_sheet(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    first = ask(scribe)
    before = queries.count_entries()
    assert ask(scribe) == first
    assert first.sheet
    assert queries.count_entries() == before


def test_another_language_or_unit_is_the_same_sheet_in_other_words(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    first = ask(scribe)
    german = ask(scribe, Voice("de", "lb"))
    assert german.sheet == first.sheet
    assert [r.text for r in line_of(german, "Bankdrücken").reasons] != [r.text for r in line_of(first).reasons]
    assert [s.load_kg for s in german.lines[0].sets] == [s.load_kg for s in first.lines[0].sets]
    assert len(stored_sheets()) == 1


def test_what_is_shown_is_stored_with_its_sentences(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    shown = ask(scribe)
    (kept,) = stored_sheets()
    assert kept.said == (
        *(tuple(r.text for r in line.reasons) for line in shown.lines),
        tuple(r.text for r in shown.cautions),
    )
    assert kept.sheet.on == MONDAY


def test_with_new_entries_it_says_what_changed(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    first = ask(scribe)
    log_line("bench 3x8 @ 60kg rir 0 on 2026-10-30", "Ada", None, Voice(), scribe)
    second = ask(scribe)
    assert second.sheet != first.sheet
    assert second.changes == ("Bench press: 3 × 9 @ 60 kg -> 3 × 8 @ 60 kg",)
    assert ask(scribe) == structs.replace(second, changes=())
    # The older sheet is replaced, not lost.
    assert len(stored_sheets()) == 2
    assert [i for i, _ in log_of(find_lifter("Ada")).sheets] == [second.sheet]


def test_new_entries_that_change_nothing_are_said_so(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    ask(scribe)
    log_line("body mass 80kg", "Ada", MONDAY, Voice(), scribe)
    assert ask(scribe).changes == ("New entries, same sheet.",)
    log_line("body mass 81kg", "Ada", MONDAY, Voice(), scribe)
    assert ask(scribe, Voice("de")).changes == ("Neue Einträge, gleiches Blatt.",)


def test_an_amended_set_changes_the_sheet(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    ask(scribe)
    latest = log_of(find_lifter("Ada")).sets[-1]
    amend(latest.id[-12:], "bench 8 @ 60kg rir 3 pain left wrist 1", "", "kg", scribe)
    shown = ask(scribe)
    assert "pain-hold" in codes(line_of(shown))
    assert shown.changes == ("Bench press: 3 × 9 @ 60 kg -> 3 × 8 @ 60 kg",)


def test_equipment_changes_the_sheet_and_loads_go_down_to_what_can_be_made(scribe: Scribe) -> None:
    train(scribe, "Ada", [s for s in month(load="60") if s.on < MONDAY - timedelta(days=20)])
    easier = line_of(ask(scribe))  # 25 days off: load comes back lighter
    assert easier.course == "return"
    change_gear(None, GearChange(plates=()), scribe)
    shown = ask(scribe)
    work = [s for s in line_of(shown).sets if s.kind == "work"]
    assert {s.load_kg for s in work} == {20.0}
    assert {p for s in work for p in s.plates_per_side} == set()
    assert "rounded-down" in codes(line_of(shown))
    assert "equipment-assumed" not in codes(line_of(shown))
    assert max(s.load_kg or 0 for s in easier.sets) > 20


def test_a_deload_makes_the_sets_of_its_day_deload_sets(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    shown = ask(scribe, is_deload=True)
    assert shown.phase == "deload"
    assert "deload-taken" in codes(line_of(shown))
    logged = log_line("bench 2x8 @ 55kg", None, MONDAY, Voice(), scribe)
    assert [s.phase for s in logged.sets] == ["deload", "deload"]
    other_day = log_line("bench 2x8 @ 55kg", None, MONDAY + timedelta(days=2), Voice(), scribe)
    assert [s.phase for s in other_day.sets] == [None, None]


def test_a_deload_that_is_taken_back_is_none(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    ask(scribe, is_deload=True)
    assert ask(scribe).phase == "normal"
    assert [s.phase for s in log_line("bench 8 @ 60kg", None, MONDAY, Voice(), scribe).sets] == [None]


def test_a_new_lifter_gets_ramp_sets_instead_of_a_guess(scribe: Scribe) -> None:
    shown = ask(scribe, name="Bo Lind", is_new=True)
    assert [line.exercise for line in shown.lines] == ["Squat", "Bench press", "Barbell row"]
    assert all(codes(line)[0] == "baseline-ramp" for line in shown.lines)
    assert {s.kind for line in shown.lines for s in line.sets} == {"ramp"}
    assert ask(scribe, name="bo  lind", is_new=True) == shown


def test_days_without_entries_can_be_confirmed_as_trained(scribe: Scribe) -> None:
    train(scribe, "Ada", [s for s in month() if s.on < MONDAY - timedelta(days=14)])
    silent = ask(scribe)
    assert "unlogged-days" in [c.code for c in silent.cautions]
    assert line_of(silent).course == "return"
    told = ask(scribe, did_train=True)
    assert line_of(told).course != "return"
    with pytest.raises(Refused, match="no days without entries"):
        ask(scribe, did_train=True, on=MONDAY - timedelta(days=60))


def test_exercises_asked_for_take_the_place_of_the_rotation(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    shown = ask(scribe, exercises=("squat", "bench"))
    assert [line.exercise for line in shown.lines] == ["Squat", "Bench press"]
    with pytest.raises(Refused, match="no exercise that is known"):
        ask(scribe, exercises=("juggling",))


def test_nobody_several_or_unknown_is_refused(scribe: Scribe) -> None:
    with pytest.raises(Refused, match="nobody yet"):
        ask(scribe)
    train(scribe, "Ada", month())
    train(scribe, "Bo", month("squat", "90"))
    with pytest.raises(Refused, match=r"more than one lifter\. Name one: Ada, Bo"):
        ask(scribe)
    with pytest.raises(Refused, match=r"no lifter 'Cy'\. Known: Ada, Bo"):
        ask(scribe, name="Cy")
    with pytest.raises(Refused, match="needs a name"):
        ask(scribe, is_new=True)
    assert ask(scribe, name="bo").lifter == "Bo"


def test_places(scribe: Scribe) -> None:
    from steelyard.engine.quantities import kg  # noqa: PLC0415

    train(scribe, "Ada", month())
    change_gear("home", GearChange(bar=kg(10)), scribe)
    assert ask(scribe).place == "home"  # the only one that is known
    change_gear("club", GearChange(bar=kg(20)), scribe)
    with pytest.raises(Refused, match=r"more than one place is known\. Name one with --place: club, home"):
        ask(scribe)
    assert ask(scribe, place="club").place == "club"
    with pytest.raises(Refused, match=r"no place is called 'park'\. Known: club, home"):
        ask(scribe, place="park")
