"""Entries of every schema number ever written stay readable: their files stay for ever and are never edited.

A field added later gets a file of its own beside them.
"""

import json
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from hashlib import sha256
from pathlib import Path
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

import msgspec
import pytest

from steelyard.engine.body import Body
from steelyard.engine.fold import fold
from steelyard.engine.log import KIND_OF, Entry, decode_body, encode_body

FOLDER = Path(__file__).parents[1] / "fixtures" / "schema_1"
ENVELOPE = {field.name for field in msgspec.structs.fields(Entry)}


def read_records() -> Iterator[tuple[str, dict[str, Any]]]:
    """Every record of every file, with a name for it."""
    for file in sorted(FOLDER.glob("*.json")):
        for number, record in enumerate(json.loads(file.read_text(encoding="utf-8"))["entries"]):
            yield f"{file.stem}-{number}", record


RECORDS = dict(read_records())


def entry_of(record: dict[str, Any]) -> Entry:
    """The entry as it came in."""
    fields = {name: record[name] for name in ENVELOPE}
    return Entry(**{**fields, "replaces": tuple(record["replaces"]), "body": record["body"].encode()})


def body_of(record: dict[str, Any]) -> Body:
    """The body as a value."""
    body = decode_body(record["kind"], record["schema"], record["body"].encode())
    assert body is not None, "this version cannot read it any more"
    return body


def spelt_out(value: object) -> Any:
    """A value with all its defaults, as JSON would hold it."""
    if isinstance(value, msgspec.Struct):
        spelt = {field.name: spelt_out(getattr(value, field.name)) for field in msgspec.structs.fields(value)}
        tag = value.__struct_config__.tag
        return spelt if tag is None else {"code": tag, **spelt}
    if isinstance(value, tuple):
        return [spelt_out(item) for item in value]
    if isinstance(value, dict):
        return {key: spelt_out(item) for key, item in value.items()}
    if isinstance(value, date | Decimal):
        return str(value)
    return value


def holds(found: Any, wanted: Any) -> bool:
    """Whether all that was meant is found; fields that were added since may be there as well."""
    if isinstance(wanted, dict) and isinstance(found, dict):
        return all(key in found and holds(found[key], value) for key, value in wanted.items())
    if isinstance(wanted, list) and isinstance(found, list):
        return len(found) == len(wanted) and all(map(holds, found, wanted))
    return type(found) is type(wanted) and bool(found == wanted)


def structs_in(hint: Any) -> Iterator[type[msgspec.Struct]]:
    """The types of engine values that a type names."""
    if isinstance(hint, type) and issubclass(hint, msgspec.Struct):
        yield hint
    elif get_origin(hint) in {Union, UnionType, tuple, dict}:
        for part in get_args(hint):
            yield from structs_in(part)


def reachable(outer: type[msgspec.Struct], found: set[type[msgspec.Struct]]) -> None:
    """Every type of value that can stand in a body."""
    if outer not in found:
        found.add(outer)
        hints = get_type_hints(outer)
        for field in msgspec.structs.fields(outer):
            for inner in structs_in(hints[field.name]):
                reachable(inner, found)


def choices_in(hint: Any) -> Iterator[str]:
    """The words that a type allows."""
    if get_origin(hint) is Literal:
        yield from get_args(hint)
    elif get_origin(hint) in {Union, UnionType}:
        for part in get_args(hint):
            yield from choices_in(part)


def said_in(value: object, found: set[tuple[str, str, object]]) -> None:
    """Every field that a value says something in, with the type that holds it and what a word says."""
    if isinstance(value, msgspec.Struct):
        for field in msgspec.structs.fields(value):
            inner = getattr(value, field.name)
            if field.required or inner != field.default:
                found.add((type(value).__name__, field.name, None))
            if isinstance(inner, str):
                found.add((type(value).__name__, field.name, inner))
            said_in(inner, found)
    elif isinstance(value, tuple):
        for item in value:
            said_in(item, found)


@pytest.mark.parametrize("name", RECORDS)
def test_an_old_entry_is_read_and_written_as_it_was(name: str) -> None:
    record = RECORDS[name]
    assert encode_body(body_of(record)).decode() == record["body"]


@pytest.mark.parametrize("name", RECORDS)
def test_an_old_entry_means_what_it_meant(name: str) -> None:
    record = RECORDS[name]
    assert holds(spelt_out(body_of(record)), record["means"])


@pytest.mark.parametrize("name", RECORDS)
def test_an_old_entry_has_its_hash(name: str) -> None:
    record = RECORDS[name]
    assert set(record) == ENVELOPE | {"body_sha256", "means"}
    assert entry_of(record).body_sha256.hex() == record["body_sha256"]
    assert sha256(record["body"].encode()).hexdigest() == record["body_sha256"]


@pytest.mark.parametrize("kind", KIND_OF.values())
def test_every_kind_has_several(kind: str) -> None:
    assert len([record for record in RECORDS.values() if record["kind"] == kind]) > 1
    assert (FOLDER / f"{kind}.json").exists()


def test_every_field_of_every_value_and_every_choice_occurs() -> None:
    types: set[type[msgspec.Struct]] = set()
    for body in KIND_OF:
        reachable(body, types)
    said: set[tuple[str, str, object]] = set()
    for record in RECORDS.values():
        said_in(body_of(record), said)
    wanted: set[tuple[str, str, object]] = set()
    for kind in types:
        hints = get_type_hints(kind)
        for field in msgspec.structs.fields(kind):
            wanted |= {(kind.__name__, field.name, choice) for choice in (None, *choices_in(hints[field.name]))}
    assert wanted - said == set()
    assert ("SetBody", "technique", "rough") in wanted
    assert ("Decision", "reasons", None) in wanted


def test_an_old_log_folds_and_nothing_in_it_is_unread() -> None:
    log = fold(entry_of(record) for record in RECORDS.values())
    assert log.unread == ()
    assert log.lifter is not None
    assert all((log.sets, log.check_ins, log.overrules, log.equipment, log.policy_changes, log.sheets))
    withdrawn = {
        target for record in RECORDS.values() if record["kind"] == "tombstone" for target in record["replaces"]
    }
    assert withdrawn
    assert withdrawn.isdisjoint(s.id for s in log.sets)
