"""A file is taken in once: again, in another order, after logging by hand or amending, it adds nothing."""

import random
from collections.abc import Callable
from pathlib import Path

import pytest

from steelyard.engine.quantities import Unit
from steelyard.services.amending import amend
from steelyard.services.importing import Imported, ImportOptions, import_file, problem_text
from steelyard.services.lifters import all_lifters, find_lifter, log_of
from steelyard.services.past import export_lines
from steelyard.services.scribe import Scribe
from steelyard.services.set_logging import log_line
from steelyard.store import queries
from steelyard.wording.quantity import Voice

HEADER = "date,lifter,exercise,kg,reps,RIR,pain,technique,note"
ROWS = (
    "2026-10-26,Ada,Squat,100,5,,,,",
    "2026-10-26,Ada,Squat,100,5,,,,",
    "2026-10-26,Ada,Squat,100,5,2,,,felt slow",
    "2026-10-26,Ada,Bench press,62.5,0,,,broke,",
    "2026-10-26,Bo,Pull-up,,8,,left elbow 1,,",
    "2026-10-26,Bo,Plank,,45,,,,",
    "2026-10-28,Ada,Squat,102.5,5,2,,,",
)
Importer = Callable[..., Imported]


@pytest.fixture
def bring_in(tmp_path: Path, scribe: Scribe) -> Importer:
    """Import a file of these rows."""

    def run(*rows: str, header: str = HEADER, lifter: str | None = None) -> Imported:
        file = tmp_path / "sets.csv"
        file.write_text("\n".join((header, *rows)) + "\n", encoding="utf-8")
        return import_file(file, ImportOptions(lifter=lifter), Voice(), scribe)

    return run


def counts(imported: Imported) -> tuple[int, int, int]:
    """Rows read, entries added, entries known."""
    assert imported.problems == ()
    assert imported.questions == ()
    return imported.rows_read, imported.entries_added, imported.entries_known


def sets_of(name: str = "Ada") -> list[tuple[str, str, int | None]]:
    """Day, exercise and repetitions of each set as it stands."""
    return [(s.body.on.isoformat(), s.body.exercise, s.body.reps) for s in log_of(find_lifter(name)).sets]


def test_a_file_adds_its_sets_and_lifters(bring_in: Importer) -> None:
    imported = bring_in(*ROWS)
    assert counts(imported) == (7, 7, 0)
    assert (imported.lifters, imported.lifters_added) == (("Ada", "Bo"), 2)
    assert [x.name for x in all_lifters()] == ["Ada", "Bo"]
    assert len(sets_of("Ada")) == 5
    assert len(sets_of("Bo")) == 2


def test_again_it_adds_nothing_in_any_order(bring_in: Importer) -> None:
    bring_in(*ROWS)
    before = list(queries.all_entries())
    rows, rng = list(ROWS), random.Random(3)
    for _ in range(5):
        rng.shuffle(rows)
        again = bring_in(*rows)
        assert counts(again) == (7, 0, 7)
        assert again.lifters_added == 0
    assert list(queries.all_entries()) == before


def test_two_orders_give_the_same_ids_of_sets_of_one_lifter(bring_in: Importer) -> None:
    """The ids come from content, so that two files that overlap fit together."""
    bring_in(ROWS[0], ROWS[2])
    assert counts(bring_in(*reversed(ROWS))) == (7, 5, 2)
    assert len(sets_of("Ada")) == 5


def test_spelling_changes_nothing(bring_in: Importer) -> None:
    bring_in(*ROWS[:3])
    others = (
        "2026-10-26,ada,SQUATS,100.0,5,,,,",
        "2026-10-26, ADA ,squat,+100,5,,0,,",
        "2026-10-26,Ada,sq,100.00,5,2.0,none,,felt slow",
    )
    assert counts(bring_in(*others)) == (3, 0, 3)


def test_the_same_set_in_pounds_is_the_same_set(bring_in: Importer) -> None:
    bring_in("2026-10-26,Ada,Squat,45.359237,5", header="date,lifter,exercise,kg,reps")
    assert counts(bring_in("2026-10-26,Ada,Squat,100,5", header="date,lifter,exercise,lb,reps")) == (1, 0, 1)


def test_one_more_equal_row_is_one_more_set(bring_in: Importer) -> None:
    bring_in(*ROWS[:2])
    assert counts(bring_in(*ROWS[:2], ROWS[0])) == (3, 1, 2)


def test_any_problem_adds_nothing_at_all(bring_in: Importer) -> None:
    imported = bring_in(*ROWS, "2026-10-29,Cy,Squat,heavy,5,,,,", "2026-02-30,Cy,Squat,100,5,,,,")
    assert [(p.row, p.column) for p in imported.problems] == [(9, "kg"), (10, "date")]
    assert (imported.rows_read, imported.entries_added, imported.entries_known) == (9, 0, 0)
    assert list(queries.all_entries()) == []
    assert problem_text(imported.problems[0]).startswith("row 9, column kg: 'heavy' is not a load; ")


@pytest.mark.parametrize(
    ("line", "row"),
    [
        ("squat 5 @ 100kg", "2026-10-26,Ada,Squat,100,5,,,,"),
        ("squat 5 @ 100kg rir 2 note felt slow", "2026-10-26,Ada,Squat,100,5,2,,,felt slow"),
        ("squat 5 @ 100kg rpe 8", "2026-10-26,Ada,Squat,100,5,2,,,"),
        ("squat 5 @ 220.5lb", "2026-10-26,Ada,Squat,100.017118,5,,,,"),
        ("pull-up 8 pain left elbow 1", "2026-10-26,Ada,Pull-up,,8,,left elbow 1,,"),
        ("pull-up 8", "2026-10-26,Ada,Pull-up,0,8,,,,"),
        ("plank 45s", "2026-10-26,Ada,Plank,,45,,,,"),
        ("farmer's carry 40m @ 24kg", "2026-10-26,Ada,Farmer's carry,24,40,,,,"),
        ("bench 0 @ 62.5kg technique broke", "2026-10-26,Ada,Bench press,62.5,0,,,broke,"),
    ],
)
def test_a_set_that_was_logged_by_hand_is_known(bring_in: Importer, scribe: Scribe, line: str, row: str) -> None:
    bring_in("2026-10-01,Ada,Squat,60,5,,,,")
    head, _, note = line.partition(" note ")
    log_line(f"{head} on 2026-10-26" + (f" note {note}" if note else ""), "Ada", None, Voice(), scribe)
    assert counts(bring_in(row)) == (1, 0, 1)
    assert counts(bring_in(row, row)) == (2, 1, 1)
    assert counts(bring_in(row, row)) == (2, 0, 2)


def handle(reps: int) -> str:
    """The id of the one set of Ada's with these repetitions."""
    (found,) = [s.id for s in log_of(find_lifter("Ada")).sets if s.body.reps == reps]
    return found


@pytest.mark.parametrize("is_logged_by_hand", [False, True])
def test_an_amended_set_stays_amended(bring_in: Importer, scribe: Scribe, is_logged_by_hand: bool) -> None:
    rows = ("2026-10-26,Ada,Squat,100,5,,,,", "2026-10-26,Ada,Squat,100,4,,,,")
    bring_in(rows[0])
    if is_logged_by_hand:
        log_line("squat 4 @ 100kg on 2026-10-26", "Ada", None, Voice(), scribe)
    assert counts(bring_in(*rows)) == (2, 0 if is_logged_by_hand else 1, 2 if is_logged_by_hand else 1)
    amend(handle(4), "squat 3 @ 100kg", "", "kg", scribe)
    for _ in range(2):
        assert counts(bring_in(*rows)) == (2, 0, 2)
    amend(handle(3), "squat 2 @ 100kg", "", "kg", scribe)
    assert counts(bring_in(*rows)) == (2, 0, 2)
    assert [reps for _, _, reps in sets_of()] == [5, 2]
    # What it says now is known too, and is no second set.
    assert counts(bring_in(rows[0], rows[1].replace(",4,", ",2,"))) == (2, 0, 2)
    # Both at once are two sets: one of them is new.
    assert counts(bring_in(*rows, rows[1].replace(",4,", ",2,")))[1] == 1


@pytest.mark.parametrize("is_logged_by_hand", [False, True])
def test_a_withdrawn_set_stays_withdrawn(bring_in: Importer, scribe: Scribe, is_logged_by_hand: bool) -> None:
    row = "2026-10-26,Ada,Squat,100,4,,,,"
    bring_in("2026-10-01,Ada,Squat,60,5,,,,")
    if is_logged_by_hand:
        log_line("squat 4 @ 100kg on 2026-10-26", "Ada", None, Voice(), scribe)
    else:
        bring_in(row)
    amend(handle(4), None, "never lifted", "kg", scribe)
    assert counts(bring_in(row)) == (1, 0, 1)
    assert counts(bring_in(row, row)) == (2, 1, 1)


@pytest.mark.parametrize("unit", ["kg", "lb"])
def test_what_is_exported_is_known_when_it_comes_back(
    bring_in: Importer, scribe: Scribe, tmp_path: Path, unit: Unit
) -> None:
    bring_in(*(row for row in ROWS if ",Ada," in row))
    log_line("bench 3x8 @ 137.25 rir 2 note =1+1", "Ada", None, Voice("en", unit), scribe)
    log_line("squat 5 @ 80 rpe 8.5 pain =left knee 2", "Ada", None, Voice("en", unit), scribe)
    log_line("plank 2x45s", "Ada", None, Voice("en", unit), scribe)
    file = tmp_path / "export.csv"
    file.write_text("".join(export_lines("Ada", "csv")), encoding="utf-8", newline="")
    assert counts(import_file(file, ImportOptions(), Voice(), scribe)) == (11, 0, 11)


def test_a_csv_without_a_lifter_column_takes_the_one_that_is_named(bring_in: Importer) -> None:
    assert bring_in("2026-10-26,Squat,100,5", header="date,exercise,kg,reps", lifter="Ines  Falk").lifters == (
        "Ines Falk",
    )
    again = bring_in("2026-10-26,Squat,100,5", header="date,exercise,kg,reps", lifter="ines falk")
    assert (again.lifters, again.lifters_added, again.entries_added) == (("Ines Falk",), 0, 0)
