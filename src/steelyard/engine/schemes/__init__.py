"""Progression rules by name; adding one is its file and its line in `SCHEMES`."""

from .double_progression import DoubleProgression
from .protocol import Scheme

SCHEMES: dict[str, Scheme] = {
    "double-progression": DoubleProgression(),
}
