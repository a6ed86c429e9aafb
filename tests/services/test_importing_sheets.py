"""A workbook whose second sheet is no log: the log is taken in, and what is answered about a sheet holds once."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import openpyxl
import pytest

from steelyard.services.importing import Imported, ImportOptions, import_file
from steelyard.services.scribe import Scribe
from steelyard.wording.quantity import Voice

DAY = date(2026, 11, 2)
LOG = [("Date", "Exercise", "Sets", "Reps", "kg"), (DAY, "Squat", 3, 8, 60)]
BESTS = [("Exercise", "1RM"), ("Squat", 100)]
NOTES = [("Bring chalk on Monday",), ("See the physio about the knee",)]


def bring_in(path: Path, scribe: Scribe, second: Sequence[tuple[object, ...]], **options: object) -> Imported:
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for name, rows in (("Log", LOG), ("Other", second)):
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    book.save(path)
    return import_file(path, ImportOptions(lifter="Ada", **options), Voice(), scribe)  # type: ignore[arg-type]  # passed on


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "log.xlsx"


def test_a_sheet_of_notes_stops_nothing(path: Path, scribe: Scribe) -> None:
    imported = bring_in(path, scribe, NOTES)
    assert (imported.problems, imported.questions, imported.entries_added) == ((), (), 3)
    said = [(p.place.row, p.why) for p in imported.passed_over if p.place.sheet == "Other"]
    assert said == [(1, "this sheet holds no log"), (2, "this sheet holds no log")]


def test_half_a_log_is_asked_about_and_left_out_once(path: Path, scribe: Scribe) -> None:
    asked = bring_in(path, scribe, BESTS)
    assert ([q.key for q in asked.questions], asked.entries_added) == (["sheet:Other"], 0)
    answered = bring_in(path, scribe, BESTS, answers={"sheet:Other": "ignore"})
    assert (answered.problems, answered.questions, answered.entries_added) == ((), (), 3)
    again = bring_in(path, scribe, [*BESTS, ("Bench press", 70)])
    assert [q.key for q in again.questions] == ["sheet:Other"]


def test_an_open_sheet_holds_up_the_good_rows_too(path: Path, scribe: Scribe) -> None:
    imported = bring_in(path, scribe, BESTS, keep_good=True, mend_to=path.parent)
    assert ([q.key for q in imported.questions], imported.entries_added) == (["sheet:Other"], 0)
