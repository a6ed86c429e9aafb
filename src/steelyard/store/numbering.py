"""Numbers in commit order: one writer at a time gives them, and none is given twice."""

from django.db import connections

from .ledger import kept_out
from .models import StoredEntry

LOCK = 0x53544C59


def take_writers_lock(using: str) -> None:
    """Numbers become visible in order; SQLite's IMMEDIATE has taken the lock already."""
    connection = connections[using]
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_xact_lock(%s)", [LOCK])


def latest_number(using: str) -> int:
    """The highest number ever given, also to an entry that was erased since."""
    latest = StoredEntry.objects.using(using).order_by("-number").values_list("number", flat=True).first()
    return max(latest or 0, kept_out(using).latest_number)
