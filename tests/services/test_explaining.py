"""Why a line is as it is: as it was shown, as it would be, and as it was said once by rules that are no more."""

import json
from datetime import timedelta

import pytest
from tests.builders import entry, entry_id
from tests.services.training import MONDAY, ask, line_of, month, train

from steelyard.engine.log import SheetBody, decode_body
from steelyard.services.explaining import Why, why
from steelyard.services.lifters import find_lifter, log_of
from steelyard.services.refusal import Refused
from steelyard.services.scribe import Scribe
from steelyard.services.set_logging import log_line
from steelyard.store import queries
from steelyard.wording.quantity import Voice


def explain(scribe: Scribe, exercise: str | None = None, on: object = MONDAY, language: str = "en") -> Why:
    """Why Ada's sheet of that day is as it is."""
    return why("Ada", exercise, on, Voice(language), scribe)  # type: ignore[arg-type] # parametrised by tests


def test_a_sheet_that_was_shown_is_explained_as_it_was_made(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    shown = ask(scribe)
    log_line("bench 3x8 @ 60kg rir 0 on 2026-10-30", "Ada", None, Voice(), scribe)  # would change a new sheet
    answer = explain(scribe)
    assert answer.was_shown
    assert answer.lines == shown.lines
    assert answer.cautions == shown.cautions


def test_evidence_points_at_sets_of_the_log(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    ask(scribe)
    driver = explain(scribe, "bench").lines[0].reasons[0]
    sets = {s.id: s.body for s in log_of(find_lifter("Ada")).sets}
    assert driver.evidence
    assert {sets[i].on.isoformat() for i in driver.evidence} == {"2026-10-29"}


def test_a_sheet_that_was_not_shown_yet_is_made_and_not_kept(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    before = queries.count_entries()
    answer = explain(scribe)
    assert not answer.was_shown
    assert queries.count_entries() == before
    assert answer.lines == ask(scribe).lines


def test_without_a_day_it_is_the_latest_sheet(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    later = ask(scribe, on=MONDAY + timedelta(days=3))
    ask(scribe)
    assert explain(scribe, on=None).date == later.date == "2026-11-05"


def test_one_exercise_or_all(scribe: Scribe) -> None:
    train(scribe, "Ada", [*month(), *month("squat", "100")])
    shown = ask(scribe)
    assert [line.exercise for line in explain(scribe).lines] == ["Squat", "Bench press"]
    assert explain(scribe, "bench").lines == (line_of(shown),)
    with pytest.raises(Refused, match=r"no line for 'plank'\. It has: Squat, Bench press"):
        explain(scribe, "plank")
    with pytest.raises(Refused, match="no exercise that is known"):
        explain(scribe, "juggling")


def test_what_was_considered_and_not_taken_is_there_with_its_sentence(scribe: Scribe) -> None:
    train(scribe, "Ada", month())
    considered = {c.lever: c for c in explain(scribe, "bench").lines[0].considered}
    assert {"load", "sets", "frequency", "density"} <= set(considered)
    assert considered["load"].code == "range-not-full"
    assert all(c.text for c in considered.values())


def test_nothing_is_explained_of_a_lifter_without_sets(scribe: Scribe) -> None:
    train(scribe, "Ada", [])
    with pytest.raises(Refused, match="nothing is logged for Ada"):
        explain(scribe)


def test_a_sheet_with_a_reason_that_is_no_more_stays_readable(scribe: Scribe) -> None:
    """Written by hand, as a version that is gone wrote it: its sentences are what remains."""
    person = train(scribe, "Ada", month())
    shown = ask(scribe)
    kept = next(e for e in queries.all_entries() if e.id == shown.sheet)
    body = json.loads(kept.body)
    body["sheet"]["on"] = "2026-10-30"
    body["sheet"]["lines"][0]["reasons"][0] = {"code": "moon-was-full", "phase": "3.5"}
    body["said"] = [["The moon was full, so nothing rose."], ["Mind the step."]]
    old = entry(json.dumps(body).encode(), kind="sheet", id=entry_id(9), person=person, hlc="0" * 20)
    scribe.write([old])
    assert not isinstance(decode_body("sheet", 1, old.body), SheetBody)
    answer = explain(scribe, on=MONDAY - timedelta(days=3))
    assert answer.was_shown
    assert answer.as_said == ("The moon was full, so nothing rose.", "Mind the step.")
    assert log_of(find_lifter("Ada")).unread == ()


def test_an_old_sheet_stands_in_nobodys_way(scribe: Scribe) -> None:
    person = train(scribe, "Ada", month())
    old = entry(b'{"from":"another time"}', kind="sheet", id=entry_id(9), person=person, hlc="0" * 20)
    scribe.write([old])
    assert ask(scribe).lines
    assert explain(scribe).lines
