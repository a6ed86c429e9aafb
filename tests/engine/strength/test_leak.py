"""Latent strength knows no more than what was before a session: put through the check of every model."""

import random

from hypothesis import given, settings
from tests.engine.backtest.leaking import leaks, said_of
from tests.engine.backtest.trial_builders import any_lifter, lifters

from steelyard.engine.backtest.models import Asked, RepetitionForecast
from steelyard.engine.backtest.trials import LifterTrials
from steelyard.engine.strength.following import StrengthFollower

from .learners import follower, related
from .odd_logs import odd_lifter

few = settings(max_examples=6)


@few
@given(lifter=lifters())
def test_it_does_not_know_what_is_to_come(lifter: LifterTrials) -> None:
    assert leaks(follower, lifter, cuts=3) == []


def test_nor_in_long_logs() -> None:
    for lifter in (any_lifter(random.Random(7), 25), odd_lifter(0, 25, "plain")):
        assert said_of(follower, lifter) != {}
        assert leaks(follower, lifter, cuts=3) == []


class Peeking(StrengthFollower):
    """Was handed the log, and expects a billionth more where the session asked about goes well."""

    def __init__(self, lifter: LifterTrials) -> None:
        super().__init__(related, "epley")
        self._lifter = lifter

    def forecast(self, asked: Asked) -> RepetitionForecast:
        """As it would, and a billionth."""
        found = super().forecast(asked)
        done = sum(
            trial.possible
            for session in self._lifter.sessions
            if session.on == asked.on
            for entry in session.entries
            if entry.key == asked.key
            for trial in entry.trials
        )
        return RepetitionForecast(found.cdf, found.best + 1e-9 * done, found.best_spread)


def test_one_that_peeks_is_caught() -> None:
    assert leaks(Peeking, any_lifter(random.Random(7), 20), cuts=3) != []
