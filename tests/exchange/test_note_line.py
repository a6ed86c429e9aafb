"""Lines about health as people type them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelyard.engine.quantities import kg, lb
from steelyard.exchange.cells import CellRefused
from steelyard.exchange.note_line import (
    FeverNoted,
    Lifted,
    Noted,
    PainNoted,
    PressureNoted,
    Restricted,
    SignNoted,
    Withdrawn,
    WordsNoted,
    read_note,
)


@pytest.mark.parametrize(
    ("line", "meant"),
    [
        ("pain left knee 4", PainNoted(part="knee", side="left", score=4)),
        ("Pain: knee 4/10 right", PainNoted(part="knee", side="right", score=4)),
        ("pain lower back 0", PainNoted(part="lower back", score=0)),
        ("schmerz linkes Knie 3", PainNoted(part="knie", side="left", score=3)),
        ("pain both elbows", PainNoted(part="elbows", side="both")),
        (
            "pain left knee 2 next-morning settled",
            PainNoted(part="knee", side="left", score=2, next_morning="settled"),
        ),
        ("pain knee next morning worse", PainNoted(part="knee", next_morning="worse")),
        ("pain shoulder 6 new, sharp swollen", PainNoted(part="shoulder", score=6, signs=("new", "sharp", "swollen"))),
        ("pain left knee closed", PainNoted(part="knee", side="left", is_closed=True)),
        ("restrict bench press leave-out", Restricted(what="bench press", effect="leave-out")),
        ("restrict knee no-rise", Restricted(what="knee", effect="no-rise")),
        ("restrict squat at-most 40kg", Restricted(what="squat", effect="at-most", load=kg(40))),
        ("restrict squat at-most 62,5", Restricted(what="squat", effect="at-most", load=lb("62.5"))),
        ("restrict everything rir 4", Restricted(what="everything", effect="least-rir", rir=4)),
        ("lift bench press", Lifted(what="bench press")),
        ("sign chest", SignNoted(signs=("chest",))),
        ("sign dark urine, Calf Pain", SignNoted(signs=("dark-urine", "calf-pain"))),
        ("fever", FeverNoted(is_there=True)),
        ("fever over", FeverNoted(is_there=False)),
        ("Fieber weg", FeverNoted(is_there=False)),
        ("blood-pressure 125/80", PressureNoted(text="125/80")),
        ("blutdruck 125 / 80", PressureNoted(text="125/80")),
        ("withdraw 1A2b3c", Withdrawn(handle="1a2b3c")),
        ("slept badly, knee fine", WordsNoted(words="slept badly, knee fine")),
        ("painful week", WordsNoted(words="painful week")),
    ],
)
def test_what_is_typed_is_what_is_meant(line: str, meant: Noted) -> None:
    assert read_note(line, "lb") == meant


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("", "nothing to note"),
        ("pain", "no part of the body"),
        ("pain left 4", "no part of the body"),
        ("pain knee 11", "one number from 0 to 10"),
        ("pain knee 3 4", "one number from 0 to 10"),
        ("restrict", "not said how"),
        ("restrict bench press", "not said how"),
        ("restrict leave-out", "not said what"),
        ("restrict squat at-most heavy", "no load"),
        ("restrict squat at-most 9999kg", "9999"),
        ("restrict squat rir many", "not said how"),
        ("lift", "not said what"),
        ("sign", "no sign that is known"),
        ("sign tired", "no sign that is known"),
        ("sign chest, tired", "no sign that is known"),
        ("fever maybe", "there, or over"),
        ("fever is coming I think", "there, or over"),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_to_write(line: str, words: str) -> None:
    with pytest.raises(CellRefused, match=words) as refused:
        read_note(line, "kg")
    assert refused.value.remedy


@given(st.text(max_size=60))
def test_any_line_is_read_or_refused(line: str) -> None:
    for head in ("", "pain ", "restrict ", "sign ", "fever "):
        try:
            read_note(head + line, "kg")
        except CellRefused as refused:
            assert refused.remedy
