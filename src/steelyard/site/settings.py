"""Django's settings: a log in SQLite under this machine's data folder, or in PostgreSQL."""

from pathlib import Path
from typing import Any

from steelyard.wording.message import tell

from .place import DATABASE, Place, PlaceRefused, place_from

# Acknowledged means on the disk: in WAL only FULL survives a power cut (SQLite, PRAGMA synchronous).
SQLITE_PRAGMAS = "PRAGMA journal_mode=WAL;PRAGMA synchronous=FULL;PRAGMA foreign_keys=ON;"
PROOF = "proof"


def database_for(place: Place) -> dict[str, Any]:
    """The database of a place, as Django takes it."""
    return sqlite_database(place.log_file) if place.database is None else _postgres_database(place.database)


def sqlite_database(file: Path) -> dict[str, Any]:
    """An SQLite file: writers take their lock at once and wait up to five seconds for it."""
    options = {"timeout": 5, "transaction_mode": "IMMEDIATE", "init_command": SQLITE_PRAGMAS}
    return {"ENGINE": "django.db.backends.sqlite3", "NAME": str(file), "OPTIONS": options}


def _postgres_database(conninfo: str) -> dict[str, Any]:
    try:
        from psycopg import ProgrammingError  # an extra: only where a server is used
        from psycopg.conninfo import conninfo_to_dict
    except ImportError as missing:
        raise PlaceRefused(tell("PostgreSQL needs the extra: pip install 'steelyard[postgres]'")) from missing
    try:
        parts = {str(k): v for k, v in conninfo_to_dict(conninfo).items() if v is not None}
    except ProgrammingError as refused:
        raise PlaceRefused(
            tell("{variable} names no server ({why})", variable=DATABASE, why=str(refused).strip())
        ) from refused
    known = {"dbname": "NAME", "user": "USER", "password": "PASSWORD", "host": "HOST", "port": "PORT"}
    named = {known[k]: v for k, v in parts.items() if k in known}
    options = {k: v for k, v in parts.items() if k not in known}
    return {"ENGINE": "django.db.backends.postgresql", "OPTIONS": options, **named}


INSTALLED_APPS = ["steelyard.store"]
DATABASES = {"default": database_for(place_from())}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
USE_TZ = True
TIME_ZONE = "UTC"
# Nothing is signed or served yet; Django asks for a key only when something is.
SECRET_KEY = ""
