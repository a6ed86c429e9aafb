"""Sets as open formats: what is exported as CSV comes in again as it was; JSON lines hold what scripts rely on."""

import csv
import io
import json
import tempfile
from datetime import date
from decimal import Decimal
from pathlib import Path

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.builders import a_set, entry_id

from steelyard.catalogue import catalogue
from steelyard.engine.effort import Effort
from steelyard.engine.fold import LoggedSet
from steelyard.engine.log import Pain, SetBody
from steelyard.engine.quantities import Load, Unit, kg, lb
from steelyard.exchange import cells
from steelyard.exchange.cells import CellRefused
from steelyard.exchange.csv_sets import read_csv
from steelyard.exchange.set_export import csv_lines, file_kg, json_lines, set_line

WRITTEN = [(e, name) for e in catalogue().exercises for name in (e.name["en"], e.name["de"], *e.written)]
RUNNABLE = ("=", "+", "-", "@", "'=", "''", "\t", "'")


@st.composite
def notes(draw: st.DrawFn) -> str:
    """Any note that the log can hold, often one that a spreadsheet would run."""
    typed = draw(st.sampled_from(("", *RUNNABLE))) + draw(
        st.text(st.characters(exclude_categories=("Cs", "Cc")) | st.sampled_from('\n\t,;"=+-@'), max_size=30)
    )
    return cells.text(typed)


@st.composite
def pains(draw: st.DrawFn) -> Pain | None:
    """Pain as it can be typed."""
    words = draw(st.text(st.sampled_from("abcäé =+-@',;:"), max_size=12))
    try:
        return cells.pain(cells.text(f"{words} {draw(st.sampled_from(('', *map(str, range(11)))))}"))
    except CellRefused:
        return None


@st.composite
def logged_sets(draw: st.DrawFn) -> LoggedSet:
    """A set of which CSV can say everything."""
    exercise, written = draw(st.sampled_from(WRITTEN))
    unit: Unit = draw(st.sampled_from(("kg", "lb")))
    least = -50_000 if exercise.body_mass_share else 0
    load = Load(Decimal(draw(st.integers(least, 199_900))).scaleb(-draw(st.integers(2, 3))), unit)
    may_be_bare = bool(exercise.body_mass_share) or exercise.measure != "reps"
    reps = draw(st.integers(0, 40))
    body = SetBody(
        on=draw(st.dates(date(1950, 1, 1), date(2200, 12, 31))),
        exercise=exercise.code,
        as_written=written,
        load=None if may_be_bare and draw(st.booleans()) else load,
        reps=reps if exercise.measure == "reps" or not reps else None,
        seconds=reps if exercise.measure == "seconds" and reps else None,
        metres=Decimal(reps) if exercise.measure == "metres" and reps else None,
        effort=draw(st.none() | st.integers(0, 20).map(lambda halves: Effort(Decimal(halves) / 2))),
        missed="unsaid" if reps == 0 else None,
        pain=draw(pains()),
        technique=draw(st.sampled_from((None, "good", "rough", "broke"))),
        note=draw(notes()),
    )
    return LoggedSet(entry_id(1), body)


def in_again(lifter: str, sets: list[LoggedSet]) -> list[SetBody]:
    """The sets after a way through a CSV file."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "sets.csv"
        file.write_text("".join(csv_lines(lifter, sets, catalogue())), encoding="utf-8", newline="")
        reading = read_csv(file, catalogue(), None)
    assert reading.problems == ()
    assert all(r.lifter == lifter for r in reading.rows)
    return [r.body for r in reading.rows]


def as_in_files(body: SetBody) -> SetBody:
    """The same set with its load in kilograms, and its effort without trailing zeros."""
    return msgspec.structs.replace(
        body,
        load=None if body.load is None else kg(file_kg(body.load)),
        effort=None if body.effort is None else Effort(Decimal(f"{body.effort.value.normalize():f}")),
    )


@given(st.lists(logged_sets(), min_size=1, max_size=8), st.sampled_from(("Ada", "=Ada", "Ines Falk", '"Bo", jr')))
def test_what_is_exported_comes_in_again_as_it_was(sets: list[LoggedSet], lifter: str) -> None:
    came = in_again(lifter, sets)
    assert [as_in_files(b) for b in came] == [as_in_files(s.body) for s in sets]
    again = [LoggedSet(s.id, b) for s, b in zip(sets, came, strict=True)]
    assert list(csv_lines(lifter, again, catalogue())) == list(csv_lines(lifter, sets, catalogue()))


@given(st.lists(logged_sets(), min_size=1, max_size=8))
def test_no_cell_of_an_export_can_be_run_by_a_spreadsheet(sets: list[LoggedSet]) -> None:
    written = "".join(csv_lines("@Ada", sets, catalogue()))
    header, *rows = csv.reader(io.StringIO(written, newline=""))
    for line in rows:
        for column, cell in zip(header, line, strict=True):
            if column != "kg":  # a number: a negative one is an assistance
                assert not cell.startswith(("=", "+", "-", "@", "\t", "\r")), cell


def test_pounds_of_any_plate_fit_into_a_file() -> None:
    assert file_kg(lb("137.25")) == Decimal("62.255553")  # 137.25 lb x 0.45359237 = 62.2555527825
    assert file_kg(kg("62.5")) == Decimal("62.5")


@pytest.mark.parametrize(
    ("body", "load_kg", "reps", "rir"),
    [
        (a_set("2026-11-02", "squat", 100, 5, rir=2), 100.0, 5, 2.0),
        (a_set("2026-11-02", "squat", 100, 0, missed="strength"), 100.0, 0, None),
        (a_set("2026-11-02", "pull-up", None, 8), 0.0, 8, None),
        (a_set("2026-11-02", "pull-up", -15, 8), -15.0, 8, None),
        (a_set("2026-11-02", "squat", lb(100), 5, effort=Effort(Decimal(8), "rpe")), 45.359237, 5, 2.0),
        (a_set("2026-11-02", "lat-pulldown", Load(Decimal(7), "mark"), 5), None, 5, None),
    ],
)
def test_a_line_of_json_always_has_what_scripts_rely_on(
    body: SetBody, load_kg: float | None, reps: int, rir: float | None
) -> None:
    (line,) = json_lines([set_line("Ada", LoggedSet(entry_id(1), body), catalogue())])
    assert line.endswith("\n")
    found = json.loads(line)
    wanted = {"lifter": "Ada", "date": "2026-11-02", "load_kg": load_kg, "reps": reps, "rir": rir}
    assert {key: found[key] for key in wanted} == wanted
    assert found["exercise"] == catalogue()[body.exercise].name["en"]


def test_every_shape_is_in_json_lines() -> None:
    body = a_set(
        "2026-11-02",
        "squat",
        100,
        6,
        session=2,
        kind="top",
        phase="deload",
        implement="old rack",
        side="left",
        tempo="3-1-1",
        cluster=(2, 2, 2),
        technique="rough",
        pain=Pain(2, "left knee"),
        note="slow",
    )
    found = json.loads("".join(json_lines([set_line("Ada", LoggedSet(entry_id(1), body), catalogue())])))
    said = {"session": 2, "kind": "top", "phase": "deload", "implement": "old rack", "side": "left", "tempo": "3-1-1"}
    said |= {"cluster": [2, 2, 2], "technique": "rough", "pain": "left knee 2", "note": "slow", "id": entry_id(1)}
    assert {key: found.get(key) for key in said} == said
