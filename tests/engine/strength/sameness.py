"""What changes nothing: another order of writing, another calendar, other names, a second replay, a question."""

import random
from collections.abc import Callable
from datetime import timedelta

import numpy as np
from msgspec import structs

from steelyard.engine.backtest.models import Asked
from steelyard.engine.backtest.trials import ExerciseEntry, LifterTrials
from steelyard.engine.history import LineKey
from steelyard.engine.strength.following import StrengthFollower
from steelyard.engine.strength.learning import learn_session
from steelyard.engine.strength.outlook import level_of
from steelyard.engine.strength.posterior import Posterior
from steelyard.engine.strength.relations import Relation
from steelyard.engine.strength.settings import DEFAULTS

from .learners import after, beginning, follower, related
from .tally import Tally

REPLAY = "a second replay is the same to the bit"
WRITTEN = "sets written in another order, their order in the session said: the same to the bit"
SHIFTED = "all dates shifted by any number of days: the same to the bit"
RENAMED = "exercises renamed, in the same order of names: the same to the bit"
REORDERED = "exercises of a session in another order, {way}: how far (ln) levels differ"
ASKED = "asked or not asked on the day of each session: the same to the bit"
IN_STEPS = "time passing in three steps between sessions, layoffs among them: levels (ln) the same within 1e-9"
WAYS = {"plain": "a plain log", "simulated": "a simulated lifter"}
ROUNDING = 1e-9


def state_of(posterior: Posterior) -> bytes:
    """Everything that is believed, to the bit, whatever the exercises are called and the day is."""
    parts = (posterior.means, posterior.covariance, posterior.log_weights)
    return b"".join(part.tobytes() for part in parts) + repr(list(posterior.places.values())).encode()


def change_nothing(lifter: LifterTrials, was: Posterior, chance: random.Random, tally: Tally) -> None:
    """Put a log to all of these, whose posterior `was`."""
    state = state_of(was)

    def hold(law: str, posterior: Posterior) -> None:
        tally.hold(law, float(state_of(posterior) != state), lifter.name)

    hold(REPLAY, after(lifter))
    hold(WRITTEN, after(shuffled(lifter, chance)))
    hold(SHIFTED, after(shifted(lifter, chance.choice((-7000, -365, -1, 1, 30, 40_000)))))
    hold(RENAMED, _renamed(lifter, lambda code: f"an-{code}"))
    way = lifter.name.rpartition(" ")[2]
    tally.measure(
        REORDERED.format(way=WAYS.get(way, "an odd log")),
        _apart(was, _renamed(lifter, _reversed), _reversed),
        lifter.name,
    )
    hold(ASKED, asked_each_day(lifter).posterior)
    tally.hold(IN_STEPS, _apart(was, looked_at_between(lifter)), lifter.name, ROUNDING)


def shuffled(lifter: LifterTrials, chance: random.Random) -> LifterTrials:
    """The sets of each exercise written in another order; each keeps its order in the session."""
    sessions = (
        structs.replace(
            session,
            entries=tuple(ExerciseEntry(e.key, tuple(chance.sample(e.trials, len(e.trials)))) for e in session.entries),
        )
        for session in lifter.sessions
    )
    return structs.replace(lifter, sessions=tuple(sessions))


def shifted(lifter: LifterTrials, days: int) -> LifterTrials:
    """The same log some days later."""
    sessions = (structs.replace(session, on=session.on + timedelta(days)) for session in lifter.sessions)
    return structs.replace(lifter, sessions=tuple(sessions))


def asked_each_day(lifter: LifterTrials) -> StrengthFollower:
    """Asked of every exercise that is known before each session."""
    asked = follower(lifter)
    for session in lifter.sessions:
        for entry in session.entries:
            if entry.key in asked.posterior.places:
                asked.forecast(Asked(session.on, entry.key, tuple(t.load_kg for t in entry.trials)))
        asked.learn(session)
    return asked


def looked_at_between(lifter: LifterTrials) -> Posterior:
    """Time passes in three steps from one session to the next."""
    posterior = beginning()
    for before, session in zip((None, *lifter.sessions), lifter.sessions, strict=False):
        if before is not None:
            gap = (session.on - before.on).days
            for share in (1, 2):
                posterior.pass_time(before.on.toordinal() + gap * share // 3)
        learn_session(posterior, session)
    return posterior


def _reversed(code: str) -> str:
    """A name that sorts the other way round."""
    return "".join(chr(ord("a") + ord("z") - ord(c)) if "a" <= c <= "z" else c for c in code)


def _renamed(lifter: LifterTrials, name: Callable[[str], str]) -> Posterior:
    """The posterior where every exercise has another name, and the same relations."""
    originals = {(name(e.key[0]), e.key[1]): e.key for s in lifter.sessions for e in s.entries}

    def relation(key: LineKey) -> Relation:
        found = related(originals[key])
        return structs.replace(found, near=tuple(name(code) for code in found.near))

    posterior = Posterior(DEFAULTS, relation)
    for session in lifter.sessions:
        entries = (ExerciseEntry((name(e.key[0]), e.key[1]), e.trials) for e in session.entries)
        learn_session(posterior, structs.replace(session, entries=tuple(sorted(entries, key=lambda e: e.key))))
    return posterior


def _apart(one: Posterior, other: Posterior, name: Callable[[str], str] = str) -> float:
    """How far (ln) the levels of two posteriors lie apart at most."""
    return max(
        abs(float(np.log(level_of(one, key).kg / level_of(other, (name(key[0]), key[1])).kg))) for key in one.places
    )
