"""The fold puts each kind of entry in its own place, by the clock and nothing else."""

from decimal import Decimal

import pytest
from tests.builders import LIFTER, OTHER_LIFTER, a_set, day, entry, entry_id, hlc_at, training_log

from steelyard.engine.body import Body
from steelyard.engine.equipment import ASSUMED
from steelyard.engine.fold import TrainingLog, fold
from steelyard.engine.log import (
    CheckInBody,
    EquipmentBody,
    LifterBody,
    OverruleBody,
    PolicyBody,
    SheetBody,
    TrainedAsWrittenBody,
)
from steelyard.engine.quantities import kg
from steelyard.engine.sheet import Basis, Sheet

ON = day("2026-03-02")
BODIES: dict[str, Body] = {
    "check_ins": CheckInBody(on=ON, body_mass=kg(80)),
    "overrules": OverruleBody(
        on=ON, until=day("2026-03-09"), exercise="squat", limit="weekly-limit", ceiling=Decimal("0.06"), by="c", why="w"
    ),
    "equipment": EquipmentBody(place="home", equipment=ASSUMED),
    "policy_changes": PolicyBody(on=ON, changes={"weekly_ceiling": "0.02"}),
    "trained_as_written": TrainedAsWrittenBody(earliest=ON, until=day("2026-03-09"), by="coach"),
}


@pytest.mark.parametrize("place", BODIES)
def test_each_kind_lies_in_its_own_place(place: str) -> None:
    log = training_log(*BODIES.values())
    assert getattr(log, place) == (BODIES[place],)
    without = training_log(*(body for name, body in BODIES.items() if name != place))
    assert getattr(without, place) == ()


def test_the_lifter_is_the_one_said_last_by_the_clock() -> None:
    early, late = LifterBody(name="Ada"), LifterBody(name="Ida")
    entries = (
        entry(late, id=entry_id(1), hlc=hlc_at(2), author=LIFTER),
        entry(early, id=entry_id(2), hlc=hlc_at(1), author=OTHER_LIFTER),
    )
    assert fold(entries).lifter == late
    assert TrainingLog().lifter is None


def test_a_correction_counts_even_beside_a_name_that_is_not_known() -> None:
    wrong, right = a_set(ON, "squat", 100, 5), a_set(ON, "squat", 90, 5)
    log = fold(
        (
            entry(wrong, id=entry_id(1), hlc=hlc_at(1)),
            entry(right, id=entry_id(2), hlc=hlc_at(2), replaces=(entry_id(9), entry_id(1))),
        )
    )
    assert [s.body for s in log.sets] == [right]


def test_a_sheet_lies_with_its_id_and_an_old_one_by_its_sentences() -> None:
    basis = Basis(log_revision="0" * 16, policy="p", catalogue="c", engine="1", on=ON)
    sheet = SheetBody(sheet=Sheet(on=ON, lines=(), basis=basis), said=((),))
    gone = b'{"said":[["as it was said"]],"sheet":{"lines":[{"reasons":[{"code":"gone"}]}],"on":"2026-03-02"}}'
    log = fold((entry(sheet, id=entry_id(1)), entry(gone, kind="sheet", id=entry_id(2))))
    assert log.sheets == ((entry_id(1), sheet),)
    assert [(old.sheet.on, old.said) for old in log.old_sheets] == [(ON, (("as it was said",),))]
    assert log.unread == ()
