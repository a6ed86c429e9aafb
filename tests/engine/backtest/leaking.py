"""Whether a model knows more of a session than what was before it: the check that every model is put through.

One and the same lifter is followed again and again, each time with another future: what was foreseen of the past, and
of the session asked about, must come out the same to the bit.
"""

import random
from collections.abc import Callable, Iterator
from datetime import date, timedelta

from msgspec import Struct, structs

from steelyard.engine.backtest.models import Asked, Follower, LineKey, RepetitionForecast
from steelyard.engine.backtest.replaying import foresee
from steelyard.engine.backtest.strengths import Forecast
from steelyard.engine.backtest.trials import LONGEST, ExerciseEntry, LifterTrials, Trial, TrialSession

from .trial_builders import any_session, any_trial, entry_of

# Makes a model for a lifter: whatever it takes from the lifter it is given is part of what is checked.
MakeFollower = Callable[[LifterTrials], Follower]
NEW_LINE: LineKey = ("deadlift", "")
ROW_BYTES = 8 * (LONGEST + 1)


class Saying(Struct, frozen=True):
    """What was foreseen of one exercise in one session, to the bit: its best, the spread, a row of bytes a set."""

    best: str
    spread: str
    rows: bytes


# By the session's place and the exercise.
Said = dict[tuple[int, LineKey], Saying]


class Leak(Struct, frozen=True):
    """A forecast that something it could not know has changed."""

    on: date
    key: LineKey
    changed: str


class Altered(Struct, frozen=True):
    """The sessions of a lifter with the same past: what was changed, which exercises of the session are asked alike."""

    changed: str
    sessions: tuple[TrialSession, ...]
    still_asked: frozenset[LineKey]


class _Listener:
    """Notes what a model says, in the order in which it is asked."""

    def __init__(self, follower: Follower) -> None:
        self._follower = follower
        self._place = 0
        self.said: list[tuple[int, LineKey, int, Forecast | RepetitionForecast | None]] = []

    def forecast(self, asked: Asked) -> Forecast | RepetitionForecast | None:
        """As the model says."""
        found = self._follower.forecast(asked)
        self.said.append((self._place, asked.key, len(asked.loads_kg), found))
        return found

    def learn(self, session: TrialSession) -> None:
        """The next session has another place."""
        self._follower.learn(session)
        self._place += 1


def said_of(make_follower: MakeFollower, lifter: LifterTrials, equation: str = "epley") -> Said:
    """All that a model foresees of a lifter: the session's best, its spread, each set's distribution, to the bit."""
    listener = _Listener(make_follower(lifter))
    foreseen = foresee(lifter, listener, equation)
    said: Said = {}
    row = 0
    for place, key, count, forecast in listener.said:
        assert forecast is not None
        distributions = foreseen.cdf[row : row + count].tobytes()
        row += count
        said[place, key] = Saying(float(forecast.best).hex(), float(forecast.best_spread).hex(), distributions)
    assert row == len(foreseen.cdf)
    return said


def leaks(make_follower: MakeFollower, lifter: LifterTrials, equation: str = "epley", cuts: int = 6) -> list[Leak]:
    """What a model foresaw otherwise when only what it could not know was otherwise; empty for an honest one.

    `cuts`: at so many sessions, spread over the log, the future is changed in every way there is.
    """
    before = said_of(make_follower, lifter, equation)
    found = []
    for place in _places(len(lifter.sessions), cuts):
        for other in altered(lifter.sessions, place, random.Random(place)):
            after = said_of(make_follower, structs.replace(lifter, sessions=other.sessions), equation)
            for (at, key), was in before.items():
                is_same_question = at < place or (at == place and key in other.still_asked)
                if is_same_question and after.get((at, key)) != was:
                    found.append(Leak(lifter.sessions[at].on, key, other.changed))
    return found


def later_loads_used(
    make_follower: MakeFollower, lifter: LifterTrials, equation: str = "epley", cuts: int = 6
) -> list[Leak]:
    """Where a first set was foreseen otherwise when only what followed it in its session was otherwise.

    The loads of a session are given away together, but the later ones often tell how the first went: a load tried again
    was missed, a lighter one followed a bad set. A model that minds them foresees nothing.
    """
    before = said_of(make_follower, lifter, equation)
    found = []
    for place in _places(len(lifter.sessions), cuts):
        past, now = lifter.sessions[:place], lifter.sessions[place]
        for changed, other in _with_other_later_sets(now):
            after = said_of(make_follower, structs.replace(lifter, sessions=(*past, other)), equation)
            for entry in now.entries:
                at = (place, entry.key)
                if at in before and after[at].rows[:ROW_BYTES] != before[at].rows[:ROW_BYTES]:
                    found.append(Leak(now.on, entry.key, changed))
    return found


def _with_other_later_sets(session: TrialSession) -> Iterator[tuple[str, TrialSession]]:
    """The first set of each exercise as it was; those after it lighter, heavier, the same load again, or not there."""

    def after(changed: Callable[[Trial, Trial], float]) -> TrialSession:
        entries = (
            entry_of(
                e.trials[0],
                *(structs.replace(t, load_kg=changed(e.trials[0], t)) for t in e.trials[1:]),
                key=e.key,
            )
            for e in session.entries
        )
        return structs.replace(session, entries=tuple(entries))

    yield "later sets were lighter", after(lambda first, then: then.load_kg * 0.9)
    yield "later sets were heavier", after(lambda first, then: then.load_kg * 1.1)
    yield "later sets were at the same load", after(lambda first, then: first.load_kg)
    alone = tuple(entry_of(e.trials[0], key=e.key) for e in session.entries)
    yield "later sets are not there", structs.replace(session, entries=alone)


def _places(sessions: int, cuts: int) -> list[int]:
    """Places of sessions, the last one always among them."""
    return sorted({(sessions - 1) * (n + 1) // cuts for n in range(cuts)}) if sessions else []


def altered(sessions: tuple[TrialSession, ...], place: int, chance: random.Random) -> Iterator[Altered]:
    """The same past with another present and future."""
    past, now, future = sessions[:place], sessions[place], sessions[place + 1 :]
    every = frozenset(entry.key for entry in now.entries)
    yield Altered("nothing", sessions, every)
    yield Altered("the session itself is not there", past, frozenset())
    yield Altered("the future is not there", (*past, now), every)
    yield Altered("what was done in the session", (*past, _with_other_outcome(now, chance), *future), every)
    for entry in now.entries:
        company = _with_other_company(now, entry, chance)
        yield Altered("other exercises of the session", (*past, company, *future), frozenset({entry.key}))
    yield Altered("loads and outcomes of the future", (*past, now, *(_heavier(s, chance) for s in future)), every)
    later = (structs.replace(s, on=s.on + timedelta(200)) for s in future)
    yield Altered("days of the future", (*past, now, *later), every)
    yield Altered("every second session of the future is not there", (*past, now, *future[1::2]), every)
    yield Altered("another future", (*past, now, *_another_future(now, chance)), every)


def _with_other_outcome(session: TrialSession, chance: random.Random) -> TrialSession:
    """The same loads in the same order, anything else different."""
    entries = (entry_of(*(any_trial(chance, t.load_kg) for t in e.trials), key=e.key) for e in session.entries)
    return structs.replace(session, entries=tuple(entries))


def _with_other_company(session: TrialSession, kept: ExerciseEntry, chance: random.Random) -> TrialSession:
    """One exercise as it was; the others with other loads, and one more that was not there."""
    others = [
        entry_of(*(any_trial(chance, t.load_kg * 1.25) for t in e.trials), key=e.key)
        for e in session.entries
        if e.key != kept.key
    ]
    new = [entry_of(any_trial(chance, 120.0), key=NEW_LINE)] if kept.key != NEW_LINE else []
    return structs.replace(session, entries=tuple(sorted((*others[1:], kept, *new), key=lambda e: e.key)))


def _heavier(session: TrialSession, chance: random.Random) -> TrialSession:
    """Half as heavy again, with one set more of each exercise."""
    entries = (
        entry_of(*(any_trial(chance, t.load_kg * 1.5) for t in (*e.trials, e.trials[-1])), key=e.key)
        for e in session.entries
    )
    return structs.replace(session, entries=tuple(entries))


def _another_future(now: TrialSession, chance: random.Random) -> Iterator[TrialSession]:
    """Five sessions that never were, of the same exercises and a new one."""
    keys = [*(e.key for e in now.entries if e.key != NEW_LINE), NEW_LINE]
    for n in range(1, 6):
        yield any_session(chance, now.on + timedelta(2 * n), 1, keys)
