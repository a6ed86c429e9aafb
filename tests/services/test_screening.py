"""Screening: asked only what can matter, kept question by question, and what it closes is said with what opens it."""

from collections.abc import Mapping
from datetime import date, timedelta
from itertools import product
from typing import Any, get_args

import pytest
from tests.services.training import MONDAY, ask, codes, line_of, month, train

from steelyard.cli.commands import screen as screen_command
from steelyard.engine.health import Answer, Condition
from steelyard.engine.screening import row_for
from steelyard.services.lifters import find_lifter, log_of
from steelyard.services.refusal import Refused
from steelyard.services.roster import About, add_lifter
from steelyard.services.screening import (
    Cleared,
    Screened,
    answers_on,
    attest,
    clear,
    keep_answers,
    next_question,
    show_screening,
)
from steelyard.services.scribe import Scribe
from steelyard.store import queries
from steelyard.wording.quantity import Voice

VOICE = Voice()
HEALTHY = {"symptoms": "no", "disease": "no", "active": "yes", "special": "no"}


def screened(scribe: Scribe, said: Mapping[str, str], on: date | None = None) -> Screened:
    """Keep answers of the only lifter."""
    return keep_answers(None, said, "", VOICE, scribe, on)


def gates(answer: Screened) -> set[str]:
    """Codes of what is closed."""
    return {gate.code for gate in answer.gates}


def test_never_asked_is_said_with_what_opens_it(scribe: Scribe) -> None:
    train(scribe, "Ada", month(), is_vouched=False)
    shown = show_screening(None, VOICE, scribe)
    assert (shown.state.code, shown.entries_added, shown.answers) == ("not-asked", 0, {})
    assert gates(shown) == {"screening-not-asked"}
    assert "steelyard screen Ada" in shown.opens
    assert [q.key for q in shown.questions] == ["symptoms", "disease", "active", "special"]
    assert any("doctor" in caution for caution in shown.cautions)


def test_nothing_against_training_opens_everything(scribe: Scribe) -> None:
    train(scribe, "Ada", month(), is_vouched=False)
    held = line_of(ask(scribe))
    shown = screened(scribe, HEALTHY)
    assert (shown.state.code, shown.gates, shown.opens, shown.questions) == ("open", (), "", ())
    assert shown.answers == {
        "active": "yes",
        "disease": "no",
        "symptoms": "no",
        "pregnant": "no",
        "gave_birth": "no",
        "surgery": "no",
        "heart_event": "no",
    }
    assert line_of(ask(scribe)).lever == "reps"
    assert held.lever is None
    assert "screening-not-asked" in {c.code for c in ask(scribe, on=MONDAY - timedelta(days=1)).cautions} | set(
        codes(held)
    )


@pytest.mark.parametrize("answers", list(product(get_args(Answer), repeat=3)))
def test_the_state_is_the_row_of_the_published_table(scribe: Scribe, answers: tuple[Answer, Answer, Answer]) -> None:
    train(scribe, "Ada", [], is_vouched=False)
    active, disease, symptoms = answers
    row = row_for(active, disease, symptoms).name
    said = {"active": active, "disease": disease, "symptoms": symptoms, "special": "no"}
    shown = screened(scribe, said)
    assert shown.state.code == ("open" if row == "go-on" else row)
    assert bool(shown.opens) == (row not in {"go-on", "light-start"})


def test_an_answer_given_again_takes_the_place_of_the_one_before_and_others_stay(scribe: Scribe) -> None:
    train(scribe, "Ada", [], is_vouched=False)
    screened(scribe, HEALTHY, MONDAY - timedelta(days=30))
    again = screened(scribe, {"symptoms": "yes"})
    assert (again.answers["symptoms"], again.answers["disease"], again.state.code) == ("yes", "no", "stop")
    assert screened(scribe, {"symptoms": "no"}).state.code == "open"
    early = answers_on(log_of(find_lifter("Ada")), MONDAY - timedelta(days=31))
    assert (early.active, early.symptoms) == (None, None)


def answer_all(scribe: Scribe, given: Mapping[str, str]) -> list[str]:
    """Answer what is asked, `no` unless given; the keys in their order."""
    said: dict[str, str] = {}
    while (question := next_question(None, said, scribe)) is not None:
        assert question.asks
        said[question.key] = given.get(question.key, "no" if question.form == "answer" else "unknown")
    return list(said)


def test_a_question_is_asked_only_where_it_can_matter(scribe: Scribe) -> None:
    add_lifter("Ada", About(birth_year=1990), scribe)
    base = ["symptoms", "disease", "active", "special"]
    assert answer_all(scribe, {}) == base
    assert answer_all(scribe, {"special": "unknown"}) == base
    each = ["pregnant", "gave_birth", "surgery", "heart_event"]
    assert answer_all(scribe, {"special": "yes"}) == base + each
    assert answer_all(scribe, {"special": "yes", "surgery": "yes"}) == [*base, *each[:3], "surgery_on", each[3]]


@pytest.mark.parametrize(("birth_year", "is_asked"), [(2007, False), (2008, True), (2015, True)])
def test_who_supervises_is_asked_of_the_young(scribe: Scribe, birth_year: int, is_asked: bool) -> None:
    """Who turns eighteen in 2026 may be seventeen yet."""
    add_lifter("Ada", About(birth_year=birth_year), scribe)
    assert ("supervised_by" in answer_all(scribe, {})) == is_asked
    closed = gates(screened(scribe, HEALTHY))
    assert ({"youth-unsupervised", "youth-technique"} <= closed) == is_asked
    again = gates(screened(scribe, {"supervised_by": "Coach Brandt", "technique_signed_by": "Coach Brandt"}))
    assert not again & {"youth-unsupervised", "youth-technique"}


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ({"pregnant": "yes"}, "pregnancy-holds"),
        ({"pregnant": "unknown"}, "pregnancy-holds"),
        ({"birth_on": "2026-08-01"}, "clearance-first"),
        ({"surgery": "yes", "surgery_on": "2026-09-01"}, "clearance-first"),
        ({"heart_event": "yes"}, "clearance-first"),
        ({"blood_pressure": "182/100"}, "blood-pressure-high"),
        ({"blood_pressure": "120/80"}, ""),
    ],
)
def test_what_else_is_answered_closes_its_own_gate(scribe: Scribe, said: dict[str, str], code: str) -> None:
    train(scribe, "Ada", [], is_vouched=False)
    assert gates(screened(scribe, {**HEALTHY, **said})) == ({code} if code else set())


def test_a_day_says_that_it_was_so(scribe: Scribe) -> None:
    train(scribe, "Ada", [], is_vouched=False)
    shown = screened(scribe, {"birth_on": "2026-08-01"})
    assert (shown.answers["gave_birth"], shown.answers["birth_on"]) == ("yes", "2026-08-01")


def test_a_questionnaire_is_kept_by_day_and_outcome_only(scribe: Scribe) -> None:
    train(scribe, "Ada", [], is_vouched=False)
    shown = screened(scribe, {"form_on": "2026-03-01", "form_outcome": "nothing found"})
    assert shown.answers == {"form_on": "2026-03-01", "form_outcome": "nothing found"}
    assert shown.state.code == "not-asked"


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"symptoms": "maybe"}, "no answer to symptoms"),
        ({"birth_on": "soon"}, "is not a date"),
        ({"birth_on": "2026-11-03"}, "still to come"),
        ({"form_on": "2027-01-01"}, "still to come"),
        ({"blood_pressure": "high"}, "no blood pressure"),
        ({"blood_pressure": "80/120"}, "cannot be"),
        ({"blood_pressure": "120"}, "no blood pressure"),
        ({"supervised_by": "\x07"}, "control characters"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_kept(scribe: Scribe, said: dict[str, str], words: str) -> None:
    train(scribe, "Ada", [], is_vouched=False)
    with pytest.raises(Refused, match=words):
        screened(scribe, {"active": "yes", **said})
    assert queries.count_entries() == 1


def test_a_coachs_word_opens_what_was_not_asked_and_nothing_that_is_closed(scribe: Scribe) -> None:
    train(scribe, "Ada", month(), is_vouched=False)
    shown = attest(None, "Coach Brandt", "knows her for years", VOICE, scribe)
    assert (shown.state.code, shown.attested_by, shown.gates) == ("open", "Coach Brandt", ())
    assert line_of(ask(scribe)).lever == "reps"
    screened(scribe, {"symptoms": "yes"})
    again = attest(None, "Coach Brandt", "", VOICE, scribe)
    assert gates(again) == {"screening-closed"}
    with pytest.raises(Refused, match="says nothing"):
        attest(None, " ", "", VOICE, scribe)


def test_a_clearance_opens_its_condition_within_its_limits_and_its_time(scribe: Scribe) -> None:
    train(scribe, "Ada", [], is_vouched=False)
    screened(scribe, {**HEALTHY, "disease": "yes"})
    given = Cleared(
        by="Dr Lund",
        condition="disease",
        until=MONDAY + timedelta(days=30),
        is_for_vigorous=True,
        limits="no breath held",
        least_rir=3,
    )
    shown = clear(None, given, VOICE, scribe)
    assert gates(shown) == {"clinician-limits"}
    (kept,) = shown.clearances
    assert (kept.by, kept.until, kept.limits, kept.least_rir) == ("Dr Lund", "2026-12-02", "no breath held", 3)
    later = show_screening(None, VOICE, scribe, MONDAY + timedelta(days=30))
    assert (later.clearances, gates(later)) == ((), {"screening-closed"})
    for wrong, words in (
        (Cleared(by="", condition="disease"), "says nothing"),
        (Cleared(by="Dr Lund", condition="disease", until=MONDAY), "ends after it begins"),
        (Cleared(by="Dr Lund", condition="disease", least_rir=11), "cannot be"),
    ):
        with pytest.raises(Refused, match=words):
            clear(None, wrong, VOICE, scribe)


def test_the_command_offers_every_condition_and_every_question(scribe: Scribe) -> None:
    """Its lists stand apart, so that help imports little."""
    assert tuple(screen_command.CONDITIONS) == get_args(Condition)
    assert tuple(screen_command.ANSWERS) == get_args(Answer)
    add_lifter("Ada", About(birth_year=2010), scribe)
    given: dict[str, Any] = dict.fromkeys(("special", "gave_birth", "surgery", "heart_event"), "yes")
    assert set(answer_all(scribe, given)) <= set(screen_command.ANSWERING)
