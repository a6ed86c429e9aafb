"""What a generated file truly says: its sets, and what a person who sees the file alone could not know."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import Literal

from msgspec import Struct, structs

Topic = Literal[
    "unit", "date-order", "year", "start", "weekdays", "date", "at-number", "bare-number", "pair", "column", "titles",
    "sheet-names", "slash", "range", "name", "other",
]  # fmt: skip


class TrueSet(Struct, frozen=True, kw_only=True):
    """One set as it was lifted. `line` and `effort_line` say which sets share one written remark."""

    lifter: str
    on: date
    exercise: str  # the catalogue's code, or an invented name as it was made up
    written: str
    load: Decimal | None = None
    unit: Literal["kg", "lb"] = "kg"
    reps: int | None = None
    seconds: int | None = None
    metres: int | None = None
    is_bare_count: bool = False  # 45 in a column of repetitions: seconds only for who knows the exercise
    side: str | None = None
    implement: str = ""
    effort: tuple[str, Decimal] | None = None
    missed: str | None = None
    is_failed: bool = False  # written as a failure, which may be taken for want of strength
    pain: tuple[int, str] | None = None
    technique: str | None = None
    note: str = ""
    line: int = 0
    effort_line: int = 0


class Ambiguity(Struct, frozen=True):
    """Something that the file leaves open: about what, the right answer, whether to read on unasked is a guess."""

    topic: Topic
    answer: str
    must_ask: bool
    about: str = ""


class Bout(Struct, frozen=True, kw_only=True):
    """One exercise of one lifter on one day, before it is written down."""

    lifter: str
    on: date
    exercise: str
    written: str
    sets: tuple[TrueSet, ...]


class MessyFile(Struct, frozen=True, kw_only=True):
    """One generated file: its bytes, the truth about it, and how it was made."""

    seed: int
    name: str
    content: bytes
    sets: tuple[TrueSet, ...]
    open_facts: tuple[Ambiguity, ...]
    given_lifter: str | None
    today: date
    made: dict[str, str]
    columns: dict[str, str]
    body_masses: dict[date, Decimal]


def row_wide(sets: Sequence[TrueSet], line: int, **remarks: object) -> tuple[TrueSet, ...]:
    """The sets of one written row: they share its number, and what is said of the row stands at the last of them."""
    shared = [structs.replace(s, line=line, effort_line=line) for s in sets]
    shared[-1] = structs.replace(shared[-1], **remarks)
    return tuple(shared)
