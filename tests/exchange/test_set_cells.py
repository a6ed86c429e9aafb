"""One cell of sets: everything in it is read, or the cell is refused; nothing is dropped.

The ways of writing are common practice, no source.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelyard.engine.effort import Effort
from steelyard.exchange.cells import CellRefused
from steelyard.exchange.set_cells import read_set_cell
from steelyard.exchange.set_style import SaidCell, SaidSet, SetStyle

# One writer's ways, so that no cell below waits for an answer.
STYLE = SetStyle(
    at="load", at_small="load", pair="sets-first", triple="reps-sets", three="load-last", slash="sides",
    bare="reps", comma="decimal",
)  # fmt: skip


def read(text: str, style: SetStyle = STYLE, *, gives_load: bool = False, is_count: bool = False) -> SaidCell:
    """What the cell says."""
    return read_set_cell(text, style, gives_load=gives_load, is_count=is_count)


def shown(one: SaidSet) -> str:
    """`8 60kg`: count, side, load."""
    count = (
        str(one.reps) if one.reps is not None else f"{one.seconds}s" if one.seconds is not None else f"{one.metres}m"
    )
    if one.cluster:
        count = "+".join(map(str, one.cluster))
    parts = [count, one.side or ""]
    if one.load is not None:
        parts.append("body" if one.load.value is None else f"{one.load.value}{one.load.unit}")
    return " ".join(part for part in parts if part)


CELLS = [
    ("10 each side x3", ["10 each"] * 3),
    ("12 per leg x 2", ["12 each"] * 2),
    ("8 je Seite x3 20kg", ["8 each 20kg"] * 3),
    ("3x8@60kg", ["8 60kg"] * 3),
    ("3 x 8 x 60", ["8 60"] * 3),
    ("3×8 @ 60", ["8 60"] * 3),
    ("3*8*60", ["8 60"] * 3),
    ("60kg 8,8,7", ["8 60kg", "8 60kg", "7 60kg"]),
    ("60 kg: 8/8/7", ["8 60kg", "8 60kg", "7 60kg"]),
    ("60kg 8 8 7", ["8 60kg", "8 60kg", "7 60kg"]),
    ("60 8/8/7", ["8 60", "8 60", "7 60"]),
    ("5/5/4 @ 82,5", ["5 82.5", "5 82.5", "4 82.5"]),
    ("8,8,7 @ 60", ["8 60", "8 60", "7 60"]),
    ("60x8, 60x8, 60x7", ["8 60", "8 60", "7 60"]),
    ("60x8; 60x8; 60x7", ["8 60", "8 60", "7 60"]),
    ("60x8 60x8 60x7", ["8 60", "8 60", "7 60"]),
    ("60 x8 x8 x7", ["8 60", "8 60", "7 60"]),
    ("82,5x8,85x6", ["8 82.5", "6 85"]),
    ("60x8x3", ["8 60"] * 3),
    ("60kgx8x3", ["8 60kg"] * 3),
    ("60kg 3x8", ["8 60kg"] * 3),
    ("60 3x8", ["8 60"] * 3),
    ("3x8 60", ["8 60"] * 3),
    ("3 sets of 8 @ 60kg", ["8 60kg"] * 3),
    ("3 Sätze à 8 mit 60 kg", ["8 60kg"] * 3),
    ("3x8 (60kg)", ["8 60kg"] * 3),
    ("BW+10 x 6", ["6 10"]),
    ("KG+10 3x6", ["6 10"] * 3),
    ("BW x 12", ["12 body"]),
    ("KG 3x12", ["12 body"] * 3),
    ("-20 x 8", ["8 -20"]),
    ("assisted 20kg x 8", ["8 -20kg"]),
    ("135lb x 5", ["5 135lb"]),
    ("8x60kg", ["8 60kg"]),
    ("Mark 5 x 12", ["12 5mark"]),
    ("3x12 @ Stufe 7", ["12 7mark"] * 3),
    ("3x30s", ["30s"] * 3),
    ("3x0:45", ["45s"] * 3),
    ("2 min", ["120s"]),
    ("2x40m 24kg", ["40m 24kg"] * 2),
    ("12+3+2 @ 80", ["12+3+2 80"]),
    ("10/10", ["10 each"]),
    ("10/9", ["10 left", "9 right"]),
    ("3x10/10 @ 20kg", ["10 each 20kg"] * 3),
    ("L 10 R 9", ["10 left", "9 right"]),
    ("12 each side @ 16kg", ["12 each 16kg"]),
    ("3 x 10 je Seite mit 12kg", ["10 each 12kg"] * 3),
    ("2x30s L/R", ["30s each"] * 2),
    ("AMRAP 12", ["12"]),
    ("60x8 -> 50x6", ["8 60", "6 50"]),
    ("60x8 drop 50x6", ["8 60", "6 50"]),
    ("60x8 + 50x8", ["8 60", "8 50"]),
    ("2x(60x8)", ["8 60"] * 2),
    ("(60x8)x2", ["8 60"] * 2),
    ("3x(8/8/7) @ 60", ["8 60", "8 60", "7 60"]),
    ("60/62,5/65kg x 5", ["5 60kg", "5 62.5kg", "5 65kg"]),
    ("62½ x 5", ["5 62.5"]),
    ("7@60 7@60 6@62.5", ["7 60", "7 60", "6 62.5"]),
    ("8@BW+10 7@BW+10", ["8 10", "7 10"]),
    ("2 sets of 7 @ 60kg, 1 set of 6 @ 60kg", ["7 60kg", "7 60kg", "6 60kg"]),
    ("22.5: 9, 9; 23.75: 9", ["9 22.5", "9 22.5", "9 23.75"]),
    ("BW x 7, BW x x", ["7 body", "0 body"]),
    ("30s/30s/25s", ["30s", "30s", "25s"]),
    ("0:30/0:45", ["30s", "45s"]),
    ("2x20m 17,5", ["20m 17.5"] * 2),
    ("60kgx8 60kgx7", ["8 60kg", "7 60kg"]),
    ("8,8,x @ 60", ["8 60", "8 60", "0 60"]),
    ("100x0", ["0 100"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "sets"), CELLS)
def test_the_shapes_people_write(text: str, sets: list[str]) -> None:
    cell = read(text)
    assert [shown(one) for one in cell.sets] == sets
    assert cell.doubts <= set(SetStyle.__struct_fields__)
    assert all(getattr(STYLE, doubt) is not None for doubt in cell.doubts)


COUNTS = [
    ("8", ["8"]), ("8,8,7", ["8", "8", "7"]), ("8 8 7", ["8", "8", "7"]), ("8/8/7", ["8", "8", "7"]),
    ("3x8", ["8"] * 3), ("8,8", ["8", "8"]), ("5.5.4", ["5", "5", "4"]),
    ("12 reps", ["12"]), ("12 Wdh.", ["12"]), ("30s", ["30s"]),
    ("1:30", ["90s"]),
    ("40m", ["40m"]), ("8 per leg", ["8 each"]), ("5+1", ["5+1"]), ("5/5/F", ["5", "5", "0"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "sets"), COUNTS)
def test_counts_beside_a_load(text: str, sets: list[str]) -> None:
    assert [shown(one) for one in read(text, gives_load=True, is_count=True).sets] == sets


@pytest.mark.parametrize("text", ["0", "x", "miss", "fail", "F", "missed", "verfehlt", "nicht geschafft"])
def test_a_missed_lift(text: str) -> None:
    (one,) = read(text, is_count=True).sets
    assert (one.reps, one.missed) == (0, "unsaid")


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("100x0 too heavy", "strength"), ("100 x x (zu schwer)", "strength"), ("miss, lost balance", "technique"),
        ("100x0 Technik", "technique"), ("fail - shoulder pain", "pain"), ("skipped", "not-done"),
        ("ausgefallen", "not-done"), ("100x0", "unsaid"),
    ],
)  # fmt: skip
def test_why_a_lift_was_missed(text: str, why: str) -> None:
    assert [one.missed for one in read(text).sets] == [why]


@pytest.mark.parametrize("text", ["", "-", "–", "n/a", "keine", "."])
def test_a_cell_that_says_nothing_was_done(text: str) -> None:
    cell = read(text)
    assert cell.sets == ()
    assert cell.left_out


REMARKS = [
    ("3x8@60 knee twinge", "pain", "knee twinge", None),
    ("3x8@60 Knie 3/10 Schmerz", "pain", "Knie Schmerz", 3),
    ("3x8 60kg left knee pain 3/10", "pain", "left knee pain", 3),
    ("3x8@60 Schulter zwickt", "pain", "Schulter zwickt", None),
]  # fmt: skip


@pytest.mark.parametrize(("text", "field", "words", "score"), REMARKS)
def test_pain_in_words_belongs_to_the_last_set(text: str, field: str, words: str, score: int | None) -> None:
    cell = read(text)
    assert [one.pain is not None for one in cell.sets] == [False, False, True]
    pain = cell.sets[-1].pain
    assert pain is not None
    assert (pain.words, pain.score, field) == (words, score, "pain")


@pytest.mark.parametrize("text", ["3x8@60 no pain", "3x8@60 pain free", "3x8@60 schmerzfrei", "3x8@60 ohne Schmerzen"])
def test_no_pain_is_a_note(text: str) -> None:
    last = read(text).sets[-1]
    assert last.pain is None
    assert last.note == text.partition("60 ")[2]


@pytest.mark.parametrize(
    ("text", "technique", "note"),
    [
        ("3x8@60 form broke", "broke", "form broke"),
        ("3x8@60 (knees caved in)", "broke", "knees caved in"),
        ("3x8@60 unsauber", "rough", "unsauber"),
        ("3x8@60 clean", "good", "clean"),
        ("3x8@60 felt easy", None, "felt easy"),
        ("3x8@60 :)", None, ":)"),
        ("AMRAP 12", None, "AMRAP"),
        ("5x3 100kg 80%", None, "80 %"),
    ],
)
def test_other_words_are_technique_or_a_note(text: str, technique: str | None, note: str) -> None:
    last = read(text).sets[-1]
    assert (last.technique, last.note) == (technique, note)


@pytest.mark.parametrize(
    ("text", "efforts"),
    [
        ("3x8@60 RPE8", ["", "", "rpe 8"]),
        ("3x8@RPE8 60kg", ["", "", "rpe 8"]),
        ("5x5 100kg @ 8", ["", "", "", "", "rpe 8"]),
        ("60x8 @8", ["rpe 8"]),
        ("60x8 (2 RIR)", ["rir 2"]),
        ("60x8 2 in reserve", ["rir 2"]),
        ("60x8 RPE 8,5", ["rpe 8.5"]),
        ("3x5@100 RPE 7,8,9", ["rpe 7", "rpe 8", "rpe 9"]),
        ("60x8 RPE 8, 60x8 RPE 9", ["rpe 8", "rpe 9"]),
    ],
)
def test_effort_of_the_last_set_or_of_each(text: str, efforts: list[str]) -> None:
    def said(effort: Effort | None) -> str:
        return "" if effort is None else f"{effort.scale} {effort.value}"

    assert [said(one.effort) for one in read(text).sets] == efforts


@pytest.mark.parametrize(
    ("text", "tempo", "rest"),
    [
        ("3x8 @60 tempo 3-1-1", "3-1-1", None),
        ("3x8@60 3-1-1", "3-1-1", None),
        ("3x8 tempo 3010 @ 50kg", "3-0-1-0", None),
        ("3x8@60kg t3-0-1", "3-0-1", None),
        ("3x8@60 rest 90s", None, 90),
        ("3x8@60kg, Pause 2min", None, 120),
        ("3x8 @ 60 kg, 2 min rest", None, 120),
        ("3x8@60 rest 1:30", None, 90),
    ],
)
def test_tempo_and_rest(text: str, tempo: str | None, rest: int | None) -> None:
    cell = read(text)
    assert (len(cell.sets), cell.tempo, cell.rest_interval_s) == (3, tempo, rest)


def test_warm_up_sets_in_the_same_cell() -> None:
    cell = read("warm-up 40x5; work 60x5x2")
    assert [one.kind for one in cell.sets] == ["warm-up", "work", "work"]


REFUSED = [
    "3x8@60 and 50", "3x8@60 or 65", "60x8, same", "60x5+", "100x", "5x", "8 3x", "2x24kg x 10", "3x8 @ 2x24kg",
    "100x3, 110, 120", "3/8/60", "60@8", "10ish", "did 8", "~8", "(8)", "60kg x 8 = 480", "red band 3x15", "82 500x5",
    "1.250x5", "3x5 @ 60-65", "45s L, 40s R", "3x8x20x5", "60x8 RPE 7,8,9", "60x8 RPE 12", "31x5@60", "60x501", "8.5",
    "60kg 65kg 8", "3x8,8 @ 60", "hello", "5x5 100kg @ 80",
]  # fmt: skip


@pytest.mark.parametrize("text", REFUSED)
def test_what_is_not_understood_is_refused_whole(text: str) -> None:
    with pytest.raises(CellRefused) as refused:
        read(text)
    assert refused.value.problem
    assert refused.value.remedy


@pytest.mark.parametrize(
    ("text", "doubt"),
    [
        ("8,8,7 @ 60", "at"), ("5x5 @ 8", "at_small"), ("10x8", "pair"), ("60x5x3", "triple"), ("10x8x20", "three"),
        ("10/10", "slash"), ("8,8 @ 80,85", "comma"), ("8", "bare"), ("3x8-10 @60kg", "range"),
        ("3x8 @ 75%", "percent"),
    ],
)  # fmt: skip
def test_what_could_mean_two_things_says_so(text: str, doubt: str) -> None:
    assert doubt in read(text, SetStyle()).doubts


@pytest.mark.parametrize(
    ("text", "style", "sets"),
    [
        ("5x5 @ 8", SetStyle(pair="sets-first", at_small="rpe"), ["5"] * 5),
        ("10x8", SetStyle(pair="load-first"), ["8 10"]),
        ("10x8", SetStyle(pair="sets-first"), ["8"] * 10),
        ("60x5x3", SetStyle(triple="sets-reps"), ["3 60"] * 5),
        ("10x8x20", SetStyle(three="load-first", triple="sets-reps"), ["20 10"] * 8),
        ("10x8x20", SetStyle(three="load-last"), ["8 20"] * 10),
        ("10/10", SetStyle(slash="sets"), ["10", "10"]),
        ("8,8 @ 80,85", SetStyle(comma="list", at="load"), ["8 80", "8 85"]),
        ("8,8 @ 80,85", SetStyle(comma="decimal", at="load"), ["8 80.85", "8 80.85"]),
        ("100", SetStyle(bare="single"), ["1 100"]),
        ("3x8-10 @60kg", SetStyle(range="highest"), ["10 60kg"] * 3),
        ("3x8-10 @60kg", SetStyle(range="leave-out"), []),
        ("3x8 @ 75%", SetStyle(percent="leave-out"), []),
    ],
)
def test_the_writers_ways_decide(text: str, style: SetStyle, sets: list[str]) -> None:
    cell = read(text, style)
    assert [shown(one) for one in cell.sets] == sets
    assert bool(cell.left_out) == (not sets)


@given(st.text(st.sampled_from("0123456789xX@,./+-() :;kgblBW%smLR RPE"), max_size=24), st.booleans(), st.booleans())
def test_any_text_is_read_or_refused_and_no_digit_is_lost(text: str, gives_load: bool, is_count: bool) -> None:
    try:
        cell = read(text, gives_load=gives_load, is_count=is_count)
    except CellRefused as refused:
        assert refused.problem
        assert refused.remedy
    else:
        assert cell.sets or cell.left_out
        assert len(cell.sets) <= 60
        assert all(0 <= one.reps <= 2000 for one in cell.sets if one.reps is not None)
