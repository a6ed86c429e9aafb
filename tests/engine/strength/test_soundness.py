"""No log, however absurd, brings anything but numbers, and a covariance stays one."""

from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from tests.engine.backtest.trial_builders import lifter_of, session_on, trial

from steelyard.engine.backtest.trials import LifterTrials, TrialSession
from steelyard.engine.curve import GENERAL
from steelyard.engine.strength.outlook import level_of
from steelyard.engine.strength.posterior import Posterior
from steelyard.engine.strength.relations import Relation
from steelyard.engine.strength.settings import DEFAULTS

from .odd_logs import ODDNESSES, STARTS, Oddness, odd_lifter, odd_lifters
from .soundness import SCALED, SEMIDEFINITE, SYMMETRIC, Watched, watched
from .tally import Tally

SQUAT = ("squat", "")
few = settings(max_examples=25)


@few
@given(lifter=odd_lifters())
def test_every_step_is_sound(lifter: LifterTrials) -> None:
    tally = Tally()
    watched(lifter, tally)
    assert tally.breaches == []


@pytest.mark.parametrize("way", ODDNESSES)
def test_a_long_log_stays_sound(way: Oddness) -> None:
    tally = Tally()
    watched(odd_lifter(1, 60, way), tally)
    assert tally.breaches == []


def _on_one_day(sessions: int) -> list[TrialSession]:
    return [session_on(0, trial(100, 5), number=n) for n in range(1, sessions + 1)]


@pytest.mark.parametrize(
    "sessions",
    [
        _on_one_day(2000),
        [session_on(n, trial(100, 5)) for n in range(1000)],
        [session_on(n, trial(100 if n % 2 else 1000, 5)) for n in range(500)],
        [session_on(n, trial(0.1, 60), trial(10_000, 0, evidence="missed")) for n in range(200)],
        [session_on(400 * n, trial(80 + n, 60)) for n in range(60)],
        [session_on(n, *(trial(150, 0, 1, evidence="attempt") for _ in range(3))) for n in range(200)],
    ],
    ids=["2000 on a day", "one load for ever", "ten times and back", "10 g and 10 t", "years between", "only misses"],
)
def test_what_nobody_does_stays_sound(sessions: list[TrialSession]) -> None:
    tally = Tally()
    posterior = watched(lifter_of(*sessions), tally)
    assert tally.breaches == []
    found = level_of(posterior, SQUAT, 520)
    assert 0 < found.low95_kg <= found.kg <= found.high95_kg < float("inf")


def test_a_covariance_that_is_none_is_seen() -> None:
    """The watch can fail."""
    tally = Tally()
    posterior = watched(odd_lifter(7, 3), tally)
    assert tally.breaches == []
    posterior.covariance[0, 0, 1] += 0.1
    posterior.move(np.zeros(posterior.means.shape), np.ones(9), np.zeros(9), np.ones(9))
    assert SYMMETRIC in {found.partition(":")[0] for found in tally.breaches}
    posterior.covariance[0] -= 0.5 * np.eye(len(posterior.covariance[0]))
    posterior.end_entry(next(iter(posterior.places)))
    assert {SCALED.partition(":")[0], SEMIDEFINITE} <= {found.partition(":")[0] for found in tally.breaches}


def test_a_value_that_is_no_number_is_seen() -> None:
    tally = Tally()
    posterior: Watched = watched(odd_lifter(7, 3), tally)
    posterior.means[0, 0] = np.nan
    posterior.begin_entry(next(iter(posterior.places)))
    assert [found.partition(":")[0] for found in tally.breaches] == ["nothing but numbers after every step"]


def test_odd_logs_are_as_odd_as_they_are_said_to_be() -> None:
    logs = {way: odd_lifter(3, 20, way) for way in ODDNESSES}
    sets = {way: [t for s in log.sessions for e in s.entries for t in e.trials] for way, log in logs.items()}
    assert {t.load_kg for t in sets["absurd"]} >= {0.1, 10_000.0}
    assert max(t.possible for t in sets["absurd"]) == 60
    assert {s.on for s in logs["one day"].sessions} == {STARTS}
    assert logs["years between"].sessions[-1].on - STARTS > timedelta(3000)
    assert all(t.possible == 0 for t in sets["missed"])
    assert len({t.load_kg for t in sets["one load"]}) == len(
        {e.key for s in logs["one load"].sessions for e in s.entries}
    )
    assert {t.evidence for t in sets["plain"]} >= {"to-failure", "reserve", "bound", "attempt", "missed"}
    by_key = {entry.key: entry for entry in logs["ten times"].sessions[1].entries}
    light = next(e for s in logs["ten times"].sessions[::2] for e in s.entries if e.key in by_key)
    assert by_key[light.key].trials[0].load_kg == pytest.approx(10 * light.trials[0].load_kg)
    assert odd_lifter(5, 8) == odd_lifter(5, 8) != odd_lifter(6, 8)


def test_whoever_is_asked_about_years_ahead_before_any_session_gains_nothing_by_waiting() -> None:
    asked = Posterior(DEFAULTS, lambda key: Relation((1.0, 0.0, 0.0), GENERAL, ()))
    asked.pass_time(STARTS.toordinal())
    asked.begin_entry(SQUAT)
    soon = level_of(asked, SQUAT).kg
    for years in (1, 5, 10):
        asked.pass_time((STARTS + timedelta(days=365 * years)).toordinal())
    assert level_of(asked, SQUAT).kg < 1.25 * soon
