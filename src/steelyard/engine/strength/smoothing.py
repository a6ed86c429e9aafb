"""Strength looking back, for charts: what is believed of earlier days once the later ones are known.

Fixed-interval smoothing after Rauch, Tung & Striebel 1965 (AIAA J 3:1445-1450, from memory). Whatever is not a set
moves the state linearly: time goes by, a day's form is forgotten, a level drifts. So what a day was is a linear
function of what the state is now, give or take some doubt, and sets in between leave that function as it is, of
whatever kind they were. New places in the state (an exercise that is first done) say nothing more of the past.

One such function is kept for each session day, however many sets and exercises it had: cells x places x (2 x places
+ 1) numbers of 8 bytes, 150 kB with ten exercises and nine cells. A posterior that nobody watches pays for none of it.
"""

from collections import deque
from datetime import date
from math import sqrt

import numpy as np
from msgspec import Struct

from steelyard.engine.arrays import Floats

from .posterior import DAY, LEVELS, Posterior
from .relations import LineKey


class LnLevel(Struct, frozen=True):
    """ln of a 1RM (total kg), rested and on a usual day: mean and standard deviation.

    The doubt that sets of several repetitions leave of a single one, which `level_of` adds, is not in it: it shifts all
    days alike, and says nothing of how they compare.
    """

    mean: float
    sd: float


class DayLevels(Struct, frozen=True):
    """One session day, and the level of each exercise that was known by its end."""

    on: date
    levels: dict[LineKey, LnLevel]


class Trail:
    """The way back over the latest session days of one lifter; watches the posterior from when it is made.

    A level that jumped does so on the day on which it was believed, not on the day that first showed it.
    """

    def __init__(self, posterior: Posterior, session_days: int) -> None:
        self._posterior = posterior
        self._session_days = session_days
        self._links: deque[_Link] = deque(maxlen=session_days)
        self._day = posterior.day
        posterior.watcher = self

    def levels(self) -> list[DayLevels]:
        """The levels of each day, earliest first, in the light of everything seen so far."""
        means, covariance = self._posterior.means, self._posterior.covariance
        found = []
        if self._day is not None and self._day == self._posterior.trained:
            found.append(self._levels_on(self._day, means, covariance))
        for link in reversed(self._links):
            means, covariance = link.back_from(means, covariance)
            found.append(self._levels_on(link.day, means, covariance))
        return found[: self._session_days][::-1]

    def forgets(self, place: int) -> None:
        """See `Watcher`; another day's form is asked for when one day is over."""
        if place == DAY and self._posterior.day != self._day:
            self._end_day()
        if not self._links or not self._links[-1].gain[:, :, place].any():
            # Nothing of the past leans on it: so it is between sets of exercises that are no longer new.
            return
        after = self._posterior.covariance.copy()
        after[:, place, :] = after[:, :, place] = 0.0
        means = self._posterior.means
        self._go_on(means, self._posterior.covariance, np.eye(after.shape[1]), means, after)

    def drifts(self, place: int, gain: float | Floats, variance: float) -> None:
        """See `Watcher`."""
        means, after = self._posterior.means.copy(), self._posterior.covariance.copy()
        means[:, place] += gain
        after[:, place, place] += variance
        self._go_on(self._posterior.means, self._posterior.covariance, np.eye(after.shape[1]), means, after)

    def passed(self, means: Floats, covariance: Floats, step: Floats) -> None:
        """See `Watcher`."""
        self._go_on(means, covariance, step, self._posterior.means, self._posterior.covariance)

    def _go_on(self, means: Floats, covariance: Floats, step: Floats, means_after: Floats, after: Floats) -> None:
        if self._links:
            self._links[-1].go_on(means, covariance, step, means_after, after)

    def _end_day(self) -> None:
        """A day on which something was only foreseen is no place to go back to."""
        if self._day is not None and self._day == self._posterior.trained:
            self._links.append(_Link(self._day, self._posterior.means.shape))
        self._day = self._posterior.day

    def _levels_on(self, day: int, means: Floats, covariance: Floats) -> DayLevels:
        weights, known = self._posterior.weights, means.shape[1]
        keys = [key for key, place in self._posterior.places.items() if place < known]
        sums = np.zeros((len(keys), known))
        for row, key in zip(sums, keys, strict=True):
            row[LEVELS] = self._posterior.relations[key].loadings
            row[self._posterior.places[key]] = 1.0
        by_cell = means @ sums.T
        mean = weights @ by_cell
        variance = weights @ (((sums @ covariance) * sums).sum(axis=2) + (by_cell - mean) ** 2)
        levels = [LnLevel(float(m), sqrt(max(float(v), 0.0))) for m, v in zip(mean, variance, strict=True)]
        return DayLevels(date.fromordinal(day), dict(zip(keys, levels, strict=True)))


class _Link:
    """The state at the end of a day, given the state now, by cell: `offset` + `gain` @ now, give or take `doubt`."""

    def __init__(self, day: int, shape: tuple[int, ...]) -> None:
        cells, places = shape
        self.day = day
        self.offset = np.zeros((cells, places))
        self.gain = np.tile(np.eye(places), (cells, 1, 1))
        self.doubt = np.zeros((cells, places, places))

    def go_on(self, means: Floats, covariance: Floats, step: Floats, means_after: Floats, after: Floats) -> None:
        """Now is after one more step: the state before it, given the state after it, is put in its place."""
        joined = means.shape[1] - self.gain.shape[2]
        gain = np.pad(self.gain, ((0, 0), (0, 0), (0, joined)))
        together = covariance @ step.T
        back = _regression(together, after)
        self.offset += _times(gain, means - _times(back, means_after))
        left = covariance - back @ together.transpose(0, 2, 1)
        self.doubt += gain @ ((left + left.transpose(0, 2, 1)) / 2) @ gain.transpose(0, 2, 1)
        self.gain = gain @ back

    def back_from(self, means: Floats, covariance: Floats) -> tuple[Floats, Floats]:
        """Moments at the end of the day, from those of now; exercises that joined since are left out."""
        known = self.gain.shape[2]
        spread = self.gain @ covariance[:, :known, :known] @ self.gain.transpose(0, 2, 1)
        return self.offset + _times(self.gain, means[:, :known]), self.doubt + spread


def _times(matrices: Floats, vectors: Floats) -> Floats:
    return np.asarray((matrices @ vectors[:, :, None])[:, :, 0])


def _regression(together: Floats, after: Floats) -> Floats:
    """What one more of each place after a step says of the places before it; places that are certain say nothing.

    Solved in standard deviations: places differ by factors of a thousand, their variances by a million.
    """
    spreads = np.sqrt(np.diagonal(after, axis1=1, axis2=2))
    uncertain = np.flatnonzero((spreads > 0).all(axis=0))
    unit = spreads[:, uncertain]
    correlation = after[:, uncertain[:, None], uncertain] / (unit[:, :, None] * unit[:, None, :])
    solved = np.linalg.solve(correlation, (together[:, :, uncertain] / unit[:, None, :]).transpose(0, 2, 1))
    found = np.zeros_like(together)
    found[:, :, uncertain] = solved.transpose(0, 2, 1) / unit[:, None, :]
    return found
