"""No sheet breaks the page of limits; and proof that the oracle would see it."""

from collections import Counter
from collections.abc import Iterable
from decimal import Decimal

import msgspec
import pytest

from steelyard.catalogue import catalogue
from steelyard.engine.equipment import ASSUMED, Equipment
from steelyard.engine.log import PolicyBody
from steelyard.engine.planning import plan_session
from steelyard.engine.quantities import kg
from steelyard.engine.reasons import RangeFilled
from steelyard.engine.sheet import Decision, PlannedSet, Sheet

from .followed_logs import followed_sheets
from .generated_logs import Case, generated_case
from .limits_oracle import violations
from .line_reading import WORKING, Violation
from .loadable import loads

SEEDS = 1000
BATCH = 50
FOLLOWED = 16


def sheet_of(case: Case) -> Sheet:
    """What the engine says to a case."""
    return plan_session(case.log, catalogue(), case.equipment, case.request)


def breaches(case: Case, sheet: Sheet) -> list[Violation]:
    """What the oracle says to a sheet."""
    return violations(sheet, case.log, catalogue(), case.equipment, case.request)


@pytest.mark.parametrize("earliest", range(0, SEEDS, BATCH))
def test_no_sheet_breaks_the_page(earliest: int) -> None:
    found = []
    for seed in range(earliest, earliest + BATCH):
        case = generated_case(seed)
        found += [(seed, breach) for breach in breaches(case, sheet_of(case))]
    assert found == []


@pytest.mark.parametrize("seed", range(FOLLOWED))
def test_no_sheet_breaks_the_page_for_lifters_who_follow_it(seed: int) -> None:
    found = [(case.request.on, breach) for case, sheet in followed_sheets(seed) for breach in breaches(case, sheet)]
    assert found == []


def caught(cases: Iterable[tuple[Case, Sheet]]) -> Counter[str]:
    """How often the oracle names each rule over many sheets."""
    return Counter(breach.rule for case, sheet in cases for breach in breaches(case, sheet))


def with_control(case: Case, sheet: Sheet, rise: Decimal) -> Sheet:
    """A control that adds load every session and says that the range was full."""
    lines = []
    for line in sheet.lines:
        previous = line.previous.sets if line.previous else ()
        last = max((s.load.magnitude for s in previous if s.load), default=Decimal(0))
        if line.course in {"baseline", "stop"} or last <= 0:
            continue
        work = PlannedSet(kind="work", load=kg(round(last * (1 + rise), 2)), reps=previous[0].count, target_rir=2)
        filled = RangeFilled(previous=(), load=kg(0), next_load=kg(0), bottom=1)
        lines.append(msgspec.structs.replace(line, course="rise", sets=(work,), reasons=(filled,)))
    return msgspec.structs.replace(sheet, lines=tuple(lines))


# Proof that the oracle can fail: each sheet below breaks one rule on purpose.


def heavier(line: Decision, equipment: Equipment, steps: int) -> Decision:
    """The line with its work sets so many loadable steps up, as far as there are any."""
    return msgspec.structs.replace(line, sets=tuple(_heavier_set(line, s, equipment, steps) for s in line.sets))


def _heavier_set(line: Decision, planned: PlannedSet, equipment: Equipment, steps: int) -> PlannedSet:
    if planned.kind not in WORKING or planned.load is None:
        return planned
    made = loads(catalogue()[line.exercise], equipment)
    above = [m for m in made if m > planned.load.magnitude]
    if len(above) < steps:
        return planned
    reached = above[steps - 1]
    return msgspec.structs.replace(planned, load=kg(Decimal(reached.numerator) / reached.denominator))


def test_a_held_line_that_is_one_step_up_is_caught() -> None:
    raised = missed = 0
    for seed in range(240):
        case = generated_case(seed)
        sheet = sheet_of(case)
        for line in sheet.lines:
            if line.course not in {"hold", "repeat"} or "no-load" in str(line.reasons):
                continue
            changed = heavier(line, case.equipment or ASSUMED, 1)
            if changed != line:
                raised += 1
                missed += not breaches(case, msgspec.structs.replace(sheet, lines=(changed,)))
    assert raised > 50
    assert missed == 0


def test_a_control_that_adds_load_every_session_is_caught() -> None:
    cases = [generated_case(seed) for seed in range(120)]
    controls = [(case, with_control(case, sheet_of(case), Decimal("0.10"))) for case in cases]
    asked = [(case, sheet) for case, sheet in controls if sheet.lines]
    assert len(asked) > 60
    rules = caught(asked)
    assert rules["weekly-limit"] > 50
    assert rules["twelve-week-limit"] > 50
    assert rules["step-limit"] + rules["jump-unnamed"] > 50
    assert [case.seed for case, sheet in asked if not breaches(case, sheet)] == []


@pytest.mark.parametrize(
    ("setting", "lax", "rule"),
    [
        ("weekly_ceiling", "0.05", "weekly-limit"),
        ("twelve_week_ceiling", "0.25", "twelve-week-limit"),
        ("step_ceiling", "0.10", "jump-unnamed"),
        ("regain_ceiling", "0.10", "regain-limit"),
        ("return_cut_short", "0.05", "return-load"),
    ],
)
def test_an_engine_with_a_laxer_limit_is_caught(setting: str, lax: str, rule: str) -> None:
    def laxer(case: Case) -> Sheet:
        lax_policy = PolicyBody(on=case.request.on, changes={setting: lax})
        log = msgspec.structs.replace(case.log, policy_changes=(*case.log.policy_changes, lax_policy))
        return plan_session(log, catalogue(), case.equipment, case.request)

    cases = [case for seed in range(4) for case, _ in followed_sheets(seed, sessions=20)]
    cases += [generated_case(seed) for seed in range(60)]
    assert caught((case, laxer(case)) for case in cases)[rule] > 0
