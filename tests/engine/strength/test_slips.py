"""What slips of the pen cost, how soon a true jump is believed, and a first set that was a slip forgotten."""

import random
from decimal import Decimal

import pytest

from steelyard.engine.log import SetBody
from steelyard.engine.quantities import kg, lb
from steelyard.engine.simulation.simulate import BodyName

from .jumps import first_slips, jumps, near_after
from .odd_logs import STARTS
from .slips import BODIES, SLIP_KINDS, SlipKind, simulated_trials, slip_cost, slipped, with_slips

LIFTERS = range(8)
by_body = pytest.mark.parametrize("body", BODIES)
SQUAT = SetBody(on=STARTS, exercise="squat", load=kg(100), reps=5)


@by_body
def test_two_slips_in_a_hundred_cost_less_than_a_tenth_of_the_accuracy(body: BodyName) -> None:
    cost = slip_cost(body, LIFTERS)
    assert cost.slips > 100
    assert cost.careless_loss > 0.5, "there is nothing to lose here"
    assert cost.loss < 0.10


@by_body
def test_a_jump_that_is_held_is_believed_within_two_sessions(body: BodyName) -> None:
    found = jumps(body, LIFTERS)
    assert len(found) > 40
    assert near_after(found, 2) > 0.9


@by_body
@pytest.mark.parametrize("kind", SLIP_KINDS)
def test_a_first_set_that_was_a_slip_is_forgotten_within_two_sessions(body: BodyName, kind: SlipKind) -> None:
    """The slip's own session, and two honest ones."""
    found = first_slips(body, range(4), kind)
    assert len(found) > 20
    assert near_after(found, 3) > 0.9


@pytest.mark.parametrize(
    ("kind", "becomes"),
    [
        ("ten times", {"load": kg(1000)}),
        ("a tenth", {"load": kg(10)}),
        ("pounds for kg", {"load": kg("220.5")}),
        ("kg for pounds", {"load": lb(100)}),
        ("exercise", {"exercise": "deadlift"}),
    ],
)
def test_a_slip_is_what_it_is_called(kind: SlipKind, becomes: dict[str, object]) -> None:
    found = slipped(SQUAT, ["deadlift", "squat"], random.Random(1), kind)
    assert found.load is not None
    assert {"load": found.load, "exercise": found.exercise} == {"load": SQUAT.load, "exercise": "squat", **becomes}


def test_a_share_of_sets_slips_and_the_others_stay() -> None:
    sets = [SetBody(on=STARTS, exercise=e, load=kg(50 + n % 7), reps=5) for n in range(2500) for e in ("squat", "dip")]
    found, many = with_slips(sets, random.Random(1))
    differ = [now != was for now, was in zip(found, sets, strict=True)]
    assert sum(differ) == many
    assert many / len(sets) == pytest.approx(0.02, abs=0.006)
    heavier = {now.load.value / was.load.value for now, was in zip(found, sets, strict=True) if now.load and was.load}
    assert {Decimal(10), Decimal(1), Decimal("0.1")} <= heavier


def test_a_simulated_log_has_no_slip_of_its_own() -> None:
    for session in simulated_trials("by-dose", 0, 8).sessions:
        for entry in session.entries:
            loads = [trial.load_kg for trial in entry.trials]
            assert max(loads) < 2 * min(loads)
