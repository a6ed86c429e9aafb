"""Days of a whole column: the order of day and month, short and missing years; never guessed, asked instead."""

from datetime import date, datetime

import pytest

from steelyard.exchange.cells import CellRefused
from steelyard.exchange.date_words import day_form, day_number, full_year, week_named, weekday_named
from steelyard.exchange.dates import DayCell, read_days
from steelyard.exchange.findings import Findings
from steelyard.exchange.grid import Cell

TODAY = date(2026, 11, 25)


def days(*cells: Cell, answers: dict[str, str] | None = None, year: int = 0) -> tuple[list[str], list[str]]:
    """Every day of a column, what is wrong with it, or "?" where it waits; and the open questions."""
    findings = Findings(answers or {})
    read = read_days([DayCell(cell, year) for cell in cells], "Date", TODAY, findings)
    shown = [
        "?" if found is None else found.problem if isinstance(found, CellRefused) else found.isoformat()
        for found in read.days
    ]
    return shown, list(findings.questions)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2026-11-02", "2026-11-02"), ("2026/11/02", "2026-11-02"), ("2026-11-02T18:30", "2026-11-02"),
        ("2026-11-02 18:30:00", "2026-11-02"), ("02.11.2026", "2026-11-02"), ("2.11.26", "2026-11-02"),
        ("Mo, 02.11.2026", "2026-11-02"), ("02.11.2026 Montag", "2026-11-02"), ("3. November 2026", "2026-11-03"),
        ("3 Nov 2026", "2026-11-03"), ("Nov 3, 2026", "2026-11-03"), ("03-Nov-26", "2026-11-03"),
        ("Tuesday 3rd March 2026", "2026-03-03"), ("12. März 2026", "2026-03-12"), ("21.9.98", "1998-09-21"),
        ("20261102", "2026-11-02"), ("46327", "2026-11-01"), (46328, "2026-11-02"), (46328.77, "2026-11-02"),
        (20261103, "2026-11-03"),
        (date(2026, 11, 2), "2026-11-02"), (datetime.fromisoformat("2026-11-02T18:30"), "2026-11-02"),
    ],
)  # fmt: skip
def test_one_day_in_many_ways(text: Cell, day: str) -> None:
    assert days(text) == ([day], [])


@pytest.mark.parametrize(
    "text", ["", "soon", "2026-13-02", "31.2.2026", "5", "3x8", "2026", "1/2/3/4", "32/01/2026", 7]
)
def test_what_is_no_day(text: Cell) -> None:
    assert days("2026-11-02", text)[0] == ["2026-11-02", "is not a date"]


@pytest.mark.parametrize("text", ["1926-11-02", "2.11.1926", "2201-01-01"])
def test_years_without_training(text: str) -> None:
    assert days(text)[0] == ["is no date of training"]


@pytest.mark.parametrize(
    ("cells", "wanted"),
    [
        (("03/04/2026", "25/04/2026"), ["2026-04-03", "2026-04-25"]),  # a day over 12
        (("03/04/2026", "04/25/2026"), ["2026-03-04", "2026-04-25"]),
        (("3.4.2026", "5.4.2026"), ["2026-04-03", "2026-04-05"]),  # points part day and month
        (("03/04/2026 Fri", "01/04/2026 Wed"), ["2026-04-03", "2026-04-01"]),  # only so the weekdays fit
        (("01/12/2026", "02/10/2026"), ["2026-01-12", "2026-02-10"]),  # 1 December lies ahead
        (("01/05/2025", "03/05/2025", "02/06/2025"), ["2025-05-01", "2025-05-03", "2025-06-02"]),  # only so in order
        (("05/05/2026",), ["2026-05-05"]),  # both ways the same
    ],
)
def test_the_whole_column_decides_the_order(cells: tuple[str, ...], wanted: list[str]) -> None:
    assert days(*cells) == (wanted, [])


def test_an_order_that_nothing_decides_is_asked_for() -> None:
    cells = ("03/04/2026", "05/06/2026")
    assert days(*cells) == (["?", "?"], ["date-order:Date"])
    assert days(*cells, answers={"date-order:Date": "day-first"}) == (["2026-04-03", "2026-06-05"], [])
    assert days(*cells, answers={"date-order:Date": "month-first"}) == (["2026-03-04", "2026-05-06"], [])


def test_a_column_that_contradicts_itself_is_asked_for_and_the_rest_is_wrong() -> None:
    cells = ("25/11/2025", "11/25/2025", "03/04/2026")
    assert days(*cells)[1] == ["date-order:Date"]
    answered, _ = days(*cells, answers={"date-order:Date": "day-first"})
    assert answered == ["2025-11-25", "is not a date", "2026-04-03"]


def test_a_year_in_front_with_two_digits_is_asked_for() -> None:
    assert days("26-11-02", "26-11-04") == (["?", "?"], ["date-order:Date"])
    assert days("26-11-02", answers={"date-order:Date": "year-first"})[0] == ["2026-11-02"]


def test_a_spreadsheet_that_swapped_some_days_is_asked_for() -> None:
    cells = (date(2026, 3, 2), "25/02/2026", date(2026, 5, 3))
    assert days(*cells) == (["?", "?", "?"], ["date-swap:Date"])
    assert days(*cells, answers={"date-swap:Date": "swap"})[0] == ["2026-02-03", "2026-02-25", "2026-03-05"]
    assert days(*cells, answers={"date-swap:Date": "keep"})[0] == ["2026-03-02", "2026-02-25", "2026-05-03"]


@pytest.mark.parametrize(
    ("cells", "year", "wanted"),
    [
        (("3.11.", "30.12.", "4.1."), 2025, ["2025-11-03", "2025-12-30", "2026-01-04"]),
        (("3.11.2025", "30.12.", "4.1."), 0, ["2025-11-03", "2025-12-30", "2026-01-04"]),
        (("30.12.", "4.1.", "3.2.2026"), 0, ["2025-12-30", "2026-01-04", "2026-02-03"]),
        (("4.2.", "3.1.", "30.12.2025", "2.12."), 0, ["2026-02-04", "2026-01-03", "2025-12-30", "2025-12-02"]),
    ],
)
def test_a_missing_year_comes_from_neighbours_or_a_title(cells: tuple[str, ...], year: int, wanted: list[str]) -> None:
    assert days(*cells, year=year) == (wanted, [])


def test_a_missing_year_that_nothing_says_is_asked_for() -> None:
    cells = ("3.11.", "30.12.", "4.1.")
    assert days(*cells) == (["?"] * 3, ["year:Date"])
    assert days(*cells, answers={"year:Date": "2025"})[0] == ["2025-11-03", "2025-12-30", "2026-01-04"]
    assert days(*cells, answers={"year:Date": "last"})[1] == ["year:Date"]


def test_short_years_are_the_latest_that_are_not_far_ahead() -> None:
    assert [full_year(100 + short, TODAY) for short in (26, 27, 28, 0, 98)] == [2026, 2027, 1928, 2000, 1998]


def test_words_for_weeks_and_days() -> None:
    assert [weekday_named(word) for word in ("Mon", "Montag", "Do.", "sunday", "Squat")] == [0, 0, 3, 6, None]
    week = [week_named(word) for word in ("Week 3", "KW 12", "KW 12/2026", "Woche 4", "Week", "Week 99")]
    assert [(w.number, w.is_iso, w.year) if w is not None else None for w in week] == [
        (3, False, None), (12, True, None), (12, True, 2026), (4, False, None), None, None,
    ]  # fmt: skip
    assert [day_number(word) for word in ("Day 1", "Tag 2", "3. Tag", "Day")] == [1, 2, 3, None]
    assert day_form("3-1-1") is None


def test_weekdays_find_the_year_and_must_fit_their_date() -> None:
    assert days("Tue 10 Feb", "Thu 12 Feb")[0] == ["2026-02-10", "2026-02-12"]
    assert days("Tue 10 Feb", year=2025)[0] == ["2026-02-10"]  # a title's year that no weekday fits
    assert days("Tue 10 Feb 2025", "Wed 12 Feb 2025")[0] == ["names another weekday than its date", "2025-02-12"]


def test_no_day_without_a_year_lies_ahead() -> None:
    assert days("3.2.2026", "4.12.", "6.12.")[0] == ["2026-02-03", "2025-12-04", "2025-12-06"]
