"""No sheet breaks the page of gates; and proof that the oracle would see it."""

from collections import Counter
from collections.abc import Callable

import msgspec
import pytest
from tests.builders import ATTESTED

from steelyard.catalogue import catalogue
from steelyard.engine.fold import TrainingLog
from steelyard.engine.planning import plan_session

from .gates_reading import GateReading
from .generated_logs import Case, generated_case
from .limits_oracle import violations

SEEDS = 600
BATCH = 50


def case_of(seed: int) -> Case:
    """A log that says something of health."""
    return generated_case(seed, most_sessions=40, always_health=True)


@pytest.mark.parametrize("earliest", range(0, SEEDS, BATCH))
def test_no_sheet_breaks_the_page(earliest: int) -> None:
    found = []
    for seed in range(earliest, earliest + BATCH):
        case = case_of(seed)
        sheet = plan_session(case.log, catalogue(), case.equipment, case.request)
        found += [(seed, v) for v in violations(sheet, case.log, catalogue(), case.equipment, case.request)]
    assert found == []


def test_every_gate_is_closed_in_some_of_them() -> None:
    shut: Counter[str] = Counter()
    for seed in range(SEEDS):
        case = case_of(seed)
        gates = GateReading(case.log, case.request)
        codes = case.request.exercises or tuple({s.body.exercise for s in case.log.sets})
        shut.update({s.code for code in codes for s in gates.of(catalogue()[code])})
    assert len(shut) == 17
    assert min(shut.values()) > 3, shut


def well(log: TrainingLog) -> TrainingLog:
    return msgspec.structs.replace(log, check_ins=(), sets=tuple(s for s in log.sets if not s.body.note))


BLIND: dict[str, Callable[[TrainingLog], TrainingLog]] = {
    "screening": lambda log: msgspec.structs.replace(log, screenings=(), attests=ATTESTED),
    "the day": well,
    "pain": lambda log: msgspec.structs.replace(log, episodes=()),
    "restrictions": lambda log: msgspec.structs.replace(log, restrictions=()),
    "clearances": lambda log: msgspec.structs.replace(log, clearances=()),
    "age": lambda log: msgspec.structs.replace(log, lifter=None),
}


@pytest.mark.parametrize("blind", BLIND)
def test_an_engine_that_overlooks_a_gate_is_caught(blind: str) -> None:
    caught = 0
    for seed in range(120):
        case = case_of(seed)
        overlooked = BLIND[blind](case.log)
        if overlooked.sets or case.request.exercises:
            sheet = plan_session(overlooked, catalogue(), case.equipment, case.request)
            found = violations(sheet, case.log, catalogue(), case.equipment, case.request)
            caught += any(v.rule.startswith("gate") for v in found)
    assert caught > 3
