"""What is said and offered about deloads, against the survey and the trials.

D3: Rogerson et al. 2024, Sports Med Open 10:26 (n = 246): every 5.6 +- 2.3 weeks, so 1.0-10.2 within two SD.
D4: Coleman et al. 2024, PeerJ 12:e16777; Pancar et al. 2026, Sci Rep: no gain in strength or size from deloads.
D1 and D6 concern tapers before a competition, D5 a deload of complete rest: neither exists here.
"""

from datetime import date, timedelta

import pytest

from steelyard.catalogue import catalogue
from steelyard.engine.deload import allot_sets
from steelyard.engine.fold import LoggedSet, TrainingLog
from steelyard.engine.log import SetBody
from steelyard.engine.planning import Request, plan_session
from steelyard.engine.policy import Policy, outside_survey
from steelyard.engine.quantities import kg
from steelyard.engine.reasons import DeloadOffered
from steelyard.wording.quantity import Voice
from steelyard.wording.say import say

MONDAY = date(2026, 3, 2)


@pytest.mark.parametrize(("weeks", "is_outside"), [(1, False), (6, False), (10, False), (11, True), (26, True)])
def test_d3_an_interval_outside_the_survey_is_said_and_allowed(weeks: int, is_outside: bool) -> None:
    policy = Policy(deload_after_training_weeks=weeks)
    assert outside_survey("deload_after_training_weeks", policy.deload_after_training_weeks) is is_outside


def trained(weeks: int) -> TrainingLog:
    """Two sessions a week for so many weeks."""
    days = [MONDAY + timedelta(days=7 * week + day) for week in range(weeks) for day in (0, 3)]
    bodies = [(on, SetBody(on=on, exercise="squat", load=kg(100), reps=5)) for on in days]
    sets = [LoggedSet(f"{number}-{on}", body) for on, body in bodies for number in range(3)]
    return TrainingLog(sets=tuple(sets))


@pytest.mark.parametrize(("weeks", "is_offered"), [(4, False), (5, False), (6, True), (8, True)])
def test_a_deload_is_offered_after_six_training_weeks(weeks: int, is_offered: bool) -> None:
    sheet = plan_session(trained(weeks), catalogue(), None, Request(on=MONDAY + timedelta(days=7 * weeks)))
    assert any(isinstance(c, DeloadOffered) for c in sheet.cautions) is is_offered


def test_d4_the_offer_claims_nothing_and_may_be_skipped() -> None:
    english = say(DeloadOffered(training_weeks=7), Voice("en", "kg"))
    assert "may help fatigue; no proven gain in strength or size" in english
    assert "skip and continue is a fair choice" in english
    german = say(DeloadOffered(training_weeks=7), Voice("de", "kg"))
    assert "kein belegter Gewinn an Kraft oder Masse" in german
    assert "auslassen und weitermachen ist ebenso recht" in german


@pytest.mark.parametrize("usual", [(3, 3, 3), (3, 3, 3, 2), (4, 4), (5, 3, 2), (3, 2, 2, 2, 2), (4,), (5,), (10, 10)])
def test_a_deload_cuts_forty_to_fifty_percent_of_the_sets(usual: tuple[int, ...]) -> None:
    """Common practice, no source; two lines of one set each cannot be cut, and no line is left without a set."""
    kept = allot_sets(usual, Policy().deload_set_cut)
    assert 0.4 <= 1 - sum(kept) / sum(usual) <= 0.5
    assert all(1 <= k <= u for k, u in zip(kept, usual, strict=True))


def test_a_single_line_of_three_comes_as_near_as_it_can() -> None:
    assert allot_sets((3,), Policy().deload_set_cut) == (2,)
