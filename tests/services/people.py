"""One lifter in whom every kind of entry holds a mark in every field of text, for tests of giving away and erasing."""

from datetime import date
from decimal import Decimal
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

import msgspec

from steelyard.engine.body import Body
from steelyard.engine.log import KIND_OF, Entry, LifterBody, TombstoneBody
from steelyard.services.scribe import Scribe, new_id

DAY = date(2026, 10, 5)
# Numbers that every field of that name may hold.
NUMBERS: dict[str, Any] = {"blood_pressure": (121, 81), "ceiling": Decimal("0.06"), "pairs": 1, "birth_year": 1988}


class Marks:
    """Makes bodies whose every text is a mark, and remembers the marks."""

    def __init__(self, stem: str) -> None:
        self.stem = stem
        self.made: list[str] = []

    def mark(self) -> str:
        """A text that stands nowhere else."""
        self.made.append(f"{self.stem}{len(self.made):04d}z")
        return self.made[-1]

    def body(self, kind: type[Body]) -> Body:
        """A body of that kind, every field filled."""
        made: Body = self._struct(kind)
        return made

    def _struct(self, kind: type[msgspec.Struct]) -> Any:
        hints = get_type_hints(kind)
        fields = msgspec.structs.fields(kind)
        return kind(**{f.name: NUMBERS.get(f.name, self._value(hints[f.name])) for f in fields})

    def _value(self, hint: Any) -> Any:
        origin, inner = get_origin(hint), get_args(hint)
        if origin in {Union, UnionType}:
            return self._value(next(part for part in inner if part is not type(None)))
        if origin is Literal:
            return inner[0]
        if origin is tuple:
            return tuple(self._value(part) for part in inner if part is not Ellipsis)
        if origin is dict:
            return {self.mark(): self.mark()}
        if isinstance(hint, type) and issubclass(hint, msgspec.Struct):
            return self._struct(hint)
        plain: dict[Any, Any] = {str: self.mark, int: lambda: 3, bool: lambda: True, date: lambda: DAY}
        return plain[hint]() if hint in plain else Decimal(5)


def marked_entries(scribe: Scribe, name: str, stem: str, person: str | None = None) -> tuple[list[Entry], list[str]]:
    """A lifter of that name with an entry of every kind, a corrected and a withdrawn one; the marks in them."""
    marks, who = Marks(stem), person or new_id(scribe.now())
    entries = [scribe.entry(who, LifterBody(name=f"{name} of old"))]
    entries += [scribe.entry(who, marks.body(kind)) for kind in KIND_OF if kind not in {LifterBody, TombstoneBody}]
    withdrawn = [scribe.entry(who, marks.body(kind)) for kind in KIND_OF if kind not in {LifterBody, TombstoneBody}]
    entries += withdrawn
    entries.append(scribe.entry(who, marks.body(TombstoneBody), replaces=[e.id for e in withdrawn]))
    about = msgspec.structs.replace(marks.body(LifterBody), name=name)
    entries.append(scribe.entry(who, about, replaces=[entries[0].id]))
    held = b"".join(e.body for e in entries).decode()
    return entries, [mark for mark in marks.made if mark in held]
