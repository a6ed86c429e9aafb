"""Simulated lifters look like the people of the open data, and a log that does not is told apart."""

from math import inf, isfinite

import msgspec
import pytest

from steelyard.engine.simulation.simulate import BodyName
from steelyard.engine.simulation.values import Simulated

from .comparison import CHANCE, Measured, Study, agrees, differing, page, table
from .open_data import unnamed
from .open_data_figures import training_figures
from .published import TRAINING, Published
from .studies import BODIES, PLANS, Plan, kept, measured, study

# At most so many people a study, to keep the suite short. With fewer people chance moves the figures more: the bounds
# are widened by two sampling errors; the page of evidence shows more people against the bounds as they stand.
PEOPLE = 100


@pytest.mark.parametrize("body", BODIES)
@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.name)
def test_each_figure_agrees_or_is_named_as_a_difference(plan: Plan, body: BodyName) -> None:
    held = study(plan, [body], min(PEOPLE, plan.people))
    assert all(isfinite(held.by_body[body].errors[figure.key]) for figure in plan.published)
    assert unnamed([held], CHANCE) == []


def without_noise(lifter: Simulated) -> Simulated:
    """The same log with each set's repetitions the same, as nobody's are."""
    return msgspec.structs.replace(lifter, sets=tuple(msgspec.structs.replace(s, reps=8) for s in lifter.sets))


def test_lifters_without_scatter_are_told_from_people() -> None:
    lifters = [without_noise(kept("by-dose", "machine-study", number, 12)) for number in range(16)]
    held = Study("", "", TRAINING, {"by-dose": Measured(training_figures(lifters), {})})
    assert {"repetitions uncertain", "same-load change SD", "same-load change"} <= {
        figure.key for figure in differing(held, "by-dose")
    }


def test_the_same_number_is_the_same_lifter() -> None:
    assert kept("by-drift", "competitor", 3, 60) == kept("by-drift", "competitor", 3, 60)
    assert kept("by-drift", "competitor", 3, 60) != kept("by-drift", "competitor", 4, 60)


FIGURE = Published("gain", "gain a week, %", 0.4, 0.3, 0.5)


@pytest.mark.parametrize(
    ("found", "errors", "said"),
    [(0.3, 0, True), (0.29, 0, False), (0.29, 2, True), (0.5, 0, True), (0.53, 2, False), (float("nan"), 2, False)],
)
def test_agreement_is_to_lie_within_the_bounds_and_the_slack_of_chance(found: float, errors: float, said: bool) -> None:
    assert agrees(FIGURE, Measured({"gain": found}, {"gain": 0.01}), errors) is said


def a_study(found: float) -> Study:
    return Study("Gains", "Here: nobody.", (FIGURE,), {"by-dose": Measured({"gain": found}, {"gain": 0.012})})


def test_a_table_row_says_what_was_found_and_how_it_differs() -> None:
    assert table(a_study(0.44))[-1] == "| gain a week, % | 0.4 | 0.3 to 0.5 (15 %) | 0.44 ± 0.01 | +10% | yes |"
    zero = Study("", "", (Published("bend", "bend", 0, 0, inf, "steeper"),), {"x": Measured({"bend": -1}, {"bend": 2})})
    assert table(zero)[-1] == "| bend | 0 | at least 0 (steeper) | -1 ± 2 | -1 | no |"


def test_the_page_lists_what_differs_with_its_reason() -> None:
    key = ("Gains", "by-dose", "gain")
    assert "by-dose: gain a week, %: 0.6 for 0.4; too eager." in page([a_study(0.6)], {key: "too eager"}, "abc")
    assert "not explained" in page([a_study(0.6)], {}, "abc")
    whole = page([a_study(0.44)], {}, "abc")
    assert "* figures compared: 1\n* within the bounds: 1\n" in whole and whole.endswith("Nothing.\n")
    assert "for 0.4; this may be chance." in page([a_study(0.52)], {}, "abc")


def test_a_study_with_fewer_people_is_less_certain() -> None:
    plan = next(plan for plan in PLANS if plan.name == "Load and repetitions")
    few, many = (measured(plan, "by-dose", people).errors["mean at 80 %"] for people in (64, 1024))
    assert few > 1.5 * many
