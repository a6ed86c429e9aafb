"""A set a row: what is read, and every problem with its row, column, value and what to try."""

from decimal import Decimal
from pathlib import Path

import pytest
from tests.builders import a_set
from tests.exchange.grids import bodies, keys, read_text

from steelyard.engine.effort import Effort
from steelyard.engine.log import Pain
from steelyard.engine.quantities import kg, lb
from steelyard.exchange.found import Reading

GOOD = "date,exercise,kg,reps\n2026-11-02,Squat,100,5\n"
HEADER = "date,exercise,kg,reps,lifter,RIR,note,pain,technique"


def row(folder: Path, line: str, header: str = HEADER) -> Reading:
    """What a file with one row holds."""
    return read_text(folder, f"{header}\n{line}\n")


def test_a_row_with_everything(tmp_path: Path) -> None:
    reading = row(tmp_path, "2026-11-02,Bench press,62.5,8,Bo,2,felt good,left elbow 1,rough")
    wanted = a_set(
        "2026-11-02",
        "",
        "62.5",
        8,
        rir=2,
        note="felt good",
        pain=Pain(1, "left elbow"),
        technique="rough",
        as_written="Bench press",
    )
    assert [(s.lifter, s.body) for s in reading.sets] == [("Bo", wanted)]
    assert (reading.rows_read, reading.problems, reading.questions) == (1, (), ())
    assert [(s.place.sheet, s.place.row, s.place.column) for s in reading.sets] == [("", 2, "reps")]


def test_optional_columns_may_be_missing_or_empty(tmp_path: Path) -> None:
    plain = read_text(tmp_path, GOOD)
    empty = row(tmp_path, "2026-11-02,Squat,100,5,,,,,")
    assert plain.sets == empty.sets
    assert [s.lifter for s in plain.sets] == ["Ada"]
    assert bodies(plain) == [a_set("2026-11-02", "", 100, 5, as_written="Squat")]


def test_columns_come_in_any_order_and_case(tmp_path: Path) -> None:
    reading = read_text(tmp_path, "Reps, KG ,rir,DATE,Exercise\n5,100,1.5,2026-11-02,squat\n")
    assert bodies(reading) == [a_set("2026-11-02", "", 100, 5, effort=Effort(Decimal("1.5")), as_written="squat")]


def test_three_equal_rows_are_three_sets(tmp_path: Path) -> None:
    reading = read_text(tmp_path, GOOD + "2026-11-02,Squat,100,5\n" * 2)
    assert reading.rows_read == 3
    assert bodies(reading) == [a_set("2026-11-02", "", 100, 5, as_written="Squat")] * 3


def test_pounds_stay_pounds(tmp_path: Path) -> None:
    reading = read_text(tmp_path, "date,exercise,lb,reps\n2026-11-02,Squat,225,5\n")
    assert bodies(reading)[0].load == lb(225)


def test_byte_order_mark_windows_line_ends_blank_lines_and_quoted_commas(tmp_path: Path) -> None:
    content = (
        '\ufeffdate,exercise,kg,reps,note\r\n\r\n2026-11-02,Squat,100,5,"deep, slow\r\nand ""calm"""\r\n , ,,,\r\n\r\n'
    )
    reading = read_text(tmp_path, content)
    assert reading.rows_read == 1
    assert bodies(reading)[0].note == 'deep, slow\nand "calm"'


def test_a_miss_is_nought_repetitions(tmp_path: Path) -> None:
    (body,) = bodies(read_text(tmp_path, GOOD.replace(",5\n", ",0\n")))
    assert (body.reps, body.missed) == (0, "unsaid")


def test_where_no_load_stands_there_is_none_and_a_negative_one_stays(tmp_path: Path) -> None:
    lines = "2026-11-02,pull-up,,8\n2026-11-02,pull-up,10,6\n2026-11-02,pull-up,-15,9\n2026-11-02,plank,,45\n"
    reading = read_text(tmp_path, "date,exercise,kg,reps\n" + lines)
    assert [body.load for body in bodies(reading)] == [None, kg(10), kg(-15), None]


@pytest.mark.parametrize("text", ["=1+1", "+49", "-20 %", "@home", "-", "=HYPERLINK()"])
def test_an_apostrophe_before_what_a_spreadsheet_would_run_is_taken_off(tmp_path: Path, text: str) -> None:
    assert bodies(row(tmp_path, f'2026-11-02,Squat,100,5,,,"\'{text}",,'))[0].note == text
    assert bodies(row(tmp_path, f'2026-11-02,Squat,100,5,,,"{text}",,'))[0].note == text


PROBLEMS = [
    ("2026-13-02,Squat,100,5,,,,,", "date", "2026-13-02", "not a date", "2026-03-28"),
    (",Squat,100,5,,,,,", "date", "", "not a date", "2026-03-28"),
    ("1926-11-02,Squat,100,5,,,,,", "date", "1926-11-02", "no date of training", "year"),
    ("2026-11-02,,100,5,,,,,", "exercise", "", "no exercise is named", "such as squat"),
    ("2026-11-02,Squat,heavy,5,,,,,", "kg", "heavy", "not a load", "62.5"),
    ("2026-11-02,Squat,nan,5,,,,,", "kg", "nan", "not a load", "62.5"),
    ("2026-11-02,Squat,1e3,5,,,,,", "kg", "1e3", "not a load", "62.5"),
    ("2026-11-02,Squat,6250,5,,,,,", "kg", "6250", "more than 2000", "check"),
    ("2026-11-02,Squat,75%,5,,,,,", "kg", "75%", "share of a maximum", "was lifted"),
    ("2026-11-02,Squat,3x24,5,,,,,", "kg", "3x24", "not a load", "as one set has it"),
    ("2026-11-02,Squat,100,5.5,,,,,", "reps", "5.5", "whole number of repetitions", "0 for a missed lift"),
    ("2026-11-02,Squat,100,,,,,,", "reps", "", "whole number of repetitions", "0 for a missed lift"),
    ("2026-11-02,Squat,100,-1,,,,,", "reps", "-1", "nothing of repetitions", "3x8"),
    ("2026-11-02,Squat,100,501,,,,,", "reps", "501", "more than 500", "3x8"),
    ("2026-11-02,Squat,100,5,,12,,,", "RIR", "12", "between 0 and 10", "0 to 10"),
    ("2026-11-02,Squat,100,5,,,,knee 30,", "pain", "knee 30", "one number from 0 to 10", "left knee 3"),
    ("2026-11-02,Squat,100,5,,,,2 or 3,", "pain", "2 or 3", "one number from 0 to 10", "left knee 3"),
    ("2026-11-02,Squat,100,5,,,,,wobbly", "technique", "wobbly", "no remark on technique", "good, rough or broke"),
    ("2026-11-02,Squat,100,5,,,a\x01b,,", "note", "a\x01b", "control characters", "without them"),
    ("2026-11-02,Squat,1\x0100,5,,,,,", "kg", "1\x0100", "not a load", "62.5"),
    ("2026-11-02,Squat,100,5,A\x1bB,,,,", "lifter", "A\x1bB", "control characters", "without them"),
    ("2026-11-02,Squat,62,5,5,,,,", "lifter", "5", "no name of a lifter", "shifted"),
]


@pytest.mark.parametrize(("line", "column", "value", "problem", "remedy"), PROBLEMS)
def test_every_problem_has_its_row_column_value_and_remedy(
    tmp_path: Path, line: str, column: str, value: str, problem: str, remedy: str
) -> None:
    good = "2026-11-02,Squat,100,5,,,,,"
    reading = row(tmp_path, f"{good}\n\n{line}\n{good}")
    assert [(p.row, p.column, p.value) for p in reading.problems] == [(4, column, value)]
    assert problem in reading.problems[0].problem
    assert remedy in reading.problems[0].remedy
    assert reading.rows_read == 3
    assert len(reading.sets) == 2


def test_a_row_tells_all_that_is_wrong_with_it(tmp_path: Path) -> None:
    reading = row(tmp_path, "soon,Juggling,much,some,,99,,99,odd")
    assert [p.column for p in reading.problems] == ["date", "reps", "RIR", "pain", "technique"]
    assert "kg" in [p.column for p in row(tmp_path, "soon,Juggling,much,5,,,,,").problems]


def test_more_cells_than_the_header_has(tmp_path: Path) -> None:
    reading = read_text(tmp_path, GOOD + "2026-11-02,Squat,62,5,5\n")
    (problem,) = reading.problems
    assert (problem.row, problem.column, problem.value) == (3, "", "2026-11-02,Squat,62,5,5")
    assert "has 5 cells where the header has 4" in problem.problem
    assert "quote cells" in problem.remedy


def test_a_row_without_a_lifter_where_nobody_is_named(tmp_path: Path) -> None:
    content = "date,exercise,kg,reps,lifter\n2026-11-02,Squat,100,5,Bo\n2026-11-02,Squat,100,5,\n"
    problem = read_text(tmp_path, content, lifter=None).problems[0]
    assert (problem.row, problem.column, problem.problem) == (3, "lifter", "nobody is named")
    assert "--lifter" in problem.remedy
    assert [s.lifter for s in read_text(tmp_path, content).sets] == ["Bo", "Ada"]


def test_nobody_named_anywhere_is_said_once(tmp_path: Path) -> None:
    (problem,) = read_text(tmp_path, GOOD + "2026-11-03,Squat,100,5\n", lifter=None).problems
    assert (problem.row, problem.column) == (1, "lifter")
    assert "--lifter NAME" in problem.remedy


@pytest.mark.parametrize(("header", "column"), [("date,exercise,kg", "reps"), ("date,kg,reps", "exercise")])
def test_a_column_that_is_missing_is_said_once(tmp_path: Path, header: str, column: str) -> None:
    line = {"reps": "2026-11-02,Squat,100", "exercise": "2026-11-02,100,5"}[column]
    reading = read_text(tmp_path, f"{header}\n{line}\n{line}\n")
    assert [(p.row, p.column, p.problem) for p in reading.problems] == [(1, column, "column is missing")]
    assert reading.sets == ()


def test_a_file_without_any_day_is_asked_for_one(tmp_path: Path) -> None:
    content = "exercise,kg,reps\nSquat,100,5\n"
    assert keys(read_text(tmp_path, content)) == ["date"]
    answered = read_text(tmp_path, content, answers={"date": "2026-03-02"})
    assert bodies(answered) == [a_set("2026-03-02", "", 100, 5, as_written="Squat")]
    wrong = read_text(tmp_path, content, answers={"date": "2.3.2026"})
    assert (wrong.problems[0].column, wrong.problems[0].value) == ("date", "2.3.2026")


def test_a_column_that_is_evidently_not_about_sets_is_passed_over(tmp_path: Path) -> None:
    reading = read_text(tmp_path, "date,exercise,kg,reps,sleep,e1RM\n2026-11-02,Squat,100,5,7,116\n")
    assert len(bodies(reading)) == 1
    assert {"sleep", "e1RM"} <= {p.value for p in reading.passed_over}


def test_a_column_that_nobody_knows_is_asked_for(tmp_path: Path) -> None:
    content = "date,exercise,kg,reps,gear\n2026-11-02,Squat,100,5,belt\n"
    reading = read_text(tmp_path, content)
    assert keys(reading) == ["column:gear"]
    assert "ignore" in [choice.answer for choice in reading.questions[0].choices]
    ignored = read_text(tmp_path, content, answers={"column:gear": "ignore"})
    noted = read_text(tmp_path, content, answers={"column:gear": "note"})
    assert [b.note for b in (*bodies(ignored), *bodies(noted))] == ["", "belt"]
    assert "gear" in {p.value for p in ignored.passed_over}


@pytest.mark.parametrize(("header", "key"), [("kg,reps,reps", "column:reps (2)"), ("kg,lb,reps", "column:lb (2)")])
def test_a_column_that_stands_twice_is_asked_for(tmp_path: Path, header: str, key: str) -> None:
    content = f"date,exercise,{header}\n2026-11-02,Squat,100,5,5\n"
    assert keys(read_text(tmp_path, content)) == [key]
    assert len(bodies(read_text(tmp_path, content, answers={key: "ignore"}))) == 1


def test_a_table_without_a_header_asks_what_its_numbers_are(tmp_path: Path) -> None:
    content = "2026-11-02,Squat,100,5\n2026-11-03,Squat,102.5,5\n"
    assert keys(read_text(tmp_path, content)) == ["column:C", "column:D"]
    answers = {"column:C": "load", "column:D": "reps"}
    assert keys(read_text(tmp_path, content, answers=answers)) == ["unit:C"]
    sets = bodies(read_text(tmp_path, content, answers=answers, unit="kg"))
    assert sets == [
        a_set("2026-11-02", "", 100, 5, as_written="Squat"), a_set("2026-11-03", "", "102.5", 5, as_written="Squat")
    ]  # fmt: skip


def test_a_file_that_holds_no_sets(tmp_path: Path) -> None:
    (problem,) = read_text(tmp_path, "date,exercise,kg,reps\n\n\n").problems
    assert "holds no sets" in problem.problem
    assert "add a row" in problem.remedy


@pytest.mark.parametrize("said", ["0", "no", "None", "keine", "0/10"])
def test_no_pain_is_no_pain(tmp_path: Path, said: str) -> None:
    assert bodies(row(tmp_path, f"2026-11-02,Squat,100,5,,,,{said},"))[0].pain is None


@pytest.mark.parametrize(
    ("said", "pain"),
    [
        ("3", Pain(3)),
        ("left knee 3/10", Pain(3, "left knee")),
        ("3 of 10, left knee", Pain(3, "left knee")),
        ("links 4 von 10", Pain(4, "links")),
        ("sharp", Pain(None, "sharp")),
        ("10", Pain(10)),
    ],
)
def test_pain_as_people_say_it(tmp_path: Path, said: str, pain: Pain) -> None:
    assert bodies(row(tmp_path, f'2026-11-02,Squat,100,5,,,,"{said}",'))[0].pain == pain


@pytest.mark.parametrize(
    ("header", "said", "effort", "note"),
    [
        ("RPE", "8", Effort(Decimal(8), "rpe"), ""),
        ("RPE", '"8,5"', Effort(Decimal("8.5"), "rpe"), ""),
        ("RIR", "2", Effort(Decimal(2)), ""),
        ("RPE", "4", None, "RPE 4"),
        ("RPE", "easy", None, "RPE: easy"),
        ("effort", "hard", None, "hard"),
    ],
)
def test_effort_is_kept_as_said_or_as_a_note(
    tmp_path: Path, header: str, said: str, effort: Effort | None, note: str
) -> None:
    (body,) = bodies(row(tmp_path, f"2026-11-02,Squat,100,5,{said}", f"date,exercise,kg,reps,{header}"))
    assert (body.effort, body.note) == (effort, note)


@pytest.mark.parametrize(
    ("reps", "note", "missed"),
    [
        ("0", "too heavy", "strength"), ("x", "lost balance", "technique"), ("0", "Technik", "technique"),
        ("0", "shoulder pain", "pain"), ("", "skipped, no time", "not-done"), ("", "ausgefallen", "not-done"),
        ("0", "", "unsaid"),
    ],
)  # fmt: skip
def test_why_a_lift_was_missed_stands_in_the_note(tmp_path: Path, reps: str, note: str, missed: str) -> None:
    (body,) = bodies(row(tmp_path, f'2026-11-02,Squat,100,{reps},"{note}"', "date,exercise,kg,reps,note"))
    assert (body.reps, body.missed, body.note) == (0, missed, note)


@pytest.mark.parametrize(
    ("reason", "missed", "note"),
    [("Kraft", "strength", "Kraft"), ("technique", "technique", ""), ("yes", "unsaid", ""), ("wind", "unsaid", "wind")],
)
def test_why_a_lift_was_missed_has_a_column(tmp_path: Path, reason: str, missed: str, note: str) -> None:
    (body,) = bodies(row(tmp_path, f"2026-11-02,Squat,100,4,{reason}", "date,exercise,kg,reps,Grund"))
    assert (body.reps, body.missed, body.note) == (4, missed, note)


def test_pain_in_a_note_counts_where_no_column_is_for_it(tmp_path: Path) -> None:
    with_column = row(tmp_path, "2026-11-02,Squat,100,5,knee pain 3,", "date,exercise,kg,reps,note,pain")
    without = row(tmp_path, "2026-11-02,Squat,100,5,knee pain 3", "date,exercise,kg,reps,note")
    assert [(b.pain, b.note) for b in (*bodies(with_column), *bodies(without))] == [
        (None, "knee pain 3"),
        (Pain(3, "knee pain"), "knee pain 3"),
    ]


def test_other_columns_of_a_set(tmp_path: Path) -> None:
    header = "Datum;Übung;Gewicht (kg);Wdh;Seite;Tempo;Pause;Gerät;Satzart;Einheit"
    reading = read_text(tmp_path, f"{header}\n2026-11-02;Rudern;40;8;links;3-1-1;2:00;Turm 2;Aufwärmen;Push\n")
    (body,) = bodies(reading)
    assert (body.side, body.tempo, body.rest_interval_s, body.implement) == ("left", "3-1-1", 120, "Turm 2")
    assert (body.kind, body.session) == ("warm-up", 1)


def test_seconds_and_metres_have_columns(tmp_path: Path) -> None:
    lines = "2026-11-02,Plank,45,,\n2026-11-02,Plank,1:30,,\n2026-11-02,Carry,,40,24\n"
    sets = bodies(read_text(tmp_path, "date,exercise,seconds,metres,kg\n" + lines))
    assert [(b.seconds, b.metres, b.load) for b in sets] == [(45, None, None), (90, None, None), (None, 40, kg(24))]
