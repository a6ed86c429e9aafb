"""A lifter's strength from the first session to today: the belief as it stands, and as it stood after each session."""

from collections import Counter
from collections.abc import Callable
from datetime import date

from msgspec import Struct

from steelyard.engine.backtest.trials import ExerciseEntry, LifterTrials, TrialSession

from .learning import learn_session
from .outlook import Level, level_of
from .posterior import Posterior
from .relations import LineKey, Relation
from .settings import DEFAULTS, StrengthSettings


class Reading(Struct, frozen=True):
    """What was believed of an exercise after a session in which it was trained."""

    on: date
    level: Level


class Rests(Struct, frozen=True):
    """What a level rests on: sessions of the exercise, the last of them, and its sets by what they told."""

    sessions: int
    latest: date
    evidence: dict[str, int]


class Strength(Struct, frozen=True):
    """The belief on a day, with its course by exercise and what it rests on."""

    on: date
    posterior: Posterior
    course: dict[LineKey, tuple[Reading, ...]]
    rests: dict[LineKey, Rests]


def strength_on(
    trials: LifterTrials,
    relation_of: Callable[[LineKey], Relation],
    on: date,
    settings: StrengthSettings = DEFAULTS,
    told: Callable[[int, int], None] = lambda done, total: None,
) -> Strength:
    """Replay everything up to a day, and let the time pass to it."""
    posterior = Posterior(settings, relation_of)
    course: dict[LineKey, list[Reading]] = {}
    entries: dict[LineKey, list[tuple[date, ExerciseEntry]]] = {}
    sessions = [session for session in trials.sessions if session.on <= on]
    for done, session in enumerate(sessions, start=1):
        learn_session(posterior, session)
        _read(posterior, session, course, entries)
        told(done, len(sessions))
    posterior.pass_time(on.toordinal())
    return Strength(
        on,
        posterior,
        {key: tuple(readings) for key, readings in course.items()},
        {key: _rests(found) for key, found in entries.items()},
    )


def _read(
    posterior: Posterior,
    session: TrialSession,
    course: dict[LineKey, list[Reading]],
    entries: dict[LineKey, list[tuple[date, ExerciseEntry]]],
) -> None:
    for entry in session.entries:
        course.setdefault(entry.key, []).append(Reading(session.on, level_of(posterior, entry.key)))
        entries.setdefault(entry.key, []).append((session.on, entry))


def _rests(entries: list[tuple[date, ExerciseEntry]]) -> Rests:
    evidence = Counter(trial.evidence for _, entry in entries for trial in entry.trials)
    return Rests(len(entries), entries[-1][0], {str(kind): count for kind, count in evidence.items()})
