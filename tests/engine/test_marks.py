"""A line in a machine's own marks stays in marks, one mark at a time."""

from datetime import date
from decimal import Decimal

from msgspec import structs
from tests.builders import training_log

from steelyard.catalogue import catalogue
from steelyard.engine.health import AttestBody
from steelyard.engine.log import SetBody
from steelyard.engine.marks import marks_for
from steelyard.engine.planning import Request, plan_session
from steelyard.engine.quantities import Load
from steelyard.engine.reasons import code_of
from steelyard.engine.sheet import Decision

ON = date(2026, 9, 12)


def trained(mark: str, reps: int) -> list[SetBody]:
    """Three sessions of three sets on machine 3."""
    return [
        SetBody(
            on=date(2026, 9, day), exercise="leg-extension", load=Load(Decimal(mark), "mark"), reps=reps, implement="3"
        )
        for day in (2, 5, 9)
        for _ in range(3)
    ]


def decided(*sets: SetBody) -> Decision:
    """The one line of the next sheet."""
    log = training_log(AttestBody(on=date(2026, 9, 1), by="Coach Berg"), *sets)
    (line,) = plan_session(log, catalogue(), None, Request(on=ON)).lines
    return line


def test_repetitions_rise_at_the_same_mark() -> None:
    line = decided(*trained("7", 12))
    assert {(s.load, s.reps) for s in line.sets} == {(Load(Decimal("7"), "mark"), 13)}
    assert [code_of(r) for r in line.reasons][-1] == "marks-as-numbers"
    assert "kg" not in repr(line)


def test_a_full_range_goes_to_the_next_mark_where_the_limits_let_it() -> None:
    rising = [structs.replace(s, reps={2: 8, 5: 10, 9: 12}[s.on.day]) for s in trained("40", 12)]
    line = decided(*rising)
    assert {(s.load, s.reps) for s in line.sets} == {(Load(Decimal(41), "mark"), 8)}


def test_kilograms_on_the_same_machine_stay_kilograms() -> None:
    sets = [SetBody(on=s.on, exercise=s.exercise, load=Load(Decimal("35"), "kg"), reps=12) for s in trained("7", 12)]
    line = decided(*sets)
    assert {s.load.unit for s in line.sets if s.load} == {"kg"}
    assert "marks-as-numbers" not in {code_of(r) for r in line.reasons}


def test_what_can_be_set_are_marks_seen_and_whole_ones_up_to_one_above() -> None:
    made = marks_for([Load(Decimal("2.5"), "mark").value, Load(Decimal("4"), "mark").value])
    assert [float(m) for m in made.magnitudes] == [1, 2, 2.5, 3, 4, 5]
