"""Writing the log: append whole batches, in one short transaction, once."""

from collections.abc import Sequence
from datetime import datetime
from typing import Literal

from django.db import transaction
from msgspec import Struct

from steelyard.engine.log import Entry

from .ledger import kept_out
from .models import SetAside, StoredEntry
from .numbering import latest_number, take_writers_lock
from .rows import aside_row, row_of

BATCH = 500

Outcome = Literal["stored", "known", "set-aside", "erased"]


class PersonErased(Exception):
    """An entry of somebody who was erased from this log; nothing of its batch was stored."""


class Appended(Struct, frozen=True):
    """What became of each entry of a batch, in its order."""

    outcomes: tuple[Outcome, ...]

    def count(self, outcome: Outcome) -> int:
        """How many entries met one fate."""
        return self.outcomes.count(outcome)


def append(
    entries: Sequence[Entry], received: datetime, using: str = "default", *, skip_erased: bool = False
) -> Appended:
    """Store what is new, all of it or nothing; an id that is known with another body is set aside, never merged.

    Raises PersonErased for entries of somebody who was erased, unless they are to be skipped.
    """
    outcomes: list[Outcome] = []
    with transaction.atomic(using=using, durable=True):
        take_writers_lock(using)
        hashes = _known(entries, using)
        rows: list[StoredEntry] = []
        number, out = latest_number(using), kept_out(using)
        for entry in entries:
            known = hashes.get(entry.id)
            if entry.person in out.people and not skip_erased:
                raise PersonErased(entry.person)
            if entry.person in out.people or entry.id in out.entries:
                outcomes.append("erased")
            elif known is None:
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


def _known(entries: Sequence[Entry], using: str) -> dict[str, bytes]:
    """The body hash of each id that is stored already."""
    ids = [entry.id for entry in entries]
    known: dict[str, bytes] = {}
    for start in range(0, len(ids), BATCH):
        rows = StoredEntry.objects.using(using).filter(entry_id__in=ids[start : start + BATCH])
        known.update((i, bytes(h)) for i, h in rows.values_list("entry_id", "body_sha256"))
    return known


def _set_aside(entry: Entry, received: datetime, using: str) -> None:
    """Keep it once, however often it comes."""
    row = aside_row(entry, received)
    if not SetAside.objects.using(using).filter(entry_id=row.entry_id, envelope=row.envelope, body=row.body).exists():
        row.save(using=using, force_insert=True)
