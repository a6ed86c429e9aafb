"""The eight files of the club, made anew each time from a seeded generator."""

import random
from collections.abc import Callable
from decimal import Decimal

from msgspec import Struct

from steelyard.engine.log import SetBody
from steelyard.engine.quantities import Load
from steelyard.wording.message import told_later

from . import courses, handwriting
from .lifters import EWAN, HARTWIG, INES, LENE, MARA, ODILE, TOMAS, WARREN, DemoMember
from .training import Course, train
from .writing.blocks import blocks_csv
from .writing.entry_rows import column_a_set_csv, set_cells_csv
from .writing.lines import BodyMasses, json_lines, notes_text
from .writing.names import Handwriting, named, remarked_last
from .writing.set_rows import german_csv, pounds_csv
from .writing.workbook import weeks_xlsx

SEED = 20260126


class DemoFile(Struct, frozen=True, kw_only=True):
    """One file: its bytes, whose it is, answers to what it leaves open, and the truth that it was written from.

    The exercise of each true set is its code; `as_written` is what stands in the file.
    """

    name: str
    content: bytes
    lifter: str
    answers: dict[str, str]
    about: str
    truth: tuple[SetBody, ...]
    body_masses: BodyMasses = ()


Entries = list[list[SetBody]]


class _Book(Struct, frozen=True, kw_only=True):
    """How one lifter's log is kept."""

    member: DemoMember
    course: Course
    hand: Handwriting
    name: str
    about: str
    write: Callable[[Entries, BodyMasses, random.Random], bytes]
    is_row_an_exercise: bool = False
    answers: dict[str, str] = {}
    weighed: tuple[str, str] | None = None  # body mass at the start, and what a training week adds


_BOOKS = (
    _Book(
        member=INES,
        course=courses.INES,
        hand=handwriting.INES,
        name="ines-falk.csv",
        is_row_an_exercise=True,
        about=told_later("all sets of an exercise in one cell, such as 3x8@60kg"),
        write=lambda entries, _masses, _rng: set_cells_csv(entries),
    ),
    _Book(
        member=TOMAS,
        course=courses.TOMAS,
        hand=handwriting.TOMAS,
        name="tomas-veldkamp.csv",
        is_row_an_exercise=True,
        about=told_later("a column a set, header on row 6, day before month"),
        write=lambda entries, _masses, _rng: column_a_set_csv(entries),
        answers={"column:RIR last set": "rir"},
    ),
    _Book(
        member=ODILE,
        course=courses.ODILE,
        hand=handwriting.ODILE,
        name="odile-marchetti.xlsx",
        is_row_an_exercise=True,
        about=told_later("workbook with a sheet a week, machines by number"),
        write=lambda entries, _masses, _rng: weeks_xlsx(entries, courses.ODILE.starts),
    ),
    _Book(
        member=WARREN,
        course=courses.WARREN,
        hand=handwriting.WARREN,
        name="warren-teague.csv",
        about=told_later("pounds, month before day, empty rows between, RPE"),
        write=lambda entries, _masses, _rng: pounds_csv(entries),
    ),
    _Book(
        member=LENE,
        course=courses.LENE,
        hand=handwriting.LENE,
        name="lene-abara.jsonl",
        about=told_later("JSON lines, body mass between, one machine by its marks"),
        write=lambda entries, masses, _rng: json_lines(entries, masses, LENE.name),
        weighed=("61.4", "-0.02"),
    ),
    _Book(
        member=HARTWIG,
        course=courses.HARTWIG,
        hand=handwriting.HARTWIG,
        name="hartwig-seelmann.csv",
        about=told_later("German, Windows-1252, decimal commas, days carried down"),
        write=lambda entries, _masses, _rng: german_csv(entries),
    ),
    _Book(
        member=EWAN,
        course=courses.EWAN,
        hand=handwriting.EWAN,
        name="ewan-tresk.txt",
        is_row_an_exercise=True,
        about=told_later("notes typed on a telephone, under a line with the day"),
        write=notes_text,
        answers={"titles": "ignore"},
        weighed=("77.8", "0.03"),
    ),
    _Book(
        member=MARA,
        course=courses.MARA,
        hand=handwriting.MARA,
        name="mara-tellholm.csv",
        about=told_later("blocks under each other with titles, totals, comments"),
        write=lambda entries, _masses, rng: blocks_csv(entries, rng),
        answers={"titles": "ignore"},
    ),
)


def club_files(rng: random.Random) -> tuple[DemoFile, ...]:
    """All eight files; the same generator state gives the same bytes."""
    return tuple(_file(book, random.Random(rng.getrandbits(64))) for book in _BOOKS)  # noqa: S311 - seeded on purpose


def _file(book: _Book, rng: random.Random) -> DemoFile:
    entries = named(train(book.course, rng), book.hand, rng)
    if book.is_row_an_exercise:
        entries = remarked_last(entries)
    masses = _masses(book, entries, rng)
    return DemoFile(
        name=book.name,
        content=book.write(entries, masses, rng),
        lifter=book.member.name,
        answers=book.answers,
        about=book.about,
        truth=tuple(done for entry in entries for done in entry),
        body_masses=masses,
    )


def _masses(book: _Book, entries: Entries, rng: random.Random) -> BodyMasses:
    """Body mass on the first day of every fourth training week or so."""
    if book.weighed is None:
        return ()
    start, drift = (Decimal(text) for text in book.weighed)
    days = sorted({entry[0].on for entry in entries})[::9]
    starts = book.course.starts
    scattered = [(on, start + drift * ((on - starts).days // 7) + Decimal(rng.randint(-5, 5)) / 10) for on in days]
    return tuple((on, Load(mass.quantize(Decimal("0.1")))) for on, mass in scattered)
