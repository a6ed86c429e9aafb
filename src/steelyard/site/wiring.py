"""Open the log of a place: settings, connection, tables; the same call again points to another place."""

import os
import secrets
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from typing import Any

import django
from django.conf import settings
from django.db import connections
from django.db.migrations.exceptions import MigrationSchemaMissing
from django.db.utils import DatabaseError

from steelyard.wording.message import tell
from steelyard.wording.outside_errors import tell_database_error

from .place import Place, PlaceRefused, make_ready

APPLICATION_ID = 0x53544C59  # "STLY" in the file's head: which program a database belongs to
PROOF = "proof"
DEVICE_FILE = "device"


def open_log(place: Place) -> None:
    """Make the place ready and open its log; raises PlaceRefused with what to do about it."""
    make_ready(place)
    _start_django()
    from . import settings as ours

    _point("default", ours.database_for(place))
    if place.database is None:
        _claim(place.log_file)
    _prepare("default", place.database or str(place.log_file))
    _finish_erasing()


@contextmanager
def scratch_log() -> Iterator[str]:
    """A second, empty log in a temporary folder, under the alias that is given; gone afterwards."""
    from . import settings as ours

    with tempfile.TemporaryDirectory(prefix="steelyard-proof-") as folder:
        file = Path(folder) / "log.sqlite3"
        _point(PROOF, ours.sqlite_database(file))
        _claim(file)
        try:
            _prepare(PROOF, str(file))
            yield PROOF
        finally:
            connections[PROOF].close()
            del connections[PROOF]
            connections.databases.pop(PROOF)


def device_of(place: Place) -> str:
    """The random name of this installation, made at its first start; it is no part of a backup."""
    file = place.folder / DEVICE_FILE
    if not file.exists():
        # Whole or not there: another process may be starting at the same moment.
        made = place.folder / f"{DEVICE_FILE}.{secrets.token_hex(4)}"
        made.touch(mode=0o600)
        with made.open("w", encoding="ascii") as written:
            written.write(secrets.token_hex(8))
            written.flush()
            os.fsync(written.fileno())
        with suppress(FileExistsError):
            os.link(made, file)
        made.unlink()
    return file.read_text(encoding="ascii")


def _start_django() -> None:
    if not settings.configured:
        os.environ["DJANGO_SETTINGS_MODULE"] = "steelyard.site.settings"
        django.setup()


def _point(alias: str, database: dict[str, Any]) -> None:
    """Let a connection alias mean a database, closing what it meant before."""
    if alias in connections.databases:
        connections[alias].close()
        del connections[alias]
    connections.databases[alias] = connections.configure_settings({"default": {}, alias: database})[alias]


def _claim(file: Path) -> None:
    """Mark a new database file as ours; refuse a file that is not."""
    try:
        with closing(sqlite3.connect(file)) as connection, connection:
            found = connection.execute("PRAGMA application_id").fetchone()[0]
            # Not by its size: after a first start that was cut off, a file has bytes and holds nothing.
            if found == 0 and not connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]:
                file.chmod(0o600)
                connection.execute(f"PRAGMA application_id={APPLICATION_ID}")
                found = APPLICATION_ID
    except sqlite3.DatabaseError as refused:
        if refused.sqlite_errorcode & 0xFF in (sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_BUSY):
            raise PlaceRefused(
                tell("cannot open the log {file}: {why}", file=file, why=tell_database_error(refused))
            ) from refused
        raise PlaceRefused(
            tell(
                "{file} is no log of Steelyard ({why}); name another folder with --data",
                file=file,
                why=tell_database_error(refused),
            )
        ) from refused
    if found != APPLICATION_ID:
        raise PlaceRefused(tell("{file} belongs to another program; name another folder with --data", file=file))


def _prepare(alias: str, shown: str) -> None:
    """Bring the tables up to this version; refuse a log that a newer one has written."""
    from steelyard.store.schema import NewerLog, prepare

    try:
        prepare(alias)
    except NewerLog as refused:
        raise PlaceRefused(
            tell("{file} was written by a newer Steelyard ({version}); update this one", file=shown, version=refused)
        ) from refused
    except (DatabaseError, MigrationSchemaMissing) as refused:
        raise PlaceRefused(
            tell("cannot open the log {file}: {why}", file=shown, why=tell_database_error(refused))
        ) from refused


def _finish_erasing() -> None:
    """Overwrite what an erasure that was cut off has left in freed space; whoever is in the way now is not later."""
    from steelyard.store.scrubbing import scrub

    scrub("default", patience_ms=200)
