"""A CSV file of sets: what is read, and every problem with its row, column, value and what to try."""

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.builders import a_set

from steelyard.catalogue import catalogue
from steelyard.engine.effort import Effort
from steelyard.engine.log import Pain
from steelyard.engine.quantities import kg, lb
from steelyard.exchange.csv_sets import Reading, read_csv

GOOD = "date,exercise,kg,reps\n2026-11-02,Squat,100,5\n"


def read(folder: Path, content: str | bytes, lifter: str | None = "Ada") -> Reading:
    """What a file of this content holds."""
    file = folder / "log.csv"
    file.write_bytes(content.encode() if isinstance(content, str) else content)
    return read_csv(file, catalogue(), lifter)


def row(folder: Path, line: str, header: str = "date,exercise,kg,reps,lifter,RIR,note,pain,technique") -> Reading:
    """What a file with one row holds."""
    return read(folder, f"{header}\n{line}\n")


def test_a_row_with_everything(tmp_path: Path) -> None:
    reading = row(tmp_path, "2026-11-02,Bench press,62.5,8,Bo,2,felt good,left elbow 1,rough")
    wanted = a_set(
        "2026-11-02",
        "bench-press",
        "62.5",
        8,
        rir=2,
        note="felt good",
        pain=Pain(1, "left elbow"),
        technique="rough",
        as_written="Bench press",
    )
    assert [(r.lifter, r.body) for r in reading.rows] == [("Bo", wanted)]
    assert (reading.rows_read, reading.problems) == (1, ())


def test_optional_columns_may_be_missing_or_empty(tmp_path: Path) -> None:
    plain = read(tmp_path, GOOD)
    empty = row(tmp_path, "2026-11-02,Squat,100,5,,,,,")
    assert plain.rows == empty.rows
    assert [(r.lifter, r.body) for r in plain.rows] == [
        ("Ada", a_set("2026-11-02", "squat", 100, 5, as_written="Squat"))
    ]


def test_columns_come_in_any_order_and_case(tmp_path: Path) -> None:
    reading = read(tmp_path, "Reps, KG ,rir,DATE,Exercise\n5,100,1.5,2026-11-02,squat\n")
    assert reading.rows[0].body == a_set(
        "2026-11-02", "squat", 100, 5, effort=Effort(Decimal("1.5")), as_written="squat"
    )


def test_three_equal_rows_are_three_sets(tmp_path: Path) -> None:
    reading = read(tmp_path, GOOD + "2026-11-02,Squat,100,5\n" * 2)
    assert reading.rows_read == 3
    assert [r.body for r in reading.rows] == [a_set("2026-11-02", "squat", 100, 5, as_written="Squat")] * 3


def test_pounds_stay_pounds(tmp_path: Path) -> None:
    reading = read(tmp_path, "date,exercise,lb,reps\n2026-11-02,Squat,225,5\n")
    assert reading.rows[0].body.load == lb(225)


def test_byte_order_mark_windows_line_ends_blank_lines_and_quoted_commas(tmp_path: Path) -> None:
    content = (
        '\ufeffdate,exercise,kg,reps,note\r\n\r\n2026-11-02,Squat,100,5,"deep, slow\r\nand ""calm"""\r\n , ,,,\r\n\r\n'
    )
    reading = read(tmp_path, content)
    assert reading.problems == ()
    assert reading.rows_read == 1
    assert reading.rows[0].body.note == 'deep, slow\nand "calm"'


def test_a_miss_is_nought_repetitions(tmp_path: Path) -> None:
    body = read(tmp_path, GOOD.replace(",5\n", ",0\n")).rows[0].body
    assert (body.reps, body.missed) == (0, "unsaid")


def test_where_body_mass_is_lifted_the_load_is_what_is_added(tmp_path: Path) -> None:
    lines = "2026-11-02,pull-up,,8\n2026-11-02,pull-up,10,6\n2026-11-02,pull-up,-15,9\n2026-11-02,plank,,45\n"
    reading = read(tmp_path, "date,exercise,kg,reps\n" + lines)
    assert reading.problems == ()
    assert [r.body.load for r in reading.rows] == [None, kg(10), kg(-15), None]


@pytest.mark.parametrize("text", ["=1+1", "+49", "-20 %", "@home", "-", "=HYPERLINK()"])
def test_an_apostrophe_before_what_a_spreadsheet_would_run_is_taken_off(tmp_path: Path, text: str) -> None:
    assert row(tmp_path, f'2026-11-02,Squat,100,5,,,"\'{text}",,').rows[0].body.note == text
    assert row(tmp_path, f'2026-11-02,Squat,100,5,,,"{text}",,').rows[0].body.note == text


PROBLEMS = [
    ("2026-13-02,Squat,100,5,,,,,", "date", "2026-13-02", "not a date", "2026-03-28"),
    ("02.11.2026,Squat,100,5,,,,,", "date", "02.11.2026", "not a date", "2026-03-28"),
    (",Squat,100,5,,,,,", "date", "", "not a date", "2026-03-28"),
    ("1926-11-02,Squat,100,5,,,,,", "date", "1926-11-02", "no date of training", "year"),
    ("2026-11-02,Sqaut,100,5,,,,,", "exercise", "Sqaut", "no exercise that is known", "did you mean Squat"),
    ("2026-11-02,Juggling,100,5,,,,,", "exercise", "Juggling", "no exercise that is known", "steelyard exercises"),
    ("2026-11-02,,100,5,,,,,", "exercise", "", "no exercise is named", "such as squat"),
    ('2026-11-02,Squat,"62,5",5,,,,,', "kg", "62,5", "not a number of kg", "point as the decimal mark"),
    ("2026-11-02,Squat,heavy,5,,,,,", "kg", "heavy", "not a number of kg", "62.5"),
    ("2026-11-02,Squat,,5,,,,,", "kg", "", "not a number of kg", "62.5"),
    ("2026-11-02,Squat,nan,5,,,,,", "kg", "nan", "not a number of kg", "62.5"),
    ("2026-11-02,Squat,1e3,5,,,,,", "kg", "1e3", "not a number of kg", "62.5"),
    ("2026-11-02,Squat,6250,5,,,,,", "kg", "6250", "more than 2000", "check"),
    ("2026-11-02,Squat,-20,5,,,,,", "kg", "-20", "negative load", "body mass"),
    ("2026-11-02,Squat,100,5.5,,,,,", "reps", "5.5", "whole number of repetitions", "0 for a missed lift"),
    ("2026-11-02,Squat,100,,,,,,", "reps", "", "whole number of repetitions", "0 for a missed lift"),
    ("2026-11-02,Squat,100,-1,,,,,", "reps", "-1", "whole number of repetitions", "0 for a missed lift"),
    ("2026-11-02,Squat,100,501,,,,,", "reps", "501", "more than 500", "check"),
    ("2026-11-02,Squat,100,5,,easy,,,", "rir", "easy", "not a number for RIR", "such as 2"),
    ("2026-11-02,Squat,100,5,,12,,,", "rir", "12", "between 0 and 10", "0 to 10"),
    ("2026-11-02,Squat,100,5,,,,knee 30,", "pain", "knee 30", "one number from 0 to 10", "left knee 3"),
    ("2026-11-02,Squat,100,5,,,,2 or 3,", "pain", "2 or 3", "one number from 0 to 10", "left knee 3"),
    ("2026-11-02,Squat,100,5,,,,,wobbly", "technique", "wobbly", "no remark on technique", "good, rough or broke"),
    ("2026-11-02,Squat,100,5,,,a\x00b,,", "note", "a\x00b", "control characters", "without them"),
    ("2026-11-02,Squat,1\x0000,5,,,,,", "kg", "1\x0000", "not a number of kg", "62.5"),
    ("2026-11-02,Squat,100,5,A\x1bB,,,,", "lifter", "A\x1bB", "control characters", "without them"),
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


def test_a_row_tells_all_that_is_wrong_with_it(tmp_path: Path) -> None:
    reading = row(tmp_path, "soon,Juggling,much,some,,few,,99,odd")
    assert [p.column for p in reading.problems] == ["date", "exercise", "reps", "kg", "rir", "pain", "technique"]


@pytest.mark.parametrize(
    ("line", "remedy"),
    [("2026-11-02,Squat,62,5,5,,,,,", "quote cells"), ("2026-11-02,Squat,100", "fill in the missing cells")],
)
def test_too_many_or_too_few_cells(tmp_path: Path, line: str, remedy: str) -> None:
    problem = row(tmp_path, line).problems[0]
    assert (problem.row, problem.column, problem.value) == (2, "", line)
    assert "where the header has 9" in problem.problem
    assert remedy in problem.remedy


def test_a_row_without_a_lifter_where_nobody_is_named(tmp_path: Path) -> None:
    content = "date,exercise,kg,reps,lifter\n2026-11-02,Squat,100,5,Bo\n2026-11-02,Squat,100,5,\n"
    problem = read(tmp_path, content, lifter=None).problems[0]
    assert (problem.row, problem.column, problem.problem) == (3, "lifter", "nobody is named")
    assert "--lifter" in problem.remedy
    assert [r.lifter for r in read(tmp_path, content).rows] == ["Bo", "Ada"]


@pytest.mark.parametrize(
    ("header", "columns", "problem"),
    [
        ("date,exercise,kg", ["reps"], "column is missing"),
        ("exercise,kg,reps,lifter", ["date"], "column is missing"),
        ("date,exercise,kg,reps,sleep", ["sleep"], "column is not known"),
        ("date,exercise,kg,reps,", [""], "column is not known"),
        ("date,exercise,kg,reps,reps", ["reps"], "column stands twice"),
        ("date,exercise,kg,lb,reps", ["kg"], "one column of loads"),
        ("date,exercise,reps", ["kg"], "one column of loads"),
        ("date;exercise;kg;reps", ["date;exercise;kg;reps"], "parted by semicolons"),
        ("2026-11-02,Squat,5", ["date", "exercise", "reps", "2026-11-02", "squat", "5", "kg"], "column is missing"),
    ],
)  # fmt: skip
def test_faults_of_the_header(tmp_path: Path, header: str, columns: list[str], problem: str) -> None:
    reading = row(tmp_path, "2026-11-02,Squat,100,5", header=header)
    assert [p.column for p in reading.problems] == columns
    assert {p.row for p in reading.problems} == {1}
    assert problem in reading.problems[0].problem
    assert all(p.remedy for p in reading.problems)
    assert reading.rows == ()


def test_nobody_named_anywhere(tmp_path: Path) -> None:
    problem = read(tmp_path, GOOD, lifter=None).problems[0]
    assert (problem.row, problem.column) == (1, "lifter")
    assert "--lifter NAME" in problem.remedy


@pytest.mark.parametrize(
    ("content", "problem", "remedy"),
    [
        (b"", "column is missing", "first row"),
        (b"date,exercise,kg,reps\n\n\n", "holds no sets", "add a row"),
        ("date,exercise,kg,reps\n2026-11-02,Überkopfdrücken,40,5\n".encode("cp1252"), "not UTF-8", "UTF-8"),
        (GOOD.encode("utf-16"), "not UTF-8", "UTF-8"),
        (bytes(range(256)), "not UTF-8", "UTF-8"),
        (GOOD.encode() + b'2026-11-03,"Squat,100,5\n', "is no CSV", "quotes"),
        (GOOD.encode() + b'2026-11-03,"Squat"x,100,5\n', "is no CSV", "quotes"),
        (GOOD.encode() + b"2026-11-03," + b"S" * 140_000 + b",100,5\n", "is no CSV", ""),
    ],
)
def test_files_that_are_no_such_csv(tmp_path: Path, content: bytes, problem: str, remedy: str) -> None:
    found = read(tmp_path, content).problems
    assert problem in found[0].problem
    assert remedy in found[0].remedy


def test_a_file_that_is_not_there_or_no_file(tmp_path: Path) -> None:
    for path in (tmp_path / "nowhere.csv", tmp_path):
        problem = read_csv(path, catalogue(), "Ada").problems[0]
        assert "cannot be read" in problem.problem
        assert problem.value == str(path)


@pytest.mark.parametrize("said", ["0", "no", "None", "keine", "0/10"])
def test_no_pain_is_no_pain(tmp_path: Path, said: str) -> None:
    assert row(tmp_path, f"2026-11-02,Squat,100,5,,,,{said},").rows[0].body.pain is None


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
    assert row(tmp_path, f'2026-11-02,Squat,100,5,,,,"{said}",').rows[0].body.pain == pain


CELLS = (
    "2026-11-02",
    "Squat",
    "100",
    "5",
    "",
    '"',
    "\n",
    "\r",
    ",",
    ";",
    "\0",
    "-",
    "=1",
    "²",
    "٣",
    "9" * 40,
    "date",
    "kg",
    "\ufeff",
    "nan",
)


@given(
    st.binary(max_size=200)
    | st.lists(st.sampled_from(CELLS) | st.text(max_size=4), max_size=30).map(
        lambda found: f"date,exercise,kg,reps,pain,note\n{','.join(found)}".encode("utf-8", "replace")
    )
)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_file_is_read_or_every_problem_has_a_remedy(tmp_path: Path, content: bytes) -> None:
    reading = read(tmp_path, content)
    assert reading.rows or reading.problems
    assert len(reading.rows) + len({p.row for p in reading.problems if p.row > 1}) >= reading.rows_read
    assert all(p.problem and p.remedy for p in reading.problems)
