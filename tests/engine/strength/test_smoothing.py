"""The way back over a lifter's days, beyond the linear case: what it is told, what it keeps, what slips do to it."""

import pickle
import random
from datetime import date
from math import exp, log

import numpy as np
import pytest
from tests.engine.backtest.trial_builders import SQUAT, any_lifter, session_on, trial

from steelyard.engine.strength.learning import learn_session
from steelyard.engine.strength.outlook import level_of
from steelyard.engine.strength.posterior import LEVELS, Posterior
from steelyard.engine.strength.relations import LineKey
from steelyard.engine.strength.smoothing import DayLevels, Trail

from .learners import beginning
from .linear_careers import BENCH, CELLS, MONDAY, Career, career, posterior_of, tell_posterior

ONE = (1.0, 1.0)


def tell(posterior: Posterior, told: Career) -> None:
    """A whole career, whatever stands in between."""
    for _ in tell_posterior(posterior, told):
        pass


def assert_alike(found: list[DayLevels], expected: list[DayLevels]) -> None:
    """The same days, exercises and levels, but for the last digits."""
    assert [day.on for day in found] == [day.on for day in expected]
    for one, other in zip(found, expected, strict=True):
        assert one.levels.keys() == other.levels.keys()
        for key, level in one.levels.items():
            assert (level.mean, level.sd) == pytest.approx((other.levels[key].mean, other.levels[key].sd), rel=1e-9)


def test_to_be_watched_changes_nothing() -> None:
    told, watched, unwatched = career(1, 20), posterior_of(*CELLS), posterior_of(*CELLS)
    Trail(watched, 10)
    for posterior in (watched, unwatched):
        tell(posterior, told)
    assert (watched.means == unwatched.means).all()
    assert (watched.covariance == unwatched.covariance).all()
    assert (watched.log_weights == unwatched.log_weights).all()


def test_a_copy_that_is_led_on_leaves_no_trail() -> None:
    posterior = posterior_of(*CELLS)
    trail = Trail(posterior, 10)
    tell(posterior, career(1, 12))
    before = trail.levels()
    other = posterior.copy()
    other.pass_time(other.day + 30 if other.day else MONDAY)
    other.begin_entry(BENCH)
    other.end_entry(BENCH)
    assert trail.levels() == before


def test_nothing_seen_is_no_day() -> None:
    posterior = posterior_of(*CELLS)
    trail = Trail(posterior, 10)
    assert trail.levels() == []
    posterior.pass_time(MONDAY)
    posterior.begin_entry(BENCH)
    assert trail.levels() == []


def test_the_last_day_is_what_is_believed_now() -> None:
    posterior = posterior_of(*CELLS)
    trail = Trail(posterior, 10)
    tell(posterior, career(1, 20))
    found = trail.levels()[-1].levels
    assert len(found) == 6
    for key, level in found.items():
        assert exp(level.mean) == pytest.approx(level_of(posterior, key).kg, rel=1e-12)
        by_cell, variance, _ = posterior.along(
            [*LEVELS, posterior.places[key]], [*posterior.relations[key].loadings, 1.0]
        )
        spread = posterior.weights @ (variance + (by_cell - level.mean) ** 2)
        assert level.sd == pytest.approx(spread**0.5, rel=1e-12)


def test_days_that_were_only_foreseen_are_no_points() -> None:
    told = Career("two weeks", tuple((MONDAY + 3 * i, entries) for i, (_, entries) in enumerate(career(5, 12).days)))
    plain, asked = posterior_of(ONE), posterior_of(ONE)
    trails = Trail(plain, 100), Trail(asked, 100)
    tell(plain, told)
    for i, (day, entries) in enumerate(told.days):
        # Of an exercise that is known: one that is asked about joins, and from then on its level may drift.
        for asked_on in (day - 1, day) if i else ():
            asked.pass_time(asked_on)
            asked.begin_entry(BENCH)
        tell(asked, Career("one day", ((day, entries),)))
    for posterior in (plain, asked):
        posterior.pass_time(told.days[-1][0] + 5)
    without, with_asking = (trail.levels() for trail in trails)
    assert_alike(with_asking, without)
    assert len(without) == sum(bool(entries) for _, entries in told.days)


@pytest.mark.parametrize("begins", [9, 10, 11, 13])
def test_a_trail_that_begins_late_begins_with_that_day(begins: int) -> None:
    told = career(1, 20)
    early, late = Career("early", told.days[:begins]), Career("late", told.days[begins:])
    posterior, whole = posterior_of(*CELLS), posterior_of(*CELLS)
    tell(posterior, early)
    trail, of_all = Trail(posterior, 100), Trail(whole, 100)
    tell(posterior, late)
    tell(whole, told)
    found = trail.levels()
    # With the day on which it is made, if there was a session.
    watched = [day for day, entries in (early.days[-1], *late.days) if entries]
    assert [day.on.toordinal() for day in found] == list(dict.fromkeys(watched))
    assert found == of_all.levels()[-len(found) :]


def test_looking_back_is_surer_than_looking_ahead() -> None:
    told, posterior = career(2, 25), posterior_of(ONE)
    trail, then = Trail(posterior, 100), dict[date, DayLevels]()
    for i in range(len(told.days)):
        tell(posterior, Career("a day", told.days[i : i + 1]))
        then |= {day.on: day for day in trail.levels()[-1:]}
    found = trail.levels()
    assert len(found) > 15
    for day in found[:-1]:
        for key, level in day.levels.items():
            assert level.sd < then[day.on].levels[key].sd


def with_copies(posterior: Posterior) -> dict[LineKey, int]:
    """Copies of today's levels put into the state, where time does not touch them but sets do; their places."""
    found = {}
    for key, exercise in posterior.places.items():
        place = posterior.means.shape[1]
        # Places come in pairs, and only the second of a pair never drifts.
        row = np.zeros((2, place))
        row[1, [*LEVELS, exercise]] = *posterior.relations[key].loadings, 1.0
        copying = np.concatenate([np.eye(place), row])
        posterior.means = posterior.means @ copying.T
        posterior.covariance = copying @ posterior.covariance @ copying.T
        found[key] = place + 1
    return found


@pytest.mark.parametrize("number", range(6))
def test_whatever_is_seen_a_copy_of_the_level_in_the_state_comes_out_the_same(number: int) -> None:
    # Sets of all kinds at loads drawn at random, so that many are held for slips, and jumps and layoffs come too.
    lifter = any_lifter(random.Random(number), 12)
    plain, copied = beginning(), beginning()
    trail, copies = Trail(plain, 100), {}
    for session in lifter.sessions:
        learn_session(plain, session)
        learn_session(copied, session)
        copies[session.on] = with_copies(copied)
    found = trail.levels()
    assert [day.on for day in found] == list(copies)
    for day in found:
        for key, level in day.levels.items():
            by_cell = copied.means[:, copies[day.on][key]]
            spread = copied.covariance[:, copies[day.on][key], copies[day.on][key]]
            mean = float(copied.weights @ by_cell)
            assert level.mean == pytest.approx(mean, abs=1e-7)
            assert level.sd == pytest.approx(float(copied.weights @ (spread + (by_cell - mean) ** 2)) ** 0.5, rel=1e-6)


def squats(slip: float, days: int = 30) -> list[DayLevels]:
    """Two sets of five a session, a little heavier each time; the load of one session is written wrongly."""
    posterior = posterior_of(*CELLS)
    trail = Trail(posterior, 100)
    for i in range(days):
        load_kg = 100 * 1.003**i * (slip if i == 15 else 1.0)
        learn_session(posterior, session_on(3 * i, trial(load_kg, 5), trial(load_kg, 5)))
    return trail.levels()


@pytest.mark.parametrize("slip", [10.0, 0.1, 2.2046226])
def test_a_slip_of_the_pen_leaves_no_mark_on_the_way_back(slip: float) -> None:
    for found, expected in zip(squats(slip), squats(1.0), strict=True):
        assert found.levels[SQUAT].mean == pytest.approx(expected.levels[SQUAT].mean, abs=0.01)
        assert found.levels[SQUAT].sd < 1.5 * expected.levels[SQUAT].sd


def test_a_jump_is_where_it_was_believed() -> None:
    posterior = posterior_of(*CELLS)
    trail = Trail(posterior, 100)
    for i in range(20):
        load_kg = 100.0 if i < 10 else 150.0
        learn_session(posterior, session_on(3 * i, trial(load_kg, 5), trial(load_kg, 5)))
    found = [day.levels[SQUAT].mean for day in trail.levels()]
    rises = np.diff(found)
    assert rises.argmax() in {9, 10}
    assert rises.max() > 0.8 * log(1.5)
    assert found[-1] - found[0] == pytest.approx(log(1.5), abs=0.1)


def kept_bytes(days: int, sets: int) -> int:
    """What a trail over five days weighs."""
    posterior = posterior_of(*CELLS)
    trail = Trail(posterior, 5)
    for i in range(days):
        learn_session(posterior, session_on(3 * i, *[trial(100, 5)] * sets))
    return len(pickle.dumps(trail))


def test_what_is_kept_does_not_grow_with_days_or_sets() -> None:
    usual = kept_bytes(10, 2)
    assert kept_bytes(40, 2) == pytest.approx(usual, rel=0.01)
    assert kept_bytes(10, 20) == pytest.approx(usual, rel=0.01)
    assert kept_bytes(3, 2) < 0.8 * usual
