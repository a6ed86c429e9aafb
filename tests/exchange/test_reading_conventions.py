"""What a writer means is found over the whole file, and asked for where it stays open; answers are all that changes."""

from datetime import date

import pytest
from tests.exchange.grids import bodies, counts, keys, read_opened, read_sheet, workbook

from steelyard.exchange.found import Reading
from steelyard.exchange.grid import Cell

DAY = date(2026, 11, 2)


def cells(*texts: str, answers: dict[str, str] | None = None, header: str = "Sets") -> Reading:
    """A file with one set cell a row."""
    rows: list[list[Cell]] = [[DAY, "Squat", text] for text in texts]
    return read_sheet(["Date", "Exercise", header], *rows, answers=answers, unit="kg")


def loads(*texts: Cell, answers: dict[str, str] | None = None, header: str = "Load") -> Reading:
    """A file with one load a row."""
    rows: list[list[Cell]] = [[DAY, "Squat", 5, text] for text in texts]
    return read_sheet(["Date", "Exercise", "Reps", header], *rows, answers=answers)


def test_a_unit_that_nothing_says_is_asked_for() -> None:
    assert keys(loads(100, 102.5)) == ["unit:Load"]
    assert counts(loads(100, answers={"unit:Load": "lb"})) == ["5 x 100lb"]
    wrong = loads(100, answers={"unit:Load": "stone"})
    assert keys(wrong) == ["unit:Load"]
    assert (wrong.problems[0].value, wrong.problems[0].remedy) == ("stone", "answer one of: kg, lb")


@pytest.mark.parametrize("header", ["Load (lb)", "lbs", "Gewicht [lb]", "load lb"])
def test_a_header_says_the_unit(header: str) -> None:
    assert counts(loads(100, "62,5", header=header)) == ["5 x 100lb", "5 x 62.5lb"]


def test_cells_say_their_unit_themselves() -> None:
    assert counts(loads("100kg", "225 lb", "60 kg")) == ["5 x 100kg", "5 x 225lb", "5 x 60kg"]
    assert counts(loads("100kg", 102)) == ["5 x 100kg", "5 x 102kg"]  # the only unit of the column
    assert keys(loads("100kg", "225 lb", 60)) == ["unit:Load"]


def test_loads_that_are_no_plain_number() -> None:
    written = ["BW", "KG+10", "BW-15", "Mark 7", "Stufe 3", "-20kg", "62½ kg", "100 kg (belt)"]
    reading = loads(*written)
    assert counts(reading) == [
        "5", "5 x 10kg", "5 x -15kg", "5 x 7mark", "5 x 3mark", "5 x -20kg", "5 x 62.5kg", "5 x 100kg",
    ]  # fmt: skip
    assert reading.sets[-1].body.note == "belt"


@pytest.mark.parametrize(
    ("texts", "wanted"),
    [
        (("82,5", "100"), ["82.5", "100"]),
        (("82.5", "1.125"), ["82.5", "1.125"]),
        (("82,5", "1.250"), ["82.5", "1250"]),
        (("1.250,5", "1.100"), ["1250.5", "1100"]),
        (("6.250",), ["6.250"]),  # 6250 is more than anybody loads
    ],
)
def test_the_decimal_mark_is_that_of_the_file(texts: tuple[str, ...], wanted: list[str]) -> None:
    assert counts(loads(*texts, header="kg")) == [f"5 x {load}kg" for load in wanted]


def test_a_decimal_mark_that_nothing_shows_is_asked_for() -> None:
    assert keys(loads("1.250", header="kg")) == ["decimal:kg"]
    assert counts(loads("1.250", header="kg", answers={"decimal:kg": "point"})) == ["5 x 1.250kg"]
    assert counts(loads("1.250", header="kg", answers={"decimal:kg": "comma"})) == ["5 x 1250kg"]


def test_a_number_after_at_is_asked_for_or_found() -> None:
    open_ = cells("8,8 @ 60", "3x5 @ 72.5")
    assert keys(open_) == ["at:Sets"]
    assert [choice.answer for choice in open_.questions[0].choices] == ["load", "percent"]
    assert counts(cells("2x8 @ 60", answers={"at:Sets": "load"})) == ["8 x 60kg"] * 2
    assert counts(cells("2x8 @ 60", "1x5 @ 120")) == ["8 x 60kg"] * 2 + ["5 x 120kg"]  # 120 % is no share
    assert counts(cells("1x8 @ 100", "1x8 @ 60")) == ["8 x 100kg", "8 x 60kg"]  # nobody does 8 at 100 %
    assert counts(cells("1x8 @ 60kg", "1x8 @ 62.5")) == ["8 x 60kg", "8 x 62.5kg"]  # others say kg
    assert counts(cells("2x8 @ 60", header="Sets (kg)")) == ["8 x 60kg"] * 2


def test_a_share_of_a_maximum_says_no_load_and_is_left_out_only_when_somebody_says_so() -> None:
    assert keys(cells("3x8 @ 75%", "1x5 @ 100kg")) == ["percent:Sets"]
    reading = cells("3x8 @ 75%", "1x5 @ 100kg", answers={"percent:Sets": "leave-out"})
    assert counts(reading) == ["5 x 100kg"]
    assert any("3x8 @ 75%" in p.value for p in reading.passed_over)


def test_a_small_number_after_at_may_be_effort() -> None:
    open_ = cells("5x5 @ 8")
    assert keys(open_) == ["at:Sets"]
    assert [choice.answer for choice in open_.questions[0].choices] == ["load", "rpe"]
    reading = cells("2x5 @ 8", answers={"at:Sets": "rpe"})
    assert counts(reading) == ["5"] * 2
    assert reading.sets[-1].body.effort is not None
    assert keys(cells("2x5 @ 8", "2x5 @ 60")) == ["at:Sets", "at-small:Sets"]


@pytest.mark.parametrize(
    ("texts", "wanted"),
    [
        (("3x8 @ 60kg", "2x12"), ["8 x 60kg"] * 3 + ["12"] * 2),  # sets first elsewhere
        (("60x8", "10x12"), ["8 x 60kg", "12 x 10kg"]),  # load first elsewhere
        (("2x12", "3x8"), ["12"] * 2 + ["8"] * 3),  # nobody lifts two kilograms in every line
        (("3x8x60", "2x8x10"), ["8 x 60kg"] * 3 + ["8 x 10kg"] * 2),
        (("60x16x2", "60x8x3"), ["16 x 60kg"] * 2 + ["8 x 60kg"] * 3),  # nobody does sixteen sets
        (("60x2x16", "60x3x8"), ["16 x 60kg"] * 2 + ["8 x 60kg"] * 3),
        (("8/8/7 @ 60kg", "8/8 @ 60kg"), ["8 x 60kg", "8 x 60kg", "7 x 60kg", "8 x 60kg", "8 x 60kg"]),
        (("3x10/10 @ 20kg", "10/9 @ 20kg"), ["10 each x 20kg"] * 3 + ["10 left x 20kg", "9 right x 20kg"]),
    ],
)
def test_other_cells_of_the_file_decide(texts: tuple[str, ...], wanted: list[str]) -> None:
    assert counts(cells(*texts)) == wanted


@pytest.mark.parametrize(
    ("texts", "key", "answer", "wanted"),
    [
        (("60x8", "3x12"), "pair:Sets", "load-first", ["8 x 60kg", "12 x 3kg"]),
        (("10x8",), "pair:Sets", "load-first", ["8 x 10kg"]),
        (("60x3x8",), "triple:Sets", "sets-reps", ["8 x 60kg"] * 3),
        (("10x8x3",), "three:Sets", "load-last", ["8 x 3kg"] * 10),
        (("10/9 @ 20kg",), "slash:Sets", "sets", ["10 x 20kg", "9 x 20kg"]),
        (("8",), "bare:Work", "reps", ["8"]),
        (("82,5", "100"), "bare:Work", "single", ["1 x 82.5kg", "1 x 100kg"]),
        (("2x8-10 @ 60kg",), "range:Sets", "lowest", ["8 x 60kg"] * 2),
    ],
)
def test_what_nothing_decides_is_asked_and_one_answer_lets_the_file_be_read(
    texts: tuple[str, ...], key: str, answer: str, wanted: list[str]
) -> None:
    header = key.partition(":")[2]
    reading = cells(*texts, header=header)
    assert keys(reading) == [key]
    assert set(reading.questions[0].examples) <= set(texts)
    assert counts(cells(*texts, answers={key: answer}, header=header)) == wanted


def test_what_waits_for_an_answer_is_no_set_and_no_problem() -> None:
    reading = cells("3x8 @ 60kg", "2x10-12 @ 60kg")
    assert [s.place.row for s in reading.sets] == [2, 2, 2]
    assert reading.problems == ()


def test_the_same_layout_has_the_same_fingerprint_whatever_the_data() -> None:
    one = cells("3x8 @ 60kg")
    other = cells("2x5 @ 100kg", "60kg 8,8", answers={"at:Sets": "load"})
    days = (DAY, date(2025, 1, 7))
    across = [read_sheet(["Exercise", day, "Total"], ["Squat", "3x8@60kg", 5]).layout for day in days]
    week: list[list[Cell]] = [["Date", "Exercise", "Sets"], [DAY, "Squat", "3x8"]]
    sheets = [workbook(*[(f"Week {n}", week) for n in range(1, last)]) for last in (3, 9)]
    assert one.layout == other.layout != cells("3x8 @ 60kg", header="Work").layout
    assert across[0] == across[1]
    assert len({read_opened(opened).layout for opened in sheets}) == 1


def test_each_column_says_how_it_was_read_with_examples() -> None:
    found = {c.column: c for c in cells("3x8 @ 60", "1x5 @ 120").columns}
    assert found["Sets"].role == "set-cell"
    assert "a number after @ is a load" in found["Sets"].how
    assert ("3x8 @ 60", "3 × 8 @ 60 kg") in found["Sets"].examples
    assert ("2026-11-02", "2026-11-02") in found["Date"].examples


def test_x_without_a_load_before_it_follows_the_order_of_the_others() -> None:
    said = ("60x5x3", "62.5x5x3", "x8x2", "x10x2")
    assert keys(cells(*said)) == ["triple:Sets"]
    done = counts(cells(*said, answers={"triple:Sets": "reps-sets"}))
    assert done == [*["5 x 60kg"] * 3, *["5 x 62.5kg"] * 3, "8", "8", "10", "10"]
    turned = counts(cells("60x3x5", "x2x8", answers={"triple:Sets": "sets-reps"}))
    assert turned == [*["5 x 60kg"] * 3, "8", "8"]


@pytest.mark.parametrize(
    ("said", "load"),
    [("140 kg (308)", "140kg"), ("102.5kg (226)", "102.5kg"), ("315 (143 kg)", "315lb"), ("225 lb (102)", "225lb")],
)
def test_a_load_said_again_in_the_other_unit_is_the_one_that_stands_first(said: str, load: str) -> None:
    assert counts(loads(said)) == [f"5 x {load}"]


@pytest.mark.parametrize("said", ["140 kg (300)", "140 kg (140 kg)", "140 (308)", "60 kg (3)"])
def test_a_second_number_that_is_not_the_same_load_is_a_problem(said: str) -> None:
    assert [(p.column, p.value) for p in loads(said).problems] == [("Load", said)]


@pytest.mark.parametrize(
    ("answer", "efforts", "notes"),
    [
        ("rir", ["RIR 2", "RIR 0", ""], ["", "", ""]),
        ("note", ["", "", ""], ["2", "0", ""]),
    ],
)
def test_a_number_in_brackets_after_repetitions_is_one_question(
    answer: str, efforts: list[str], notes: list[str]
) -> None:
    said = ("40×8(2)", "42½×7 (0)", "30×9(–)")
    assert keys(cells(*said)) == ["bracket:Sets"]
    found = bodies(cells(*said, answers={"bracket:Sets": answer}))
    assert [f"{b.effort.scale.upper()} {b.effort.value}" if b.effort else "" for b in found] == efforts
    assert [b.note for b in found] == notes
    assert [b.reps for b in found] == [8, 7, 9]


@pytest.mark.parametrize(("legend", "scale"), [("kg × reps (reps left in the tank)", "rir"), ("sets (RPE)", "rpe")])
def test_a_legend_says_what_the_number_in_brackets_is(legend: str, scale: str) -> None:
    rows: list[list[Cell]] = [["Autumn", legend], ["Date", "Exercise", "Sets"], [DAY, "Squat", "40x8(8)"]]
    (found,) = bodies(read_sheet(*rows, unit="kg"))
    assert found.effort is not None
    assert f"{found.effort.scale} {found.effort.value}" == f"{scale} 8"
    assert found.note == ""
