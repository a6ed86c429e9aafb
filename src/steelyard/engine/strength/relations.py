"""How exercises hang together: which abilities they draw on, whose curve they follow, what they are near to."""

from msgspec import Struct

from steelyard.engine.curve import Curve, curve_of
from steelyard.engine.exercises import Catalogue, Exercise

LineKey = tuple[str, str]
PUSH, PULL, LEGS = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
# Which ability moves a pattern: our judgement.
LOADINGS: dict[str, tuple[float, float, float]] = {
    "squat": LEGS,
    "lunge": LEGS,
    "hinge": (0.0, 0.3, 0.7),
    "horizontal-push": PUSH,
    "vertical-push": PUSH,
    "horizontal-pull": PULL,
    "vertical-pull": PULL,
}
_ANY = (0.33, 0.33, 0.34)


class Relation(Struct, frozen=True):
    """Of one exercise on one implement: loadings on push, pull and legs, its curve, codes of what it is near to."""

    loadings: tuple[float, float, float]
    curve: Curve
    near: tuple[str, ...]


def relation_of(key: LineKey, catalogue: Catalogue) -> Relation:
    """The relation of an exercise; one that is not known draws on everything a little."""
    if key[0] not in catalogue:
        return Relation(_ANY, curve_of(key[0]), ())
    exercise: Exercise = catalogue[key[0]]
    near = (exercise.code, *((exercise.parent,) if exercise.parent else ()))
    return Relation(LOADINGS.get(exercise.pattern, _ANY), curve_of(exercise.code), near)
