"""The exercises that Steelyard knows, read from their file."""

from functools import cache
from hashlib import sha256
from importlib.resources import files

import msgspec

from steelyard.engine.exercises import Catalogue, Exercise


@cache
def catalogue() -> Catalogue:
    """The catalogue that comes with the program."""
    written = files(__name__).joinpath("exercises.json").read_bytes()
    return Catalogue(msgspec.json.decode(written, type=tuple[Exercise, ...]), sha256(written).hexdigest()[:12])
