"""A lifter's strength from the first session to today: the belief as it stands, and as it stood after each session."""

from collections import Counter
from collections.abc import Callable, Sequence
from datetime import date
from math import exp, sqrt

from msgspec import Struct

from steelyard.engine.backtest.trials import ExerciseEntry, LifterTrials, TrialSession

from .learning import learn_session
from .outlook import EIGHTY, Level, level_of, unseen_doubt
from .posterior import Posterior
from .relations import LineKey, Relation
from .settings import DEFAULTS, StrengthSettings
from .smoothing import DayLevels, Trail


class Reading(Struct, frozen=True):
    """What was believed of an exercise after a session in which it was trained."""

    on: date
    level: Level


class Back(Struct, frozen=True):
    """A day as it is seen now, looking back: the 1RM (total kg) and the ends of its 80 % interval."""

    on: date
    kg: float
    low80_kg: float
    high80_kg: float


class Rests(Struct, frozen=True):
    """What a level rests on: sessions of the exercise, the last of them, and its sets by what they told."""

    sessions: int
    latest: date
    evidence: dict[str, int]


class Strength(Struct, frozen=True):
    """The belief on a day, its course by exercise as it was held then and as it looks now, and what it rests on."""

    on: date
    posterior: Posterior
    course: dict[LineKey, tuple[Reading, ...]]
    back: dict[LineKey, tuple[Back, ...]]
    rests: dict[LineKey, Rests]


def strength_on(
    trials: LifterTrials,
    relation_of: Callable[[LineKey], Relation],
    on: date,
    settings: StrengthSettings = DEFAULTS,
    told: Callable[[int, int], None] = lambda done, total: None,
    *,
    looks_back: int = 0,
) -> Strength:
    """Replay everything up to a day, and let the time pass to it; look back over so many session days."""
    posterior = Posterior(settings, relation_of)
    trail = Trail(posterior, looks_back) if looks_back else None
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
        _back(posterior, trail.levels(), course) if trail is not None else {},
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


def _back(
    posterior: Posterior, days: Sequence[DayLevels], course: dict[LineKey, list[Reading]]
) -> dict[LineKey, tuple[Back, ...]]:
    """The days on which each exercise was trained, with the doubt that a level of today has too."""
    back: dict[LineKey, list[Back]] = {}
    for key, readings in course.items():
        trained = {reading.on for reading in readings}
        doubt = unseen_doubt(posterior, key)
        for day in days:
            if day.on in trained and key in day.levels:
                level = day.levels[key]
                spread = EIGHTY * sqrt(level.sd**2 + doubt)
                ends = exp(level.mean), exp(level.mean - spread), exp(level.mean + spread)
                back.setdefault(key, []).append(Back(day.on, *ends))
    return {key: tuple(found) for key, found in back.items()}


def _rests(entries: list[tuple[date, ExerciseEntry]]) -> Rests:
    evidence = Counter(trial.evidence for _, entry in entries for trial in entry.trials)
    return Rests(len(entries), entries[-1][0], {str(kind): count for kind, count in evidence.items()})
