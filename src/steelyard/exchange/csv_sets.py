"""Training logs as CSV: one honest shape, a set a row."""

import csv
from collections.abc import Callable, Iterable, Iterator
from decimal import Decimal
from pathlib import Path
from typing import TypeVar

from msgspec import Struct

from steelyard.engine.exercises import Catalogue
from steelyard.engine.log import SetBody
from steelyard.engine.quantities import Unit

from . import cells
from .cells import CellRefused
from .problems import Problem

NEEDED = ("date", "exercise", "reps")
LOADS: tuple[Unit, ...] = ("kg", "lb")
OPTIONAL = ("lifter", "rir", "note", "pain", "technique")
TOLD_EVERY = 1000
T = TypeVar("T")


class SetRow(Struct, frozen=True):
    """One set and whose it is."""

    lifter: str
    body: SetBody


class Reading(Struct, frozen=True, kw_only=True):
    """What a file holds: its sets and everything that is wrong with it."""

    rows_read: int
    rows: tuple[SetRow, ...]
    problems: tuple[Problem, ...]


def read_csv(
    path: Path, catalogue: Catalogue, lifter: str | None, progress: Callable[[int, int], None] | None = None
) -> Reading:
    """All sets of a file and all its problems; `lifter` serves where the file has no such column.

    `progress` hears how many characters of how many bytes are read.
    """
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            lines = file if progress is None else _told(file, path.stat().st_size, progress)
            return _read(csv.reader(lines, strict=True), catalogue, lifter)
    except UnicodeDecodeError as refused:
        problem = _whole_file("is not UTF-8 text", "save it as CSV in UTF-8", f"byte {refused.start}")
    except OSError as refused:
        problem = _whole_file(f"cannot be read: {refused.strerror}", "check the path", str(path))
    return Reading(rows_read=0, rows=(), problems=(problem,))


def _told(lines: Iterable[str], size: int, progress: Callable[[int, int], None]) -> Iterator[str]:
    done = 0
    for number, line in enumerate(lines):
        done += len(line)
        if number % TOLD_EVERY == 0:
            progress(done, size)
        yield line


def _whole_file(problem: str, remedy: str, value: str) -> Problem:
    return Problem(row=0, column="", value=value, problem=problem, remedy=remedy)


def _read(lines: Iterator[list[str]], catalogue: Catalogue, lifter: str | None) -> Reading:
    rows: list[SetRow] = []
    problems: list[Problem] = []
    count = row = 0
    try:
        header = [name.strip().casefold() for name in next(lines, [])]
        row = 1
        problems += _header_problems(header, lifter)
        if problems:
            return Reading(rows_read=0, rows=(), problems=tuple(problems))
        reader = _RowReader(header, catalogue, lifter)
        for row, line in enumerate(lines, start=2):
            if not any(cell.strip() for cell in line):
                continue
            count += 1
            found = reader.read(row, line)
            problems += reader.problems
            if found is not None:
                rows.append(found)
    except csv.Error as refused:
        problem = Problem(
            row=row + 1, column="", value="", problem=f"is no CSV: {refused}", remedy="check the quotes of this row"
        )
        problems.append(problem)
    if not count and not problems:
        problems.append(_whole_file("holds no sets", "add a row a set under the header", ""))
    return Reading(rows_read=count, rows=tuple(rows), problems=tuple(problems))


def _header_problems(header: list[str], lifter: str | None) -> list[Problem]:
    def wrong(value: str, problem: str, remedy: str) -> Problem:
        return Problem(row=1, column=value, value=value, problem=problem, remedy=remedy)

    for mark, name in ((";", "semicolons"), ("\t", "tabs")):
        if len(header) == 1 and mark in header[0]:
            return [
                wrong(header[0], f"the cells are parted by {name}", "save it as CSV with commas, and numbers as 62.5")
            ]
    known = {*NEEDED, *LOADS, *OPTIONAL}
    out = [wrong(n, "column is missing", f"name a column {n} in the first row") for n in NEEDED if n not in header]
    out += [
        wrong(n, "column is not known", f"name it, or remove it; known are {', '.join(sorted(known))}")
        for n in header
        if n not in known
    ]
    out += [wrong(n, "column stands twice", "keep one of them") for n in sorted(set(header)) if header.count(n) > 1]
    if sum(unit in header for unit in LOADS) != 1:
        out.append(wrong("kg", "one column of loads is needed", "name it kg or lb"))
    if "lifter" not in header and not lifter:
        out.append(wrong("lifter", "nobody is named", "say whose log it is with --lifter NAME"))
    return out


class _RowReader:
    """Reads one row after another, collecting what is wrong with each."""

    def __init__(self, header: list[str], catalogue: Catalogue, lifter: str | None) -> None:
        self.header = header
        self.catalogue = catalogue
        self.lifter = lifter
        self.unit: Unit = "lb" if "lb" in header else "kg"
        self.problems: list[Problem] = []

    def read(self, row: int, line: list[str]) -> SetRow | None:
        """The set of a row, or None and its problems."""
        self.problems = []
        if len(line) != len(self.header):
            hint = "quote cells that hold a comma" if len(line) > len(self.header) else "fill in the missing cells"
            found = f"has {len(line)} cells where the header has {len(self.header)}"
            self.problems.append(Problem(row=row, column="", value=",".join(line)[:200], problem=found, remedy=hint))
            return None
        cell = dict(zip(self.header, (c.strip() for c in line), strict=True))

        def take(column: str, read: Callable[[str], T]) -> T | None:
            value = cell.get(column, "")
            try:
                return read(value)
            except CellRefused as refused:
                at = Problem(row=row, column=column, value=value[:200], problem=refused.problem, remedy=refused.remedy)
                self.problems.append(at)
                return None

        on = take("date", cells.day)
        exercise = take("exercise", lambda v: cells.exercise(v, self.catalogue))
        reps = take("reps", cells.repetitions)
        bare = exercise is not None and (exercise.body_mass_share > 0 or exercise.measure != "reps")
        load = None if bare and not cell.get(self.unit) else take(self.unit, lambda v: cells.load(v, self.unit))
        if load is not None and load.value < 0 and not (exercise is not None and exercise.body_mass_share > 0):
            hint = "only where body mass is lifted does a negative load mean assistance"
            self.problems.append(
                Problem(row=row, column=self.unit, value=cell[self.unit], problem="is a negative load", remedy=hint)
            )
        effort = take("rir", cells.effort) if cell.get("rir") else None
        pain = take("pain", lambda v: cells.pain(cells.text(v))) if cell.get("pain") else None
        technique = take("technique", cells.technique) if cell.get("technique") else None
        note = take("note", cells.text) or ""
        lifter = (take("lifter", cells.text) if cell.get("lifter") else None) or self.lifter
        if not lifter and not self.problems:
            hint = "fill it in, or give --lifter NAME for rows without one"
            self.problems.append(Problem(row=row, column="lifter", value="", problem="nobody is named", remedy=hint))
        if self.problems or on is None or exercise is None or reps is None or not lifter:
            return None
        body = SetBody(
            on=on,
            exercise=exercise.code,
            as_written=cells.text(cell["exercise"]),
            load=load,
            reps=reps if exercise.measure == "reps" or reps == 0 else None,
            seconds=reps if exercise.measure == "seconds" and reps else None,
            metres=Decimal(reps) if exercise.measure == "metres" and reps else None,
            effort=effort,
            missed="unsaid" if reps == 0 else None,
            pain=pain,
            technique=technique,
            note=note,
        )
        return SetRow(lifter, body)
