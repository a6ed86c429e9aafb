"""Sets as open formats: what is exported comes in again with nothing lost; JSON lines hold what scripts rely on."""

import csv
import io
import json
import tempfile
from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import get_args

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.builders import a_set, entry_id
from tests.exchange.grids import bodies, read_opened

from steelyard.catalogue import catalogue
from steelyard.engine.effort import Effort
from steelyard.engine.fold import LoggedSet
from steelyard.engine.log import Missed, Pain, Phase, SetBody, SetKind
from steelyard.engine.quantities import Load, Unit, kg, lb
from steelyard.exchange import cells
from steelyard.exchange.cells import CellRefused
from steelyard.exchange.opening import open_file
from steelyard.exchange.set_export import CSV_COLUMNS, csv_lines, file_kg, json_lines, set_line

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


EFFORTS = [Effort(Decimal(halves) / 2) for halves in range(21)] + [
    Effort(Decimal(rpe), "rpe") for rpe in ("5", "6", "7", "7.5", "8", "8.5", "9", "9.5", "10")
]
NAMES = st.none() | st.text(st.sampled_from("aB3 =+-'"), min_size=1, max_size=6).map(cells.text).filter(bool)


@st.composite
def logged_sets(draw: st.DrawFn) -> LoggedSet:
    """A set of any shape that the log can hold."""
    exercise, written = draw(st.sampled_from(WRITTEN))
    unit: Unit = draw(st.sampled_from(("kg", "lb", "mark")))
    load = Load(Decimal(draw(st.integers(-50_000, 199_900))).scaleb(-draw(st.integers(2, 3))), unit)
    reps = draw(st.integers(0, 40))
    is_reps = exercise.measure == "reps" or not reps
    body = SetBody(
        on=draw(st.dates(date(1950, 1, 1), date(2200, 12, 31))),
        exercise=exercise.code,
        as_written=written,
        session=draw(st.integers(1, 3)),
        kind=draw(st.none() | st.sampled_from(get_args(SetKind))),
        phase=draw(st.none() | st.sampled_from(get_args(Phase))),
        implement=draw(NAMES),
        load=draw(st.none() | st.just(load)),
        reps=reps if is_reps else None,
        seconds=reps if exercise.measure == "seconds" and reps else None,
        metres=Decimal(reps) + draw(st.sampled_from((Decimal(0), Decimal("0.5"))))
        if exercise.measure == "metres" and reps
        else None,
        side=draw(st.sampled_from((None, "left", "right", "each"))),
        tempo=draw(st.sampled_from((None, "3-1-1", "3-0-1-0"))),
        cluster=draw(st.sampled_from(((), (2, 2, 2)))),
        cluster_pause_s=draw(st.none() | st.integers(1, 60)),
        pair=draw(NAMES),
        rest_interval_s=draw(st.none() | st.integers(1, 600)),
        effort=draw(st.none() | st.sampled_from(EFFORTS)),
        missed=draw(st.sampled_from(get_args(Missed))) if not reps else draw(st.sampled_from((None, "technique"))),
        pain=draw(pains()),
        technique=draw(st.sampled_from((None, "good", "rough", "broke"))),
        note=draw(notes()),
    )
    return LoggedSet(entry_id(1), body)


def in_again(lifter: str, lines: Iterable[str], name: str) -> list[SetBody]:
    """The sets after a way through a file."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / name
        file.write_text("".join(lines), encoding="utf-8", newline="")
        reading = read_opened(open_file(file), lifter=None)
    found = bodies(reading)
    assert {s.lifter for s in reading.sets} == {lifter}
    return found


LIFTERS = st.sampled_from(("Ada", "=Ada", "Ines Falk", '"Bo", jr'))


@given(st.lists(logged_sets(), min_size=1, max_size=8), LIFTERS)
def test_what_is_exported_as_csv_comes_in_again_as_it_was(sets: list[LoggedSet], lifter: str) -> None:
    assert in_again(lifter, csv_lines(lifter, sets, catalogue()), "sets.csv") == [s.body for s in sets]


@given(st.lists(logged_sets(), min_size=1, max_size=8), LIFTERS)
def test_what_is_exported_as_json_lines_comes_in_again_as_it_was(sets: list[LoggedSet], lifter: str) -> None:
    lines = json_lines(set_line(lifter, s, catalogue()) for s in sets)
    assert in_again(lifter, lines, "sets.jsonl") == [s.body for s in sets]


def test_an_older_export_without_the_later_columns_is_still_read() -> None:
    header = ",".join(CSV_COLUMNS[:9])
    line = "2026-11-02,Ada,Squat,62.255553,5,2,left knee 2,rough,slow"
    (body,) = in_again("Ada", [f"{header}\n", f"{line}\n"], "old.csv")
    wanted = a_set("2026-11-02", "", "62.255553", 5, rir=2, pain=Pain(2, "left knee"), technique="rough", note="slow")
    assert body == msgspec.structs.replace(wanted, as_written="Squat")


@given(st.lists(logged_sets(), min_size=1, max_size=8))
def test_no_cell_of_an_export_can_be_run_by_a_spreadsheet(sets: list[LoggedSet]) -> None:
    written = "".join(csv_lines("@Ada", sets, catalogue()))
    header, *rows = csv.reader(io.StringIO(written, newline=""))
    for line in rows:
        for column, cell in zip(header, line, strict=True):
            if column not in {"kg", "metres"}:  # numbers: a negative load is an assistance
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
