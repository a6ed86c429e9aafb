"""While a gate is closed, no entry that does not open it makes the advice bolder.

Bolder, for one exercise: a load where there was none; a heavier heaviest load; more repetitions at the same heaviest
load; a smaller target in reserve; more sets, at no smaller load and no fewer repetitions. Warm-up sets say nothing of
it; ramp sets, which end where they get hard, are compared with other sets by their loads and reserve alone.

Entries that say what was lifted (sets, body mass, days trained as written) move what "the last time" is, and settings
are the coach's own rules; both are held by the second property: whatever is entered, a closed gate leaves what its page
says.
"""

from collections.abc import Callable
from datetime import timedelta
from decimal import Decimal
from random import Random
from typing import Any

import msgspec
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from tests.oracle.gates_reading import GateReading, Shut
from tests.oracle.generated_health import a_clearance, a_restriction, a_screening, a_word_on_pain, an_earlier_day
from tests.oracle.generated_logs import Case, generated_case
from tests.oracle.health_words import HARMLESS_WORDS, SIGN_WORDS
from tests.oracle.limits_oracle import violations

from steelyard.catalogue import catalogue
from steelyard.engine.fold import Dispute, LoggedSet, TrainingLog
from steelyard.engine.health import AttestBody
from steelyard.engine.log import CheckInBody, LifterBody, OverruleBody, PolicyBody, TrainedAsWrittenBody
from steelyard.engine.planning import plan_session
from steelyard.engine.quantities import kg
from steelyard.engine.sheet import Decision, PlannedSet, Sheet

PAIN = {"pain-episode-stop", "pain-episode-reduce", "pain-episode-hold"}
YOUTH = {"youth-unsupervised", "youth-technique"}
SCREENING = {"screening-not-asked", "screening-closed"}
EVENT = {"clearance-first", "after-clearance"}
# Which closed gates an entry of a kind may open, whatever it says.
OPENS: dict[str, set[str]] = {
    "attest": {"screening-not-asked"},
    "check-in": {"fever-stops", "blood-pressure-high"},
    "clearance": SCREENING
    | EVENT
    | PAIN
    | {"pregnancy-holds", "stop-sign-said", "fever-stops"}
    | {"blood-pressure-high", "clinician-limits"},
    "pain-episode": PAIN,
    "restriction": {"restricted"},
    "screening": SCREENING | EVENT | YOUTH | {"pregnancy-holds"},
    "lifter": YOUTH | {"older-entry"},
    "overrule": set(),
    "dispute": set(),
}


def changed(log: TrainingLog, **fields: Any) -> TrainingLog:
    return msgspec.structs.replace(log, **fields)


def by_day(kept: tuple[tuple[str, Any], ...], body: Any) -> tuple[tuple[str, Any], ...]:
    return tuple(sorted((*kept, ("added", body)), key=lambda pair: pair[1].on))


def with_entry(kind: str, chance: Random, case: Case) -> TrainingLog:
    """The log of a case with one more entry of a kind."""
    log, on = case.log, case.request.on
    codes = tuple({s.body.exercise for s in log.sets}) or case.request.exercises
    makers: dict[str, Callable[[], TrainingLog]] = {
        "attest": lambda: changed(
            log, attests=by_day(log.attests, AttestBody(on=an_earlier_day(chance, on), by="somebody"))
        ),
        "check-in": lambda: changed(log, check_ins=(*log.check_ins, _check_in(chance, case))),
        "clearance": lambda: changed(log, clearances=by_day(log.clearances, a_clearance(chance, on))),
        "pain-episode": lambda: changed(log, episodes=by_day(log.episodes, a_word_on_pain(chance, on, codes))),
        "restriction": lambda: changed(log, restrictions=by_day(log.restrictions, a_restriction(chance, on, codes))),
        "screening": lambda: changed(log, screenings=by_day(log.screenings, a_screening(chance, on))),
        "lifter": lambda: changed(log, lifter=LifterBody(name="x", birth_year=on.year - chance.randint(10, 80))),
        "overrule": lambda: changed(log, overrules=(*log.overrules, _overrule(chance, case, codes))),
        "dispute": lambda: changed(log, disputes=(Dispute(("a", "b")),), unread=("c",)),
    }
    return makers[kind]()


def _check_in(chance: Random, case: Case) -> CheckInBody:
    return CheckInBody(
        on=an_earlier_day(chance, case.request.on),
        note=chance.choice((*HARMLESS_WORDS, *sorted(SIGN_WORDS))),
        fever=chance.choice((None, True, False)),
        blood_pressure=chance.choice((None, (120, 80), (170, 90), (190, 120))),
    )


def _overrule(chance: Random, case: Case, codes: tuple[str, ...]) -> OverruleBody:
    return OverruleBody(
        on=case.request.on - timedelta(chance.randint(0, 3)),
        until=case.request.on + timedelta(chance.randint(1, 20)),
        exercise=chance.choice(codes),
        limit=chance.choice(("weekly-limit", "step-limit", "twelve-week-limit")),
        ceiling=chance.choice((None, Decimal("0.01"), Decimal("0.5"))),
        by="coach",
        why="in a hurry",
    )


def working(line: Decision) -> list[PlannedSet]:
    return [s for s in line.sets if s.kind != "warm-up"]


def count_of(planned: PlannedSet) -> Decimal:
    return Decimal(planned.reps or planned.seconds or planned.metres or 0)


def height(sets: list[PlannedSet]) -> tuple[Decimal, Decimal]:
    """The heaviest load (kg, added) and the most repetitions, seconds or metres at it."""
    loads = [s.load.magnitude if s.load else Decimal(0) for s in sets]
    return max(loads), max(count_of(s) for s, load in zip(sets, loads, strict=True) if load == max(loads))


def bolder(before: Decision, after: Decision) -> str:
    """In what the second decision is bolder than the first, or nothing."""
    was, now = working(before), working(after)
    if not (was and now):
        return "sets where there were none" if now else ""
    (heavy_was, most_was), (heavy_now, most_now) = height(was), height(now)
    are_alike = (before.course == "baseline") == (after.course == "baseline")
    in_what = {
        f"{heavy_now} kg, was {heavy_was} kg": heavy_now > heavy_was,
        f"{most_now} each, was {most_was}": are_alike and heavy_now == heavy_was and most_now > most_was,
        "less in reserve": min(s.target_rir or 0 for s in now) < min(s.target_rir or 0 for s in was),
        f"{len(now)} sets, were {len(was)}": are_alike
        and len(now) > len(was)
        and (heavy_now, most_now) == (heavy_was, most_was),
    }
    return "; ".join(what for what, is_so in in_what.items() if is_so)


def sheet_of(case: Case, log: TrainingLog) -> Sheet:
    return plan_session(log, catalogue(), case.equipment, case.request)


def shut_by_line(case: Case) -> list[list[Shut]]:
    gates = GateReading(case.log, case.request)
    return [[s for s in gates.of(catalogue()[line.exercise]) if s.counts] for line in sheet_of(case, case.log).lines]


@pytest.mark.parametrize("kind", OPENS)
@given(seed=st.integers(0, 10**9))
@settings(max_examples=150, deadline=None)
def test_no_other_entry_makes_a_closed_line_bolder(kind: str, seed: int) -> None:
    case = generated_case(seed, most_sessions=20, always_health=True)
    shut = shut_by_line(case)
    assume(any(shut))
    log = with_entry(kind, Random(seed), case)
    before, after = sheet_of(case, case.log), sheet_of(case, log)
    assert [line.exercise for line in before.lines] == [line.exercise for line in after.lines]
    for gates, was, now in zip(shut, before.lines, after.lines, strict=True):
        if gates and not {s.code for s in gates} & OPENS[kind]:
            assert bolder(was, now) == "", (was.exercise, [s.code for s in gates])


def lifted_or_set(chance: Random, case: Case) -> TrainingLog:
    """The log with more that was lifted, trained, weighed, or set by the coach."""
    log, on = case.log, case.request.on
    kind = chance.choice(("set", "mass", "trained", "policy"))
    if kind == "set" and log.sets:
        body = msgspec.structs.replace(chance.choice(log.sets).body, on=on, load=kg(chance.randint(1, 200)), reps=10)
        return changed(log, sets=(*log.sets, LoggedSet("set-added", body)))
    if kind == "mass":
        return changed(log, check_ins=(*log.check_ins, CheckInBody(on=on, body_mass=kg(chance.randint(30, 150)))))
    if kind == "trained":
        span = TrainedAsWrittenBody(earliest=on - timedelta(chance.randint(1, 90)), until=on, by="coach")
        return changed(log, trained_as_written=(*log.trained_as_written, span))
    setting = chance.choice(
        ({"target_rir": "0"}, {"weekly_ceiling": "0.05"}, {"alone_rir": "5"}, {"return_cut_short": "0.05"})
    )
    return changed(log, policy_changes=(*log.policy_changes, PolicyBody(on=on, changes=setting)))


@given(seed=st.integers(0, 10**9))
@settings(max_examples=400, deadline=None)
def test_whatever_is_lifted_or_set_a_closed_gate_leaves_what_its_page_says(seed: int) -> None:
    case = generated_case(seed, most_sessions=20, always_health=True)
    log = lifted_or_set(Random(seed), case)
    found = violations(sheet_of(case, log), log, catalogue(), case.equipment, case.request)
    assert [v for v in found if v.rule.startswith("gate")] == []


def test_the_property_would_see_it() -> None:
    """Proof that it can fail: an attest where screening was never asked, or a clearance of a stop sign, is bolder."""
    opened = 0
    for seed in range(400):
        case = generated_case(seed, most_sessions=20, always_health=True)
        gates = GateReading(case.log, case.request)
        if {s.code for s in gates.session} == {"screening-not-asked"}:
            attested = changed(case.log, attests=(("attest", AttestBody(on=case.request.on, by="coach")),))
            pairs = zip(sheet_of(case, case.log).lines, sheet_of(case, attested).lines, strict=True)
            opened += any(bolder(was, now) for was, now in pairs)
    assert opened > 10
