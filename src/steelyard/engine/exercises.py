"""Exercises as values; the catalogue's file is read elsewhere."""

import re
import unicodedata
from collections.abc import Iterable
from decimal import Decimal
from functools import cached_property
from hashlib import sha256
from typing import Literal

import msgspec
from msgspec import Struct, structs

Implement = Literal["barbell", "dumbbell", "stack", "plate-machine", "kettlebell", "body-mass"]

_BETWEEN_WORDS = re.compile(r"[\s_\-.'’]+")
_DIGRAPHS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue"})


class JointLoading(Struct, frozen=True):
    """A joint that an exercise loads, and in which position."""

    joint: str
    position: str


class Exercise(Struct, frozen=True, kw_only=True):
    """One movement: what it trains, with what it is loaded, how it is counted."""

    code: str
    # Code of the nearest more general exercise, "" where there is none.
    parent: str = ""
    name: dict[str, str]
    written: tuple[str, ...]
    pattern: str
    role: Literal["main", "accessory"]
    implement: Implement
    # How many dumbbells or kettlebells a set holds; the logged load is of one.
    pieces: Literal[1, 2] = 1
    # Whether a failed repetition leaves the load on top of the lifter.
    pins: bool = False
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

    @property
    def said(self) -> tuple[str, ...]:
        """Everything that people say and write for it."""
        return (*self.name.values(), *self.written)


def own_exercise(code: str, name: str, parent: Exercise) -> Exercise:
    """An exercise of a lifter's own: like its parent in all but code and name."""
    names = dict.fromkeys(parent.name, name)
    return structs.replace(parent, code=code, parent=parent.code, name=names, written=(name,))


def folded_name(written: str) -> str:
    """A name without case, hyphens, accents or extra spaces, for comparing."""
    plain = written.casefold()
    if not plain.isascii():
        plain = "".join(c for c in unicodedata.normalize("NFKD", plain) if not unicodedata.combining(c))
    return _BETWEEN_WORDS.sub(" ", plain).strip()


def foldings(written: str) -> tuple[str, ...]:
    """A name folded, and once more with its umlauts spelled ae, oe, ue where it has any."""
    if written.isascii():
        return (folded_name(written),)
    spelled = unicodedata.normalize("NFC", written.casefold()).translate(_DIGRAPHS)
    return tuple(dict.fromkeys((folded_name(written), folded_name(spelled))))


class Catalogue:
    """All exercises by code and by every name people write."""

    def __init__(self, exercises: tuple[Exercise, ...], version: str) -> None:
        self.exercises = exercises
        self.version = version
        self._by_code = {e.code: e for e in exercises}
        self._order = {e.code: i for i, e in enumerate(exercises)}

    @cached_property
    def _by_name(self) -> dict[str, Exercise]:
        return {folded: e for e in self.exercises for name in (e.code, *e.said) for folded in foldings(name)}

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

    def extended(self, own: Iterable[Exercise]) -> "Catalogue":
        """This catalogue with a lifter's own exercises, each after its parent; a name of theirs wins over ours."""
        added = {e.code: e for e in own}
        if not added:
            return self
        groups: dict[str, list[Exercise]] = {}
        for exercise in added.values():
            groups.setdefault(exercise.parent if exercise.parent in self else "", []).append(exercise)
        placed = [x for e in self.exercises if e.code not in added for x in (e, *groups.get(e.code, ()))]
        told = sha256(self.version.encode() + msgspec.json.encode(tuple(added.values()), order="deterministic"))
        both = Catalogue((*placed, *groups.get("", ())), told.hexdigest()[:12])
        both._by_name.update((f, e) for e in added.values() for n in (e.code, *e.said) for f in foldings(n))
        return both
