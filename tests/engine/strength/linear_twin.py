"""The same model once more, as one linear state space that statsmodels can filter and smooth.

Written from the stochastic differential equations: level' = slope + noise, slope' = -slope / tau + noise, made discrete
by matrix exponentials (Van Loan 1978, IEEE Trans Automat Contr 23:395-404, from memory). Every set is a moment of its
own; a moment without a value is one at which the state is only looked at.
"""

from collections.abc import Mapping
from math import exp, nan

import numpy as np
from scipy.linalg import expm
from statsmodels.tsa.statespace.kalman_smoother import KalmanSmoother, SmootherResults

from steelyard.engine.arrays import Floats
from steelyard.engine.strength.posterior import (
    BIAS,
    DAY,
    ENTRY,
    FIRST_EXERCISE,
    HABIT,
    LEVELS,
    SLOPES,
    STEEPNESS,
    TIRING,
)
from steelyard.engine.strength.relations import LineKey
from steelyard.engine.strength.settings import StrengthSettings

Loadings = tuple[float, float, float]


def over_weeks(weeks: float, drift: float, settings: StrengthSettings) -> tuple[Floats, Floats]:
    """Transition and noise of the three abilities (level, slope, level, slope ...) over so many weeks."""
    s = settings
    alike = np.full((3, 3), s.between_patterns)
    np.fill_diagonal(alike, 1.0)
    pull = np.kron(np.eye(3), [[0.0, 1.0], [0.0, -1 / s.slope_weeks]])
    shaking = drift**2 * np.kron(alike, np.diag([s.level_noise**2, s.slope_noise**2]))
    both = expm(np.block([[-pull, shaking], [np.zeros((6, 6)), pull.T]]) * weeks)
    step = both[6:, 6:].T
    return step, step @ both[:6, 6:]


class LinearTwin:
    """One cell of the grid: `near` says from which exercise another starts."""

    def __init__(
        self,
        settings: StrengthSettings,
        loadings: Mapping[LineKey, Loadings],
        near: Mapping[LineKey, LineKey],
        scales: tuple[float, float],
    ) -> None:
        self.settings, self.loadings, self.near = settings, loadings, near
        self.noise, self.drift = scales
        self.is_unseen = False
        self.size = FIRST_EXERCISE + 2 * len(loadings)
        self.places: dict[LineKey, int] = {}
        self.done: dict[LineKey, int] = {}
        self.joined: dict[LineKey, int] = {}
        self.last_day: int | None = None
        self.trained_on: int | None = None
        self._pending = np.eye(self.size), np.zeros(self.size), np.zeros((self.size, self.size))
        self._steps: list[tuple[Floats, Floats, Floats]] = []
        self._rows: list[tuple[Floats, float, float]] = []

    def _then(self, step: Floats, shift: Floats, noise: Floats) -> None:
        a, b, q = self._pending
        self._pending = step @ a, step @ b + shift, step @ q @ step.T + noise

    def _change(self, place: int, onto: Floats, shift: float, variance: float) -> None:
        """One place becomes a sum of places, and something more."""
        step, shifts, noise = np.eye(self.size), np.zeros(self.size), np.zeros((self.size, self.size))
        step[place], shifts[place], noise[place, place] = onto, shift, variance
        self._then(step, shifts, noise)

    def _unit(self, place: int) -> Floats:
        return np.asarray(np.eye(self.size)[place])

    def pass_time(self, day: int) -> None:
        """Days go by; those too long after training cost, unless the lifter trains unseen."""
        s, since = self.settings, day if self.last_day is None else self.last_day
        self.last_day = day
        self._change(DAY, np.zeros(self.size), 0.0, (s.day_spread * self.noise) ** 2)
        ends = day if self.is_unseen or self.trained_on is None else self.trained_on + 7 * s.layoff_from_weeks
        trained, before, after = (max(days, 0.0) / 7 for days in (min(day, ends) - since, since - ends, day - ends))
        self._go_by(trained, s.lasting_gain * trained, 0.0)
        if after > before:
            lost = min(after, 26.0) - min(before, 26.0)
            self._go_by(after - before, s.layoff_drift * lost, s.layoff_noise**2 * (after - before))

    def _go_by(self, weeks: float, gain: float, layoff: float) -> None:
        """Weeks with what they add to all levels, and to the doubt of them; in a layoff a slope leads nowhere."""
        s = self.settings
        step, noise = np.eye(self.size), np.zeros((self.size, self.size))
        step[:6, :6], noise[:6, :6] = over_weeks(weeks, self.drift, s)
        if layoff:
            step[LEVELS, SLOPES] = 0.0
            noise[:6:2, 1:6:2] = noise[1:6:2, :6:2] = 0.0
        noise[HABIT, HABIT] = 0.05**2 * weeks
        for place in self.places.values():
            noise[place, place] = (self.drift * s.exercise_noise) ** 2 * weeks
        alike = np.full((3, 3), s.between_patterns) + np.diag([1 - s.between_patterns] * 3)
        if layoff:
            noise[:6:2, :6:2] = alike * ((self.drift * s.level_noise) ** 2 * weeks + layoff)
        shift = np.zeros(self.size)
        shift[:6:2] = gain
        self._then(step, shift, noise)

    def begin_entry(self, key: LineKey) -> None:
        """An exercise; one that is done for the first time joins."""
        s, nothing = self.settings, np.zeros(self.size)
        if key not in self.places:
            place = self.places[key] = FIRST_EXERCISE + 2 * len(self.places)
            self.done[key], self.joined[key] = 0, len(self._rows)
            if key in self.near:
                self._change(place, self._unit(self.places[self.near[key]]), 0.0, s.relative_spread**2)
            else:
                self._change(place, nothing, 0.0, s.exercise_spread**2)
            self._change(place + 1, nothing, 0.0, s.own_steepness_spread**2)
        self._change(ENTRY, nothing, 0.0, (s.entry_spread * self.noise) ** 2)

    def end_entry(self, key: LineKey) -> None:
        """What is learned by doing it."""
        newness = exp(-self.done[key] / self.settings.novelty_sessions)
        self.done[key] += 1
        if newness > 0.01:
            gain, noise = self.settings.novelty_gain * newness, self.settings.novelty_noise * newness
            self.drifts(key, gain, noise**2)

    def end_session(self, day: int) -> None:
        """From then on a layoff is counted."""
        self.trained_on = day

    def drifts(self, key: LineKey, gain: float, variance: float) -> None:
        """The exercise's level is elsewhere."""
        self._change(self.places[key], self._unit(self.places[key]), gain, variance)

    def see(self, row: Floats, value: float, variance: float) -> None:
        """A value seen; nan for none."""
        self._steps.append(self._pending)
        self._pending = np.eye(self.size), np.zeros(self.size), np.zeros((self.size, self.size))
        self._rows.append((row, value, variance))

    def look(self) -> int:
        """Nothing is seen at this moment; its number."""
        self.see(np.zeros(self.size), nan, 1.0)
        return len(self._rows) - 1

    def level_row(self, key: LineKey) -> Floats:
        """The sum of places that is ln 1RM, rested and on a usual day."""
        row = np.zeros(self.size)
        row[LEVELS] = self.loadings[key]
        row[self.places[key]] = 1.0
        return row

    def prior(self) -> tuple[Floats, Floats]:
        """Before the first day."""
        s = self.settings
        mean, spread = np.zeros(self.size), np.zeros(self.size)
        mean[LEVELS], spread[LEVELS] = s.level_mean, s.level_spread
        mean[SLOPES], spread[SLOPES] = s.slope_mean, s.slope_spread
        mean[STEEPNESS], spread[STEEPNESS] = 1.0, s.steepness_spread
        mean[BIAS], spread[BIAS] = s.reserve_bias, s.reserve_bias_spread
        mean[HABIT], spread[HABIT] = s.habit_mean, s.habit_spread
        mean[TIRING], spread[TIRING] = s.tiring, s.tiring_spread
        alike = np.eye(self.size)
        for of in (LEVELS, SLOPES):
            alike[np.ix_(of, of)] += s.between_patterns * (1 - np.eye(3))
        return mean, alike * np.outer(spread, spread)

    def smoothed(self) -> SmootherResults:
        """What statsmodels makes of it."""
        rows = [row for row, _, _ in self._rows]
        model = KalmanSmoother(1, self.size, k_posdef=self.size)
        model.bind(np.array([[value for _, value, _ in self._rows]]))
        # There a moment's step leads to the next moment; the first one's is taken into the prior.
        a, b, q = self._steps[0]
        mean, covariance = self.prior()
        model.initialize_known(a @ mean + b, a @ covariance @ a.T + q)
        later = [*self._steps[1:], (np.eye(self.size), np.zeros(self.size), np.zeros((self.size, self.size)))]
        model["design"] = np.array(rows).T[None, :, :]
        model["obs_cov"] = np.array([[[variance for _, _, variance in self._rows]]])
        model["transition"] = np.stack([step for step, _, _ in later], axis=2)
        model["state_intercept"] = np.stack([shift for _, shift, _ in later], axis=1)
        model["state_cov"] = np.stack([noise for _, _, noise in later], axis=2)
        model["selection"] = np.eye(self.size)
        return model.smooth()
