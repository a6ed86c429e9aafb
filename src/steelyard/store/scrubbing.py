"""Overwriting what erasures have freed: a deleted row stays in a database's files until its room is used again."""

from typing import Any

from django.db import DatabaseError, connections

from .models import ErasedPerson, SetAside, StoredEntry

PATIENCE_MS = 5000


def delete_securely(using: str) -> None:
    """From here on SQLite writes zeros over what it frees."""
    connection = connections[using]
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA secure_delete=ON")


def scrub(using: str = "default", patience_ms: int = PATIENCE_MS) -> bool:
    """Overwrite it; False where somebody else holds the log or the disk is full: then the next start tries again."""
    due = list(ErasedPerson.objects.using(using).filter(to_scrub=True).values_list("person", flat=True))
    if not due:
        return True
    connection = connections[using]
    write_anew = _write_sqlite_anew if connection.vendor == "sqlite" else _write_postgresql_anew
    try:
        if not write_anew(connection, patience_ms):
            return False
        ErasedPerson.objects.using(using).filter(person__in=due).update(to_scrub=False)
    except DatabaseError:
        return False
    return True


def _write_sqlite_anew(connection: Any, patience_ms: int) -> bool:
    """Copy the file without free pages, and empty the write-ahead log, which holds older pages."""
    with connection.cursor() as cursor:
        usual = cursor.execute("PRAGMA busy_timeout").fetchone()[0]
        cursor.execute(f"PRAGMA busy_timeout={int(patience_ms)}")
        try:
            cursor.execute("VACUUM")
            is_busy = cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0]
        finally:
            cursor.execute(f"PRAGMA busy_timeout={int(usual)}")
    return not is_busy


def _write_postgresql_anew(connection: Any, patience_ms: int) -> bool:
    """A plain vacuum would leave the bytes in the free room of their pages."""
    tables = ", ".join(model._meta.db_table for model in (StoredEntry, SetAside))
    with connection.cursor() as cursor:
        cursor.execute(f"SET lock_timeout = {int(patience_ms)}")
        try:
            cursor.execute(f"VACUUM (FULL, ANALYZE) {tables}")
        finally:
            cursor.execute("RESET lock_timeout")
    return True
