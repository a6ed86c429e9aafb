"""Files and workbooks of a few cells, read back, for tests only."""

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

from steelyard.catalogue import catalogue
from steelyard.engine.log import SetBody
from steelyard.engine.quantities import Unit
from steelyard.exchange.found import Reading
from steelyard.exchange.grid import Cell, Grid, Opened, Row
from steelyard.exchange.opening import open_file
from steelyard.exchange.reading import read_grids

TODAY = date(2026, 11, 25)
Sheet = tuple[str, Sequence[Sequence[Cell]]]


def is_exercise(text: str) -> bool:
    """Whether the catalogue has the name."""
    return catalogue().named(text) is not None


def workbook(*sheets: Sheet) -> Opened:
    """A workbook of these sheets; rows without content are left out, as `open_file` does."""
    grids = [
        Grid(name=name, rows=[Row(i, tuple(r)) for i, r in enumerate(rows, start=1) if any(c != "" for c in r)])
        for name, rows in sheets
    ]
    return Opened(file="log.xlsx", kind="xlsx", grids=tuple(grids))


def read_opened(
    opened: Opened, lifter: str | None = "Ada", answers: Mapping[str, str] | None = None, unit: Unit | None = None
) -> Reading:
    """What the grids hold."""
    return read_grids(opened, lifter=lifter, answers=answers or {}, is_exercise=is_exercise, today=TODAY, unit=unit)


def read_sheet(
    *rows: Sequence[Cell],
    lifter: str | None = "Ada",
    answers: Mapping[str, str] | None = None,
    unit: Unit | None = None,
) -> Reading:
    """What one sheet of these rows holds."""
    return read_opened(workbook(("Log", rows)), lifter, answers, unit)


def read_text(
    folder: Path,
    content: str | bytes,
    lifter: str | None = "Ada",
    answers: Mapping[str, str] | None = None,
    unit: Unit | None = None,
    name: str = "log.csv",
) -> Reading:
    """What a text file of this content holds."""
    file = folder / name
    file.write_bytes(content.encode() if isinstance(content, str) else content)
    return read_opened(open_file(file), lifter, answers, unit)


def bodies(reading: Reading) -> list[SetBody]:
    """The sets, of a reading in which nothing is wrong or open."""
    assert reading.problems == ()
    assert reading.questions == ()
    return [found.body for found in reading.sets]


def brief(reading: Reading) -> list[tuple[str, str, str, str]]:
    """Lifter, day, exercise, and count with load of every set, of a reading in which nothing is wrong or open."""
    assert reading.problems == ()
    assert reading.questions == ()
    return [(s.lifter, s.body.on.isoformat(), s.body.as_written, done(s.body)) for s in reading.sets]


def done(body: SetBody) -> str:
    """`8 x 60kg`."""
    count = str(body.reps) if body.reps is not None else ""
    count += f"{body.seconds}s" if body.seconds is not None else ""
    count += f"{body.metres}m" if body.metres is not None else ""
    side = f" {body.side}" if body.side is not None else ""
    load = f" x {body.load.value}{body.load.unit}" if body.load is not None else ""
    return f"{count}{side}{load}"


def counts(reading: Reading) -> list[str]:
    """Count and load of every set, of a reading in which nothing is wrong or open."""
    return [done(body) for body in bodies(reading)]


def keys(reading: Reading) -> list[str]:
    """The keys of all open questions."""
    return [question.key for question in reading.questions]
