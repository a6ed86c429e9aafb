"""JSON opened as rows: objects a line, or a list of them."""

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from steelyard.exchange.bounds import MOST_CELLS
from steelyard.exchange.grid import Cell, FileRefused, Opened
from steelyard.exchange.opening import open_file
from steelyard.exchange.problems import Problem

OBJECTS: list[dict[str, object]] = [
    {"date": "2026-03-02", "lift": "squat", "kg": 82.5, "reps": 8},
    {"date": "2026-03-02", "kg": None, "lift": "Überzüge", "ok": True},
    {"sets": [{"kg": 60, "reps": 5}, "x"], "date": "2026-03-04"},
]
HEADER = ("date", "lift", "kg", "reps", "ok", "sets")
ROWS: list[tuple[Cell, ...]] = [
    ("2026-03-02", "squat", 82.5, 8),
    ("2026-03-02", "Überzüge", "", "", True),
    ("2026-03-04", "", "", "", "", '[{"kg":60,"reps":5},"x"]'),
]


def opened(tmp_path: Path, content: bytes | str, name: str) -> Opened:
    """The file with this content, opened."""
    path = tmp_path / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return open_file(path)


def rows(found: Opened) -> list[tuple[int, tuple[Cell, ...]]]:
    """Numbers and cells of the only grid."""
    (grid,) = found.grids
    return [(row.number, tuple(row.cells)) for row in grid.rows]


def refused(tmp_path: Path, content: bytes | str, name: str = "log.jsonl") -> Problem:
    """Why the file with this content is not opened."""
    with pytest.raises(FileRefused) as why:
        opened(tmp_path, content, name)
    assert why.value.problem.remedy
    return why.value.problem


@pytest.mark.parametrize("codec", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("name", ["log.jsonl", "log.txt"])
def test_an_object_a_line(tmp_path: Path, codec: str, name: str) -> None:
    first, second, third = (json.dumps(value, ensure_ascii=False) for value in OBJECTS)
    found = opened(tmp_path, f"{first}\n\n{second}\r\n{third}".encode(codec), name)
    assert found.kind == "json-lines"
    assert rows(found) == [(0, HEADER), (1, ROWS[0]), (3, ROWS[1]), (4, ROWS[2])]


@pytest.mark.parametrize("indent", [None, 2])
def test_a_list_of_objects_counts_them(tmp_path: Path, indent: int | None) -> None:
    found = opened(tmp_path, json.dumps(OBJECTS, indent=indent), "log.json")
    assert found.kind == "json-list"
    assert rows(found) == [(0, HEADER), (1, ROWS[0]), (2, ROWS[1]), (3, ROWS[2])]


def test_types_stay_what_they_are(tmp_path: Path) -> None:
    found = rows(opened(tmp_path, '{"a": 1, "b": 1.0, "c": true, "d": "1", "e": -0.5}', "log.jsonl"))
    assert [type(cell) for cell in found[1][1]] == [int, float, bool, str, float]


@pytest.mark.parametrize("number", ["1e999", "-1e999", "NaN", "-Infinity", "9" * 40])
def test_numbers_that_are_none_stay_text(tmp_path: Path, number: str) -> None:
    assert rows(opened(tmp_path, f'{{"kg": {number}}}', "log.jsonl"))[1] == (1, (number,))


@pytest.mark.parametrize(
    ("text", "row"),
    [
        ('{"a": 1}\n{"a": 1\n', 2),
        ('{"a": 1}\n\n[1, 2]\n', 3),
        ('{"a": 1}\nsquat 5x5\n', 2),
        ('{"a": 1} {"a": 2}\n', 1),
        ('{"a": 1}\n{"a": 1, "a": 2}\n', 2),
        ('{"a": 1}\n{"a": "\\ud800"}\n', 2),
        ('{"a": 1}\n{"\\udfff": 1}\n', 2),
        ('{"a": 1}\n{"a": ["\\udfff"]}\n', 2),
        ('{"a": 1}\n{"a": "\\u0000"}\n', 2),
        ('{"a": ' + "[" * 100_000 + "]" * 100_000 + "}", 1),
        ('{"a": "' + "x" * 10_001 + '"}', 1),
    ],
)
def test_a_bad_line_is_refused_with_its_number(tmp_path: Path, text: str, row: int) -> None:
    assert refused(tmp_path, text).row == row


@pytest.mark.parametrize(
    ("text", "row"),
    [
        ('[{"a": 1}, {"a": 1]', 2),
        ('[{"a": 1}', 1),
        ('[{"a": 1} {"a": 1}]', 1),
        ('[{"a": 1}] x', 1),
        ('[{"a": 1}, 2]', 2),
        ('[{"a": 1}, {"a": "\\u0000"}]', 2),
        ('[{"a": 1}, {"a": "\\ud800"}]', 2),
        ("[[1, 2], [3, 4]]", 1),
        ('[{"a": 1},', 2),
        ('[{"a": "' + "x" * 2_000_000, 1),
    ],
)
def test_a_bad_list_is_refused_with_the_object(tmp_path: Path, text: str, row: int) -> None:
    assert refused(tmp_path, text, "log.json").row == row


def test_too_many_names_are_refused(tmp_path: Path) -> None:
    lines = "\n".join(json.dumps({f"name {n}": n}) for n in range(MOST_CELLS + 1))
    assert refused(tmp_path, lines).row == MOST_CELLS + 1


@pytest.mark.parametrize("text", ["[Mo] squat 5x5", "{note} felt good", "[x] done, 5 sets"])
def test_brackets_alone_are_no_json(tmp_path: Path, text: str) -> None:
    assert opened(tmp_path, text, "log.txt").kind == "lines"


VALUE = st.none() | st.booleans() | st.integers(-(10**16), 10**16) | st.floats(allow_nan=False, allow_infinity=False)
TEXT = st.text(st.characters(blacklist_categories=["Cs"], blacklist_characters="\0"), max_size=20)


@given(st.lists(st.dictionaries(TEXT.filter(bool), VALUE | TEXT, min_size=1), min_size=1, max_size=6), st.booleans())
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_every_value_comes_back(tmp_path: Path, objects: list[dict[str, object]], as_list: bool) -> None:
    objects = [{"on": "2026-03-02", **found} for found in objects]
    text = json.dumps(objects) if as_list else "\n".join(map(json.dumps, objects))
    header, *found = rows(opened(tmp_path, text, "log.json" if as_list else "log.jsonl"))
    assert header == (0, tuple(dict.fromkeys(key for value in objects for key in value)))
    for value, (_, cells) in zip(objects, found, strict=True):
        read = dict(zip(header[1], cells, strict=False))
        wanted = {key: "" if inner is None else inner for key, inner in value.items()}
        assert {key: read.get(key, "") for key in wanted} == wanted
