"""What tests share: a fresh log in either database, a scribe whose clock ticks, and the command line."""

import os
import subprocess
import sys
from collections.abc import Callable, Iterator, Mapping
from datetime import datetime, timedelta, timezone
from pathlib import Path

import django
import hypothesis
import pytest
from tests.command_line import Cli, CliProcess, Ran

from steelyard.site.place import DATA, DATABASE, Place
from steelyard.site.wiring import open_log
from steelyard.wording.message import speak

# Tests import services and store at their head; a command does so only after it has opened its log.
os.environ["DJANGO_SETTINGS_MODULE"] = "steelyard.site.settings"
django.setup()

from django.db import connections  # noqa: E402 - the settings must stand first

from steelyard.services.scribe import Scribe  # noqa: E402 - the settings must stand first

hypothesis.settings.register_profile("here", deadline=None, print_blob=True)
hypothesis.settings.register_profile("ci", deadline=None, print_blob=True, derandomize=True)
hypothesis.settings.load_profile("ci" if os.environ.get("CI") else "here")

SERVER = os.environ.get("STEELYARD_TEST_DATABASE")
# What a machine has set must not decide what a test sees.
SPEAKING = ("STEELYARD_LANGUAGE", "STEELYARD_UNIT", "LC_ALL", "LC_MESSAGES", "LANGUAGE", DATA, DATABASE)


@pytest.fixture(scope="session")
def database() -> Iterator[str | None]:
    """This worker's own PostgreSQL database where STEELYARD_TEST_DATABASE names a server; None means SQLite."""
    if SERVER is None:
        yield None
        return
    import psycopg  # noqa: PLC0415 - an extra: only where a server is used
    from psycopg.conninfo import make_conninfo  # noqa: PLC0415 - the same

    name = f"steelyard_{os.environ.get('PYTEST_XDIST_WORKER', 'alone')}"
    with psycopg.connect(SERVER, autocommit=True) as server:
        server.execute(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)')
        server.execute(f'CREATE DATABASE "{name}"')
    yield make_conninfo(SERVER, dbname=name)
    connections.close_all()
    with psycopg.connect(SERVER, autocommit=True) as server:
        server.execute(f'DROP DATABASE "{name}" WITH (FORCE)')


@pytest.fixture(autouse=True)
def neutral_environment(monkeypatch: pytest.MonkeyPatch) -> None:
    """English, kilograms, no data folder of the account that runs the tests."""
    for name in SPEAKING:
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("LANG", "C.UTF-8")
    monkeypatch.setenv("STEELYARD_AUTHOR", "Coach Brandt")
    speak("en")


@pytest.fixture
def empty_place(tmp_path: Path, database: str | None) -> Iterator[Place]:
    """A place whose log holds nothing; its folder does not exist yet."""
    if database is not None:
        _empty(database)
    yield Place(tmp_path / "data", database)
    connections.close_all()


@pytest.fixture
def log_place(empty_place: Place) -> Place:
    """A place whose empty log is open in this process."""
    open_log(empty_place)
    return empty_place


@pytest.fixture
def scribe(log_place: Place) -> Scribe:
    """Writes into the open log; every look at its clock is a second later, from the evening of 2 November 2026."""
    return Scribe("Coach Brandt", "00000000000000d1", ticking_clock())


@pytest.fixture
def cli(empty_place: Place, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Cli:
    """Runs a command in this process, on a fresh log."""
    if empty_place.database is not None:
        monkeypatch.setenv(DATABASE, empty_place.database)
    return Cli(empty_place.folder, capsys)


@pytest.fixture
def cli_process(empty_place: Place) -> CliProcess:
    """Runs a command as a process of its own, on a fresh log."""
    return CliProcess(empty_place)


@pytest.fixture
def run_python(empty_place: Place) -> Callable[[str], Ran]:
    """Runs a piece of Python in a process of its own, with the log's place in its environment."""

    def run(code: str) -> Ran:
        environment: Mapping[str, str] = CliProcess(empty_place).environment
        command = [sys.executable, "-W", "error", "-c", code]
        done = subprocess.run(command, env=environment, capture_output=True, text=True, timeout=120, check=False)
        return Ran(done.returncode, done.stdout, done.stderr)

    return run


def ticking_clock() -> Callable[[], datetime]:
    """A clock that is a second later at every look."""
    start = datetime(2026, 11, 2, 18, 0, 0, tzinfo=timezone(timedelta(hours=1)))
    looks = iter(range(10**9))
    return lambda: start + timedelta(seconds=next(looks))


def _empty(conninfo: str) -> None:
    import psycopg  # noqa: PLC0415 - an extra: only where a server is used

    with psycopg.connect(conninfo, autocommit=True) as connection:
        found = connection.execute("SELECT tablename FROM pg_tables WHERE tablename LIKE 'log\\_%'").fetchall()
        if found:
            connection.execute(f"TRUNCATE {', '.join(name for (name,) in found)} RESTART IDENTITY")
