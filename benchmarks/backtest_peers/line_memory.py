"""What is remembered of one exercise of one lifter."""

from collections import deque
from math import log, nan

import numpy as np
from msgspec import Struct

from steelyard.engine.backtest.sessions import SessionLevel
from steelyard.engine.backtest.trials import ExerciseEntry, Trial

from .strength_bands import UNDER_A_MISS, band_of

KEPT = 8
SAME_LOAD = 0.02
# The running mean never steps further at once (ln): a slip of the pen must not carry it off.
MOST_STEP = 0.4


class SetSeen(Struct, frozen=True):
    """One set: its day, load (ln kg), repetitions, strength it tells (ln kg), whether that is measured."""

    day: int
    ln_load: float
    reps: int
    strength: float
    is_measured: bool


class LineMemory:
    """One exercise of one lifter."""

    def __init__(self, day: int) -> None:
        self.begun = day
        self.days: deque[int] = deque(maxlen=KEPT)
        self.levels: deque[float] = deque(maxlen=KEPT)
        self.measured: deque[bool] = deque(maxlen=KEPT)
        self.sessions = 0
        self.reference, self.slow = nan, nan
        self.errors, self.error_count = 0.0, 0
        self.last: tuple[SetSeen, ...] = ()
        self.by_load: dict[float, SetSeen] = {}
        self.reserve = nan
        self.was_attempt = False
        self.heaviest_made, self.lightest_missed = nan, nan

    def keep(self, day: int, level: SessionLevel, entry: ExerciseEntry, equation: str) -> float:
        """Take a session in; by how much (ln) it lay above what was known."""
        known = self.reference if self.sessions else level.ln_kg
        taken = {"measured": level.ln_kg, "at-least": max(known, level.ln_kg), "below": min(known, level.ln_kg)}
        apart = max(-MOST_STEP, min(MOST_STEP, taken[level.told] - known))
        self.days.append(day)
        self.levels.append(taken[level.told])
        self.measured.append(level.told == "measured")
        self.reference = known + 0.5 * apart
        self.slow = self.reference if not self.sessions else self.slow + 0.2 * (taken[level.told] - self.slow)
        self.sessions += 1
        self.errors += min(abs(apart), 0.3)
        self.error_count += 1
        self._keep_sets(day, entry, equation)
        return apart

    def _keep_sets(self, day: int, entry: ExerciseEntry, equation: str) -> None:
        self.last = tuple(_seen(day, trial, equation) for trial in entry.trials)
        self.was_attempt = all(t.evidence == "attempt" for t in entry.trials)
        said = [t.possible - t.reps for t in entry.trials if t.evidence == "reserve"]
        self.reserve = float(said[-1]) if said else nan
        for trial, seen in zip(entry.trials, self.last, strict=True):
            self.by_load[round(trial.load_kg, 1)] = seen
            if trial.possible > 0:
                self.heaviest_made = float(np.fmax(self.heaviest_made, seen.ln_load))
            else:
                self.lightest_missed = seen.ln_load

    def near(self, ln_load: float) -> SetSeen | None:
        """The newest set at nearly this load."""
        found = [seen for seen in self.by_load.values() if abs(seen.ln_load - ln_load) <= SAME_LOAD]
        return max(found, key=lambda s: s.day) if found else None


def _seen(day: int, trial: Trial, equation: str) -> SetSeen:
    """A set that only bounds strength stands with its bound."""
    band = band_of(trial, equation)
    ln_load = log(trial.load_kg)
    strength = max(band.lower, ln_load - UNDER_A_MISS) if band.middle is None else band.middle
    return SetSeen(day, ln_load, trial.reps, strength, trial.is_ranked and band.middle is not None)
