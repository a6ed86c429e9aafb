"""The catalogue for looking up."""

from msgspec import Struct

from steelyard.catalogue import catalogue
from steelyard.engine.exercises import folded_name, foldings


class ExerciseShown(Struct, frozen=True, kw_only=True):
    """One exercise."""

    code: str
    name: str
    pattern: str
    role: str
    implement: str
    parent: str | None
    pieces: int
    pins: bool
    muscles: dict[str, float]
    written: tuple[str, ...]


class KnownExercises(Struct, frozen=True, kw_only=True):
    """Exercises whose name, or what people write for it, holds some text."""

    exercises: tuple[ExerciseShown, ...]


def known_exercises(search: str | None, language: str) -> KnownExercises:
    """All exercises, or those that are written so in part."""
    part = folded_name(search or "")
    found = [e for e in catalogue().exercises if any(part in f for n in e.said for f in foldings(n))]
    return KnownExercises(
        exercises=tuple(
            ExerciseShown(
                code=e.code,
                name=e.name[language],
                pattern=e.pattern,
                role=e.role,
                implement=e.implement,
                parent=e.parent or None,
                pieces=e.pieces,
                pins=e.pins,
                muscles={muscle: float(share) for muscle, share in e.muscles.items()},
                written=e.written,
            )
            for e in found
        )
    )
