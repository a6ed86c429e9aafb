"""Reading the log: engine values only."""

from collections.abc import Iterator

from steelyard.engine.log import Entry

from .models import SetAside, StoredEntry
from .rows import COLUMNS, aside_entry, entry_of


def entries_of(person: str, using: str = "default") -> list[Entry]:
    """Every entry of one person, in commit order."""
    rows = StoredEntry.objects.using(using).filter(person=person).order_by("number")
    return [entry_of(row) for row in rows.values_list(*COLUMNS)]


def all_entries(using: str = "default") -> Iterator[Entry]:
    """Every entry of the log, in commit order, without holding them all."""
    rows = StoredEntry.objects.using(using).order_by("number").values_list(*COLUMNS)
    return (entry_of(row) for row in rows.iterator(chunk_size=2000))


def entries_of_kind(kind: str, using: str = "default") -> list[Entry]:
    """Every entry of one kind and every tombstone, in commit order."""
    rows = StoredEntry.objects.using(using).filter(kind__in=[kind, "tombstone"]).order_by("number")
    return [entry_of(row) for row in rows.values_list(*COLUMNS)]


def latest_hlc(using: str = "default") -> str | None:
    """The highest hybrid logical clock reading in the log."""
    return StoredEntry.objects.using(using).order_by("-hlc").values_list("hlc", flat=True).first()


def count_entries(using: str = "default") -> int:
    """How many entries the log holds."""
    return StoredEntry.objects.using(using).count()


def count_set_aside(using: str = "default") -> int:
    """How many entries wait because their id was known with another body."""
    return SetAside.objects.using(using).count()


def all_set_aside(using: str = "default") -> list[tuple[int, Entry]]:
    """Every entry that waits so, with its number there."""
    return [(row.number, aside_entry(row)) for row in SetAside.objects.using(using).order_by("number")]


def set_aside_of(person: str, using: str = "default") -> list[Entry]:
    """Those of one person."""
    return [entry for _, entry in all_set_aside(using) if entry.person == person]
