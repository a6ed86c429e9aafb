"""The measures that see more than a log, worked by hand, and how people are drawn for the studies."""

from datetime import date
from decimal import Decimal

import pytest

from steelyard.engine.effort import Effort
from steelyard.engine.log import SetBody
from steelyard.engine.quantities import kg
from steelyard.engine.simulation.values import SetTruth, Simulated

from .studies import CAREER_WEEKS, any_career, career, curve_figures, kept, reserve_figures

ON = date(2025, 1, 6)


def test_the_curve_is_the_mean_and_spread_between_people_at_each_share() -> None:
    found = curve_figures([{90: 4, 60: 18}, {90: 6, 60: 20}, {90: 5, 60: 25}])
    assert found == pytest.approx({"mean at 90 %": 5, "SD at 90 %": 1, "mean at 60 %": 21, "SD at 60 %": 13**0.5})


def test_a_reserve_is_too_low_by_what_could_have_been_done_beyond_it() -> None:
    def done(reps: int, rir: str | None) -> SetBody:
        return SetBody(
            on=ON, exercise="squat", load=kg(100), reps=reps, effort=Effort(Decimal(rir)) if rir is not None else None
        )

    lifter = Simulated(
        name="Test",
        kind="trained",
        sets=(done(5, "2"), done(5, "4"), done(5, None), done(0, "0")),
        check_ins=(),
        truth=(SetTruth(9, 120), SetTruth(8, 120), SetTruth(20, 120), SetTruth(0, 120)),
        levels={},
    )
    assert reserve_figures([lifter]) == {"reserve too low": 0.5}  # 9 - 7 and 8 - 9


def test_careers_last_into_the_fourth_year_and_come_by_turns() -> None:
    assert 4 * 365 <= 7 * CAREER_WEEKS < 4 * 365 + 7
    assert any_career("by-dose", 6) == career("by-dose", 3, "female")
    assert any_career("by-dose", 7) == career("by-dose", 3, "male")


def test_a_log_kept_by_a_study_holds_no_slips_of_the_pen() -> None:
    loads: dict[str, list[float]] = {}
    for done in kept("by-dose", "machine-study", 1, 12).sets:
        if done.load is not None:
            loads.setdefault(done.exercise, []).append(float(done.load.magnitude))
    assert len(loads) == 3
    assert all(max(of) < 2 * min(of) for of in loads.values())
