"""Laws that hold whatever the rules say: what must not matter does not change a decision."""

from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from random import Random
from typing import TypeVar

import msgspec
import pytest
from tests.oracle.generated_logs import Case, generated_case

from steelyard.catalogue import catalogue
from steelyard.engine.fold import LoggedSet, TrainingLog, fold
from steelyard.engine.log import SCHEMA, Entry, SetBody, encode_body
from steelyard.engine.planning import Request, plan_session
from steelyard.engine.quantities import KG_PER_LB, Load
from steelyard.engine.reasons import code_of
from steelyard.engine.sheet import Decision, Sheet

SEEDS = range(200)
LATER = timedelta(1461)  # four years, so that leap days fall alike
T = TypeVar("T", bound=msgspec.Struct)
PERSON = "00000000-0000-7000-8000-000000000001"


def asked(case: Case, log: TrainingLog) -> Sheet:
    """The sheet of a case, with its log replaced."""
    return plan_session(log, catalogue(), case.equipment, case.request)


def core(line: Decision) -> tuple[object, ...]:
    """What a line decides, without the order of its evidence."""
    loads = tuple((s.kind, s.load and s.load.magnitude, s.reps, s.seconds, s.metres, s.target_rir) for s in line.sets)
    return line.exercise, line.implement, line.course, line.lever, loads, tuple(code_of(r) for r in line.reasons)


def cores(sheet: Sheet) -> list[tuple[object, ...]]:
    """What each line of a sheet decides."""
    return [core(line) for line in sheet.lines]


def entries(log: TrainingLog, chance: Random | None) -> list[Entry]:
    """Every set as an entry; with chance given, entered in another order within its session."""
    clocks = list(range(len(log.sets)))
    if chance is not None:
        chance.shuffle(clocks)
    return [
        Entry(
            id=logged.id,
            person=PERSON,
            author=PERSON,
            device="phone",
            kind="set",
            schema=SCHEMA,
            hlc=f"{clock:012d}",
            wall_time="2026-01-01T00:00:00Z",
            body=encode_body(logged.body),
        )
        for logged, clock in zip(log.sets, clocks, strict=True)
    ]


def with_sets(case: Case, sets: tuple[LoggedSet, ...]) -> TrainingLog:
    """The case's log with other sets."""
    return msgspec.structs.replace(case.log, sets=sets)


def changed_sets(case: Case, change: Callable[[SetBody], SetBody]) -> TrainingLog:
    """The case's log with each set's body changed."""
    return with_sets(case, tuple(LoggedSet(s.id, change(s.body)) for s in case.log.sets))


@pytest.mark.parametrize("seed", SEEDS)
def test_order_of_entry_and_repetition_change_nothing(seed: int) -> None:
    case, chance = generated_case(seed, most_sessions=60), Random(seed)
    in_order = entries(case.log, None)
    mixed = [*in_order, *chance.sample(in_order, len(in_order) // 3)]
    chance.shuffle(mixed)
    folded = fold(mixed)
    assert folded.sets == fold(in_order).sets
    assert asked(case, with_sets(case, folded.sets)) == asked(case, with_sets(case, fold(in_order).sets))


@pytest.mark.parametrize("seed", SEEDS)
def test_order_of_sets_within_a_session_changes_no_decision(seed: int) -> None:
    case = generated_case(seed, most_sessions=60)
    usual = fold(entries(case.log, None)).sets
    entered_otherwise = fold(entries(case.log, Random(seed))).sets
    assert sorted(s.id for s in usual) == sorted(s.id for s in entered_otherwise)
    assert cores(asked(case, with_sets(case, usual))) == cores(asked(case, with_sets(case, entered_otherwise)))


@pytest.mark.parametrize("seed", SEEDS)
def test_unit_of_entry_changes_nothing(seed: int) -> None:
    case = generated_case(seed, most_sessions=60)

    def in_pounds(body: SetBody) -> SetBody:
        return _typed(body, Load(Decimal(round(body.load.magnitude / KG_PER_LB)), "lb") if body.load else None)

    def in_kilograms(body: SetBody) -> SetBody:
        return _typed(body, Load(body.load.value * KG_PER_LB, "kg") if body.load else None)

    pounds = changed_sets(case, in_pounds)
    kilograms = with_sets(case, tuple(LoggedSet(s.id, in_kilograms(s.body)) for s in pounds.sets))
    assert cores(asked(case, pounds)) == cores(asked(case, kilograms))


def _typed(body: SetBody, load: Load | None) -> SetBody:
    return msgspec.structs.replace(body, load=load)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_shift_of_all_dates_changes_only_dates(seed: int) -> None:
    case = generated_case(seed, most_sessions=60)
    request = msgspec.structs.replace(case.request, on=case.request.on + LATER)
    shifted = plan_session(_shifted(case.log), catalogue(), case.equipment, request)
    before = asked(case, case.log)
    assert cores(shifted) == cores(before)
    assert [code_of(c) for c in shifted.cautions] == [code_of(c) for c in before.cautions]


def _shifted(log: TrainingLog) -> TrainingLog:
    lifter = log.lifter
    if lifter is not None and lifter.birth_year is not None:
        lifter = msgspec.structs.replace(lifter, birth_year=lifter.birth_year + 4)
    return TrainingLog(
        lifter=lifter,
        sets=tuple(LoggedSet(s.id, _later(s.body)) for s in log.sets),
        check_ins=tuple(_later(c) for c in log.check_ins),
        overrules=tuple(_later(o) for o in log.overrules),
        policy_changes=tuple(
            msgspec.structs.replace(_later(p), changes={n: _later_text(n, v) for n, v in p.changes.items()})
            for p in log.policy_changes
        ),
        trained_as_written=tuple(_later(t) for t in log.trained_as_written),
        screenings=tuple((i, _later(b)) for i, b in log.screenings),
        attests=tuple((i, _later(b)) for i, b in log.attests),
        clearances=tuple((i, _later(b)) for i, b in log.clearances),
        episodes=tuple((i, _later(b)) for i, b in log.episodes),
        restrictions=tuple((i, _later(b)) for i, b in log.restrictions),
    )


def _later(body: T) -> T:
    """The same with each of its days later."""
    days = {name: day + LATER for name in body.__struct_fields__ if isinstance(day := getattr(body, name), date)}
    return msgspec.structs.replace(body, **days)


def _later_text(name: str, typed: str) -> str:
    return (date.fromisoformat(typed) + LATER).isoformat() if name == "trained_since" else typed


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_logged_after_the_day_changes_nothing(seed: int) -> None:
    case = generated_case(seed, most_sessions=60)
    days = sorted({s.body.on for s in case.log.sets})
    if len(days) < 2:
        return
    on = days[len(days) // 2] + timedelta(1)
    request = Request(on=on, exercises=case.request.exercises or tuple({s.body.exercise for s in case.log.sets}))
    up_to_then = with_sets(case, tuple(s for s in case.log.sets if s.body.on <= on))
    with_later = plan_session(case.log, catalogue(), case.equipment, request)
    without = plan_session(up_to_then, catalogue(), case.equipment, request)
    assert cores(with_later) == cores(without)
