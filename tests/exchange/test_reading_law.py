"""Every row with content is in sets, body masses, passed over or problems, or waits for an answer."""

from datetime import date
from pathlib import Path

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from tests.exchange.grids import is_exercise, read_opened, read_sheet, workbook

from steelyard.engine.quantities import Unit
from steelyard.exchange.found import Reading
from steelyard.exchange.grid import Cell, FileRefused, Grid, Opened
from steelyard.exchange.opening import open_file
from steelyard.exchange.reading import read_grids

HEADERS: list[Cell] = [
    "Date", "Exercise", "Sets", "Reps", "kg", "lb", "Load", "Set 1", "Set 2", "RPE", "RIR", "Notes", "Lifter", "Day",
    "Week", "Body mass", "seconds", "side",
    "gear", "e1RM", "missed", "Pause", "", date(2026, 11, 2), "9.11.", "Squat", "1", 2,
]  # fmt: skip
CELLS: list[Cell] = [
    "", "", "", "2026-11-02", "3.11.", "03/04/2026", date(2026, 11, 2), "Mon", "Day 2", "Week 3", "Squat",
    "Bench press",
    "my curl", "Ada Berg", "Bo",
    5, 8, 60, 62.5, "82,5", "1.250", "8,8,7", "3x8", "60x8", "10x8", "3x8@60",
    "60kg 8,8",
    "8-10", "75%", "x", "0", "-", "miss", "10/10", "BW+10", "KG", "135lb", "skipped", "knee pain 3", "Total", "# note",
    "Name: Cy", True, "odd?", "²", "a\nb", "3x8@60 and more", "left", "1:30", "rest 90s", "Notes", "=1+1", "@", "x x x",
]  # fmt: skip
SHEETS = st.lists(st.lists(st.sampled_from(HEADERS), min_size=1, max_size=7), max_size=2).flatmap(
    lambda head: st.lists(st.lists(st.sampled_from(CELLS), min_size=1, max_size=7), max_size=9).map(
        lambda rows: [*head, *rows]
    )
)
UNITS: st.SearchStrategy[Unit | None] = st.sampled_from([None, "kg"])
ANSWERS = {
    "unit:Load": "kg", "date": "2026-03-02", "titles": "lifter", "sheet-names": "ignore",
    "start-of-weeks": "2026-01-05",
    "days-of-week": "mon,tue,wed,thu,fri", "column:gear": "note",
}  # fmt: skip


def unaccounted(opened: Opened, reading: Reading) -> list[tuple[str, int]]:
    """Rows with content of which the reading says nothing."""
    if reading.questions or any(p.row == 0 for p in reading.problems):
        return []
    places = [s.place for s in reading.sets] + [m.place for m in reading.body_masses]
    places += [p.place for p in reading.passed_over]
    named = {(p.sheet, p.row) for p in places} | {(p.sheet, p.row) for p in reading.problems}
    # Said once of a whole block or file, not once a row.
    if {"column is missing", "nobody is named"} & {p.problem for p in reading.problems}:
        return []
    is_one = len(opened.grids) == 1
    rows = [("" if is_one else grid.name, row.number) for grid in opened.grids for row in grid.rows]
    return [row for row in rows if row not in named]


@given(SHEETS, st.sampled_from([None, "Ada"]), st.sampled_from([{}, ANSWERS]), UNITS)
@example([["2026-11-02"], ["2026-11-02"], ["-", "2026-11-02"]], None, {}, None)  # a name of nothing but signs
@settings(max_examples=400)
def test_no_row_is_lost(rows: list[list[Cell]], lifter: str | None, answers: dict[str, str], unit: Unit | None) -> None:
    opened = workbook(("Log", rows))
    reading = read_opened(opened, lifter, answers, unit)
    assert unaccounted(opened, reading) == []
    assert all(p.problem and p.remedy for p in reading.problems)
    assert all(p.why for p in reading.passed_over)
    assert all(q.key and q.asks for q in reading.questions)
    assert all(s.lifter and s.body.as_written for s in reading.sets)
    assert read_opened(opened, lifter, answers, unit) == reading


@given(SHEETS, SHEETS)
@settings(max_examples=100)
def test_no_row_is_lost_in_several_sheets(one: list[list[Cell]], other: list[list[Cell]]) -> None:
    opened = workbook(("Week 1", one), ("Bo", other))
    reading = read_opened(opened, "Ada", ANSWERS, "kg")
    assert unaccounted(opened, reading) == []


PIECES = [*map(str, CELLS), *map(str, HEADERS), ",", ",", ";", "\n", "\n", '"']


JOINED = st.lists(st.sampled_from(PIECES), max_size=40).map(lambda found: "".join(found).encode())


@given(st.binary(max_size=200) | JOINED)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_text_file_is_read_or_every_problem_has_a_remedy(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "log.csv"
    file.write_bytes(content)
    try:
        opened = open_file(file)
    except FileRefused:
        return
    reading = read_opened(opened, "Ada", ANSWERS, "kg")
    assert unaccounted(opened, reading) == []
    assert reading.sets or reading.problems or reading.questions or reading.body_masses or reading.passed_over


def test_at_most_two_hundred_problems_are_kept_and_the_rest_counted() -> None:
    rows: list[list[Cell]] = [["2026-11-02", "Squat", 100, "many"]] * 500
    problems = read_sheet(["Date", "Exercise", "kg", "Reps"], *rows).problems
    assert len(problems) == 200
    assert {p.row for p in problems[:-1]} == set(range(2, 201))
    assert "301" in problems[-1].problem


def test_progress_is_told_and_ends() -> None:
    rows: list[list[Cell]] = [["Date", "Exercise", "kg", "Reps"]]
    rows += [["2026-11-02", "Squat", 100, 5]] * 2500
    told: list[tuple[int, int]] = []
    read_grids(
        workbook(("Log", rows)),
        lifter="Ada",
        answers={},
        is_exercise=is_exercise,
        today=date(2026, 11, 25),
        progress=lambda done, total: told.append((done, total)),
    )
    assert told == [(1000, 2500), (2000, 2500), (2500, 2500)]


def test_an_empty_file_says_so() -> None:
    (problem,) = read_opened(Opened(file="x.csv", kind="csv", grids=(Grid(name="x", rows=()),))).problems
    assert "holds no sets" in problem.problem
