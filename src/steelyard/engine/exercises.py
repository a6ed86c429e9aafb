"""Exercises as values; the catalogue's file is read elsewhere."""

import re
import unicodedata
from decimal import Decimal
from typing import Literal

from msgspec import Struct

Implement = Literal["barbell", "dumbbell", "stack", "plate-machine", "kettlebell", "body-mass"]


class JointLoading(Struct, frozen=True):
    """A joint that an exercise loads, and in which position."""

    joint: str
    position: str


class Exercise(Struct, frozen=True, kw_only=True):
    """One movement: what it trains, with what it is loaded, how it is counted."""

    code: str
    name: dict[str, str]
    written: tuple[str, ...]
    pattern: str
    role: Literal["main", "accessory"]
    implement: Implement
    region: Literal["upper", "lower"]
    size: Literal["large", "small"]
    measure: Literal["reps", "seconds", "metres"]
    per_side: bool
    body_mass_share: Decimal
    muscles: dict[str, Decimal]
    joints: tuple[JointLoading, ...]

    @property
    def is_main(self) -> bool:
        """Whether it is a main compound lift."""
        return self.role == "main"


def folded_name(written: str) -> str:
    """A name without case, hyphens, accents or extra spaces, for comparing."""
    plain = unicodedata.normalize("NFKD", written.casefold())
    kept = "".join(c for c in plain if not unicodedata.combining(c))
    return re.sub(r"[\s_\-.'’]+", " ", kept).strip()


class Catalogue:
    """All exercises by code and by every name people write."""

    def __init__(self, exercises: tuple[Exercise, ...], version: str) -> None:
        self.exercises = exercises
        self.version = version
        self._by_code = {e.code: e for e in exercises}
        self._by_name = {folded_name(n): e for e in exercises for n in (e.code, *e.name.values(), *e.written)}
        self._order = {e.code: i for i, e in enumerate(exercises)}

    def __getitem__(self, code: str) -> Exercise:
        return self._by_code[code]

    def __contains__(self, code: str) -> bool:
        return code in self._by_code

    def named(self, written: str) -> Exercise | None:
        """The exercise that people write so, or None."""
        return self._by_name.get(folded_name(written))

    def names(self) -> tuple[str, ...]:
        """Every folded name, for suggesting a near one."""
        return tuple(self._by_name)

    def session_order(self, code: str) -> tuple[bool, int]:
        """Sort key within a session: main compound lifts first, then the catalogue's own order."""
        return (not self._by_code[code].is_main, self._order[code])
