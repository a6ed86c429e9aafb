"""What the gates read: the log up to a day, the settings, the place."""

from collections.abc import Iterator
from datetime import date, timedelta

from msgspec import Struct

from ..fold import TrainingLog
from ..health import Answer, ClearanceBody, Condition, ScreeningBody
from ..history import BASELINE_FROM_DAYS, History
from ..policy import Policy

# Under this age by the year of birth alone, whoever may not have had the birthday yet counts as younger.
ADULT = 18
OLDER = 65


class Facts(Struct, frozen=True, kw_only=True):
    """Everything that bears on a gate on one day."""

    log: TrainingLog
    on: date
    policy: Policy
    days: tuple[date, ...] = ()
    alone: Answer | None = None
    safeties: Answer | None = None

    def answer(self, question: str) -> tuple[Answer | None, date | None]:
        """The newest answer to a question and its day; later screenings leave alone what they did not ask."""
        for body in reversed(self.screenings):
            said: Answer | None = getattr(body, question)
            if said is not None:
                return said, body.on
        return None, None

    def latest(self, field: str) -> str:
        """The newest words of a screening that fill a field, or nothing."""
        return next((words for body in reversed(self.screenings) if (words := str(getattr(body, field)).strip())), "")

    def day_of(self, field: str) -> date | None:
        """The newest day that a screening gives for an event."""
        said: Iterator[date | None] = (getattr(body, field) for body in reversed(self.screenings))
        return next((day for day in said if day is not None), None)

    @property
    def screenings(self) -> tuple[ScreeningBody, ...]:
        """Screenings up to the day, oldest first."""
        return tuple(body for _, body in self.log.screenings if body.on <= self.on)

    def clearances(
        self, condition: Condition, since: date | None = None, months: int | None = None
    ) -> list[ClearanceBody]:
        """Clearances of a condition in force today, given on or after a day and within so many months; oldest first."""
        found = [b for _, b in self.log.clearances if b.condition == condition and b.on <= self.on]
        return [
            b
            for b in found
            if (b.until is None or self.on < b.until)
            and (since is None or b.on >= since)
            and (months is None or self.on < months_after(b.on, months))
        ]

    @property
    def youngest_age(self) -> int | None:
        """Age by the year of birth, before this year's birthday; None where no year is known."""
        lifter = self.log.lifter
        return None if lifter is None or lifter.birth_year is None else self.on.year - lifter.birth_year - 1

    @property
    def training_weeks(self) -> int:
        """Whole weeks since the first training day after the last long gap; 0 before any."""
        first: date | None = None
        for day in reversed(self.days):
            if first is not None and (first - day).days >= BASELINE_FROM_DAYS:
                break
            first = day
        if first is None or (self.on - self.days[-1]).days >= BASELINE_FROM_DAYS:
            return 0
        return (self.on - first).days // 7

    def training_weeks_since(self, day: date) -> int:
        """Whole weeks since the first training day on or after a day; 0 before any."""
        first = next((d for d in self.days if d >= day), None)
        return 0 if first is None else (self.on - first).days // 7


def read_facts(
    log: TrainingLog, history: History, policy: Policy, on: date, alone: Answer | None, safeties: Answer | None
) -> Facts:
    """The facts of a day."""
    days = tuple(sorted({s.on for s in history.sessions if s.on < on}))
    return Facts(log=log, on=on, policy=policy, days=days, alone=alone, safeties=safeties)


def months_after(day: date, months: int) -> date:
    """The same day so many months later; of a shorter month its last day."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    following = date(year + (month + 1) // 12, (month + 1) % 12 + 1, 1)
    last = (following - timedelta(days=1)).day
    return date(year, month + 1, min(day.day, last))
