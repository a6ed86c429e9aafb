"""What one exercise in one session says of strength, through a published equation."""

from math import exp, log
from typing import Literal

from msgspec import Struct

from .strengths import ln_one_rm
from .trials import LONGEST, ExerciseEntry, Trial


class SessionLevel(Struct, frozen=True):
    """ln 1RM (kg) of a session's best set by the plain equation, and how it is to be taken.

    measured: what could be done is known. at-least: only that so much could be done. below: only that it could not.
    `sets` holds each set's own where it is measured: half-way to the next repetition, since whole ones were counted.
    """

    ln_kg: float
    told: Literal["measured", "at-least", "below"]
    sets: tuple[float | None, ...]


def session_level(entry: ExerciseEntry, equation: str) -> SessionLevel:
    """The level of a session: its best measured set, else the best bound, else the lightest load that was missed."""
    sets = tuple(_set_level(trial, equation) for trial in entry.trials)
    measured = [_plain_level(t, equation) for t in entry.trials if t.is_measure]
    if measured:
        return SessionLevel(max(measured), "measured", sets)
    bounds = [_plain_level(t, equation) for t in entry.trials if t.possible > 0]
    if bounds:
        return SessionLevel(max(bounds), "at-least", sets)
    return SessionLevel(min(log(t.load_kg) for t in entry.trials), "below", sets)


def best_kg(entry: ExerciseEntry, equation: str) -> float | None:
    """The session's best estimated 1RM (total kg), or None where no set tells what could have been done."""
    level = session_level(entry, equation)
    return exp(level.ln_kg) if level.told == "measured" else None


def _plain_level(trial: Trial, equation: str) -> float:
    return ln_one_rm(trial.load_kg, trial.possible, equation)


def _set_level(trial: Trial, equation: str) -> float | None:
    """None for a set that is no measure, and for an attempt: it tells only whether the load could be lifted."""
    if not trial.is_measure or trial.told_up_to < LONGEST:
        return None
    following = ln_one_rm(trial.load_kg, min(trial.possible + 1, LONGEST), equation)
    return (_plain_level(trial, equation) + following) / 2
