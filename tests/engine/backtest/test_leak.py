"""No prediction knows more than what was before it: shown for every rule, and that a model which peeks is caught."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from steelyard.engine.backtest.fitting import fit_lifter
from steelyard.engine.backtest.following import RuleFollower
from steelyard.engine.backtest.models import Asked, Follower, LineKey
from steelyard.engine.backtest.population import USUAL, Crowd, LifterFit
from steelyard.engine.backtest.rules import RULES, Rule
from steelyard.engine.backtest.sessions import session_level
from steelyard.engine.backtest.strengths import Forecast
from steelyard.engine.backtest.trials import LifterTrials, TrialSession

from .leaking import MakeFollower, altered, later_loads_used, leaks
from .trial_builders import any_lifter, lifters

EQUATION = "epley"
by_rule = pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
few = settings(max_examples=12)


def following(rule: Rule) -> MakeFollower:
    """A rule with its usual settings."""
    return lambda lifter: RuleFollower(rule, USUAL, EQUATION)


@by_rule
@few
@given(lifter=lifters())
def test_no_rule_knows_what_is_to_come(rule: Rule, lifter: LifterTrials) -> None:
    assert leaks(following(rule), lifter, EQUATION, cuts=3) == []


@by_rule
def test_no_rule_knows_what_is_to_come_of_a_long_log(rule: Rule) -> None:
    lifter = any_lifter(random.Random(7), 50)
    for make_follower in (following(rule), lambda lifter: RuleFollower(rule, USUAL, "brzycki")):
        assert leaks(make_follower, lifter, "brzycki", cuts=5) == []


class Peeking:
    """Like an honest rule, and tells a little more than it says: what it may not know moves each forecast."""

    def __init__(self) -> None:
        self._honest = RuleFollower(RULES[0], USUAL, EQUATION)

    def peeked(self, asked: Asked) -> float:
        """What it knows beside the past."""
        raise NotImplementedError

    def forecast(self, asked: Asked) -> Forecast | None:
        """An honest forecast, moved by so little that no score would show it."""
        found = self._honest.forecast(asked)
        moved = self.peeked(asked) * 1e-9
        return None if found is None else structs.replace(found, best=found.best + moved)

    def learn(self, session: TrialSession) -> None:
        """As an honest one."""
        self._honest.learn(session)


class HoldsTheLog(Peeking):
    """Was handed the whole log."""

    def __init__(self, lifter: LifterTrials) -> None:
        super().__init__()
        self._lifter = lifter


class ReadsTheSession(HoldsTheLog):
    """Looks up how the session went that it is asked about."""

    def peeked(self, asked: Asked) -> float:
        return sum(
            trial.possible
            for session in self._lifter.sessions
            for entry in session.entries
            for trial in entry.trials
            if session.on == asked.on and entry.key == asked.key
        )


class ReadsOtherExercises(HoldsTheLog):
    """Looks up only the loads of what else was trained on that day."""

    def peeked(self, asked: Asked) -> float:
        return sum(
            trial.load_kg
            for session in self._lifter.sessions
            for entry in session.entries
            for trial in entry.trials
            if session.on == asked.on and entry.key != asked.key
        )


class CountsTheRest(HoldsTheLog):
    """Knows nothing but how many sessions are still to come."""

    def peeked(self, asked: Asked) -> float:
        return sum(session.on > asked.on for session in self._lifter.sessions)


class KnowsTheLastDay(HoldsTheLog):
    """Knows nothing but the day on which the log ends."""

    def peeked(self, asked: Asked) -> float:
        return self._lifter.sessions[-1].on.toordinal()


class NormsByTheWhole(HoldsTheLog):
    """Sets each forecast beside the mean level of the whole log, as one who normalises before splitting."""

    def peeked(self, asked: Asked) -> float:
        levels = [session_level(e, EQUATION).ln_kg for s in self._lifter.sessions for e in s.entries]
        return sum(levels) / len(levels)


class Remembers(Peeking):
    """Keeps what it has learned where the next of its kind finds it: the second time it knows the future."""

    shelf: dict[tuple[str, LineKey], float]

    def __init__(self, shelf: dict[tuple[str, LineKey], float]) -> None:
        super().__init__()
        self._shelf = shelf

    def peeked(self, asked: Asked) -> float:
        return self._shelf.get((asked.on.isoformat(), asked.key), 0.0)

    def learn(self, session: TrialSession) -> None:
        """Keeps it."""
        super().learn(session)
        for entry in session.entries:
            self._shelf[session.on.isoformat(), entry.key] = session_level(entry, EQUATION).ln_kg


@pytest.mark.parametrize(
    "cheat", [ReadsTheSession, ReadsOtherExercises, CountsTheRest, KnowsTheLastDay, NormsByTheWhole]
)
def test_a_model_that_looks_into_the_log_it_was_handed_is_caught(cheat: type[HoldsTheLog]) -> None:
    lifter = any_lifter(random.Random(11), 30)
    assert leaks(cheat, lifter, EQUATION) != []


def test_each_way_of_peeking_is_named_by_what_changed() -> None:
    lifter = any_lifter(random.Random(11), 30)
    changed = {leak.changed for leak in leaks(ReadsTheSession, lifter, EQUATION)}
    assert "what was done in the session" in changed
    assert "nothing" not in changed
    assert {leak.changed for leak in leaks(ReadsOtherExercises, lifter, EQUATION)} >= {"other exercises of the session"}
    assert {leak.changed for leak in leaks(CountsTheRest, lifter, EQUATION)} >= {"the future is not there"}


def test_a_model_that_shares_what_it_learned_with_the_next_is_caught() -> None:
    shelf: dict[tuple[str, LineKey], float] = {}
    found = leaks(lambda handed: Remembers(shelf), any_lifter(random.Random(11), 30), EQUATION)
    # Even where nothing was changed: the first one knew less than the second.
    assert "nothing" in {leak.changed for leak in found}


@few
@given(lifter=lifters(least=8))
def test_a_peeker_is_caught_on_any_log(lifter: LifterTrials) -> None:
    asked_about = [e.key for s in lifter.sessions for e in s.entries]
    is_asked = any(asked_about.count(key) > 3 for key in set(asked_about))
    assert bool(leaks(NormsByTheWhole, lifter, EQUATION)) or not is_asked


class MindsLaterLoads(Peeking):
    """Takes the lightest load of the session for how it went, and says so of every set."""

    def peeked(self, asked: Asked) -> float:
        return min(asked.loads_kg)

    def forecast(self, asked: Asked) -> Forecast | None:
        """Moved set by set."""
        found = super().forecast(asked)
        moved = self.peeked(asked) * 1e-9
        return found and structs.replace(found, sets=tuple(level + moved for level in found.sets))


@by_rule
@few
@given(lifter=lifters())
def test_no_rule_takes_a_later_load_for_how_the_first_set_went(rule: Rule, lifter: LifterTrials) -> None:
    assert later_loads_used(following(rule), lifter, EQUATION, cuts=3) == []


def test_a_model_that_minds_later_loads_is_caught() -> None:
    """Though it knows no more than it was told."""
    lifter = any_lifter(random.Random(11), 30)
    assert later_loads_used(lambda handed: MindsLaterLoads(), lifter, EQUATION) != []
    assert leaks(lambda handed: MindsLaterLoads(), lifter, EQUATION) == []


def fits_of(*found: LifterTrials) -> list[LifterFit]:
    """What each lifter adds to the settings of the others."""
    return [fit_lifter(lifter, EQUATION) for lifter in found]


# Rules that take a spread, a weight, a gain from the others; all of them take offsets.
TAKING = [rule for rule in RULES if rule.name in {"repeat", "weighted mean", "last with usual gain"}]


@pytest.mark.parametrize("rule", TAKING, ids=lambda rule: rule.name)
def test_settings_from_other_lifters_hold_nothing_of_ones_own_future(rule: Rule) -> None:
    lifter, *others = (any_lifter(random.Random(seed), 15) for seed in range(4))
    known = fits_of(*others)

    def left_out(handed: LifterTrials) -> Follower:
        return RuleFollower(rule, Crowd([*known[:1], *fits_of(handed), *known[1:]]).without(1), EQUATION)

    assert leaks(left_out, lifter, EQUATION, cuts=2) == []


@pytest.mark.parametrize("rule", TAKING, ids=lambda rule: rule.name)
def test_settings_from_everybody_are_caught(rule: Rule) -> None:
    lifter, *others = (any_lifter(random.Random(seed), 15) for seed in range(4))
    known = fits_of(*others)

    def everybody(handed: LifterTrials) -> Follower:
        return RuleFollower(rule, Crowd([*known, *fits_of(handed)]).without(None), EQUATION)

    assert leaks(everybody, lifter, EQUATION, cuts=2) != []


@few
@given(drawn=st.lists(lifters(), min_size=2, max_size=4), data=st.data())
def test_ones_own_log_changes_nothing_in_ones_own_settings(drawn: list[LifterTrials], data: st.DataObject) -> None:
    place = data.draw(st.integers(0, len(drawn) - 1))
    fits = fits_of(*drawn)
    as_it_is = Crowd(fits).without(place)
    own = fits_of(data.draw(lifters()))
    assert Crowd([*fits[:place], *own, *fits[place + 1 :]]).without(place) == as_it_is
    assert Crowd([*fits[:place], *fits[place + 1 :]]).without(None) == as_it_is


def test_a_crowd_of_oneself_gives_what_is_usual() -> None:
    alone = fits_of(any_lifter(random.Random(1), 10))
    assert Crowd(alone).without(0) == USUAL
    assert Crowd(alone).without(None) != USUAL


def test_a_crowd_of_nobody_gives_what_is_usual() -> None:
    assert Crowd([]).without(None) == USUAL


def test_the_changed_futures_are_different_futures_of_the_same_past() -> None:
    """The check is only as good as its changes: each leaves the past and changes what it says."""
    lifter = any_lifter(random.Random(3), 20)
    place = 9
    others = {other.changed: other.sessions for other in altered(lifter.sessions, place, random.Random(1))}
    assert all(sessions[:place] == lifter.sessions[:place] for sessions in others.values())
    assert others.pop("nothing") == lifter.sessions
    assert all(sessions != lifter.sessions for sessions in others.values())
    assert len(set(map(repr, others.values()))) == len(others) == 8
