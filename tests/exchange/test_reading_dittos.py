"""Marks and words that stand for what was written before."""

from datetime import date
from pathlib import Path

import pytest
from tests.exchange.grids import brief, counts, keys, read_sheet, read_text

from steelyard.exchange.found import Reading
from steelyard.exchange.grid import Cell

NOV_2 = date(2026, 11, 2)
TABLE: list[list[Cell]] = [["Date", "Exercise", "kg", "Reps"], [NOV_2, "Squat", 60, 5], ['"', '"', '"', '"']]


@pytest.mark.parametrize("mark", ['"', "〃", "''", "ditto", "dito", '-"-'])
def test_a_ditto_mark_stands_for_the_cell_above_if_that_is_answered(mark: str) -> None:
    rows: list[list[Cell]] = [*TABLE[:2], [mark, mark, 62.5, mark], [mark, "Bench press", 40, mark]]
    assert keys(read_sheet(*rows)) == ["ditto"]
    reading = read_sheet(*rows, answers={"ditto": "above"})
    assert [(name, count) for _, _, name, count in brief(reading)] == [
        ("Squat", "5 x 60kg"),
        ("Squat", "5 x 62.5kg"),
        ("Bench press", "5 x 40kg"),
    ]


def test_a_ditto_that_means_something_else_leaves_its_row_as_it_is() -> None:
    reading = read_sheet(*TABLE, answers={"ditto": "ignore"})
    assert {p.row for p in reading.problems} == {3}


def test_a_ditto_mark_below_nothing_is_a_problem() -> None:
    reading = read_sheet(TABLE[0], ["2026-11-02", "Squat", 60, '"'], [NOV_2, "Squat", 60, 5])
    assert [(p.row, p.column) for p in reading.problems] == [(2, "Reps")]


def lines(folder: Path, *last: str, answers: dict[str, str] | None = None) -> Reading:
    """Two days of lines, and more on a third."""
    text = ["2.11.2026", "Squat 3x5 60kg", "Bench press 2x8 40kg", "4.11.2026", "Squat 2x5 62,5kg", "9.11.2026", *last]
    return read_text(folder, "\n".join(text), answers=answers, name="log.txt")


@pytest.mark.parametrize("words", ["same as last time", "ditto", "wie letztes Mal", "as last time"])
def test_a_line_may_say_the_sets_of_the_last_time(tmp_path: Path, words: str) -> None:
    said = (f"Squat {words}", f"Bench press: {words}")
    assert keys(lines(tmp_path, *said)) == ["ditto"]
    reading = lines(tmp_path, *said, answers={"ditto": "above"})
    assert counts(reading)[7:] == ["5 x 62.5kg"] * 2 + ["8 x 40kg"] * 2
    assert [s.body.on.isoformat() for s in reading.sets[7:]] == ["2026-11-09"] * 4


def test_the_last_time_of_another_lifter_is_not_meant(tmp_path: Path) -> None:
    said = lines(tmp_path, "Bo Ehn", "Squat same as last time", answers={"ditto": "above", "titles": "lifter"})
    assert [p.row for p in said.problems] == [8]


def test_the_same_as_nothing_is_a_problem(tmp_path: Path) -> None:
    reading = lines(tmp_path, "Deadlift same as last time", answers={"ditto": "above"})
    assert [p.row for p in reading.problems] == [7]
    left = lines(tmp_path, "Squat same as last time", answers={"ditto": "ignore"})
    assert [p.row for p in left.problems] == [7]
