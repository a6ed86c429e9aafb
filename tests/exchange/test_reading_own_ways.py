"""Ways of writing that people make up for themselves: signs for technique, two bells, ticks beside a plan."""

from datetime import date
from pathlib import Path

import pytest
from tests.exchange.grids import TODAY, brief, counts, keys, read_sheet, read_text, workbook

from steelyard.catalogue import catalogue
from steelyard.catalogue.matching import looks_like_exercise
from steelyard.exchange.found import Reading
from steelyard.exchange.grid import Cell
from steelyard.exchange.reading import read_grids

NOV_2 = date(2026, 11, 2)

# Signs for technique


def signs(*cells: Cell) -> list[list[Cell]]:
    rows: list[list[Cell]] = [["Date", "Exercise", "kg", "Reps", "Technique"]]
    return rows + [[NOV_2, "Squat", 60, 5, cell] for cell in cells]


def test_signs_of_technique_are_asked_about_once() -> None:
    reading = read_sheet(*signs("A", "B", "A", "good", ""))
    assert (keys(reading), reading.problems) == (["signs:Technique"], ())
    assert reading.questions[0].examples == ("A", "B")
    answered = read_sheet(*signs("A", "B", "A", "good", ""), answers={"signs:Technique": "A=good, B=broke"})
    assert counts(answered) == ["5 x 60kg"] * 5
    assert [s.body.technique for s in answered.sets] == ["good", "broke", "good", "good", None]


def test_signs_that_say_nothing_of_technique_become_notes() -> None:
    reading = read_sheet(*signs("A", "B"), answers={"signs:Technique": "note"})
    assert counts(reading) == ["5 x 60kg"] * 2
    assert [(s.body.technique, s.body.note) for s in reading.sets] == [(None, "Technique A"), (None, "Technique B")]


@pytest.mark.parametrize("answer", ["A=good", "A=good,B=wonderful", "yes", "A=good,B=rough,C=broke"])
def test_an_answer_must_name_each_sign(answer: str) -> None:
    reading = read_sheet(*signs("A", "B"), answers={"signs:Technique": answer})
    assert keys(reading) == ["signs:Technique"]
    assert [p.value for p in reading.problems] == [answer]


def test_a_legend_above_the_table_answers() -> None:
    legend: list[Cell] = ["A = good, B = rough, C = broke down"]
    reading = read_sheet(legend, *signs("A", "B", "C"))
    assert counts(reading) == ["5 x 60kg"] * 3
    assert [s.body.technique for s in reading.sets] == ["good", "rough", "broke"]
    assert keys(read_sheet(legend, *signs("A", "D"))) == ["signs:Technique"]


def test_words_of_technique_are_no_signs() -> None:
    (problem,) = read_sheet(*signs("knees came in a bit")).problems
    assert problem.column == "Technique"


# Two of a kind


def bells(*loads: Cell) -> list[list[Cell]]:
    return [["Date", "Exercise", "kg", "Reps"], *([NOV_2, "Squat", load, 5] for load in loads)]


@pytest.mark.parametrize(("answer", "load"), [("each", "24"), ("together", "48")])
def test_two_in_a_column_of_loads_are_asked_about(answer: str, load: str) -> None:
    assert keys(read_sheet(*bells("2x24", 20))) == ["pieces:kg"]
    reading = read_sheet(*bells("2x24", "2 × 24 kg", 20), answers={"pieces:kg": answer})
    assert counts(reading) == [f"5 x {load}kg", f"5 x {load}kg", "5 x 20kg"]
    assert [s.body.note for s in reading.sets] == ["2x24", "2 x 24 kg", ""]


@pytest.mark.parametrize("load", ["3x24", "2x24x8", "2x", "x24"])
def test_no_other_product_is_a_load(load: str) -> None:
    (problem,) = read_sheet(*bells(load)).problems
    assert (problem.column, problem.value) == ("kg", load)


# Machines


def test_machines_are_the_exercises_where_nothing_else_is() -> None:
    rows: list[list[Cell]] = [["Date", "Machine", "kg", "Reps"], [NOV_2, "M4", 60, 8], [NOV_2, "M7", 40, 8]]
    assert [name for _, _, name, _ in brief(read_sheet(*rows))] == ["M4", "M7"]
    beside: list[list[Cell]] = [["Date", "Exercise", "Machine", "kg", "Reps"], [NOV_2, "Leg press", "M4", 60, 8]]
    assert [s.body.implement for s in read_sheet(*beside).sets] == ["M4"]


@pytest.mark.parametrize("at", [0, 1])
def test_machines_are_implements_below_an_exercise(at: int) -> None:
    rows: list[list[Cell]] = [["Date", "Machine", "kg", "Reps"], [NOV_2, "M4", 60, 8]]
    rows.insert(at, ["Leg press"])
    (found,) = read_sheet(*rows).sets
    assert (found.body.as_written, found.body.implement) == ("Leg press", "M4")


def test_pins_are_no_exercises_although_lifts_begin_so() -> None:
    rows: list[list[Cell]] = [
        ["Date", "Machine", "How far", "Reps"],
        [NOV_2, "M4", "pin 9", 8],
        [NOV_2, "M7", "p 7", 8],
    ]

    def read(answers: dict[str, str]) -> Reading:
        """With names that are only near to one of the catalogue, as the product has them."""
        return read_grids(
            workbook(("Log", rows)),
            lifter="Ada",
            answers=answers,
            is_exercise=lambda text: looks_like_exercise(text, catalogue()),
            today=TODAY,
        )

    assert keys(read({})) == ["column:How far"]
    reading = read({"column:How far": "load"})
    assert [name for _, _, name, _ in brief(reading)] == ["M4", "M7"]
    assert counts(reading) == ["8 x 9mark", "8 x 7mark"]


@pytest.mark.parametrize("name", ["M11 (broken) -> cable row", "Squat → Lunge"])
def test_an_exercise_in_the_place_of_another_must_be_named_alone(name: str) -> None:
    rows: list[list[Cell]] = [["Date", "Exercise", "kg", "Reps"], [NOV_2, name, 60, 8], [NOV_2, "Squat", 60, 8]]
    (problem,) = read_sheet(*rows).problems
    assert (problem.column, problem.value, problem.problem) == ("Exercise", name, "names two exercises")


def test_a_row_that_says_a_side_is_no_header() -> None:
    rows: list[list[Cell]] = [["Date", "Exercise", "Load", "Reps", "RIR", "Notes"], [NOV_2, "M7", "pin 5", "12", "1"]]
    rows += [["", "Squat", "pin 5", "12", "", "Plank"], ["", "Squat", "pin 5", "12", "", "Plank"]]
    assert counts(read_sheet(*rows)) == ["12 x 5mark"] * 3


def test_a_drop_set_has_as_many_loads_as_counts() -> None:
    rows: list[list[Cell]] = [["Date", "Exercise", "kg", "Reps"], [NOV_2, "Curl", "30 > 20", "8 > 10"]]
    assert counts(read_sheet(*rows)) == ["8 x 30kg", "10 x 20kg"]
    pins: list[list[Cell]] = [["Date", "Exercise", "Load", "Reps"], [NOV_2, "Curl", "pin 10 > 8 > 6", "9 > 7 > 8"]]
    assert counts(read_sheet(*pins)) == ["9 x 10mark", "7 x 8mark", "8 x 6mark"]
    rows[1][2] = "30 > 20 > 10"
    assert [p.column for p in read_sheet(*rows).problems] == ["kg"]


def test_p_is_short_for_pin_in_a_column_of_loads() -> None:
    rows: list[list[Cell]] = [["Date", "Exercise", "Load", "Reps"], [NOV_2, "Row", "p 7", 8], [NOV_2, "Row", "p7", 8]]
    assert counts(read_sheet(*rows)) == ["8 x 7mark"] * 2


# Plans beside what was done


def plans(*done: Cell) -> list[list[Cell]]:
    return [["Date", "Exercise", "Plan", "Done"], *([NOV_2, "Squat", "3x5 @60kg", cell] for cell in done)]


def test_a_tick_means_what_was_planned_if_that_is_answered() -> None:
    asked = read_sheet(*plans("✓", "2x5 @60kg"))
    assert (keys(asked), asked.problems) == (["done:Done"], ())
    reading = read_sheet(*plans("✓", "2x5 @60kg", "", "no", "no - migraine"), answers={"done:Done": "as-planned"})
    assert counts(reading) == ["5 x 60kg"] * 5
    left = read_sheet(*plans("✓", "2x5 @60kg"), answers={"done:Done": "ignore"})
    assert counts(left) == ["5 x 60kg"] * 2
    assert any("✓" in p.value for p in left.passed_over)


def test_a_tick_without_a_plan_is_a_problem() -> None:
    rows = plans("✓", "2x5 @60kg")
    rows[1][2] = ""
    assert [p.value for p in read_sheet(*rows, answers={"done:Done": "as-planned"}).problems] == ["✓"]


# Whether a lift was made


def test_a_column_that_says_whether_a_lift_was_made() -> None:
    rows: list[list[Cell]] = [["Date", "Exercise", "kg", "Reps", "made", "why"]]
    rows += [[NOV_2, "Snatch", 60, 1, cell, why] for cell, why in (("y", ""), ("x", "too heavy"), ("-", ""), ("", ""))]
    reading = read_sheet(*rows)
    assert counts(reading) == ["1 x 60kg", "0 x 60kg", "0 x 60kg", "1 x 60kg"]
    assert [s.body.missed for s in reading.sets] == [None, "strength", "not-done", None]


@pytest.mark.parametrize(
    ("name", "reps", "said"),
    [("Clean & jerk", "1+1", ["1 x 60kg"]), ("Squat", "2+1", ["3 x 60kg"]), ("Clean + jerk", "2+1", [])],
)
def test_a_sum_beside_two_lifts_is_no_cluster(name: str, reps: str, said: list[str]) -> None:
    rows: list[list[Cell]] = [["Date", "Exercise", "kg", "Reps"], [NOV_2, name, 60, reps]]
    reading = read_sheet(*rows)
    if said:
        assert counts(reading) == said
        assert bool(reading.sets[0].body.cluster) == (name == "Squat")
    else:
        assert [p.problem for p in reading.problems] == ["counts two lifts in one"]


@pytest.mark.parametrize(("cell", "reps"), [("x", 3), ("perhaps", 1)])
def test_a_miss_of_several_says_not_how_many(cell: str, reps: int) -> None:
    good: list[Cell] = [NOV_2, "Squat", 60, 1, "y"]
    header: list[Cell] = ["Date", "Exercise", "kg", "Reps", "made"]
    rows: list[list[Cell]] = [header, good, good, good, [NOV_2, "Squat", 60, reps, cell]]
    (problem,) = read_sheet(*rows).problems
    assert (problem.column, problem.value) == ("made", cell)


# Lines, weeks and goals


def test_a_line_between_header_and_rows_is_passed_over() -> None:
    rows: list[list[Cell]] = [
        ["Date", "Exercise", "Tempo", "kg", "Reps", "Rest"],
        ["------", "------", "-----", "---", "---", ":---:"],
        [NOV_2, "Squat", "31X0", 60, 5, "0"],
    ]
    reading = read_sheet(*rows)
    assert counts(reading) == ["5 x 60kg"]
    assert reading.sets[0].body.rest_interval_s == 0
    assert [p.why for p in reading.passed_over] == ["this row is the header", "this row is a line"]


def test_a_week_with_words_hides_no_date() -> None:
    rows: list[list[Cell]] = [["Week", "Date", "Exercise", "kg", "Reps"]]
    rows += [[1, NOV_2, "Squat", 60, 5], ["2 DELOAD", date(2026, 11, 9), "Squat", 40, 5]]
    assert [day for _, day, _, _ in brief(read_sheet(*rows))] == ["2026-11-02", "2026-11-09"]


def test_a_goal_above_the_table_is_no_set() -> None:
    rows: list[list[Cell]] = [["Goal 2026", "Squat 120 x 5"], ["Date", "Exercise", "kg", "Reps"]]
    assert counts(read_sheet(*rows, [NOV_2, "Squat", 60, 5])) == ["5 x 60kg"]
    (problem,) = read_sheet(["so far", "Squat 120 x 5"], *rows[1:], [NOV_2, "Squat", 60, 5]).problems
    assert problem.value == "Squat 120 x 5"


# Lists without commas, and loads before a dash


def cells(*texts: Cell) -> list[list[Cell]]:
    return [["Date", "Exercise", "Work"], *([NOV_2, "Squat", text] for text in texts)]


@pytest.mark.parametrize(("answer", "said"), [("reps", ["12", "12", "10"]), ("load-first", ["12 x 12kg", "10 x 12kg"])])
def test_small_numbers_with_spaces_between_are_asked_about(answer: str, said: list[str]) -> None:
    assert keys(read_sheet(*cells("12 12 10"))) == ["spaced:Work"]
    assert counts(read_sheet(*cells("12 12 10"), answers={"spaced:Work": answer}, unit="kg")) == said


def test_a_number_too_large_for_repetitions_is_still_the_load() -> None:
    assert counts(read_sheet(*cells("60 8 8 7"), unit="kg")) == ["8 x 60kg", "8 x 60kg", "7 x 60kg"]


def test_a_load_before_a_dash() -> None:
    said = cells("80 - 5    90 - 5   102,5 - 5.5.4")
    assert keys(read_sheet(*said, unit="kg")) == ["dash:Work"]
    reading = read_sheet(*said, answers={"dash:Work": "load-first"}, unit="kg")
    assert counts(reading) == ["5 x 80kg", "5 x 90kg", "5 x 102.5kg", "5 x 102.5kg", "4 x 102.5kg"]
    left = read_sheet(*said, answers={"dash:Work": "leave-out"}, unit="kg")
    assert (left.sets, left.questions) == ((), ())
    assert any("dash" in p.why for p in left.passed_over)


@pytest.mark.parametrize("text", ["8 - 10", "80 - 90", "80 - 85kg"])
def test_a_range_is_no_load_before_a_dash(text: str) -> None:
    assert "dash:Work" not in keys(read_sheet(*cells(text, "3x5 @60kg")))


@pytest.mark.parametrize(
    ("answer", "said"),
    [("each", ["8 x 8kg"] * 3), ("together", ["8 x 16kg"] * 3)],
)
def test_two_of_a_kind_before_the_sets_are_asked_about(answer: str, said: list[str]) -> None:
    assert keys(read_sheet(*cells("2x8kg 3x8"))) == ["two:Work"]
    reading = read_sheet(*cells("2x8kg 3x8"), answers={"two:Work": answer})
    assert counts(reading) == said
    assert reading.sets[-1].body.note == "2x8kg"


def test_two_loads_each_with_their_sets() -> None:
    reading = read_sheet(*cells("130 kg 1x5, 120 kg 2x8"))
    assert counts(reading) == ["5 x 130kg", "8 x 120kg", "8 x 120kg"]


# Words in place of numbers


def test_a_range_of_effort_and_a_tempo_in_words_are_notes() -> None:
    rows: list[list[Cell]] = [
        ["Date", "Exercise", "kg", "Reps", "RPE", "Tempo"],
        [NOV_2, "Squat", 60, 5, "7.5-8", "slow"],
    ]
    reading = read_sheet(*rows)
    assert counts(reading) == ["5 x 60kg"]
    body = reading.sets[0].body
    assert (body.effort, body.tempo, body.note) == (None, None, "RPE: 7.5-8, tempo slow")


@pytest.mark.parametrize("load", ["leere Stange (20)", "empty bar (20 kg)", "just the bar 20kg", "bar (20kg)"])
def test_an_empty_bar_with_its_mass(load: str) -> None:
    reading = read_sheet(["Date", "Exercise", "Load kg", "Reps"], [NOV_2, "Squat", load, 5])
    assert counts(reading) == ["5 x 20kg"]


@pytest.mark.parametrize("load", ["empty bar", "bar + 20", "bar 20", "Stange 20kg", "leere Stange (10) + 20"])
def test_a_bar_of_which_nobody_says_the_mass_is_no_load(load: str) -> None:
    (problem,) = read_sheet(["Date", "Exercise", "Load kg", "Reps"], [NOV_2, "Squat", load, 5]).problems
    assert problem.column == "Load kg"


def test_a_numbered_plate_of_a_stack_is_a_mark() -> None:
    rows: list[list[Cell]] = [["Date", "Exercise", "Load", "Reps"], [NOV_2, "Leg extension", "plate 9", 15]]
    assert counts(read_sheet(*rows)) == ["15 x 9mark"]


@pytest.mark.parametrize("name", ["Gewicht", "Weight", "Mass", "Masse"])
def test_a_row_that_is_called_weight_is_of_the_lifter(name: str) -> None:
    reading = read_sheet(["Date", "Exercise", "kg", "Reps"], [NOV_2, "Squat", 60, 5], [NOV_2, name, 61.5, ""])
    assert counts(reading) == ["5 x 60kg"]
    assert [str(m.body_mass.value) for m in reading.body_masses] == ["61.5"]


# Lines that are no sets


def line(tmp_path: Path, text: str, answers: dict[str, str] | None = None) -> Reading:
    """One line between two plain ones."""
    content = f"2.11.2026\nSquat 3x8 60kg\n{text}\nBench press 3x8 40kg\n"
    return read_text(tmp_path, content, answers=answers, name="log.txt")


def test_a_lone_weight_between_lines_is_asked_about(tmp_path: Path) -> None:
    assert keys(line(tmp_path, "Gewicht 91,2 (after lunch)")) == ["weight:Gewicht"]
    reading = line(tmp_path, "Gewicht 91,2kg", {"weight:Gewicht": "body-mass"})
    assert (len(reading.sets), [str(m.body_mass.value) for m in reading.body_masses]) == (6, ["91.2"])
    left = line(tmp_path, "weight 91kg", {"weight:weight": "ignore"})
    assert (len(left.sets), left.body_masses, left.problems, left.questions) == (6, (), (), ())


def test_a_warm_up_by_the_clock_is_no_set(tmp_path: Path) -> None:
    reading = line(tmp_path, "warmup row 5min")
    assert len(counts(reading)) == 6
    assert any(p.value == "warmup row 5min" for p in reading.passed_over)
    assert len(counts(line(tmp_path, "warm-up squat 2x5 40kg"))) == 8


@pytest.mark.parametrize("text", ["Curl 2x12 25", "Press ditto [it was 40kg 3x8 again]", "Press (as ever 3x8 40kg"])
def test_a_line_that_is_not_clear_is_a_problem(tmp_path: Path, text: str) -> None:
    reading = line(tmp_path, text)
    assert [p.row for p in reading.problems] == [3]
    assert len(reading.sets) == 6
