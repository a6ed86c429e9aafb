"""What one simulated lifter leaves behind, while it is being written."""

from datetime import date
from typing import Any

from steelyard.engine.log import CheckInBody, SetBody

from .pen import Pen, body_mass
from .physiology import Physiology
from .values import Kind, SetTruth, Simulated


class Diary:
    """Everything that one simulated lifter leaves behind, while it is being written."""

    def __init__(self, body: Physiology, pen: Pen) -> None:
        self._body = body
        self._pen = pen
        self.sets: list[SetBody] = []
        self.truth: list[SetTruth] = []
        self.check_ins: list[CheckInBody] = []
        self._levels: dict[str, list[tuple[date, float]]] = {}

    def write(
        self, on: date, exercise: str, added_kg: float, reps: int, possible: int, felt: float | None, **more: Any
    ) -> None:
        """One set, what was possible, and the 1RM of the day, asked before its first set has trained anyone."""
        levels = self._levels.setdefault(exercise, [])
        if not levels or levels[-1][0] != on:
            levels.append((on, self._body.one_rm_kg(exercise)))
        self.sets.append(self._pen.set_of(on, exercise, added_kg, reps, felt, **more))
        self.truth.append(SetTruth(possible, levels[-1][1]))

    def weigh(self, on: date) -> None:
        """A body mass of this day."""
        self.check_ins.append(body_mass(on, self._body.body_mass_kg()))

    def close(self, name: str, kind: Kind) -> Simulated:
        """All of it, fixed."""
        return Simulated(
            name=name,
            kind=kind,
            sets=tuple(self.sets),
            check_ins=tuple(self.check_ins),
            truth=tuple(self.truth),
            levels={code: tuple(levels) for code, levels in self._levels.items()},
        )
