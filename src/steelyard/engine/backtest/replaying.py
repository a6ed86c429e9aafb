"""One lifter's log gone through by one model: every session foreseen before it is seen."""

from collections import Counter
from datetime import date
from math import log

import numpy as np
from msgspec import Struct

from steelyard.engine.arrays import Floats, Whole

from .models import Asked, Follower, LineKey, RepetitionForecast
from .sessions import best_kg
from .strengths import Forecast, repetition_cdf
from .trials import LONGEST, ExerciseEntry, LifterTrials, Trial, TrialSession


class ForecastRefused(ValueError):
    """A model that leaves out what it was asked for, or whose answer is no distribution, cannot be compared."""


class ForeseenSet(Struct, frozen=True):
    """A set that was foreseen: when, of which exercise, and what it was."""

    on: date
    session: int
    key: LineKey
    trial: Trial


class ForeseenBest(Struct, frozen=True):
    """A session's best (ln total kg) as it was foreseen and as it was, None where no set told it."""

    on: date
    session: int
    key: LineKey
    actual: float | None
    foreseen: float
    spread: float


class Foreseen(Struct, frozen=True):
    """All that a model foresaw of one lifter; `cdf` has one row a set."""

    sets: tuple[ForeseenSet, ...]
    cdf: Floats
    bests: tuple[ForeseenBest, ...]

    @property
    def seen(self) -> Whole:
        """What each set told of the repetitions that could have been done."""
        return np.array([s.trial.possible for s in self.sets], dtype=np.int64)

    @property
    def told_up_to(self) -> Whole:
        """The most repetitions that each set could tell."""
        return np.array([s.trial.told_up_to for s in self.sets], dtype=np.int64)


def foresee(
    lifter: LifterTrials, follower: Follower, equation: str, from_session: int = 3, model_equation: str = ""
) -> Foreseen:
    """Go through a log; scored is what comes in an exercise's third session or later (`from_session`).

    Nothing of a session is shown before all its exercises are foreseen, only the loads that were then lifted.
    Raises ForecastRefused where the model has no answer, or one that is no distribution.
    """
    seen: Counter[LineKey] = Counter()
    gathered = _Gathered(equation, model_equation or equation)
    for session in lifter.sessions:
        for entry in session.entries:
            seen[entry.key] += 1
            if seen[entry.key] >= from_session:
                _ask(session, entry, follower, gathered)
        follower.learn(session)
    return gathered.all()


def _ask(session: TrialSession, entry: ExerciseEntry, follower: Follower, gathered: "_Gathered") -> None:
    asked = Asked(session.on, entry.key, tuple(t.load_kg for t in entry.trials))
    forecast = follower.forecast(asked)
    if forecast is None:
        raise ForecastRefused(f"nothing was foreseen of {entry.key[0]} on {session.on}")
    gathered.add(session, entry, forecast)


class _Gathered:
    """Forecasts as they come; distributions of repetitions are worked out together at the end, which is quicker."""

    def __init__(self, equation: str, model_equation: str) -> None:
        self._equation, self._model_equation = equation, model_equation
        self._sets: list[ForeseenSet] = []
        self._bests: list[ForeseenBest] = []
        self._expected: list[float] = []
        self._spreads: list[float] = []
        self._rows: list[Floats] = []

    def add(self, session: TrialSession, entry: ExerciseEntry, forecast: Forecast | RepetitionForecast) -> None:
        self._sets += [ForeseenSet(session.on, session.number, entry.key, trial) for trial in entry.trials]
        if isinstance(forecast, Forecast):
            self._expected += forecast.sets
            self._spreads += [forecast.spread] * len(entry.trials)
        else:
            self._rows.append(_checked(forecast.cdf, len(entry.trials)))
        actual = best_kg(entry, self._equation)
        told = None if actual is None else log(actual)
        self._bests.append(
            ForeseenBest(session.on, session.number, entry.key, told, forecast.best, forecast.best_spread)
        )

    def all(self) -> Foreseen:
        if self._rows and self._expected:
            raise ForecastRefused("a model answers by strengths or by distributions, not now so and now so")
        if self._rows:
            cdf = np.concatenate(self._rows)
        else:
            loads = np.array([s.trial.load_kg for s in self._sets])
            expected, spreads = np.array(self._expected), np.array(self._spreads)
            cdf = repetition_cdf(loads, expected, spreads, self._model_equation)
        return Foreseen(tuple(self._sets), cdf, tuple(self._bests))


def _checked(cdf: Floats, sets: int) -> Floats:
    """Rows that are distributions of 0 to LONGEST repetitions, one a set."""
    is_sound = cdf.shape == (sets, LONGEST + 1) and np.isfinite(cdf).all()
    if not is_sound or (np.diff(cdf, axis=1) < 0).any() or (cdf[:, 0] < 0).any() or (cdf[:, -1] != 1).any():
        raise ForecastRefused("a row must rise from 0 or more to 1, over 0 to 60 repetitions, a row a set")
    return cdf
