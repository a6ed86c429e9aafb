"""A lifter's catalogue: what everybody knows, and the exercises that only this lifter does."""

from datetime import date
from hashlib import sha256

from steelyard.catalogue import catalogue
from steelyard.engine.exercises import Catalogue, folded_name, own_exercise
from steelyard.engine.fold import TrainingLog
from steelyard.engine.log import Entry, OwnExerciseBody, encode_body

from .scribe import Scribe, content_id

_NO_DAY = date(1970, 1, 1)


def catalogue_of(log: TrainingLog) -> Catalogue:
    """The catalogue with this lifter's own exercises; one whose parent is not known any more is left out."""
    shared = catalogue()
    own = {b.code: own_exercise(b.code, b.name, shared[b.parent]) for b in log.own_exercises if b.parent in shared}
    return shared.extended(own.values()) if own else shared


def own_code(written: str) -> str:
    """The code of an own exercise: the same name always gets the same one, whoever does it."""
    return f"own-{sha256(folded_name(written).encode()).hexdigest()[:12]}"


def own_exercise_entry(person: str, body: OwnExerciseBody, scribe: Scribe) -> Entry:
    """The entry that gives a lifter an exercise of their own; written twice it is one entry."""
    return scribe.entry(person, body, entry_id=content_id(person, _NO_DAY, encode_body(body), 1))
