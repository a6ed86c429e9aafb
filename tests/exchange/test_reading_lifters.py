"""Several lifters in one file: a column, titles, sheets, blocks beside and below each other."""

from datetime import date

import pytest
from tests.exchange.grids import brief, keys, read_opened, read_sheet, workbook

from steelyard.exchange.grid import Cell

NOV_2 = date(2026, 11, 2)

DAY = date(2026, 11, 2)
HEADER: list[Cell] = ["Date", "Exercise", "Reps", "kg"]
NOTHING: list[Cell] = []


def a_row(load: int) -> list[Cell]:
    """One set."""
    return [DAY, "Squat", 8, load]


def whose(*rows: list[Cell], lifter: str | None = None, answers: dict[str, str] | None = None) -> list[tuple[str, str]]:
    """Lifter and set of each row."""
    return [(name, done) for name, _, _, done in brief(read_sheet(*rows, lifter=lifter, answers=answers))]


def test_a_column() -> None:
    rows: list[list[Cell]] = [[*HEADER, "Sportler"], [*a_row(60), "Bo"], [*a_row(80), "Cy"]]
    assert whose(*rows) == [("Bo", "8 x 60kg"), ("Cy", "8 x 80kg")]


BLOCKS: list[list[Cell]] = [["Ada Berg"], HEADER, a_row(60), NOTHING, ["Bo Lund"], HEADER, a_row(80)]


def test_titles_above_blocks_are_asked_for() -> None:
    reading = read_sheet(*BLOCKS, lifter=None)
    assert keys(reading) == ["titles"]
    assert reading.questions[0].examples == ("Ada Berg", "Bo Lund")
    assert reading.sets == ()
    assert whose(*BLOCKS, answers={"titles": "lifter"}) == [("Ada Berg", "8 x 60kg"), ("Bo Lund", "8 x 80kg")]


def test_two_titles_are_asked_for_even_where_somebody_is_named() -> None:
    assert keys(read_sheet(*BLOCKS, lifter="Cy")) == ["titles"]
    assert whose(*BLOCKS, lifter="Cy", answers={"titles": "ignore"}) == [("Cy", "8 x 60kg"), ("Cy", "8 x 80kg")]


def test_one_title_is_no_question_where_somebody_is_named() -> None:
    assert whose(["Ada Berg"], HEADER, a_row(60), lifter="Cy") == [("Cy", "8 x 60kg")]


@pytest.mark.parametrize("title", ["Lifter: Bo", "Athlet: Bo", "Name: Bo"])
def test_a_title_that_says_so_names_the_lifter(title: str) -> None:
    assert whose([title], HEADER, a_row(60)) == [("Bo", "8 x 60kg")]


def test_a_title_in_two_cells() -> None:
    assert whose(["Name:", "Bo"], HEADER, a_row(60)) == [("Bo", "8 x 60kg")]


def test_blocks_side_by_side() -> None:
    rows: list[list[Cell]] = [
        ["Ada Berg", "", "", "", "", "Bo Lund"],
        [*HEADER, "", *HEADER],
        [*a_row(60), "", *a_row(80)],
        [*a_row(62), "", "", "", "", ""],
    ]
    answers = {"titles": "lifter"}
    assert whose(*rows, answers=answers) == [
        ("Ada Berg", "8 x 60kg"),
        ("Ada Berg", "8 x 62kg"),
        ("Bo Lund", "8 x 80kg"),
    ]


def test_blocks_side_by_side_share_a_column_of_days() -> None:
    rows: list[list[Cell]] = [
        ["", "Ada Berg", "", "", "", "Bo Lund"],
        ["Date", "Exercise", "Reps", "kg", "", "Exercise", "Reps", "kg"],
        [DAY, "Squat", 8, 60, "", "Squat", 8, 80],
    ]
    reading = read_sheet(*rows, lifter=None, answers={"titles": "lifter"})
    assert brief(reading) == [
        ("Ada Berg", "2026-11-02", "Squat", "8 x 60kg"),
        ("Bo Lund", "2026-11-02", "Squat", "8 x 80kg"),
    ]


def test_a_sheet_a_lifter() -> None:
    sheets = workbook(("Ada", [HEADER, a_row(60)]), ("Bo", [HEADER, a_row(80)]))
    assert keys(read_opened(sheets, lifter=None)) == ["sheet-names"]
    reading = read_opened(sheets, lifter=None, answers={"sheet-names": "lifter"})
    assert [line[0] for line in brief(reading)] == ["Ada", "Bo"]
    assert [s.place.sheet for s in reading.sets] == ["Ada", "Bo"]


@pytest.mark.parametrize("names", [("Sheet1", "Sheet2"), ("Tabelle1", "Tabelle2"), ("Week 1", "Week 2")])
def test_names_of_sheets_that_name_nobody(names: tuple[str, str]) -> None:
    sheets = workbook(*[(name, [HEADER, a_row(60)]) for name in names])
    assert [line[0] for line in brief(read_opened(sheets))] == ["Ada", "Ada"]


def test_a_name_between_the_rows() -> None:
    rows: list[list[Cell]] = [HEADER, ["Lifter: Bo"], a_row(60), ["Lifter: Cy"], a_row(80)]
    assert whose(*rows) == [("Bo", "8 x 60kg"), ("Cy", "8 x 80kg")]


def test_a_name_that_is_left_out_below_itself_and_said_again_on_the_next_day_carries_down() -> None:
    header: list[Cell] = ["Date", "Lifter", "Exercise", "Reps", "kg"]
    again: list[Cell] = ["", "", "Squat", 8, 60]
    days: list[list[Cell]] = []
    for day, name in ((2, "Bo"), (4, "Bo"), (6, "Cy"), (9, "Cy"), (11, "Cy")):
        days += [[date(2026, 11, day), name, "Bench press", 5, 50], again]
    assert [name for name, _ in whose(header, *days, lifter=None)] == ["Bo"] * 4 + ["Cy"] * 6


def side_by_side(*rows: list[Cell]) -> list[list[Cell]]:
    """An exercise column at the left, and a pair of columns below each name."""
    return [["Open group, autumn"], ["", "Ada", "", "Bo", ""], ["", "kg", "reps", "kg", "reps"], [NOV_2], *rows]


def test_names_above_pairs_of_columns_share_the_exercises_at_their_left() -> None:
    rows = side_by_side(["Squat", 60, "3x5", 80, "5/5/4"], ["Bench press", 40, "2x5", "sick", ""])
    asked = read_sheet(*rows, lifter=None)
    assert keys(asked) == ["titles"]
    assert asked.questions[0].examples == ("Ada", "Bo")
    reading = read_sheet(*rows, lifter=None, answers={"titles": "lifter"}, unit="kg")
    assert [(lifter, name, count) for lifter, _, name, count in brief(reading)] == [
        *[("Ada", "Squat", "5 x 60kg")] * 3,
        *[("Ada", "Bench press", "5 x 40kg")] * 2,
        *[("Bo", "Squat", f"{n} x 80kg") for n in (5, 5, 4)],
    ]
    assert any("sick" in p.value for p in reading.passed_over)


def test_what_is_no_name_above_pairs_parts_nothing() -> None:
    rows = side_by_side(["Squat", 60, 5, 62.5, 5])
    rows[1] = ["", "Set 1", "", "Set 2", ""]
    reading = read_sheet(*rows)
    assert [(s.lifter, s.body.reps) for s in reading.sets] == [("Ada", 5), ("Ada", 5)]
