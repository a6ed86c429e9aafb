"""What was found in a file of sets: how it was read, the sets with their places, what is wrong, what must be asked."""

from datetime import date

from msgspec import Struct

from steelyard.engine.log import SetBody
from steelyard.engine.quantities import Load

from .problems import Problem


class Place(Struct, frozen=True):
    """Where something stands: sheet ("" where there is one only), row from 1, column as its header or letter."""

    sheet: str
    row: int
    column: str


class FoundSet(Struct, frozen=True, kw_only=True):
    """One set as a file says it; `body.exercise` is empty and `body.as_written` the name, until it is matched."""

    place: Place
    lifter: str
    body: SetBody


class FoundBodyMass(Struct, frozen=True, kw_only=True):
    """A lifter's body mass on a day."""

    place: Place
    lifter: str
    on: date
    body_mass: Load


class ColumnRead(Struct, frozen=True, kw_only=True):
    """How one column (or the cells of a block) was read: its role, the convention found, examples of both sides."""

    sheet: str
    column: str
    role: str
    how: str
    examples: tuple[tuple[str, str], ...] = ()


class Choice(Struct, frozen=True):
    """One answer to a question, and what it would mean."""

    answer: str
    meaning: str


class Question(Struct, frozen=True, kw_only=True):
    """Something only a person knows; nothing is taken in before it is answered. The same file gives the same `key`."""

    key: str
    asks: str
    examples: tuple[str, ...] = ()
    choices: tuple[Choice, ...] = ()


class PassedOver(Struct, frozen=True, kw_only=True):
    """A row or cell with content that holds no set: a title, a total, a comment, a header."""

    place: Place
    value: str
    why: str


class Reading(Struct, frozen=True, kw_only=True):
    """Everything a file says; every cell with content is in exactly one of sets, masses, passed over and problems."""

    rows_read: int
    layout: str
    columns: tuple[ColumnRead, ...] = ()
    sets: tuple[FoundSet, ...] = ()
    body_masses: tuple[FoundBodyMass, ...] = ()
    passed_over: tuple[PassedOver, ...] = ()
    problems: tuple[Problem, ...] = ()
    questions: tuple[Question, ...] = ()
