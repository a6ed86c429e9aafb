"""Between a table's row and an entry."""

from datetime import datetime

import msgspec
from msgspec import Struct, structs

from steelyard.engine.log import Entry, encode_canonical

from .models import SetAside, StoredEntry

COLUMNS = ("entry_id", "person", "author", "device", "kind", "schema", "hlc", "wall_time", "replaces", "body")
_IDS = msgspec.json.Decoder(tuple[str, ...])
_NONE = "[]"


class Envelope(Struct, frozen=True, kw_only=True):
    """An entry without its body, as a set-aside one keeps it."""

    id: str
    person: str
    author: str
    device: str
    kind: str
    schema: int
    hlc: str
    wall_time: str
    replaces: tuple[str, ...] = ()


_ENVELOPE = msgspec.json.Decoder(Envelope)


def row_of(entry: Entry, number: int, received: datetime) -> StoredEntry:
    """The row of an entry under its number."""
    return StoredEntry(
        number=number,
        entry_id=entry.id,
        person=entry.person,
        author=entry.author,
        device=entry.device,
        kind=entry.kind,
        schema=entry.schema,
        hlc=entry.hlc,
        wall_time=entry.wall_time,
        replaces=encode_canonical(entry.replaces).decode(),
        body=entry.body,
        body_sha256=entry.body_sha256,
        received=received.isoformat(),
    )


def entry_of(row: tuple[str, str, str, str, str, int, str, str, str, bytes]) -> Entry:
    """The entry of a row read by COLUMNS."""
    entry_id, person, author, device, kind, schema, hlc, wall_time, replaces, body = row
    return Entry(
        id=entry_id,
        person=person,
        author=author,
        device=device,
        kind=kind,
        schema=schema,
        hlc=hlc,
        wall_time=wall_time,
        replaces=() if replaces == _NONE else _IDS.decode(replaces),
        body=bytes(body),
    )


def aside_row(entry: Entry, received: datetime) -> SetAside:
    """The row of an entry that is set aside."""
    return SetAside(entry_id=entry.id, envelope=_envelope_text(entry), body=entry.body, received=received.isoformat())


def aside_entry(row: SetAside) -> Entry:
    """The entry of a row that was set aside."""
    return Entry(**structs.asdict(_ENVELOPE.decode(row.envelope)), body=bytes(row.body))


def _envelope_text(entry: Entry) -> str:
    values = {name: getattr(entry, name) for name in Envelope.__struct_fields__}
    return encode_canonical(values).decode()
