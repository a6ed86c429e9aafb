"""What any simulated body must answer, so that two bodies built on other equations can train by the same habits."""

from datetime import date
from typing import Protocol


class Physiology(Protocol):
    """A body that trains; it draws from the generator it was made with, and from nothing else."""

    def begin_day(self, on: date) -> None:
        """Pass the time since the last day, and draw the form of this one; days never go back."""

    def one_rm_kg(self, exercise: str) -> float:
        """True 1RM (total load in kg) today, rested and without the day's form."""

    def body_mass_kg(self) -> float:
        """Body mass today (kg)."""

    def possible(self, exercise: str, total_kg: float) -> int:
        """Repetitions to failure that this load allows now, after what was done today; 0 is a miss."""

    def lift(self, exercise: str, total_kg: float, repetitions: int, to_failure: float, rest_interval_s: int) -> None:
        """Do a set that ended so many repetitions before failure, and rest: it tires today, and trains."""

    def felt_reserve(self, exercise: str, done: int, possible: int) -> float:
        """The reserve (repetitions) that this person would report, wrong as people are."""

    def interrupt(self, what: str, days: int) -> None:
        """An event of life begins: "illness", "travel" or "injury"; the days without training follow by themselves."""
