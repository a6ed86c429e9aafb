"""Bodies of entries as bytes: one way to write each, and back to the same value."""

import json
from decimal import Decimal
from hashlib import sha256
from typing import Any, NoReturn

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.builders import a_set, day, entry
from tests.strategies import bodies, slow_to_draw

from steelyard.engine.body import Body
from steelyard.engine.effort import Effort
from steelyard.engine.log import (
    KIND_OF,
    SCHEMA,
    CheckInBody,
    OverruleBody,
    Pain,
    SetBody,
    decode_body,
    encode_body,
    encode_canonical,
)
from steelyard.engine.quantities import Load, QuantityRefused, kg, lb
from steelyard.engine.sheet import PlannedSet

MONDAY = "2026-03-02"

# Every shape of set that people write, as it was lifted.
LIFTED: dict[str, SetBody] = {
    "repetitions": a_set(MONDAY, "squat", "62.5", 5, as_written="62.5 x 5"),
    "nothing came up": a_set(MONDAY, "squat", 100, 0, missed="strength"),
    "with the empty hand": a_set(MONDAY, "lunge", 0, 12),
    "seconds held": a_set(MONDAY, "plank", None, None, seconds=45),
    "metres carried": a_set(MONDAY, "farmers-carry", 32, None, metres=Decimal("40.5")),
    "each side": a_set(MONDAY, "split-squat", 16, 10, side="each"),
    "one side": a_set(MONDAY, "split-squat", 16, 8, side="left"),
    "tempo": a_set(MONDAY, "squat", 60, 5, tempo="3-1-1"),
    "assisted": a_set(MONDAY, "pull-up", -25, 8),
    "added to body mass": a_set(MONDAY, "pull-up", "7.5", 5),
    "paired": a_set(MONDAY, "row", 40, 10, pair="A"),
    "cluster with pauses": a_set(MONDAY, "squat", 120, 6, cluster=(2, 2, 2), cluster_pause_s=20),
    "top set": a_set(MONDAY, "bench-press", 100, 3, kind="top", effort=Effort(Decimal("8.5"), "rpe")),
    "back-off": a_set(MONDAY, "bench-press", 85, 6, kind="back-off", rir=3),
    "a machine's own scale": a_set(MONDAY, "leg-press", Load(Decimal(7), "mark"), 12, implement="by the window"),
    "pounds": a_set(MONDAY, "deadlift", lb(225), 5),
    "pain": a_set(MONDAY, "bench-press", 60, 8, pain=Pain(2, "left shoulder, coming down"), technique="rough"),
    "everything else": a_set(
        MONDAY, "squat", 60, 5, session=2, kind="work", phase="deload", rest_interval_s=180, note="late, tired"
    ),
}
# The same for what is asked; a range and an open end stand on this side only.
PLANNED: dict[str, PlannedSet] = {
    "repetitions": PlannedSet(kind="work", load=kg("62.5"), reps=5, target_rir=2, plates_per_side=(kg(20), kg("1.25"))),
    "range": PlannedSet(kind="work", load=kg(60), reps=8, reps_top=12),
    "open-ended": PlannedSet(kind="work", load=kg(80), reps=5, is_open_ended=True),
    "seconds held": PlannedSet(kind="work", seconds=45),
    "metres carried": PlannedSet(kind="work", load=kg(32), metres=Decimal(40)),
    "each side": PlannedSet(kind="work", load=kg(16), reps=10, per_side=True),
    "tempo": PlannedSet(kind="work", load=kg(60), reps=5, tempo="3-1-1"),
    "assisted": PlannedSet(kind="work", load=kg(-25), reps=8),
    "added to body mass": PlannedSet(kind="work", load=kg("7.5"), reps=5),
    "paired": PlannedSet(kind="work", load=kg(40), reps=10, pair="A", rest_interval_s=90),
    "cluster with pauses": PlannedSet(kind="work", load=kg(120), reps=6, cluster=(2, 2, 2), cluster_pause_s=20),
    "top set": PlannedSet(kind="top", load=kg(100), reps=3, target_rir=1),
    "back-off": PlannedSet(kind="back-off", load=kg(85), reps=6),
    "a machine's own scale": PlannedSet(kind="work", load=Load(Decimal(7), "mark"), reps=12),
    "pounds": PlannedSet(kind="ramp", load=lb(135), reps=5),
}


def refuse_float(written: str) -> NoReturn:
    raise AssertionError(f"a number that is not whole: {written}")


def read_strictly(written: bytes) -> Any:
    """The JSON value; floats, NaN and repeated keys fail."""

    def once_each(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        assert len({key for key, _ in pairs}) == len(pairs)
        return dict(pairs)

    return json.loads(written, parse_float=refuse_float, parse_constant=refuse_float, object_pairs_hook=once_each)


def canonical(value: Any) -> bytes:
    """The canonical bytes by the standard library: keys sorted, no spaces, UTF-8."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()


@given(bodies())
@slow_to_draw
def test_bytes_are_canonical(body: Body) -> None:
    written = encode_body(body)
    assert written == canonical(read_strictly(written))


@given(bodies())
@slow_to_draw
def test_every_body_comes_back(body: Body) -> None:
    written = encode_body(body)
    read = decode_body(KIND_OF[type(body)], SCHEMA, written)
    assert read == body
    assert read is not None
    assert encode_body(read) == written


@pytest.mark.parametrize("shape", LIFTED)
def test_every_shape_of_a_lifted_set_comes_back(shape: str) -> None:
    body = LIFTED[shape]
    assert decode_body("set", SCHEMA, encode_body(body)) == body


@pytest.mark.parametrize("shape", PLANNED)
def test_every_shape_of_a_planned_set_comes_back(shape: str) -> None:
    planned = PLANNED[shape]
    written = encode_canonical(planned)
    assert written == canonical(read_strictly(written))
    assert msgspec.json.decode(written, type=PlannedSet) == planned


def test_no_two_shapes_are_written_alike() -> None:
    assert len({encode_body(body) for body in LIFTED.values()}) == len(LIFTED)
    assert len({encode_canonical(planned) for planned in PLANNED.values()}) == len(PLANNED)


def test_the_bytes_of_one_set() -> None:
    body = a_set(MONDAY, "squat", "62.50", 5, rir=2, session=2, note="müde")
    assert encode_body(body).decode() == (
        '{"effort":{"scale":"rir","value":"2"},"exercise":"squat","load":{"unit":"kg","value":"62.50"},'
        '"note":"müde","on":"2026-03-02","reps":5,"session":2}'
    )


def test_nought_is_written_and_absence_is_not() -> None:
    missed = encode_body(a_set(MONDAY, "squat", 0, 0, rir=0))
    silent = encode_body(a_set(MONDAY, "squat", None, None))
    assert read_strictly(missed)["reps"] == 0
    assert read_strictly(missed)["load"]["value"] == "0"
    assert read_strictly(missed)["effort"]["value"] == "0"
    assert read_strictly(silent) == {"exercise": "squat", "on": MONDAY}


def test_the_hash_is_of_the_bytes_as_sent() -> None:
    sent = b'{ "on": "2026-03-02", "exercise": "squat", "load": {"value": 62.5} }'
    kept = entry(sent, kind="set")
    assert kept.body == sent
    assert kept.body_sha256 == sha256(sent).digest()


def test_what_a_later_version_adds_is_passed_over() -> None:
    later = (
        b'{"exercise":"squat","load":{"colour":"red","unit":"kg","value":"60"},"mood":{"a":[1.5]},"on":"2026-03-02"}'
    )
    assert decode_body("set", SCHEMA, later) == a_set(MONDAY, "squat", 60, None)


@pytest.mark.parametrize("kind", KIND_OF.values())
@pytest.mark.parametrize(
    "written",
    [
        b"",
        b"{",
        b"null",
        b"[]",
        b'"set"',
        b"{}",
        b"\xff\xfe",
        b'{"on":"2026-03-02","exercise":"\xff","why":"\xff","name":"\xff","note":"\xff"}',
        b'{"x":' * 100_000,
        b'{"on":"2026-02-30"}',
    ],
)
def test_bytes_that_are_no_such_body_are_unread(kind: str, written: bytes) -> None:
    assert decode_body(kind, SCHEMA, written) is None


@pytest.mark.parametrize(
    "field",
    [
        '"load":{"value":"NaN"}',
        '"load":{"value":"1E+9"}',
        '"load":{"value":"1E-1000010","unit":"lb"}',
        '"load":{"unit":"stone","value":"10"}',
        '"effort":{"value":"NaN"}',
        '"effort":{"scale":"rpe","value":"3"}',
        '"metres":"Infinity"',
        '"metres":"NaN"',
        '"metres":"-1"',
        '"reps":-1',
        '"reps":"5"',
        '"reps":5.5',
        '"seconds":-1',
        '"kind":"joker"',
    ],
)
def test_a_set_with_a_field_that_cannot_be_is_unread(field: str) -> None:
    assert decode_body("set", SCHEMA, b'{"exercise":"squat","on":"2026-03-02"}') is not None
    assert decode_body("set", SCHEMA, f'{{"exercise":"squat","on":"2026-03-02",{field}}}'.encode()) is None


@pytest.mark.parametrize("ceiling", ["NaN", "Infinity", "-0.01"])
def test_an_overrule_without_a_number_as_ceiling_is_refused(ceiling: str) -> None:
    with pytest.raises(QuantityRefused):
        OverruleBody(
            on=day(MONDAY),
            until=day("2026-03-09"),
            exercise="squat",
            limit="weekly-limit",
            ceiling=Decimal(ceiling),
            by="Coach",
            why="test week",
        )


@given(bodies(), st.integers(SCHEMA + 1, 99))
@slow_to_draw
def test_a_newer_schema_and_an_unknown_kind_are_unread(body: Body, newer: int) -> None:
    kind = KIND_OF[type(body)]
    assert decode_body(kind, newer, encode_body(body)) is None
    assert decode_body(f"{kind}-of-later", SCHEMA, encode_body(body)) is None


def test_a_body_mass_keeps_its_unit_as_typed() -> None:
    body = CheckInBody(on=day(MONDAY), body_mass=lb("180.0"))
    assert encode_body(body) == b'{"body_mass":{"unit":"lb","value":"180.0"},"on":"2026-03-02"}'
