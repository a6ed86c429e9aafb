"""Workbooks with sheets beside the log: none of it is passed over that looks like sets, and none stops the rest."""

from collections.abc import Sequence
from datetime import date

import pytest
from tests.exchange.grids import Sheet, keys, read_opened, workbook

from steelyard.exchange.found import Reading
from steelyard.exchange.grid import Cell

NOV_2, NOV_4 = date(2026, 11, 2), date(2026, 11, 4)
LOG: Sheet = (
    "Log",
    [["Date", "Exercise", "Sets", "Reps", "kg"], [NOV_2, "Squat", 3, 8, 60], [NOV_4, "Bench press", 3, 8, 40]],
)
ADDRESSES: list[list[Cell]] = [
    ["Name", "Street", "Town", "Phone", "Born"],
    ["Ada Berg", "Gasse 3", "4020 Linz", "0660 123 45 67", date(1990, 5, 1)],
    ["Bo Ehn", "Weg 12/4", "8010 Graz", "0660 555 11", date(1991, 2, 3)],
]
NOTES: list[list[Cell]] = [
    ["Bring chalk on Monday"],
    ["Knee felt odd since March, see the physio about it"],
    ["The code of the gate is 4711"],
]
NO_LOGS: dict[str, list[list[Cell]]] = {
    "addresses": ADDRESSES,
    "addresses without a header": ADDRESSES[1:],
    "notes": NOTES,
    "a legend": [["RPE", "meaning"], [10, "nothing left"], [9, "one left"]],
    "meals": [["Tag", "Mittag", "Abend"], ["Mo", "Reis", "Brot"], ["Di", "Nudeln", "Suppe"]],
}
HALF_LOGS: dict[str, list[list[Cell]]] = {
    "no exercise": [["Date", "Reps", "kg"], [NOV_4, 8, 60], [NOV_4, 8, 62.5]],
    "no repetitions": [["Date", "Exercise", "kg"], [NOV_4, "Squat", 60]],
    "bests": [["Exercise", "1RM"], ["Squat", 100], ["Bench press", 70]],
    "no header": [["Squat", "3x8 @ 60"], ["Bench press", "3x8 @ 40"]],
    "unknown headers": [["Wann", "Wobei", "Wieviel"], [NOV_4, "Squat", "3x8 60"], [NOV_4, "Squat", "3x8 60"]],
    "unknown exercises": [["Fecha", "Que", "Peso"], [NOV_4, "sentadilla", 60], [NOV_4, "remo", 40]],
    "numbers": [["a", "b", "c"], ["frog hops", 8, 60], ["bear walk", 8, 40]],
    "lines": [["Squat 60 5 5 5"], ["slept badly"]],
    "lines of unknown exercises": [["frog hops 20 20 15"], ["slept badly"]],
    "costs": [["Date", "What", "Euro"], [NOV_4, "Belt", 80]],
}


def read(rows: Sequence[Sequence[Cell]], answers: dict[str, str] | None = None, at: int = 1) -> Reading:
    """The log with another sheet after or before it."""
    sheets = [LOG]
    sheets.insert(at, ("Other", rows))
    return read_opened(workbook(*sheets), answers=answers)


@pytest.mark.parametrize("rows", NO_LOGS.values(), ids=NO_LOGS)
@pytest.mark.parametrize("at", [0, 1])
def test_a_sheet_without_a_log_is_passed_over_and_said_so(rows: list[list[Cell]], at: int) -> None:
    reading = read(rows, at=at)
    assert (reading.problems, reading.questions) == ((), ())
    assert len(reading.sets) == 6
    passed = [p for p in reading.passed_over if p.place.sheet == "Other"]
    assert [p.place.row for p in passed] == list(range(1, len(rows) + 1))
    assert {p.why for p in passed} == {"this sheet holds no log"}


@pytest.mark.parametrize("rows", HALF_LOGS.values(), ids=HALF_LOGS)
def test_half_a_log_is_asked_about_alone(rows: list[list[Cell]]) -> None:
    reading = read(rows)
    assert keys(reading) == ["sheet:Other"]
    assert reading.problems == ()
    assert reading.questions[0].examples


@pytest.mark.parametrize("rows", HALF_LOGS.values(), ids=HALF_LOGS)
def test_half_a_log_is_left_out_by_an_answer(rows: list[list[Cell]]) -> None:
    reading = read(rows, {"sheet:Other": "ignore"})
    assert (reading.problems, reading.questions) == ((), ())
    assert len(reading.sets) == 6
    passed = [p for p in reading.passed_over if p.place.sheet == "Other"]
    assert {p.why for p in passed} == {"this sheet is left out, as answered"}
    assert len(passed) == len(rows)


def test_half_a_log_is_read_by_an_answer() -> None:
    rows: list[list[Cell]] = [["Wann", "Wobei", "Wieviel"], [NOV_4, "Squat", "3x8 60kg"], [NOV_4, "Dip", "2x8 10kg"]]
    assert "column:A" in keys(read(rows, {"sheet:Other": "sets"}))
    (problem,) = read(HALF_LOGS["no repetitions"], {"sheet:Other": "sets"}).problems
    assert (problem.sheet, problem.problem) == ("Other", "column is missing")


def test_two_halves_can_each_be_left_out() -> None:
    costs = ("Costs", HALF_LOGS["costs"])
    bests = ("Bests", HALF_LOGS["bests"])
    reading = read_opened(workbook(costs, bests), answers={"column:Euro": "ignore", "sheet-names": "ignore"})
    assert keys(reading) == ["sheet:Costs", "sheet:Bests"]
    assert reading.problems == ()


def test_logs_on_several_sheets_are_all_read() -> None:
    other: Sheet = ("Log 2", [["Date", "Exercise", "Set 1", "Set 2"], [NOV_4, "Squat", "60kg x 8", "60kg x 8"]])
    lines: Sheet = ("Log 3", [[NOV_4], ["Squat 3x8 @ 60kg"], ["Bench press 3x8 @ 40kg"]])
    reading = read_opened(workbook(LOG, other, lines))
    assert (reading.problems, reading.questions) == ((), ())
    assert [s.place.sheet for s in reading.sets] == ["Log"] * 6 + ["Log 2"] * 2 + ["Log 3"] * 6


def test_a_sheet_of_body_masses_is_read() -> None:
    reading = read([["date", "body mass"], [NOV_2, 82.5], [NOV_4, 82.1]], {"unit:body mass": "kg"})
    assert (reading.problems, reading.questions) == ((), ())
    assert [(m.on, str(m.body_mass.value)) for m in reading.body_masses] == [(NOV_2, "82.5"), (NOV_4, "82.1")]
    assert len(reading.sets) == 6


def test_a_sheet_that_is_called_body_mass_is_read() -> None:
    sheet: Sheet = ("Bodyweight", [["date", "kg"], [NOV_2, 82.5], [NOV_4, 82.1], ["avg", 82.3]])
    reading = read_opened(workbook(LOG, sheet))
    assert (reading.problems, reading.questions) == ((), ())
    assert [(m.on, str(m.body_mass.value)) for m in reading.body_masses] == [(NOV_2, "82.5"), (NOV_4, "82.1")]
    assert len(reading.sets) == 6


def test_a_sheet_an_exercise_is_no_half_of_a_log() -> None:
    rows: list[list[Cell]] = [["Date", "Sets", "Reps", "kg"], [NOV_4, 3, 8, 60]]
    reading = read_opened(workbook(LOG, ("Squat", rows), ("Bench press", rows)))
    assert (reading.problems, reading.questions) == ((), ())
    assert [s.body.as_written for s in reading.sets[6:]] == ["Squat"] * 3 + ["Bench press"] * 3


@pytest.mark.parametrize("name", ["Plan", "Week 5 PLAN", "Geplant", "PRs"])
def test_a_sheet_of_plans_is_asked_about_beside_a_log(name: str) -> None:
    assert keys(read_opened(workbook(LOG, (name, LOG[1])))) == [f"sheet:{name}"]
    reading = read_opened(workbook(LOG, (name, LOG[1])), answers={f"sheet:{name}": "sets"})
    assert (reading.questions, len(reading.sets)) == ((), 12)


def test_set1_numbers_a_column_as_set_1_does() -> None:
    sheet: Sheet = ("Log", [["Date", "Exercise", "kg", "set1", "set2"], [NOV_4, "Squat", 60, 8, 7]])
    reading = read_opened(workbook(sheet))
    assert (reading.questions, [s.body.reps for s in reading.sets]) == ((), [8, 7])


def test_an_only_sheet_is_never_passed_over() -> None:
    reading = read_opened(workbook(("Notes", NOTES)))
    assert reading.problems or reading.questions


def test_an_average_between_two_tables_is_no_day() -> None:
    header: list[Cell] = ["Exercise", "Work", "Speed"]
    rows: list[list[Cell]] = [["Thursday"], header, ["Squat", "3x5@60kg", 0.5], ["Average", "", "7.5"]]
    rows += [["Saturday"], header, ["Squat", "3x5@62.5kg", 0.5]]
    reading = read_opened(
        workbook(("Week 1", rows)), answers={"start-of-weeks": "2026-06-08", "column:Speed": "ignore"}
    )
    assert (reading.problems, reading.questions) == ((), ())
    assert sorted({s.body.on for s in reading.sets}) == [date(2026, 6, 11), date(2026, 6, 13)]
