"""How simulated lifters choose: the lines they mean to do, and what they take from one session to the next."""

from collections.abc import Sequence
from math import exp

from msgspec import Struct
from numpy.random import Generator

from .exercises import exercise_of

# Rises under supervision: median 1.6 %, quartiles 1.0 and 2.8, 90th percentile 4.6 % (supervised log of 289 people);
# the smallest piece of a machine that allows it: our judgement.
_RISE, _RISE_SPREAD, _SMALL_KG = 0.0136, 0.79, 0.25
_MUCH_SPARE = 3.0  # repetitions beyond the wanted reserve that make a lifter take a larger rise (our judgement)


class Line(Struct, frozen=True):
    """One exercise of a session as the lifter means to do it; the rest interval in seconds."""

    exercise: str
    sets: int
    lowest: int
    highest: int
    reserve: float
    rest_interval_s: int
    easier: str = ""  # done instead by those whom their body mass is too much for


class Habit(Struct, frozen=True, kw_only=True):
    """How one lifter trains; `attends` is the probability that a day of the rota happens."""

    days: tuple[tuple[Line, ...], ...]
    weekdays: tuple[int, ...]
    attends: float
    is_to_failure: bool = False
    opens_last: float = 0.0  # probability that a line's last set goes on until no repetition is left
    says_reserve: float = 0.0  # probability that a line's last set has its reserve
    says_technique: float = 0.0
    weighs_in_days: int = 7
    deload_weeks: int | None = None
    events_a_year: float = 0.0


class LineState:
    """What a lifter carries from one session of a line to the next: the added load, and the repetitions aimed at."""

    def __init__(self, line: Line, exercise: str, added_kg: float) -> None:
        self.line = line
        self.exercise = exercise
        self.added_kg = added_kg
        self.aim = line.lowest if line.reserve else line.highest
        self._misses = 0

    def learn(self, done: Sequence[int], felt: float, rng: Generator, is_to_failure: bool) -> None:
        """Choose for the next session from what was done in this one."""
        step = exercise_of(self.exercise).step_kg
        if is_to_failure:
            self._after_failure(done[0], step, rng)
        elif min(done) < self.aim - 1:
            self._misses += 1
            if self._misses >= 2:
                self._ease(step)
        elif min(done) < self.aim or felt < self.line.reserve - 1.0:
            self._misses = 0
        elif self.aim < self.line.highest and felt < self.line.reserve + _MUCH_SPARE:
            self.aim += 1
            self._misses = 0
        else:
            self._raise(step, felt - self.line.reserve)

    @property
    def is_at_top(self) -> bool:
        """Whether the top of the range is aimed at."""
        return self.aim >= self.line.highest

    def lighter_kg(self, share: float) -> float:
        """The added load (kg) less this share, in whole steps."""
        step = exercise_of(self.exercise).step_kg
        return max(0.0, round(self.added_kg * (1.0 - share) / step) * step)

    def drop(self, share: float) -> None:
        """Come back lighter, as after a layoff."""
        self.added_kg = self.lighter_kg(share)
        self.aim = self.line.lowest if self.line.reserve else self.line.highest

    def _after_failure(self, done: int, step: float, rng: Generator) -> None:
        """A coach raises what was done at the top of the range, and lowers what fell short twice or by much."""
        share = _RISE * exp(rng.normal(0.0, _RISE_SPREAD))
        short = self.line.lowest - done
        is_twice, self._misses = short > 0 and self._misses > 0, int(short > 0)
        if done >= self.line.highest:
            self.added_kg += self._pieces_kg(share * (1.0 + 0.15 * (done - self.line.highest)))
        elif is_twice or short > 2:
            self.added_kg = max(_SMALL_KG, self.added_kg - self._pieces_kg(share + 0.02 * (short - 1)))
            self._misses = 0

    def _pieces_kg(self, share: float) -> float:
        return max(1, round(self.added_kg * share / _SMALL_KG)) * _SMALL_KG

    def _raise(self, step: float, spare: float) -> None:
        """One step up, or as much more as the spare repetitions ask for: about 2 % each (our judgement)."""
        share = min(0.2, 0.02 * (spare - 1.0)) if spare >= _MUCH_SPARE else 0.0
        self.added_kg += max(1, round(self.added_kg * share / step)) * step
        self.aim = self.line.lowest
        self._misses = 0

    def _ease(self, step: float) -> None:
        self.added_kg = max(0.0, self.added_kg - max(step, round(self.added_kg * 0.07 / step) * step))
        self.aim = self.line.lowest
        self._misses = 0
