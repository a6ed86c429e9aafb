"""Writing the log: append whole batches, in one short transaction, once."""

from collections.abc import Sequence
from datetime import datetime
from typing import Literal

from django.db import connections, transaction
from msgspec import Struct

from steelyard.engine.log import Entry, encode_canonical

from .models import SetAside, StoredEntry
from .rows import row_of

BATCH = 500
LOCK = 0x53544C59


Outcome = Literal["stored", "known", "set-aside"]


class Appended(Struct, frozen=True):
    """What became of each entry of a batch, in its order."""

    outcomes: tuple[Outcome, ...]

    def count(self, outcome: Outcome) -> int:
        """How many entries met one fate."""
        return self.outcomes.count(outcome)


def append(entries: Sequence[Entry], received: datetime, using: str = "default") -> Appended:
    """Store what is new, all of it or nothing; an id that is known with another body is set aside, never merged."""
    outcomes: list[Outcome] = []
    with transaction.atomic(using=using, durable=True):
        _take_writers_lock(using)
        hashes = _known(entries, using)
        rows: list[StoredEntry] = []
        number = _latest_number(using)
        for entry in entries:
            known = hashes.get(entry.id)
            if known is None:
                number += 1
                rows.append(row_of(entry, number, received))
                hashes[entry.id] = entry.body_sha256
                outcomes.append("stored")
            elif known == entry.body_sha256:
                outcomes.append("known")
            else:
                _set_aside(entry, received, using)
                outcomes.append("set-aside")
        StoredEntry.objects.using(using).bulk_create(rows, batch_size=BATCH)
    return Appended(tuple(outcomes))


def _take_writers_lock(using: str) -> None:
    """One writer at a time, so that numbers become visible in order; SQLite's IMMEDIATE has taken it already."""
    connection = connections[using]
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_xact_lock(%s)", [LOCK])


def _latest_number(using: str) -> int:
    latest = StoredEntry.objects.using(using).order_by("-number").values_list("number", flat=True).first()
    return latest or 0


def _known(entries: Sequence[Entry], using: str) -> dict[str, bytes]:
    """The body hash of each id that is stored already."""
    ids = [entry.id for entry in entries]
    known: dict[str, bytes] = {}
    for start in range(0, len(ids), BATCH):
        rows = StoredEntry.objects.using(using).filter(entry_id__in=ids[start : start + BATCH])
        known.update((i, bytes(h)) for i, h in rows.values_list("entry_id", "body_sha256"))
    return known


def _set_aside(entry: Entry, received: datetime, using: str) -> None:
    envelope = {name: getattr(entry, name) for name in entry.__struct_fields__ if name != "body"}
    SetAside.objects.using(using).create(
        entry_id=entry.id,
        envelope=encode_canonical(envelope).decode(),
        body=entry.body,
        received=received.isoformat(),
    )
