"""Each gate: what closes it, what it leaves, and the one thing that opens it."""

import re
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from tests.builders import sets_of, training_log

from steelyard.catalogue import catalogue
from steelyard.engine.body import Body
from steelyard.engine.equipment import ASSUMED
from steelyard.engine.gates.facts import Facts, months_after
from steelyard.engine.health import AttestBody, ClearanceBody, EpisodeBody, RestrictionBody, ScreeningBody
from steelyard.engine.log import CheckInBody, LifterBody, OverruleBody, Pain, PolicyBody, TrainedAsWrittenBody
from steelyard.engine.planning import Request, plan_session, revision
from steelyard.engine.policy import Policy
from steelyard.engine.quantities import kg
from steelyard.engine.reasons import code_of
from steelyard.engine.sheet import Decision, PlannedSet, Sheet
from steelyard.wording.quantity import Voice
from steelyard.wording.say import say

ON = date(2026, 3, 16)


def screening(**answers: Any) -> ScreeningBody:
    return ScreeningBody(
        **{"on": date(2026, 3, 1), "by": "a coach", "active": "yes", "disease": "no", "symptoms": "no", **answers}
    )


def cleared(condition: Any, day: int = 15, **more: Any) -> ClearanceBody:
    return ClearanceBody(on=date(2026, 3, day), by="Dr Example", condition=condition, **more)


def pain(score: int | None = 4, day: int = 14, **more: Any) -> EpisodeBody:
    return EpisodeBody(**{"episode": "e", "on": date(2026, 3, day), "part": "shoulder", "score": score, **more})


def restricted(**more: Any) -> RestrictionBody:
    given = {"restriction": "r", "on": date(2026, 3, 10), "effect": "no-rise", "by": "a physio", "why": "a fall"}
    return RestrictionBody(**{**given, **more})


def born(year: int) -> LifterBody:
    return LifterBody(name="somebody", birth_year=year)


BENCH: tuple[Body, ...] = (
    *sets_of("2026-03-02", "bench-press", "62.5", 7, 7, 7),
    *sets_of("2026-03-09", "bench-press", "62.5", 8, 8, 7, rir=2),
)
GUIDED: dict[str, Any] = {"nature": "tendon", "guided_by": "a physio"}

# code: what closes it, and what opens it by itself (None: only time or the place does)
CLOSING: dict[str, tuple[tuple[Body, ...], Body | None]] = {
    "screening-not-asked": ((), AttestBody(on=ON, by="a coach")),
    "screening-closed": ((screening(symptoms="yes"),), cleared("symptoms", is_for_vigorous=True)),
    "pregnancy-holds": ((screening(pregnant="yes"),), screening(on=date(2026, 3, 15), pregnant="no")),
    "clearance-first": ((screening(surgery="yes", surgery_on=date(2026, 2, 1)),), cleared("surgery")),
    "stop-sign-said": ((screening(), CheckInBody(on=date(2026, 3, 14), signs=("chest",))), cleared("stop-sign")),
    "fever-stops": (
        (screening(), CheckInBody(on=date(2026, 3, 13), fever=True)),
        CheckInBody(on=date(2026, 3, 15), fever=False),
    ),
    "blood-pressure-high": (
        (screening(), CheckInBody(on=date(2026, 3, 14), blood_pressure=(190, 100))),
        CheckInBody(on=date(2026, 3, 15), blood_pressure=(140, 90)),
    ),
    "pain-episode-stop": ((screening(), pain(4)), pain(0, 15)),
    "pain-episode-hold": ((screening(), pain(4, **GUIDED)), pain(1, 15, **GUIDED)),
    "pain-episode-reduce": ((screening(), pain(4, **GUIDED, next_morning="worse")), pain(0, 15, status="closed")),
    "restricted": ((screening(), restricted()), restricted(on=date(2026, 3, 15), status="lifted")),
    "youth-unsupervised": ((screening(technique_signed_by="x"), born(2010)), screening(supervised_by="a coach")),
}
# Entries that open none of them.
OTHERS: tuple[Body, ...] = (
    PolicyBody(on=date(2026, 3, 1), changes={"target_rir": "1", "weekly_ceiling": "0.05"}),
    TrainedAsWrittenBody(earliest=date(2026, 3, 10), until=ON, by="a coach"),
    *(
        OverruleBody(on=date(2026, 3, 1), until=date(2026, 4, 1), exercise="bench-press", limit=limit, by="x", why="y")
        for limit in ("weekly-limit", "step-limit", "twelve-week-limit")
    ),
    CheckInBody(on=ON, body_mass=kg(80), note="feeling great"),
)


def sheet(*bodies: Body, lifted: tuple[Body, ...] = BENCH, **asked: Any) -> Sheet:
    return plan_session(training_log(*lifted, *bodies), catalogue(), None, Request(on=ON, **asked))


def line(*bodies: Body, lifted: tuple[Body, ...] = BENCH, **asked: Any) -> Decision:
    (decision,) = sheet(*bodies, lifted=lifted, **asked).lines
    return decision


def codes(decision: Decision) -> list[str]:
    return [code_of(reason) for reason in decision.reasons]


def work(decision: Decision) -> list[tuple[Decimal | None, int | None, int | None]]:
    return [(_kilograms(s), s.reps, s.target_rir) for s in decision.sets if s.kind == "work"]


def _kilograms(planned: PlannedSet) -> Decimal | None:
    return None if planned.load is None else planned.load.magnitude


UP = [(Decimal("62.5"), 8, 2)] * 3
SAME = [(Decimal("62.5"), 7, 2)] * 3


@pytest.mark.parametrize("code", CLOSING)
def test_a_gate_closes_and_its_own_condition_opens_it(code: str) -> None:
    closing, opener = CLOSING[code]
    closed = line(*closing)
    assert code in codes(closed)
    assert closed.course != "rise"
    assert opener is not None
    opened = line(*closing, opener, born(1990))
    assert code not in codes(opened)
    if code != "clearance-first":  # which begins with a new baseline
        assert work(opened) == UP


@pytest.mark.parametrize("code", CLOSING)
def test_nothing_else_opens_it(code: str) -> None:
    closing, _ = CLOSING[code]
    alone, kept = line(*closing), line(*closing, *OTHERS)
    assert code in codes(kept)
    assert len(work(kept)) == len(work(alone))
    for now, was in zip(work(kept), work(alone), strict=True):
        assert (now[0] or 0) <= (was[0] or 0)
        assert (now[1] or 0) <= (was[1] or 0)
        assert (now[2] or 0) >= (was[2] or 0)


@pytest.mark.parametrize("code", CLOSING)
@pytest.mark.parametrize("language", ["en", "de"])
def test_each_says_what_opens_it(code: str, language: Any) -> None:
    closing, _ = CLOSING[code]
    reason = next(r for r in line(*closing).reasons if code_of(r) == code)
    opens = (
        r"opens|ends|Nothing else|`steelyard screen"
        if language == "en"
        else r"öffnet|endet|Nichts anderes|`steelyard screen"
    )
    assert re.search(opens, say(reason, Voice(language)))
    assert reason.role == "gate"
    assert not re.search(
        r"\b(fit to train|safe to train|no risk|risk-free|gesund|unbedenklich)\b", say(reason, Voice(language))
    )


# Screening


def test_never_asked_holds_loads_and_repetitions_and_asks() -> None:
    held = line()
    assert work(held) == SAME
    assert code_of(sheet().cautions[0]) == "screening-not-asked"


def test_a_first_session_that_nobody_screened_is_light() -> None:
    first = line(lifted=(), exercises=("squat",))
    assert [(_kilograms(s), s.target_rir) for s in first.sets] == [(Decimal(load), 5) for load in (20, 40, 60)]
    asked = line(screening(), lifted=(), exercises=("squat",))
    assert len(asked.sets) == 6


def test_half_asked_is_not_asked_unless_something_is_known() -> None:
    half = ScreeningBody(on=date(2026, 3, 1), by="x", active="yes", disease="no")
    assert "screening-not-asked" in codes(line(half))
    assert work(line(half, AttestBody(on=ON, by="a coach"))) == UP
    known = ScreeningBody(on=date(2026, 3, 1), by="x", disease="yes")
    assert line(known, AttestBody(on=ON, by="a coach")).course == "stop"


def test_the_newest_answer_holds_question_by_question() -> None:
    later = ScreeningBody(on=date(2026, 3, 10), by="x", pregnant="no")
    assert line(screening(symptoms="yes"), later).course == "stop"
    assert work(line(screening(symptoms="yes"), screening(on=date(2026, 3, 11)))) == UP
    assert line(screening(on=date(2026, 3, 11)), screening(symptoms="yes")).course == "rise"
    assert line(screening(on=date(2026, 3, 20), symptoms="yes"), screening()).course == "rise"  # not said yet


def test_an_attest_is_said_beside_the_sheet() -> None:
    told = sheet(AttestBody(on=ON, by="a coach"))
    assert "screening-attested" in [code_of(c) for c in told.cautions]
    assert "screening-attested" not in [code_of(c) for c in sheet(screening()).cautions]


# Clearances


def test_a_clearance_is_over_on_its_last_day() -> None:
    sign = (screening(), CheckInBody(on=date(2026, 3, 12), signs=("faint",)))
    assert line(*sign, cleared("stop-sign", until=date(2026, 3, 17))).course == "rise"
    assert line(*sign, cleared("stop-sign", until=ON)).course == "stop"
    assert line(*sign, cleared("stop-sign", 12)).course == "rise"
    assert line(*sign, cleared("stop-sign", 11)).course == "stop"
    assert line(*sign, cleared("symptoms"), cleared("pain"), cleared("fever")).course == "stop"


def test_the_limits_of_a_clearance_hold_and_only_a_newer_one_changes_them() -> None:
    limits = cleared("surgery", 1, most_load=kg(60), least_rir=3, limits="no breath held")
    limited = line(screening(), limits)
    assert all(load is not None and load <= 60 and rir == 3 for load, _, rir in work(limited))
    assert "clinician-limits" in codes(limited)
    assert work(line(screening(), limits, cleared("surgery", 10))) == UP
    assert work(line(screening(), limits, cleared("fever", 10))) == work(limited)
    words = sheet(screening(), cleared("surgery", 1, limits="no breath held"))
    assert work(words.lines[0]) == UP
    assert "clinician-limits" in [code_of(c) for c in words.cautions]


def test_after_a_clearance_the_old_level_is_no_reference() -> None:
    answers = screening(gave_birth="yes", birth_on=date(2026, 2, 1))
    again = line(answers, cleared("birth", 12))
    assert again.course == "baseline"
    assert max(s.load.magnitude for s in again.sets if s.load) <= Decimal("62.5") * Decimal("0.8")
    since = sets_of("2026-03-13", "bench-press", "42.5", 5, kind="ramp")
    on_the_way = line(answers, cleared("birth", 12), lifted=(*BENCH, *since))
    assert all(load is not None and load <= 45 for load, _, _ in work(on_the_way))


# The day


def test_the_words_of_a_set_and_of_a_pain_are_read() -> None:
    told = (*BENCH[:-1], *sets_of("2026-03-09", "bench-press", "62.5", 7, note="felt dizzy after"))
    assert codes(line(screening(), lifted=told)) == ["stop-sign-said"]
    chest = (*BENCH[:-1], *sets_of("2026-03-09", "bench-press", "62.5", 7, pain=Pain(1, "chest")))
    assert codes(line(screening(), lifted=chest)) == ["stop-sign-said"]
    denied = (*BENCH[:-1], *sets_of("2026-03-09", "bench-press", "62.5", 7, note="no chest pain", rir=2))
    assert line(screening(), lifted=denied).course == "rise"


def test_a_stopped_session_offers_nothing_else() -> None:
    stopped = sheet(CheckInBody(on=ON, fever=True), is_deload=True)
    assert [code_of(c) for c in stopped.cautions] == ["fever-stops", "screening-not-asked", "stop-signs"]
    assert all(d.sets == () and d.previous is None and d.considered == () for d in stopped.lines)


@pytest.mark.parametrize(("days", "course"), [(1, "stop"), (2, "rise"), (3, "rise")])
def test_fever_opens_by_a_check_in_two_days_later(days: int, course: str) -> None:
    ill = CheckInBody(on=date(2026, 3, 12), fever=True)
    well = CheckInBody(on=date(2026, 3, 12) + timedelta(days), fever=False)
    assert line(screening(), ill, well).course == course
    assert line(screening(), ill).course == "stop"  # silence opens nothing


def test_a_later_reading_of_the_day_holds() -> None:
    high, low = (CheckInBody(on=ON, blood_pressure=read) for read in ((185, 100), (150, 90)))
    assert line(screening(), high, low).course == "rise"
    assert line(screening(), low, high).course == "stop"


# Pain


def test_an_episode_bears_on_what_it_names_or_on_what_loads_the_part() -> None:
    assert line(screening(), pain(part="left knee")).course == "rise"
    assert line(screening(), pain(part="left knee", exercises=("bench-press",))).course == "stop"
    assert line(screening(), pain(exercises=("squat",))).course == "rise"
    assert line(screening(), pain(part="somewhere")).course == "stop"


def test_a_clearance_of_pain_opens_one_episode_or_all() -> None:
    assert line(screening(), pain(6), cleared("pain", episode="e")).course == "rise"
    assert line(screening(), pain(6), cleared("pain")).course == "rise"
    assert line(screening(), pain(6), cleared("pain", episode="another")).course == "stop"
    assert line(screening(), cleared("pain", 13), pain(6)).course == "stop"


def test_a_word_without_a_number_leaves_the_last_one_standing() -> None:
    assert line(screening(), pain(5, **GUIDED), pain(None, 15, **GUIDED)).course == "hold"
    assert line(screening(), pain(None, **GUIDED)).course == "stop"


def test_a_reduced_line_is_not_reduced_again_until_the_next_word() -> None:
    worse = pain(4, 7, **GUIDED, next_morning="worse")
    assert work(line(screening(), worse)) == [(Decimal("57.5"), 7, 2)] * 3
    lighter = (*BENCH, *sets_of("2026-03-12", "bench-press", "57.5", 7, 7, 7, rir=3))
    assert work(line(screening(), worse, lifted=lighter)) == [(Decimal("57.5"), 7, 2)] * 3


# Restrictions and places


def test_a_restriction_bears_on_exercise_pattern_joint_or_all() -> None:
    for named in ({"exercise": "bench-press"}, {"pattern": "horizontal-push"}, {"joint": "elbow"}, {}):
        assert line(screening(), restricted(effect="leave-out", **named)).course == "stop"
    for named in ({"exercise": "squat"}, {"pattern": "squat"}, {"joint": "knee"}):
        assert line(screening(), restricted(effect="leave-out", **named)).course == "rise"


def test_each_effect_of_a_restriction() -> None:
    assert work(line(screening(), restricted(effect="no-rise"))) == SAME
    assert {load for load, _, _ in work(line(screening(), restricted(effect="at-most", load=kg(50))))} == {Decimal(50)}
    assert work(line(screening(), restricted(effect="at-most"))) == SAME  # no load said: no rise
    assert {rir for _, _, rir in work(line(screening(), restricted(effect="least-rir", rir=3)))} == {3}
    assert {rir for _, _, rir in work(line(screening(), restricted(effect="least-rir")))} == {4}
    assert line(screening(), restricted(effect="at-most", load=kg(10))).course == "stop"  # the bar alone is heavier


def test_past_its_review_a_restriction_holds_and_asks() -> None:
    due = line(screening(), restricted(review=date(2026, 3, 12)))
    assert work(due) == SAME
    assert "review was due" in " ".join(say(r, Voice("en")) for r in due.reasons)
    assert line(screening(), restricted(until=ON)).course == "rise"


def test_alone_without_safeties_ends_sooner_only_where_a_lift_can_pin() -> None:
    assert {rir for _, _, rir in work(line(screening(), alone="yes", safeties="no"))} == {3}
    assert {rir for _, _, rir in work(line(screening(), alone="yes"))} == {3}
    assert work(line(screening(), alone="yes", safeties="yes")) == UP
    rows = (*sets_of("2026-03-09", "lat-pulldown", 50, 8, 8, 8, rir=2),)
    assert {rir for _, _, rir in work(line(screening(), lifted=rows, alone="yes", safeties="no"))} == {2}
    assert "alone-not-asked" in [code_of(c) for c in sheet(screening()).cautions]
    assert "alone-not-asked" not in [code_of(c) for c in sheet(screening(), lifted=rows).cautions]
    assert "alone-not-asked" not in [code_of(c) for c in sheet(screening(), alone="no").cautions]


def test_a_raised_reserve_goes_on_once_it_is_reported() -> None:
    done: tuple[Body, ...] = ()
    for week in range(1, 5):
        done += sets_of(ON - timedelta(7 * week), "bench-press", "62.5", 6, 6, 6, rir=3)
    rising = line(screening(), lifted=done, alone="yes", safeties="no")
    assert rising.course == "rise"
    assert work(rising) == [(Decimal("62.5"), 7, 3)] * 3


# People


@pytest.mark.parametrize(("year", "is_young"), [(2007, False), (2008, True), (2010, True)])
def test_whoever_may_be_under_eighteen_counts_as_such(year: int, is_young: bool) -> None:
    assert ("youth-unsupervised" in codes(line(screening(), born(year)))) is is_young


def test_an_age_that_is_not_known_is_neutral() -> None:
    assert work(line(screening(), LifterBody(name="somebody"))) == UP


# The line's own sets: each gate that was there before


def history(*sets: Body) -> Decision:
    return line(screening(), lifted=(*sets_of("2026-03-05", "bench-press", "62.5", 8, 8, 8), *sets))


@pytest.mark.parametrize(
    ("more", "code", "course"),
    [
        ({"pain": Pain(3, "elbow")}, "pain-stop", "stop"),
        ({"pain": Pain(None, "elbow")}, "pain-stop", "stop"),
        ({"pain": Pain(2, "elbow")}, "pain-hold", "hold"),
        ({"technique": "broke"}, "technique-broke", "ease"),
        ({"technique": "rough"}, "technique-rough", "hold"),
        ({"rir": 0}, "effort-below-target", "hold"),
        ({"missed": "strength"}, "missed-once", "repeat"),
    ],
)
def test_the_latest_session_of_the_line_closes_it(more: dict[str, Any], code: str, course: str) -> None:
    decision = history(*sets_of("2026-03-12", "bench-press", "62.5", 8, 8, 8, **more))
    assert codes(decision)[0] == code
    assert decision.course == course


def test_fewer_sets_than_usual_repeat_the_line() -> None:
    before = sets_of("2026-03-02", "bench-press", "62.5", 8, 8, 8)
    decision = history(*before, *sets_of("2026-03-12", "bench-press", "62.5", 8, 8))
    assert (codes(decision)[0], decision.course) == ("sets-short", "repeat")


# What is read


def test_months_are_counted_by_the_calendar() -> None:
    assert months_after(date(2025, 1, 31), 1) == date(2025, 2, 28)
    assert months_after(date(2024, 12, 5), 12) == date(2025, 12, 5)
    assert months_after(date(2026, 3, 1), -9) == date(2025, 6, 1)
    assert months_after(date(2026, 11, 30), 1) == date(2026, 12, 30)


def test_training_weeks_begin_after_the_last_long_gap() -> None:
    log = training_log()
    days = (date(2025, 1, 1), date(2026, 2, 2), date(2026, 2, 9), date(2026, 3, 2))
    assert Facts(log=log, on=ON, policy=Policy(), days=days).training_weeks == 6
    assert Facts(log=log, on=ON, policy=Policy(), days=days[:1]).training_weeks == 0
    assert Facts(log=log, on=ON, policy=Policy()).training_weeks == 0


@pytest.mark.parametrize(
    "body", [screening(), AttestBody(on=ON, by="x"), cleared("pain"), pain(), restricted(), born(1990)]
)
def test_every_fact_of_health_is_part_of_what_a_sheet_was_made_from(body: Body) -> None:
    request = Request(on=ON)
    assert revision(training_log(*BENCH), ASSUMED, request) != revision(training_log(*BENCH, body), ASSUMED, request)
