"""No sheet breaks the page of gates, no odd entry makes advice bolder; and proof that the judge would see it."""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache

import msgspec
import pytest
from tests.builders import entry, entry_id, hlc_at

from steelyard.engine.body import Body
from steelyard.engine.health import AttestBody, ClearanceBody
from steelyard.engine.quantities import kg
from steelyard.engine.reasons import StopSigns, code_of
from steelyard.engine.sheet import Decision, PlannedSet, Sheet

from .gate_added import LATEST, an_addition, breaches_of, compared, exercises, sheet_of
from .gate_bolder import bolder
from .gate_judge import GATE_CODES, WORK
from .gate_law_lines import Law
from .gate_logs import GateCase, gate_case

SEEDS = 400
BATCH = 100
ADDITIONS = 3
PLANTED = 400
Change = Callable[[Decision], Decision]


@dataclass(frozen=True)
class Planned:
    """A case, what is closed in it, and what the engine says to it."""

    case: GateCase
    law: Law
    sheet: Sheet


@cache
def planned_of(seed: int) -> Planned:
    """What a seed stands for."""
    case = gate_case(seed)
    return Planned(case, Law(case.log, exercises(), case.request), sheet_of(case))


@pytest.mark.parametrize("earliest", range(0, SEEDS, BATCH))
def test_no_sheet_breaks_the_page(earliest: int) -> None:
    found = []
    for seed in range(earliest, earliest + BATCH):
        found += [(seed, breach) for breach in breaches_of(planned_of(seed).case, planned_of(seed).sheet)]
    assert found == []


@pytest.mark.parametrize("earliest", range(0, SEEDS, BATCH))
def test_no_entry_makes_advice_bolder_while_a_gate_is_closed(earliest: int) -> None:
    found, states = [], Counter[str]()
    for seed in range(earliest, earliest + BATCH):
        case = planned_of(seed).case
        for nth in range(ADDITIONS):
            addition = an_addition(seed, nth, case)
            outcome = compared(case, addition)
            states[outcome.state] += 1
            found += [(seed, nth, addition.kind, said) for said in (*outcome.bolder, *outcome.breaches)]
    assert found == []
    assert states["compared"] > BATCH


def test_the_logs_close_every_gate_and_leave_some_open() -> None:
    """Without this, "no violation" could mean that nothing was tried."""
    closed, courses = Counter[str](), Counter[str]()
    for seed in range(SEEDS):
        law = planned_of(seed).law
        for line in planned_of(seed).sheet.lines:
            closed.update({c.code for c in law.of(line.exercise) if c.sure})
            courses[line.course] += 1
    assert {code for code in GATE_CODES if closed[code] < 5} == set()
    assert min(courses[course] for course in ("rise", "hold", "ease", "stop", "baseline", "return")) > 5


# Proof that the judge can fail: each sheet below does one forbidden thing.


def is_closed(law: Law, code: str) -> bool:
    """Whether a gate of the session is closed for sure."""
    return any(c.code == code and c.sure for c in law.session.closed)


def is_out(line: Decision, law: Law) -> bool:
    """Whether a gate leaves the line out for sure."""
    return any(c.stop and c.sure for c in law.of(line.exercise))


def changed(sheet: Sheet, change: Change, wanted: Callable[[Decision], bool]) -> Iterator[Sheet]:
    """The sheet with one wanted line changed, once for each."""
    for place, line in enumerate(sheet.lines):
        if wanted(line):
            lines = (*sheet.lines[:place], change(line), *sheet.lines[place + 1 :])
            yield msgspec.structs.replace(sheet, lines=lines)


def with_work(line: Decision, **new: object) -> Decision:
    """The line with something else in every work set."""
    sets = tuple(msgspec.structs.replace(s, **new) if s.kind in WORK else s for s in line.sets)
    return msgspec.structs.replace(line, sets=sets)


def back_again(line: Decision) -> Decision:
    """A line that was left out, with what was done before."""
    done = line.previous.sets if line.previous is not None else ()
    load = done[0].load if done else kg(20)
    work = PlannedSet(kind="work", load=load, reps=5, target_rir=5)
    return msgspec.structs.replace(line, course="hold", sets=(work, work))


def rules(case: GateCase, sheet: Sheet) -> set[str]:
    """The rules that a sheet breaks."""
    return {breach.rule for breach in breaches_of(case, sheet)}


def test_a_rise_under_closed_screening_is_caught() -> None:
    planted, missed = 0, []
    for seed in range(PLANTED):
        case, law = planned_of(seed).case, planned_of(seed).law
        if not is_closed(law, "screening-not-asked"):
            continue

        def has_work(line: Decision, law: Law = law) -> bool:
            return any(s.kind in WORK for s in line.sets) and not is_out(line, law)

        def heavier(line: Decision, law: Law = law) -> Decision:
            last = law.past.latest((line.exercise, line.implement or ""))
            added = Decimal(0) if last is None else Decimal(last.added.numerator) / last.added.denominator
            return with_work(line, load=kg(added + Decimal("2.5")))

        for sheet in changed(planned_of(seed).sheet, heavier, has_work):
            planted += 1
            missed += [seed] if "rise-load" not in rules(case, sheet) else []
    assert planted > 40
    assert missed == []


def test_more_repetitions_under_closed_screening_are_caught() -> None:
    planted, missed = 0, []
    for seed in range(PLANTED):
        case, law = planned_of(seed).case, planned_of(seed).law
        if not is_closed(law, "screening-not-asked"):
            continue

        def has_work(line: Decision, law: Law = law) -> bool:
            return any(s.kind in WORK for s in line.sets) and not is_out(line, law)

        def longer(line: Decision, law: Law = law) -> Decision:
            last = law.past.latest((line.exercise, line.implement or ""))
            most = 1 if last is None else max(int(x.count) for x in last.lifts)
            return with_work(line, reps=most + 1, seconds=None, metres=None)

        for sheet in changed(planned_of(seed).sheet, longer, has_work):
            planted += 1
            missed += [seed] if "rise-count" not in rules(case, sheet) else []
    assert planted > 40
    assert missed == []


def test_an_exercise_that_is_back_in_pain_is_caught() -> None:
    planted, missed = 0, []
    for seed in range(PLANTED):
        case, law = planned_of(seed).case, planned_of(seed).law

        def hurts(line: Decision, law: Law = law) -> bool:
            return any(c.code == "pain-episode-stop" and c.sure for c in law.of(line.exercise))

        for sheet in changed(planned_of(seed).sheet, back_again, hurts):
            planted += 1
            missed += [seed] if "not-left-out" not in rules(case, sheet) else []
    assert planted > 40
    assert missed == []


def test_a_smaller_reserve_alone_under_a_bar_is_caught() -> None:
    planted, missed = 0, []
    for seed in range(PLANTED * 3):
        case, law = planned_of(seed).case, planned_of(seed).law

        def is_alone(line: Decision, law: Law = law) -> bool:
            named = "alone-under-the-bar" in {code_of(r) for r in line.reasons}
            return bool(line.sets) and named and not is_out(line, law)

        def closer(line: Decision) -> Decision:
            sets = tuple(msgspec.structs.replace(s, target_rir=2) for s in line.sets)
            return msgspec.structs.replace(line, sets=sets)

        for sheet in changed(planned_of(seed).sheet, closer, is_alone):
            planted += 1
            missed += [seed] if "reserve" not in rules(case, sheet) else []
    assert planted > 20
    assert missed == []


def test_a_session_on_the_day_of_a_stop_sign_is_caught() -> None:
    planted, missed = 0, []
    for seed in range(PLANTED):
        case, law = planned_of(seed).case, planned_of(seed).law
        if is_closed(law, "stop-sign-said"):
            for sheet in changed(planned_of(seed).sheet, back_again, lambda line: not line.sets):
                planted += 1
                missed += [seed] if "not-left-out" not in rules(case, sheet) else []
    assert planted > 40
    assert missed == []


def test_a_sheet_that_does_not_say_why_is_caught() -> None:
    planted, missed = 0, []
    for seed in range(PLANTED):
        case, law = planned_of(seed).case, planned_of(seed).law
        if any(c.sure for c in law.session.closed):
            planted += 1
            silent = msgspec.structs.replace(planned_of(seed).sheet, cautions=(StopSigns(),))
            missed += [seed] if "gate-unnamed" not in rules(case, silent) else []
    assert planted > 100
    assert missed == []


OPENERS: dict[str, Callable[[date], Body]] = {
    "screening-not-asked": lambda on: AttestBody(on=on, by="coach"),
    "stop-sign-said": lambda on: ClearanceBody(on=on, by="a clinician", condition="stop-sign"),
    "fever-stops": lambda on: ClearanceBody(on=on, by="a clinician", condition="fever"),
}


@pytest.mark.parametrize("code", OPENERS)
def test_an_opener_makes_advice_bolder_and_is_seen(code: str) -> None:
    """The comparison of two sheets sees what an opener changes, and the law says that it was one."""
    seen = 0
    for seed in range(SEEDS * 2):
        case, law = planned_of(seed).case, planned_of(seed).law
        if {c.code for c in law.session.closed if c.sure} == {code}:
            opener = entry(OPENERS[code](case.request.on), id=entry_id(LATEST), hlc=hlc_at(LATEST))
            opened = case.plus(opener)
            seen += any(bolder(planned_of(seed).sheet, sheet_of(opened)))
            assert not is_closed(Law(opened.log, exercises(), opened.request), code)
    assert seen > 2
