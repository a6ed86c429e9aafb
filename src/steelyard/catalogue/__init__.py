"""The exercises that Steelyard knows, read from their file."""

import tomllib
from functools import cache
from hashlib import sha256
from importlib.resources import files

import msgspec

from steelyard.engine.exercises import Catalogue, Exercise


@cache
def catalogue() -> Catalogue:
    """The catalogue that comes with the program."""
    written = files(__name__).joinpath("exercises.toml").read_bytes()
    exercises = msgspec.convert(tomllib.loads(written.decode())["exercise"], tuple[Exercise, ...])
    return Catalogue(exercises, sha256(written).hexdigest()[:12])
