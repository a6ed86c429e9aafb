"""Bring the tables up to this version, and no further."""

import time
from pathlib import Path

from django.core.management import call_command
from django.db import DatabaseError, connections, transaction
from django.db.migrations.exceptions import MigrationSchemaMissing
from django.db.migrations.recorder import MigrationRecorder

_OWN = sorted(file.stem for file in (Path(__file__).parent / "migrations").glob("[0-9]*.py"))


TRIES, PAUSE_S = 20, 0.1


class NewerLog(Exception):
    """The log has changes that this version does not know."""


def prepare(alias: str) -> None:
    """Apply what is missing; raises NewerLog where the log is ahead of this program."""
    for left in reversed(range(TRIES)):
        applied = _applied(alias)
        ahead = applied - set(_OWN)
        if ahead:
            raise NewerLog(", ".join(sorted(ahead)))
        if applied == set(_OWN):
            return
        try:
            _migrate(alias)
        except (DatabaseError, MigrationSchemaMissing):
            # Another process may be preparing the same log at this moment; then it is ready soon.
            if not left:
                raise
            time.sleep(PAUSE_S)


def _migrate(alias: str) -> None:
    """All or nothing: Django notes a migration only after the transaction that made its tables."""
    # SQLite alters no table while it checks foreign keys, and heeds no change of that inside a transaction.
    with connections[alias].constraint_checks_disabled(), transaction.atomic(using=alias):
        call_command("migrate", database=alias, verbosity=0, interactive=False)


def _applied(alias: str) -> set[str]:
    recorder = MigrationRecorder(connections[alias])
    if not recorder.has_table():
        return set()
    return {name for app, name in recorder.applied_migrations() if app == "store"}
