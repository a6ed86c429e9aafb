"""Lines in a machine's own marks: a mark is a place on that machine's scale, no mass, and stays a mark on the sheet."""

from collections.abc import Iterable
from decimal import Decimal
from typing import TypeVar

from msgspec import Struct, structs

from .equipment import Loadable
from .history import Exposure
from .quantities import Load
from .reasons import MarksAsNumbers
from .sheet import Decision

T = TypeVar("T")


def is_in_marks(exposure: Exposure) -> bool:
    """Whether every work set of a session was written in marks."""
    return bool(exposure.work) and all(work.is_mark for work in exposure.work)


def marks_for(seen: Iterable[Decimal]) -> Loadable:
    """The marks that can be set: those seen, and every whole one up to one above the highest (common practice)."""
    known = {mark for mark in seen if mark > 0}
    highest = int(max(known, default=Decimal(0)))
    return Loadable(tuple(sorted(known | {Decimal(n) for n in range(1, highest + 2)})))


def in_marks(decision: Decision) -> Decision:
    """The decision with every load as the mark that it is, and the word that the limits read marks as plain numbers."""
    marked = _marked(decision)
    return structs.replace(marked, reasons=(*marked.reasons, MarksAsNumbers()))


def _marked(value: T) -> T:
    """The same value with each mass as a mark of the same number."""
    if isinstance(value, Load):
        return Load(value.value, "mark")  # type: ignore[return-value] # T is Load here
    if isinstance(value, tuple):
        return type(value)(_marked(item) for item in value)
    if isinstance(value, Struct):
        changes = {name: _marked(getattr(value, name)) for name in value.__struct_fields__}
        return structs.replace(value, **(changes | {name: True for name in changes if name == "is_in_marks"}))
    return value
