"""Every shape of a set can be said in one line, and what cannot be read comes back with advice."""

from datetime import date
from decimal import Decimal
from typing import Any

import click
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from tests.builders import a_set, sets_of

from steelyard.catalogue import catalogue
from steelyard.cli.commands.log import command as log_command
from steelyard.engine.effort import Effort
from steelyard.engine.log import CheckInBody, Pain, SetBody
from steelyard.engine.quantities import Load, Unit, kg, lb
from steelyard.exchange.cells import CellRefused
from steelyard.exchange.set_line import Typed, read_line

TODAY = date(2026, 11, 2)


def read(line: str, unit: Unit = "kg") -> Typed:
    """The line as typed today."""
    return read_line(line, catalogue(), TODAY, unit)


def bench(*reps: int, load: str = "60", written: str = "bench", **more: Any) -> tuple[SetBody, ...]:
    """Bench press sets of today."""
    return sets_of(TODAY, "bench-press", kg(load), *reps, as_written=written, **more)


SHAPES: dict[str, tuple[SetBody, ...]] = {
    "bench 3x8 @ 62.5kg rir 2": bench(8, 8, 8, load="62.5", rir=2),
    "bench 3 x 8 @ 62.5 kg": bench(8, 8, 8, load="62.5"),
    "bench 3×8 62.5": bench(8, 8, 8, load="62.5"),
    "bench 3x8 @ 62,5kg": bench(8, 8, 8, load="62.5"),
    "BENCH 2X8 @ 60KG RIR 1": bench(8, 8, rir=1, written="BENCH"),
    "Bankdrücken 8 @ 60kg": bench(8, written="Bankdrücken"),
    "bench 8,8,7 @ 60kg": bench(8, 8, 7),
    "bench 8 @ 60kg rpe 8.5": bench(8, effort=Effort(Decimal("8.5"), "rpe")),
    "bench 8 @ 60kg rir 1,5": bench(8, effort=Effort(Decimal("1.5"))),
    "bench 8 @ 135lb": (a_set(TODAY, "bench-press", lb(135), 8, as_written="bench"),),
    # Held and carried.
    "plank 2x45s": tuple(a_set(TODAY, "plank", None, None, seconds=45, as_written="plank") for _ in range(2)),
    "plank 45": (a_set(TODAY, "plank", None, None, seconds=45, as_written="plank"),),
    "plank 60s @ 10kg": (a_set(TODAY, "plank", 10, None, seconds=60, as_written="plank"),),
    "farmer's carry 40m @ 24kg": (
        a_set(TODAY, "farmers-carry", 24, None, metres=Decimal(40), as_written="farmer's carry"),
    ),
    # One side, tempo, pairs, clusters.
    "dumbbell row 10 @ 22.5kg left": (
        a_set(TODAY, "dumbbell-row", "22.5", 10, side="left", as_written="dumbbell row"),
    ),
    "split squat 8 @ 10kg each": (a_set(TODAY, "split-squat", 10, 8, side="each", as_written="split squat"),),
    "bench 8 @ 60kg tempo 3-1-1": bench(8, tempo="3-1-1"),
    "bench 8 @ 60kg pair A": bench(8, pair="A"),
    "bench 2x2+2+1 @ 60kg pause 20s": bench(5, 5, cluster=(2, 2, 1), cluster_pause_s=20),
    # Body mass: bare, added, assisted.
    "pull-up 8": (a_set(TODAY, "pull-up", None, 8, as_written="pull-up"),),
    "pull-up 6 @ +10kg": (a_set(TODAY, "pull-up", 10, 6, as_written="pull-up"),),
    "assisted pull-up 8 @ -20kg": (a_set(TODAY, "assisted-pull-up", -20, 8, as_written="assisted pull-up"),),
    "pull-up 8 @ -15kg": (a_set(TODAY, "pull-up", -15, 8, as_written="pull-up"),),
    # Kinds, a machine and its own scale.
    "bench 1 @ 60kg top": bench(1, kind="top"),
    "bench 3x5 @ 60kg back-off": bench(5, 5, 5, kind="back-off"),
    "bench 5 @ 60kg warm-up": bench(5, kind="warm-up"),
    "bench 5 @ 60kg ramp rir 5": bench(5, kind="ramp", rir=5),
    "bench 5 @ 60kg work": bench(5, kind="work"),
    "lat pulldown 10 @ mark 7 machine by the door": (
        a_set(
            TODAY, "lat-pulldown", Load(Decimal(7), "mark"), 10, implement="by the door", as_written="lat pulldown"
        ),
    ),
    # Missed, pain, technique, rest, another day or session.
    "bench 0 @ 60kg": bench(0, missed="unsaid"),
    "bench 3,0 @ 60kg missed strength": (*bench(3), *bench(0, missed="strength")),
    "bench 8 @ 60kg pain left elbow 3 technique good": bench(8, pain=Pain(3, "left elbow"), technique="good"),
    "bench 8 @ 60kg pain left elbow": bench(8, pain=Pain(None, "left elbow")),
    "bench 8 @ 60kg pain 0": bench(8),
    "bench 8 @ 60kg technique rough": bench(8, technique="rough"),
    "bench 8 @ 60kg rest 150s": bench(8, rest_interval_s=150),
    "bench 8 @ 60kg session 2": bench(8, session=2),
    "bench 8 @ 60kg on 2026-10-30": sets_of("2026-10-30", "bench-press", 60, 8, as_written="bench"),
    "bench 8 @ 60kg note =1+1 left rir 2": bench(8, note="=1+1 left rir 2"),
}  # fmt: skip


@pytest.mark.parametrize("line", SHAPES)
def test_every_shape_can_be_said(line: str) -> None:
    assert read(line).sets == SHAPES[line]


def test_what_is_said_of_effort_pain_and_technique_is_of_the_last_set() -> None:
    first, last = read("bench 2x8 @ 60kg rir 2 pain wrist 1 technique rough note slow").sets
    assert (first.effort, first.pain, first.technique, first.note) == (None, None, None, "slow")
    assert (last.effort, last.pain, last.technique) == (Effort(Decimal(2)), Pain(1, "wrist"), "rough")


def test_a_bare_load_is_in_the_unit_of_the_command() -> None:
    assert read("bench 8 @ 135", "lb").sets[0].load == lb(135)
    assert read("bench 8 @ 60kg", "lb").sets[0].load == kg(60)


@pytest.mark.parametrize(
    ("line", "check_in"),
    [
        ("body mass 81.5kg", CheckInBody(on=TODAY, body_mass=kg("81.5"))),
        ("bodymass 180 lb on 2026-10-01", CheckInBody(on=date(2026, 10, 1), body_mass=lb(180))),
        ("Körpermasse 81,5", CheckInBody(on=TODAY, body_mass=kg("81.5"))),
    ],
)
def test_body_mass_is_a_check_in(line: str, check_in: CheckInBody) -> None:
    assert read(line) == Typed(check_in=check_in)


@pytest.mark.parametrize(
    ("line", "problem", "remedy"),
    [
        ("", "is no set", "such as: bench"),
        ("bench", "is no set", "such as: bench"),
        ("bench 8", "has no load", "such as: bench"),
        ("bench 3x8 @", "holds no load", "after the @"),
        ("bench 3x8 @ heavy", "holds no load", "after the @"),
        ("bench 8 @ 62.5.5", "'.5' is not understood", "such as"),
        ("bench 8 @ 9999kg", "more than 2000", "check the number"),
        ("bench 8 @ -20kg", "negative load", "assistance"),
        ("nonsense 8 @ 60kg", "'nonsense' is no exercise", "steelyard exercises"),
        ("bnech 8 @ 60kg", "'bnech' is no exercise", "did you mean Bench press"),
        ("bench 100x8 @ 60kg", "100 sets", "1 to 30"),
        ("bench 0x8 @ 60kg", "0 sets", "1 to 30"),
        ("bench 600 @ 60kg", "'600' is more than 500", "check"),
        ("bench 8 @ 60kg quickly", "'quickly' is not understood", "such as rir"),
        ("bench 8 @ 60kg rir", "not a number for RIR", "such as 2"),
        ("bench 8 @ 60kg rir two", "'two' is not a number", "such as 2"),
        ("bench 8 @ 60kg rir 11", "between 0 and 10", "0 to 10"),
        ("bench 8 @ 60kg pain", "nothing stands after pain", "left knee 3"),
        ("bench 8 @ 60kg pain 11", "'11' is not one number from 0 to 10", "left knee 3"),
        ("bench 8 @ 60kg technique odd", "'odd' is no remark", "good, rough or broke"),
        ("bench 0 @ 60kg missed", "missed", "strength, technique, pain, not-done"),
        ("bench 0 @ 60kg missed bored", "'bored'", "strength, technique, pain, not-done"),
        ("bench 8 @ 60kg tempo slow", "'slow'", "3-1-1"),
        ("bench 8 @ 60kg rest 2:30", "'2:30'", "of seconds"),
        ("bench 8 @ 60kg session 0", "'0'", "above 0"),
        ("bench 8 @ 60kg machine", "nothing stands after machine", "name"),
        ("bench 8 @ 60kg on yesterday", "'yesterday' is not a date", "2026-03-28"),
        ("bench 8 @ 60kg left side", "'side'", "note side"),
        ("bench 8 @ 60kg note \x07", "control characters", "without them"),
        ("bench 8 @ 60kg note " + "x" * 2100, "longer than 2000", "shorten"),
        ("body mass heavy", "is not understood", "such as"),
        ("body mass 81kg rir 2", "is no body mass", "body mass 81.5kg"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_comes_back_with_advice(line: str, problem: str, remedy: str) -> None:
    with pytest.raises(CellRefused) as refused:
        read(line)
    assert problem in refused.value.problem
    assert remedy in refused.value.remedy


def test_the_examples_of_the_help_can_be_typed() -> None:
    shown = click.unstyle(log_command.help or "")
    examples = [
        line.strip().removeprefix("steelyard log ").strip('"') for line in shown.splitlines() if "steelyard log" in line
    ]
    assert len(examples) >= 6
    for typed_line in examples:
        typed = read(typed_line)
        assert typed.sets or typed.check_in


PIECES = (
    *(
        "bench",
        "squat",
        "pull-up",
        "plank",
        "body mass",
        "körpermasse",
        "3x8",
        "8,8",
        "2+2",
        "45s",
        "40m",
        "@",
        "x",
        "×",
        "+",
    ),
    *(
        "62.5kg",
        "-20",
        "135lb",
        "mark 7",
        "1e9",
        "9" * 30,
        "½",
        "٣",
        "0",
        "rir",
        "rpe",
        "pain",
        "technique",
        "tempo",
        "rest",
    ),
    *("on", "session", "machine", "missed", "pair", "note", "left", "each", "warm-up", "pause", "3-1-1", "2026-02-30"),
    *("knee", "3/10", "rough", "strength", "\t", "\n", "'", "=", "inf", "nan", "8.5", ",", "/"),
)


@given(st.lists(st.sampled_from(PIECES) | st.text(max_size=5), max_size=9).map(" ".join), st.sampled_from(("kg", "lb")))
@example("bench ٣x٨ @ ٦٢", "kg")
@example("bench 8 @ ²", "kg")
def test_any_line_is_read_or_refused_with_advice(line: str, unit: Unit) -> None:
    try:
        typed = read(line, unit)
    except CellRefused as refused:
        assert refused.problem
        assert refused.remedy
    else:
        assert bool(typed.sets) != (typed.check_in is not None)
