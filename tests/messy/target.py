"""The importer under judgement, by its public steps: open, read, match names."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from msgspec import structs

from steelyard.catalogue import catalogue
from steelyard.catalogue.matching import NameMatch, looks_like_exercise, match_name
from steelyard.engine.exercises import folded_name
from steelyard.exchange.found import FoundSet, Question, Reading
from steelyard.exchange.grid import FileRefused, Opened
from steelyard.exchange.opening import open_file
from steelyard.exchange.reading import read_grids

from .comparing import ReadSet
from .judge import Asked, ReadBack, Reader
from .truth import MessyFile, Topic

# What stands before the colon of a question's key.
_TOPICS: dict[str, Topic] = {
    "unit": "unit", "date-order": "date-order", "year": "year", "start-of-weeks": "start", "days-of-week": "weekdays",
    "date": "date", "at": "at-number", "bare": "bare-number", "pair": "pair", "column": "column", "titles": "titles",
    "sheet-names": "sheet-names",
    "slash": "slash",
    "range": "range",
}  # fmt: skip


def importer(file: MessyFile) -> Reader:
    """The importer as it would be called for this file."""

    def read(path: Path, answers: Mapping[str, str]) -> ReadBack:
        return _read_back(path, answers, file)

    return read


def _read_back(path: Path, answers: Mapping[str, str], file: MessyFile) -> ReadBack:
    try:
        opened = open_file(path)
    except FileRefused as refused:
        return ReadBack(problems=(f"{refused.problem.problem}: {refused.problem.value}",))
    reading = read_grids(
        opened,
        lifter=file.given_lifter,
        answers=answers,
        is_exercise=lambda w: looks_like_exercise(w, catalogue()),
        today=file.today,
    )
    if reading.questions:
        return ReadBack(asked=tuple(map(_asked, reading.questions)))
    # Rows beside refused ones may be taken in, so names are asked for them too.
    if names := _asked_names(reading, answers):
        return ReadBack(asked=names)
    return ReadBack(
        sets=tuple(_read_set(s, answers) for s in reading.sets),
        problems=tuple(f"{p.sheet} {p.row} {p.column} {p.value!r}: {p.problem}" for p in reading.problems),
        body_masses=tuple((m.on, m.body_mass) for m in reading.body_masses),
        lost_rows=_lost_rows(opened, reading),
    )


def _lost_rows(opened: Opened, reading: Reading) -> tuple[str, ...]:
    told = {
        (x.place.sheet, x.place.row) for many in (reading.sets, reading.body_masses, reading.passed_over) for x in many
    }
    told |= {(p.sheet, p.row) for p in reading.problems}
    is_one = len(opened.grids) == 1
    return tuple(
        f"{grid.name} {row.number}"
        for grid in opened.grids
        for row in grid.rows
        if ("" if is_one else grid.name, row.number) not in told and (grid.name, row.number) not in told
    )


@cache
def _match(written: str) -> NameMatch:
    return match_name(written, catalogue())


def _asked_names(reading: Reading, answers: Mapping[str, str]) -> tuple[Asked, ...]:
    unsure = dict.fromkeys(s.body.as_written for s in reading.sets if not _match(s.body.as_written).sure)
    return tuple(
        Asked(key=f"name:{w}", topic="name", asks=f"which exercise is {w}?", about=w)
        for w in unsure
        if f"name:{w}" not in answers
    )


def _asked(question: Question) -> Asked:
    kind, _, about = question.key.partition(":")
    choices = tuple((c.answer, c.meaning) for c in question.choices)
    return Asked(
        key=question.key,
        topic=_TOPICS.get(kind, "other"),
        asks=question.asks,
        about=about,
        examples=question.examples,
        choices=choices,
    )


def _read_set(found: FoundSet, answers: Mapping[str, str]) -> ReadSet:
    match = _match(found.body.as_written)
    named = answers.get(f"name:{found.body.as_written}") or match.exercise or folded_name(found.body.as_written)
    body = found.body
    if body.implement is None and match.implement is not None:
        body = structs.replace(body, implement=match.implement)
    return ReadSet(lifter=found.lifter, exercise=named, body=body)
