"""Shapes of files: an exercise a row, a column a set, days or exercises across, blocks, sheets, free lines."""

from datetime import date, datetime, time
from pathlib import Path

import pytest
from tests.exchange.grids import bodies, brief, counts, keys, read_opened, read_sheet, read_text, workbook

from steelyard.engine.quantities import kg
from steelyard.exchange.grid import Cell

NOV_2, NOV_4, NOV_9 = date(2026, 11, 2), date(2026, 11, 4), date(2026, 11, 9)
EVENING = datetime.fromisoformat("2026-11-02T18:30")
NOTHING: list[Cell] = []


def test_sets_repetitions_and_load_in_columns(tmp_path: Path) -> None:
    content = "Datum;Übung;Sätze;Wdh;kg\n02.11.2026;Kniebeuge;3;8;82,5\n;Bankdrücken;3;8,8,7;60\n14.11.2026;Dips;2;8;\n"
    assert brief(read_text(tmp_path, content)) == [
        *[("Ada", "2026-11-02", "Kniebeuge", "8 x 82.5kg")] * 3,
        *[("Ada", "2026-11-02", "Bankdrücken", f"{reps} x 60kg") for reps in (8, 8, 7)],
        *[("Ada", "2026-11-14", "Dips", "8")] * 2,
    ]


def test_a_cell_of_sets_beside_each_exercise(tmp_path: Path) -> None:
    content = 'Date,Exercise,Sets\n2026-11-02,Squat,3x8@60kg\n,Bench press,"60kg 8,8,7"\n'
    reading = read_text(tmp_path, content)
    assert counts(reading) == ["8 x 60kg"] * 5 + ["7 x 60kg"]
    assert {s.place.column for s in reading.sets} == {"Sets"}


def test_one_load_for_each_set_of_a_row() -> None:
    header: list[Cell] = ["Date", "Exercise", "Reps", "kg"]
    reading = read_sheet(header, [NOV_2, "Squat", "5,5,5", "60/62,5/65"])
    assert counts(reading) == ["5 x 60kg", "5 x 62.5kg", "5 x 65kg"]
    (problem,) = read_sheet(header, [NOV_2, "Squat", "5,5,5", "60/65"]).problems
    assert (problem.column, problem.value) == ("kg", "60/65")


def test_a_number_of_sets_must_fit_the_counts() -> None:
    reading = read_sheet(["Date", "Exercise", "Sets", "Reps", "kg"], [NOV_2, "Squat", 3, "8,8", 60])
    assert [(p.column, p.value) for p in reading.problems] == [("Sets", "3")]


def test_a_column_a_set() -> None:
    reading = read_sheet(
        ["Date", "Exercise", "Set 1", "Set 2", "Set 3", "Notes"],
        [NOV_2, "Squat", "60x8", "60x8", "60x7", "ok"],
        ["", "Bench press", "40x8", "40x7", "-", ""],
        unit="kg",
    )
    assert counts(reading) == ["8 x 60kg", "8 x 60kg", "7 x 60kg", "8 x 40kg", "7 x 40kg"]
    assert [s.body.note for s in reading.sets] == ["", "", "ok", "", ""]
    assert [s.place.column for s in reading.sets[:3]] == ["Set 1", "Set 2", "Set 3"]


def test_a_column_a_set_with_the_load_in_one() -> None:
    reading = read_sheet(["Date", "Exercise", "kg", "1", "2", "3"], [NOV_2, "Squat", 60, 8, 8, "x"])
    assert counts(reading) == ["8 x 60kg", "8 x 60kg", "0 x 60kg"]


PAIRS = [
    [["Date", "Exercise", "kg 1", "reps 1", "kg 2", "reps 2"]],
    [["Date", "Exercise", "kg", "reps", "kg", "reps"]],
    [["Date", "Exercise", "Set 1 kg", "Set 1 reps", "Set 2 kg", "Set 2 reps"]],
    [["", "", "Set 1", "", "Set 2", ""], ["Date", "Exercise", "kg", "reps", "kg", "reps"]],
    [["", "", "Satz 1", "", "Satz 2", ""], ["Datum", "Übung", "kg", "Wdh.", "kg", "Wdh."]],
]


@pytest.mark.parametrize("header", PAIRS)
def test_pairs_of_load_and_repetitions(header: list[list[Cell]]) -> None:
    reading = read_sheet(*header, [NOV_2, "Squat", 60, 8, 62.5, 7], ["", "Bench press", 40, 8, "", ""])
    assert brief(reading) == [
        ("Ada", "2026-11-02", "Squat", "8 x 60kg"),
        ("Ada", "2026-11-02", "Squat", "7 x 62.5kg"),
        ("Ada", "2026-11-02", "Bench press", "8 x 40kg"),
    ]


@pytest.mark.parametrize("corner", ["Exercise", "Übung", ""])
def test_days_across_and_exercises_down(corner: str) -> None:
    reading = read_sheet(
        [corner, NOV_2, NOV_9],
        ["Squat", "3x8@100kg", "3x8@102,5kg"],
        ["Bench press", "", "8,8,7 @ 60kg"],
        ["Notes", "slept badly", ""],
    )
    assert brief(reading) == [
        *[("Ada", "2026-11-02", "Squat", "8 x 100kg")] * 3,
        *[("Ada", "2026-11-09", "Squat", "8 x 102.5kg")] * 3,
        *[("Ada", "2026-11-09", "Bench press", f"{reps} x 60kg") for reps in (8, 8, 7)],
    ]
    assert "Notes | slept badly" in {p.value for p in reading.passed_over}


def test_days_across_with_columns_below_each() -> None:
    reading = read_sheet(
        ["", NOV_2, "", "", NOV_9, "", ""],
        ["Exercise", "Sets", "Reps", "kg", "Sets", "Reps", "kg"],
        ["Squat", 2, 8, 60, 2, 8, 62.5],
        ["Bench press", "", "", "", 1, 5, 40],
    )
    assert brief(reading) == [
        *[("Ada", "2026-11-02", "Squat", "8 x 60kg")] * 2,
        *[("Ada", "2026-11-09", "Squat", "8 x 62.5kg")] * 2,
        ("Ada", "2026-11-09", "Bench press", "5 x 40kg"),
    ]


def test_days_down_and_exercises_across() -> None:
    reading = read_sheet(
        ["Date", "Squat", "Bench press", "Comment"],
        [NOV_2, "3x8@100kg", "40kg x 8", "fine"],
        [NOV_4, "", "41kg x 8", ""],
    )
    assert brief(reading) == [
        *[("Ada", "2026-11-02", "Squat", "8 x 100kg")] * 3,
        ("Ada", "2026-11-02", "Bench press", "8 x 40kg"),
        ("Ada", "2026-11-04", "Bench press", "8 x 41kg"),
    ]
    assert [s.body.note for s in reading.sets] == ["", "", "", "fine", ""]


def test_warm_up_sets_in_a_column_of_their_own() -> None:
    rows: list[list[Cell]] = [
        ["date", "exercise", "warm-up", "work"],
        [NOV_2, "Squat", "40kg x 5, 60kg x 3", "2x5 @ 100kg"],
    ]
    kinds = [(b.kind, b.reps) for b in bodies(read_sheet(*rows))]
    assert kinds == [("warm-up", 5), ("warm-up", 3), (None, 5), (None, 5)]


def test_rows_that_number_their_sets_and_rows_that_count_them() -> None:
    header: list[Cell] = ["date", "exercise", "set", "kg", "reps"]
    numbered = read_sheet(header, *[[NOV_2, "Squat", n, 100, 5] for n in (1, 2, 3)], [NOV_2, "Bench press", 1, 60, 5])
    counted = read_sheet(header, [NOV_2, "Squat", 3, 100, 5], [NOV_2, "Bench press", 3, 60, 5])
    assert (len(bodies(numbered)), len(bodies(counted))) == (4, 6)


def test_the_header_below_titles_and_a_block_below_another() -> None:
    reading = read_sheet(
        ["Training log 2026"],
        ["all weights in lb"],
        NOTHING,
        ["Date", "Exercise", "Load", "Reps"],
        [NOV_2, "Squat", 225, 5],
        NOTHING,
        ["Reps", "Load", "Exercise", "Date"],
        [5, 100, "Bench press", NOV_4],
    )
    assert [line[2:] for line in brief(reading)] == [("Squat", "5 x 225lb"), ("Bench press", "5 x 100lb")]


def test_totals_comments_and_repeated_headers_are_no_sets() -> None:
    header: list[Cell] = ["Date", "Exercise", "kg", "Reps"]
    reading = read_sheet(
        header,
        [NOV_2, "Squat", 100, 5],
        ["# a comment", "", "", ""],
        ["Total", "", 500, 5],
        header,
        [NOV_4, "Squat", 105, 5],
        ["Durchschnitt", "", 102.5, 5],
    )
    assert counts(reading) == ["5 x 100kg", "5 x 105kg"]
    assert {p.place.row for p in reading.passed_over} == {1, 3, 4, 5, 7}
    assert all(p.why for p in reading.passed_over)


def test_an_exercise_above_its_sets() -> None:
    reading = read_sheet(
        ["Date", "Set", "kg", "Reps"],
        ["Squat", "", "", ""],
        [NOV_2, 1, 60, 8],
        [NOV_2, 2, 60, 8],
        ["Bench press", "", "", ""],
        [NOV_2, 1, 40, 8],
    )
    assert [line[2:] for line in brief(reading)] == [("Squat", "8 x 60kg")] * 2 + [("Bench press", "8 x 40kg")]


def test_empty_cells_mean_the_ones_above_where_that_is_the_habit() -> None:
    reading = read_sheet(
        ["Name", "Date", "Exercise", "kg", "Reps"],
        ["Bo", NOV_2, "Squat", 60, 8],
        ["", "", "", 62.5, 8],
        ["", "", "Bench press", 40, 8],
        ["Cy", NOV_4, "Squat", 50, 8],
        ["", "", "", 52.5, 8],
    )
    assert [line[:3] for line in brief(reading)] == [
        ("Bo", "2026-11-02", "Squat"),
        ("Bo", "2026-11-02", "Squat"),
        ("Bo", "2026-11-02", "Bench press"),
        ("Cy", "2026-11-04", "Squat"),
        ("Cy", "2026-11-04", "Squat"),
    ]
    how = {c.role: c.how for c in reading.columns}
    assert all("an empty cell means the one above" in how[role] for role in ("lifter", "date", "exercise"))


def test_one_forgotten_cell_in_a_full_column_is_a_problem() -> None:
    reading = read_sheet(
        ["Date", "Exercise", "kg", "Reps"],
        [NOV_2, "Squat", 60, 8],
        [NOV_2, "Squat", 60, 8],
        [NOV_2, "", 60, 8],
        [NOV_2, "Bench press", 40, 8],
        [NOV_2, "Bench press", 40, 8],
    )
    assert [(p.row, p.column) for p in reading.problems] == [(4, "Exercise")]


def test_body_mass_in_a_column_and_in_a_row() -> None:
    columns = read_sheet(
        ["Date", "Body mass (kg)", "Exercise", "kg", "Reps"],
        [NOV_2, 81.5, "Squat", 100, 5],
        [NOV_2, 81.5, "Squat", 100, 5],
        [NOV_4, 82, "", "", ""],
    )
    rows = read_sheet(
        ["Datum", "Übung", "kg", "Wdh"], [NOV_2, "Kniebeuge", 100, 5], [NOV_4, "Körpergewicht", "81,5", ""]
    )
    assert [(m.on, m.body_mass) for m in columns.body_masses] == [(NOV_2, kg("81.5")), (NOV_4, kg(82))]
    assert [(m.lifter, m.on, m.body_mass) for m in rows.body_masses] == [("Ada", NOV_4, kg("81.5"))]
    assert (len(bodies(columns)), len(bodies(rows))) == (2, 1)
    (problem,) = (
        read_sheet(["Date", "Body mass (kg)"], [NOV_2, 815]).problems
        or read_sheet(["Date", "Exercise", "kg", "Reps"], [NOV_2, "body mass", 815, ""]).problems
    )
    assert "body mass" in problem.problem


def test_true_days_and_times_of_a_workbook() -> None:
    reading = read_sheet(
        ["Date", "Exercise", "seconds", "kg", "Reps"],
        [EVENING, "Plank", time(0, 0, 45), "", ""],
        [EVENING, "Plank", time(0, 50), "", ""],
        [46328, "Squat", "", 100.0, 5.0],
    )
    assert brief(reading) == [
        ("Ada", "2026-11-02", "Plank", "45s"),
        ("Ada", "2026-11-02", "Plank", "50s"),
        ("Ada", "2026-11-02", "Squat", "5 x 100kg"),
    ]


def test_a_day_where_repetitions_should_stand_was_made_by_the_spreadsheet() -> None:
    (problem,) = read_sheet(["Date", "Exercise", "kg", "Reps"], [NOV_2, "Squat", 60, date(2026, 10, 8)]).problems
    assert (problem.row, problem.column, problem.value) == (2, "Reps", "2026-10-08")
    assert "8-10" in problem.problem


def test_a_remark_beside_the_table_is_passed_over_and_a_number_there_is_a_problem() -> None:
    header: list[Cell] = ["Date", "Exercise", "kg", "Reps"]
    remark = read_sheet(header, [NOV_2, "Squat", 60, 8], [NOV_4, "Squat", 60, 8, "good day"])
    assert counts(remark) == ["8 x 60kg"] * 2
    assert "good day" in {p.value for p in remark.passed_over}
    number = read_sheet(header, [NOV_2, "Squat", 60, 8], [NOV_4, "Squat", 60, 8, 7])
    assert [(p.row, p.column, p.value) for p in number.problems] == [(3, "E", "7")]


@pytest.mark.parametrize("separator", [",", ";"])
def test_free_lines(tmp_path: Path, separator: str) -> None:
    content = f"""# my log
Mon 2.11.2026
Bench press 3x8 60kg
Squat: 60 kg 8/8/7
Pull-up BW+10 x 6
- plank 3x30s

5.11. push day
Squat
60x8{separator} knee twinge
62.5x8
Bodyweight 81.5kg
felt great
"""
    reading = read_text(tmp_path, content, unit="kg", name="log.txt")
    assert brief(reading) == [
        *[("Ada", "2026-11-02", "Bench press", "8 x 60kg")] * 3,
        *[("Ada", "2026-11-02", "Squat", f"{reps} x 60kg") for reps in (8, 8, 7)],
        ("Ada", "2026-11-02", "Pull-up", "6 x 10kg"),
        *[("Ada", "2026-11-02", "plank", "30s")] * 3,
        ("Ada", "2026-11-05", "Squat", "8 x 60kg"),
        ("Ada", "2026-11-05", "Squat", "8 x 62.5kg"),
    ]
    assert [(m.on, m.body_mass) for m in reading.body_masses] == [(date(2026, 11, 5), kg("81.5"))]
    assert {"# my log", "push day", "felt great"} <= {p.value for p in reading.passed_over}
    assert [s.body.pain is not None for s in reading.sets].count(True) == 1


def test_a_line_that_is_not_understood_is_a_problem(tmp_path: Path) -> None:
    reading = read_text(tmp_path, "2026-11-02\nSquat 3x8 60kg\nSquat 60kg and 50\n", name="log.txt")
    assert [(p.row, p.value) for p in reading.problems] == [(3, "60kg and 50")]


def test_a_sheet_a_week_with_day_blocks() -> None:
    def week(*loads: int) -> list[list[Cell]]:
        header: list[Cell] = ["Exercise", "Sets", "Reps", "kg"]
        return [
            ["Monday"], header, ["Squat", 1, 8, loads[0]], NOTHING,
            ["Thursday"], header, ["Bench press", 1, 8, loads[1]],
        ]  # fmt: skip

    sheets = workbook(("Week 1", week(60, 40)), ("Week 2", week(62, 41)))
    assert keys(read_opened(sheets)) == ["start-of-weeks"]
    reading = read_opened(sheets, answers={"start-of-weeks": "2026-01-05"})
    assert [line[1:] for line in brief(reading)] == [
        ("2026-01-05", "Squat", "8 x 60kg"),
        ("2026-01-08", "Bench press", "8 x 40kg"),
        ("2026-01-12", "Squat", "8 x 62kg"),
        ("2026-01-15", "Bench press", "8 x 41kg"),
    ]
    wrong = read_opened(sheets, answers={"start-of-weeks": "2026-02-30"})
    assert (keys(wrong), wrong.problems[0].value) == (["start-of-weeks"], "2026-02-30")


WEEK: list[list[Cell]] = [
    ["Tag", "Übung", "kg", "Wdh"],
    ["Mo", "Kniebeuge", 60, 8],
    ["", "Dips", "", 8],
    ["Do", "Rudern", 40, 8],
]


def test_calendar_weeks_and_a_column_of_days() -> None:
    sheets = workbook(("KW 12", WEEK), ("KW 13", WEEK))
    assert keys(read_opened(sheets)) == ["year-of-weeks"]
    reading = read_opened(sheets, answers={"year-of-weeks": "2026"})
    days = ["2026-03-16", "2026-03-16", "2026-03-19", "2026-03-23", "2026-03-23", "2026-03-26"]
    assert [line[1] for line in brief(reading)] == days
    named = workbook(("KW 12 2026", WEEK))
    assert [line[1] for line in brief(read_opened(named))] == days[:3]


def test_a_date_in_a_title_starts_the_weeks() -> None:
    sheets = workbook(("Week 1", [["Week 1 (from 5.1.2026)"], *WEEK]), ("Week 2", WEEK))
    assert [line[1] for line in brief(read_opened(sheets))] == [
        "2026-01-05", "2026-01-05", "2026-01-08", "2026-01-12", "2026-01-12", "2026-01-15",
    ]  # fmt: skip


def test_numbered_days_are_asked_for_their_weekdays() -> None:
    rows: list[list[Cell]] = [
        ["Week", "Day", "Exercise", "kg", "Reps"],
        [1, 1, "Squat", 60, 8],
        [1, 2, "Squat", 60, 8],
        [2, 1, "Squat", 61, 8],
    ]
    assert keys(read_sheet(*rows)) == ["start-of-weeks", "days-of-week"]
    answers = {"start-of-weeks": "2026-01-05", "days-of-week": "mon,thu"}
    assert [line[1] for line in brief(read_sheet(*rows, answers=answers))] == ["2026-01-05", "2026-01-08", "2026-01-12"]


def test_rows_of_two_cells_above_another_header_are_sets_and_no_title() -> None:
    header: list[Cell] = ["Exercise", "Work"]
    reading = read_sheet(
        ["Mon 2.11.2026"], header, ["Squat", "100kg 5,5"], ["Pull-up", "BW 8,8"], ["Wed 4.11.2026"], header,
        ["Squat", "105kg 5"],
    )  # fmt: skip
    assert [line[1:] for line in brief(reading)] == [
        ("2026-11-02", "Squat", "5 x 100kg"),
        ("2026-11-02", "Squat", "5 x 100kg"),
        ("2026-11-02", "Pull-up", "8"),
        ("2026-11-02", "Pull-up", "8"),
        ("2026-11-04", "Squat", "5 x 105kg"),
    ]


def test_a_set_without_a_load_beside_others_with_one_is_a_problem() -> None:
    header: list[Cell] = ["Date", "Exercise", "kg 1", "reps 1", "kg 2", "reps 2"]
    reading = read_sheet(header, [NOV_2, "Squat", 100, 5, "", 5])
    assert [(p.row, p.column, p.value) for p in reading.problems] == [(2, "reps 2", "5")]
    assert counts(read_sheet(header, [NOV_2, "Pull-up", "", 8, "", 7])) == ["8", "7"]


def test_headings_over_groups_reach_no_further_than_their_group() -> None:
    reading = read_sheet(
        ["", "", "S1", "", "S2", ""],
        ["Date", "Exercise", "kg", "reps", "kg", "reps", "RPE", "Notes"],
        [NOV_2, "Squat", 100, 5, 100, 5, 8, "fine"],
        [NOV_4, "Squat", 100, 5, "", "", 9, "tired"],
    )
    assert [(b.effort is not None, b.note) for b in bodies(reading)] == [(False, ""), (True, "fine"), (True, "tired")]


def test_unknown_words_over_numbered_columns_are_one_question() -> None:
    rows: list[list[Cell]] = [
        ["Date", "Exercise", "Brick 1", "reps 1", "Brick 2", "reps 2"],
        [NOV_2, "Squat", 60, 8, 62, 7],
    ]
    assert keys(read_sheet(*rows)) == ["column:Brick"]
    assert keys(read_sheet(*rows, answers={"column:Brick": "load"})) == ["unit:Brick"]
    answers = {"column:Brick": "load", "unit:Brick": "lb"}
    assert counts(read_sheet(*rows, answers=answers)) == ["8 x 60lb", "7 x 62lb"]


def test_a_second_column_answered_as_the_first_is_a_problem() -> None:
    rows: list[list[Cell]] = [["Date", "Exercise", "kg", "reps", "reps"], [NOV_2, "Squat", 60, 8, 7]]
    (problem,) = read_sheet(*rows, answers={"column:reps (2)": "reps"}).problems
    assert (problem.row, problem.column) == (1, "reps")


def test_exercises_across_that_nobody_knows() -> None:
    reading = read_sheet(["Date", "Moon twist", "Harbour hoist"], [NOV_2, "3x8@20kg", ""], [NOV_4, "", "60kg x 5"])
    assert [line[1:] for line in brief(reading)] == [
        *[("2026-11-02", "Moon twist", "8 x 20kg")] * 3,
        ("2026-11-04", "Harbour hoist", "5 x 60kg"),
    ]


def test_a_remark_that_begins_with_a_number_is_no_set(tmp_path: Path) -> None:
    reading = read_text(tmp_path, "2026-11-02\nSquat 3x8 60kg\n3 h sleep\n", name="log.txt")
    assert counts(reading) == ["8 x 60kg"] * 3
    assert "3 h sleep" in {p.value for p in reading.passed_over}


def test_a_row_whose_remark_is_an_exercise_too_is_no_header() -> None:
    reading = read_sheet(
        ["Date", "Exercise", "Result", "Technique"],
        [NOV_2, "Squat", "3x8 @ 60kg", ""],
        ["", "Inverted row", "1 set of 5 @ BW, 3 sets of 4 @ BW", "clean"],
    )
    assert counts(reading) == ["8 x 60kg"] * 3 + ["5"] + ["4"] * 3
