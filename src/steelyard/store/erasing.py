"""Removing a person: their entries go and the ledger stands, in one transaction."""

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction
from msgspec import Struct

from steelyard.engine.erased import Erased
from steelyard.engine.log import Entry

from . import ledger, numbering
from .models import SetAside, StoredEntry
from .rows import aside_entry, row_of
from .scrubbing import delete_securely

BATCH = 500


class Removed(Struct, frozen=True):
    """How many entries, and how many that waited because their id was known with another body."""

    entries: int
    set_aside: int


def erase(
    gone: Erased,
    received: datetime,
    *,
    rewritten: Sequence[Entry] = (),
    aside: Sequence[int] = (),
    using: str = "default",
) -> Removed:
    """Remove a person's entries and the shared ones that the erasure names; `rewritten` takes the place of the latter.

    `aside` are numbers of shared set-aside entries that go too. Everything or nothing; what was freed is not yet
    overwritten: that is scrub()'s, now or at the next start.
    """
    delete_securely(using)
    with transaction.atomic(using=using, durable=True):
        numbering.take_writers_lock(using)
        number = numbering.latest_number(using)
        entries = _delete_entries(gone, using)
        set_aside = _delete_aside(gone.person, set(aside), using)
        ledger.note(gone, number, using)
        rows = [row_of(entry, number + n, received) for n, entry in enumerate(rewritten, start=1)]
        StoredEntry.objects.using(using).bulk_create(rows, batch_size=BATCH)
    return Removed(entries, set_aside)


def _delete_entries(gone: Erased, using: str) -> int:
    stored = StoredEntry.objects.using(using)
    count, _ = stored.filter(person=gone.person).delete()
    for start in range(0, len(gone.entries), BATCH):
        stored.filter(entry_id__in=gone.entries[start : start + BATCH]).delete()
    return count


def _delete_aside(person: str, numbers: set[int], using: str) -> int:
    rows = SetAside.objects.using(using)
    theirs = {row.number for row in rows.all() if aside_entry(row).person == person}
    rows.filter(number__in=theirs | numbers).delete()
    return len(theirs)
