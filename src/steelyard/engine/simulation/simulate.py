"""One simulated lifter from a kind and a generator."""

from datetime import date
from typing import Literal

from numpy.random import Generator

from .body_by_dose import BodyByDose
from .body_by_drift import BodyByDrift
from .pen import SLIP_RATE
from .person_by_dose import Sex, person_by_dose
from .person_by_drift import person_by_drift
from .physiology import Physiology
from .training import train
from .values import Kind, Simulated

BodyName = Literal["by-dose", "by-drift"]


def body_of(kind: Kind, rng: Generator, sex: Sex, body: BodyName) -> Physiology:
    """A body of someone of this kind."""
    if body == "by-dose":
        return BodyByDose(person_by_dose(kind, rng, sex), rng.spawn(1)[0])
    return BodyByDrift(person_by_drift(kind, rng, sex), rng.spawn(1)[0])


def simulate(
    kind: Kind,
    rng: Generator,
    *,
    name: str,
    begins: date,
    weeks: int,
    body: BodyName = "by-dose",
    sex: Sex | None = None,
    slip_rate: float = SLIP_RATE,
) -> Simulated:
    """One lifter of this kind, drawn from the generator alone; the sex too where none is given."""
    drawn: Sex = "female" if rng.random() < 0.4 else "male"
    return train(
        kind, body_of(kind, rng, sex or drawn, body), rng, name=name, begins=begins, weeks=weeks, slip_rate=slip_rate
    )
