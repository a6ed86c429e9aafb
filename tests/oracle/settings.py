"""What the page calls settings, as a log changes them, and body mass by day."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from steelyard.engine.fold import TrainingLog

BEGINNER_DAYS = 26 * 7


@dataclass
class Settings:
    """What the page calls settings, at their defaults."""

    weekly: Fraction = Fraction(3, 100)
    weekly_beginner: Fraction = Fraction(5, 100)
    twelve: Fraction = Fraction(10, 100)
    twelve_beginner: Fraction = Fraction(25, 100)
    step: Fraction = Fraction(5, 100)
    regain: Fraction = Fraction(75, 1000)
    cut_short: Fraction = Fraction(10, 100)
    cut_long: Fraction = Fraction(20, 100)
    target_rir: Fraction = Fraction(2)
    return_rir: Fraction = Fraction(3)
    weeks: int = 6
    body_mass_kg: Fraction = Fraction(50)
    trained_since: date | None = None

    def is_beginner(self, on: date) -> bool:
        """Whether regular training is known to have begun under 26 weeks ago."""
        return self.trained_since is not None and 0 <= (on - self.trained_since).days < BEGINNER_DAYS


NAMES = {
    "weekly_ceiling": "weekly",
    "weekly_ceiling_beginner": "weekly_beginner",
    "twelve_week_ceiling": "twelve",
    "twelve_week_ceiling_beginner": "twelve_beginner",
    "step_ceiling": "step",
    "regain_ceiling": "regain",
    "return_cut_short": "cut_short",
    "return_cut_long": "cut_long",
    "target_rir": "target_rir",
    "return_rir": "return_rir",
    "assumed_body_mass_kg": "body_mass_kg",
}


def settings_on(log: TrainingLog, on: date) -> Settings:
    """The settings in force on a day, later changes over earlier ones."""
    found = Settings()
    for change in sorted(log.policy_changes, key=lambda c: c.on):
        for name, typed in change.changes.items() if change.on <= on else ():
            if name == "trained_since":
                found.trained_since = date.fromisoformat(typed)
            elif name == "reference_training_weeks":
                found.weeks = int(typed)
            elif name in NAMES:
                setattr(found, NAMES[name], Fraction(typed))
    return found


class BodyMasses:
    """Body mass (kg) by day: the latest check-in up to it, else the earliest one, else what is assumed."""

    def __init__(self, log: TrainingLog, on: date, assumed: Fraction) -> None:
        said = [(c.on, Fraction(c.body_mass.magnitude)) for c in log.check_ins if c.body_mass and c.on <= on]
        self.said, self.assumed = sorted(said, key=lambda pair: pair[0]), assumed

    def on(self, day: date) -> Fraction:
        """Body mass on a day (kg)."""
        before = [mass for said, mass in self.said if said <= day]
        if before:
            return before[-1]
        return self.said[0][1] if self.said else self.assumed
