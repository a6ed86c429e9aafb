"""What one exercise in one session says of strength, through a published equation."""

from math import exp, log
from typing import Literal

from msgspec import Struct

from .strengths import ln_one_rm
from .trials import LONGEST, ExerciseEntry, Trial

# How much more (ln) a lifter would have tried next: about 3 %, practice of elite lifters, from memory.
NEXT_ATTEMPT = 0.03


class SessionLevel(Struct, frozen=True):
    """ln 1RM (kg) of a session's best set by the plain equation, and how it is to be taken.

    measured: what could be done is known. at-least: only that so much could be done. below: only that it could not.
    `sets` holds each set's own where it is measured: half-way to the next repetition, since whole ones were counted;
    of attempts, half-way between the heaviest that was made and the lightest that was missed. `is_single`: the best set
    was a single, which is its own 1RM by every equation.
    """

    ln_kg: float
    told: Literal["measured", "at-least", "below"]
    sets: tuple[float | None, ...]
    is_single: bool = False


def session_level(entry: ExerciseEntry, equation: str) -> SessionLevel:
    """The level of a session: its best measured set, else the best bound, else the lightest load that was missed."""
    if all(trial.evidence == "attempt" for trial in entry.trials):
        attempts = attempts_level(entry)
        middles = (attempts.middle,) * len(entry.trials)
        if attempts.made is None:
            return SessionLevel(min(log(t.load_kg) for t in entry.trials), "below", middles)
        return SessionLevel(attempts.made, "measured", middles, is_single=True)
    sets = tuple(_set_level(trial, equation) for trial in entry.trials)
    measured = [(_plain_level(t, equation), t.possible == 1) for t in entry.trials if t.is_measure]
    if measured:
        best, is_single = max(measured)
        return SessionLevel(best, "measured", sets, is_single)
    bounds = [_plain_level(t, equation) for t in entry.trials if t.possible > 0]
    if bounds:
        return SessionLevel(max(bounds), "at-least", sets)
    return SessionLevel(min(log(t.load_kg) for t in entry.trials), "below", sets)


class AttemptsLevel(Struct, frozen=True):
    """Of attempts: the heaviest that was made (ln kg, None for none), where the 1RM may lie, and how far either way."""

    made: float | None
    middle: float
    spread: float


def attempts_level(entry: ExerciseEntry) -> AttemptsLevel:
    """What the attempts of a meet tell: between the heaviest made and the lightest missed above it."""
    made = max((log(t.load_kg) for t in entry.trials if t.possible > 0), default=None)
    missed = [log(t.load_kg) for t in entry.trials if t.possible == 0]
    if made is None:
        return AttemptsLevel(None, min(missed) - NEXT_ATTEMPT / 2, NEXT_ATTEMPT / 2)
    above = min((load for load in missed if load > made), default=made + NEXT_ATTEMPT)
    return AttemptsLevel(made, (made + above) / 2, (above - made) / 2)


def best_kg(entry: ExerciseEntry, equation: str) -> float | None:
    """The session's best estimated 1RM (total kg), or None where no set tells what could have been done."""
    level = session_level(entry, equation)
    return exp(level.ln_kg) if level.told == "measured" else None


def _plain_level(trial: Trial, equation: str) -> float:
    return ln_one_rm(trial.load_kg, trial.possible, equation)


def _set_level(trial: Trial, equation: str) -> float | None:
    """None for a set that is no measure, and for a single attempt among other sets."""
    if not trial.is_measure or trial.told_up_to < LONGEST:
        return None
    following = ln_one_rm(trial.load_kg, min(trial.possible + 1, LONGEST), equation)
    return (_plain_level(trial, equation) + following) / 2
