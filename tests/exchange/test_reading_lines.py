"""Free lines: where the name of an exercise ends and its sets begin."""

from pathlib import Path

import pytest
from tests.exchange.grids import bodies, brief, read_text


def lines(folder: Path, *rows: str) -> list[tuple[str, str]]:
    """Exercise and set of every set that stands in these lines below a day."""
    reading = read_text(folder, "\n".join(["2026-11-02", *rows]), name="log.txt")
    return [(exercise, done) for _, _, exercise, done in brief(reading)]


@pytest.mark.parametrize("name", ["Butterfly an der Maschine", "Seated row machine"])
@pytest.mark.parametrize(
    ("said", "sets"),
    [
        ("2x8@75lb, 1x7@75lb", ["8 x 75lb", "8 x 75lb", "7 x 75lb"]),
        ("150lbx9 150lbx8", ["9 x 150lb", "8 x 150lb"]),
        ("30kg x 8", ["8 x 30kg"]),
    ],
)
def test_a_number_of_sets_or_a_load_is_no_number_of_a_machine(
    tmp_path: Path, name: str, said: str, sets: list[str]
) -> None:
    assert lines(tmp_path, f"{name} {said}") == [(name, done) for done in sets]


def test_the_number_of_a_machine_belongs_to_its_name(tmp_path: Path) -> None:
    assert lines(tmp_path, "Machine 4: 3x8@50kg") == [("Machine 4", "8 x 50kg")] * 3


def test_a_count_of_sets_parted_by_blanks_is_no_part_of_the_name(tmp_path: Path) -> None:
    assert lines(tmp_path, "Squat 1 x 10 x 47,5kg, 1 x 9 x 47,5kg") == [
        ("Squat", "10 x 47.5kg"),
        ("Squat", "9 x 47.5kg"),
    ]


@pytest.mark.parametrize("remark", ["nur 5 h geschlafen", "slept 6 hours", "trained at 18 Uhr"])
def test_hours_in_a_remark_are_no_sets(tmp_path: Path, remark: str) -> None:
    assert lines(tmp_path, "Squat 8@60kg", remark, "Bench press 5@50kg") == [
        ("Squat", "8 x 60kg"),
        ("Bench press", "5 x 50kg"),
    ]


def test_a_bracket_at_the_end_of_a_line_that_begins_with_its_day_is_whole(tmp_path: Path) -> None:
    content = "2026-11-02 Squat 8@60kg 7@60kg (RIR 2)\n2026-11-04 (push day)\nBench press 5@50kg\n"
    found = bodies(read_text(tmp_path, content, name="log.txt"))
    assert [(b.on.day, b.reps, b.effort is not None, b.note) for b in found] == [
        (2, 8, False, ""),
        (2, 7, True, ""),
        (4, 5, False, ""),
    ]
