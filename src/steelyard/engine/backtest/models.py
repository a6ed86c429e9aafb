"""What any model must answer to be measured: a session foreseen from what was before it, and then seen."""

from datetime import date
from typing import Protocol

from msgspec import Struct

from steelyard.engine.arrays import Floats

from .strengths import Forecast
from .trials import TrialSession

LineKey = tuple[str, str]


class Asked(Struct, frozen=True):
    """What may be known of an exercise in a session to come: the day and the loads (total kg) in their order."""

    on: date
    key: LineKey
    loads_kg: tuple[float, ...]

    @property
    def day(self) -> int:
        """The day as a number."""
        return self.on.toordinal()


class RepetitionForecast(Struct, frozen=True):
    """A distribution of repetitions as a model gives it itself: one row of P(R <= 0) to P(R <= 60) a set.

    Beside it the session's best 1RM (ln total kg, by the equation asked for) and its spread.
    """

    cdf: Floats
    best: float
    best_spread: float


class Follower(Protocol):
    """A model that follows one lifter."""

    def forecast(self, asked: Asked) -> Forecast | RepetitionForecast | None:
        """What is foreseen of one exercise of the next session; None where nothing at all is known."""

    def learn(self, session: TrialSession) -> None:
        """See a session that is over."""
