"""What is believed of one lifter's strength: means and covariances under each cell of a small grid."""

from collections.abc import Callable
from copy import copy
from math import exp, log
from typing import Protocol

import numpy as np

from steelyard.engine.arrays import Floats

from .relations import LineKey, Relation
from .settings import StrengthSettings

# Places in the state: three abilities, each with its slope; steepness of the curve; how far a reserve is told too low;
# how far from failure sets without a reserve end; what each further set costs; the day's form; the entry's own.
LEVELS, SLOPES = [0, 2, 4], [1, 3, 5]
STEEPNESS, BIAS, HABIT, TIRING, DAY, ENTRY, FIRST_EXERCISE = 6, 7, 8, 9, 10, 11, 12
# After half a year nothing more is taken off (our judgement; nothing is published beyond some weeks).
LONGEST_LOSS_WEEKS = 26.0
# Somebody who is seen at meets only has stopped when two years have passed (our judgement).
UNSEEN_DAYS = 730
# Nobody stops a set by so much after it is over: the habit stays at or above this (repetitions).
LEAST_HABIT = 0.0
# How quickly the usual place on the curve follows what is done.
FOLLOWS = 0.15
# Nobody is flatter or steeper than this against the published curve (our judgement).
STEEPNESS_LEAST, STEEPNESS_MOST = 0.3, 2.5


class Watcher(Protocol):
    """Told of every change of the state that is not something seen, so that it can be gone back over."""

    def forgets(self, place: int) -> None:
        """What is known of a place is about to be forgotten."""

    def drifts(self, place: int, gain: float | Floats, variance: float) -> None:
        """A place is about to rise by so much (in each cell), and to be so much less certain."""

    def passed(self, means: Floats, covariance: Floats, step: Floats) -> None:
        """Time has gone by: from these moments, by this step, to those that stand now."""


class Posterior:
    """The state of one lifter; `means` is cells by places, `covariance` cells by places by places."""

    def __init__(self, settings: StrengthSettings, relation_of: Callable[[LineKey], Relation]) -> None:
        self.settings = settings
        self._relation_of = relation_of
        grid = [(n, d) for n in settings.noise_scales for d in settings.drift_scales]
        self.noise, self.drift = (np.array(scales) for scales in zip(*grid, strict=True))
        self.log_weights = np.full(len(grid), -log(len(grid)))
        self.means = np.zeros((len(grid), FIRST_EXERCISE))
        self.covariance = np.zeros((len(grid), FIRST_EXERCISE, FIRST_EXERCISE))
        self.places: dict[LineKey, int] = {}
        self.relations: dict[LineKey, Relation] = {}
        self.seen: dict[LineKey, int] = {}
        self.odd: dict[LineKey, tuple[int, float]] = {}
        self.day: int | None = None
        self.watcher: Watcher | None = None
        # The day of the last session, and for each exercise the mean ratio (ln 1RM / load) at which its sets were read.
        self.trained: int | None = None
        self.read_at: dict[LineKey, float] = {}
        # Whether what was seen so far were meets only: then the lifter trains unseen, and a gap is no layoff.
        self.is_unseen = True
        self._begin()

    def _begin(self) -> None:
        s = self.settings
        together = np.full((3, 3), s.between_patterns) + (1 - s.between_patterns) * np.eye(3)
        self._patterns = together
        self.means[:, LEVELS] = s.level_mean
        self.means[:, SLOPES] = s.slope_mean
        self.means[:, [STEEPNESS, BIAS, HABIT, TIRING]] = 1.0, s.reserve_bias, s.habit_mean, s.tiring
        self.covariance[:, np.ix_(LEVELS, LEVELS)[0], np.ix_(LEVELS, LEVELS)[1]] = together * s.level_spread**2
        self.covariance[:, np.ix_(SLOPES, SLOPES)[0], np.ix_(SLOPES, SLOPES)[1]] = together * s.slope_spread**2
        for place, spread in (
            (STEEPNESS, s.steepness_spread),
            (BIAS, s.reserve_bias_spread),
            (HABIT, s.habit_spread),
            (TIRING, s.tiring_spread),
        ):
            self.covariance[:, place, place] = spread**2

    def copy(self) -> "Posterior":
        """The same belief, to be led on without changing this one."""
        other = copy(self)
        other.means, other.covariance = self.means.copy(), self.covariance.copy()
        other.log_weights, other.odd, other.read_at = self.log_weights.copy(), dict(self.odd), dict(self.read_at)
        other.places, other.relations, other.seen = dict(self.places), dict(self.relations), dict(self.seen)
        other.watcher = None
        return other

    @property
    def weights(self) -> Floats:
        """How much each cell is believed."""
        found = np.exp(self.log_weights - self.log_weights.max())
        return np.asarray(found / found.sum())

    def place_of(self, key: LineKey) -> int:
        """Where an exercise stands in the state; a new one comes near its relatives, or anywhere."""
        if key in self.places:
            return self.places[key]
        relation = self.relations[key] = self._relation_of(key)
        near = [p for k, p in self.places.items() if k[0] in relation.near or set(self.relations[k].near) & {key[0]}]
        place = self.means.shape[1]
        self.means = np.concatenate([self.means, np.zeros((len(self.means), 2))], axis=1)
        grown = np.zeros((len(self.means), place + 2, place + 2))
        grown[:, place + 1, place + 1] = self.settings.own_steepness_spread**2
        grown[:, :place, :place] = self.covariance
        if near:
            source = near[0]
            self.means[:, place] = self.means[:, source]
            grown[:, place, :place] = self.covariance[:, source]
            grown[:, :place, place] = self.covariance[:, :, source]
            grown[:, place, place] = self.covariance[:, source, source] + self.settings.relative_spread**2
        else:
            grown[:, place, place] = self.settings.exercise_spread**2
        self.covariance = grown
        self.places[key] = place
        self.seen[key] = 0
        return place

    def pass_time(self, day: int) -> None:
        """Let the days go by since the last session, and forget that day's form."""
        since = day if self.day is None else self.day
        self.day = day
        self._renew(DAY, self.settings.day_spread)
        ends = self._training_ends(since)
        self._pass((min(day, ends) - since) / 7, is_off=False)
        self._pass((day - max(since, ends)) / 7, is_off=True)

    def _training_ends(self, since: int) -> int:
        """The day from which on a gap is one without training; whoever is seen at meets only trains unseen for long."""
        if self.trained is None:
            return since + UNSEEN_DAYS
        return self.trained + (UNSEEN_DAYS if self.is_unseen else round(7 * self.settings.layoff_from_weeks))

    def _pass(self, weeks: float, *, is_off: bool) -> None:
        """Some weeks with training, or without: then nothing is gained, and something lost."""
        if weeks <= 0:
            return
        s = self.settings
        fading = exp(-weeks / s.slope_weeks)
        step = np.eye(self.means.shape[1])
        step[LEVELS, SLOPES] = 0.0 if is_off else s.slope_weeks * (1 - fading)
        step[SLOPES, SLOPES] = fading
        before = self.means, self.covariance
        self.means = self.means @ step.T
        self.covariance = step @ self.covariance @ step.T
        self.means[:, LEVELS] += s.layoff_drift * self._lost(weeks) if is_off else s.lasting_gain * weeks
        self._add_noise(weeks, fading, is_off=is_off)
        if is_off:
            self._add_levels(s.layoff_noise**2 * weeks)
        if self.watcher is not None:
            self.watcher.passed(*before, step)

    def _lost(self, weeks: float) -> float:
        """The weeks of those just passed that still took something away; in the end nothing is left to lose."""
        day = self.day or 0
        off = weeks if self.trained is None else (day - self._training_ends(day)) / 7
        return min(off, LONGEST_LOSS_WEEKS) - min(max(off - weeks, 0.0), LONGEST_LOSS_WEEKS)

    def _add_noise(self, weeks: float, fading: float, *, is_off: bool) -> None:
        """What nobody can foresee; without training what happens to a slope does not reach its level."""
        s, tau = self.settings, self.settings.slope_weeks
        q = s.slope_noise**2
        one, two = 1 - fading, 1 - fading * fading
        through = 0.0 if is_off else q * tau**2 * (weeks - 2 * tau * one + tau / 2 * two)
        of_level = through + s.level_noise**2 * weeks
        of_both = 0.0 if is_off else q * tau**2 * (one - two / 2)
        of_slope = q * tau / 2 * two
        scale = (self.drift**2)[:, None, None]
        for rows, columns, value in (
            (LEVELS, LEVELS, of_level),
            (LEVELS, SLOPES, of_both),
            (SLOPES, LEVELS, of_both),
            (SLOPES, SLOPES, of_slope),
        ):
            at = np.ix_(rows, columns)
            self.covariance[:, at[0], at[1]] += scale * self._patterns * value
        exercises = np.arange(FIRST_EXERCISE, self.means.shape[1], 2)
        self.covariance[:, exercises, exercises] += (self.drift**2)[:, None] * s.exercise_noise**2 * weeks
        self.covariance[:, HABIT, HABIT] += 0.05**2 * weeks

    def _add_levels(self, variance: float) -> None:
        at = np.ix_(LEVELS, LEVELS)
        self.covariance[:, at[0], at[1]] += self._patterns * variance

    def begin_entry(self, key: LineKey) -> None:
        """The next sets are of this exercise: its own form of the day is new."""
        self.place_of(key)
        self._renew(ENTRY, self.settings.entry_spread)

    def end_entry(self, key: LineKey) -> None:
        """What is learned of a lift by doing it: much at first, soon nothing."""
        s = self.settings
        place, times = self.place_of(key), self.seen[key]
        newness = exp(-times / s.novelty_sessions)
        if newness > 0.01:
            self._drift(place, s.novelty_gain * newness, (s.novelty_noise * newness) ** 2)
        self.seen[key] = times + 1

    def _renew(self, place: int, spread: float) -> None:
        if self.watcher is not None:
            self.watcher.forgets(place)
        self.means[:, place] = 0.0
        self.covariance[:, place, :] = 0.0
        self.covariance[:, :, place] = 0.0
        self.covariance[:, place, place] = spread**2 * self.noise**2

    def along(self, places: list[int], weights: list[float]) -> tuple[Floats, Floats, Floats]:
        """Mean and variance of a weighted sum of places, by cell, and its covariance with the whole state."""
        values = np.array(weights)
        with_state = self.covariance[:, :, places] @ values
        return self.means[:, places] @ values, with_state[:, places] @ values, with_state

    def note_reading(self, key: LineKey, ratio: float) -> None:
        """Where on the curve the exercise is usually trained."""
        usual = self.read_at.get(key, ratio)
        self.read_at[key] = usual + FOLLOWS * (ratio - usual)

    def end_session(self, day: int) -> None:
        """A session is over."""
        self.trained = day
        short = LEAST_HABIT - self.means[:, HABIT]
        if (short > 0).any():
            self._drift(HABIT, np.maximum(short, 0.0), 0.0)

    def doubt(self, key: LineKey, variance: float) -> None:
        """The level of an exercise may be elsewhere."""
        self._drift(self.place_of(key), 0.0, variance)

    def _drift(self, place: int, gain: float | Floats, variance: float) -> None:
        if self.watcher is not None:
            self.watcher.drifts(place, gain, variance)
        self.means[:, place] += gain
        self.covariance[:, place, place] += variance

    def move(self, with_state: Floats, variance: Floats, mean_change: Floats, new_variance: Floats) -> None:
        """Bring the state to new moments along one direction; positive semidefinite for any new variance from 0 up."""
        gain = with_state / variance[:, None]
        self.means += gain * mean_change[:, None]
        change = (new_variance - variance)[:, None, None]
        self.covariance += change * (gain[:, :, None] * gain[:, None, :])
