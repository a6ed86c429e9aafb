"""An open log: whose file it is, who may read it, and what SQLite really does."""

import os
import sqlite3
import stat
from pathlib import Path

import pytest
from django.db import connections, transaction
from tests.command_line import Cli

from steelyard.site.place import Place, PlaceRefused
from steelyard.site.wiring import APPLICATION_ID, device_of, open_log, scratch_log
from steelyard.store import queries


@pytest.fixture
def file_place(tmp_path: Path) -> Place:
    """A place with an SQLite file of its own, also where the suite runs on a server."""
    return Place(tmp_path / "own")


def mode(path: Path) -> int:
    """The permission bits."""
    return stat.S_IMODE(path.stat().st_mode)


def pragma(name: str) -> object:
    """A setting as the open connection has it."""
    with connections["default"].cursor() as cursor:
        cursor.execute(f"PRAGMA {name}")
        row = cursor.fetchone()
    return row[0] if row else None


def test_only_the_owner_may_read(file_place: Place) -> None:
    before = os.umask(0o022)
    try:
        open_log(file_place)
        device_of(file_place)
        with transaction.atomic():
            assert queries.count_entries() == 0
        found = {p.name: mode(p) for p in file_place.folder.iterdir()}
    finally:
        os.umask(before)
    assert mode(file_place.folder) == 0o700
    assert {"log.sqlite3", "device"} <= set(found)
    assert set(found.values()) == {0o600}, found


def test_settings_of_sqlite_are_in_force(file_place: Place) -> None:
    open_log(file_place)
    assert pragma("journal_mode") == "wal"
    assert pragma("synchronous") == 2  # FULL
    assert pragma("foreign_keys") == 1
    assert pragma("busy_timeout") == 5000
    assert pragma("application_id") == APPLICATION_ID


def test_a_transaction_takes_the_writers_lock_at_once(file_place: Place) -> None:
    open_log(file_place)
    with transaction.atomic():
        assert queries.count_entries() == 0  # nothing but a read, and yet nobody else may write
        other = sqlite3.connect(file_place.log_file, timeout=0)
        with pytest.raises(sqlite3.OperationalError, match="locked"):
            other.execute("BEGIN IMMEDIATE")
        other.close()
    other = sqlite3.connect(file_place.log_file, timeout=0)
    other.execute("BEGIN IMMEDIATE")
    other.close()


def test_the_name_of_an_installation_stays(file_place: Place, tmp_path: Path) -> None:
    open_log(file_place)
    device = device_of(file_place)
    assert len(bytes.fromhex(device)) == 8
    assert device_of(file_place) == device
    other = Place(tmp_path / "other")
    open_log(other)
    assert device_of(other) != device
    assert [p.name for p in file_place.folder.glob("device*")] == ["device"]


def test_the_file_of_a_second_program_is_refused_and_left_alone(file_place: Place) -> None:
    file_place.folder.mkdir()
    with sqlite3.connect(file_place.log_file) as theirs:
        theirs.execute("CREATE TABLE recipe (name TEXT)")
        theirs.execute("INSERT INTO recipe VALUES ('porridge')")
    theirs.close()
    before = file_place.log_file.read_bytes()
    with pytest.raises(PlaceRefused, match="belongs to another program"):
        open_log(file_place)
    assert file_place.log_file.read_bytes() == before


@pytest.mark.parametrize("content", [b"date,exercise,kg,reps\n" * 50, bytes(range(256)) * 20, b"SQLite format 3\0" * 9])
def test_a_file_that_is_no_database_is_refused_and_left_alone(file_place: Place, content: bytes) -> None:
    file_place.folder.mkdir()
    file_place.log_file.write_bytes(content)
    with pytest.raises(PlaceRefused, match="no log of Steelyard"):
        open_log(file_place)
    assert file_place.log_file.read_bytes() == content


def test_a_folder_where_the_log_should_be_is_refused(file_place: Place) -> None:
    file_place.log_file.mkdir(parents=True)
    with pytest.raises(PlaceRefused, match="no log of Steelyard"):
        open_log(file_place)


def test_a_damaged_log_is_refused_in_words(file_place: Place) -> None:
    open_log(file_place)
    connections["default"].close()
    whole = file_place.log_file.read_bytes()
    file_place.log_file.write_bytes(whole[:100] + b"\xa5" * (len(whole) - 100))
    with pytest.raises(PlaceRefused, match="cannot open the log"):
        open_log(file_place)


def test_a_server_that_is_not_there_or_not_named_is_refused(
    tmp_path: Path, cli: Cli, monkeypatch: pytest.MonkeyPatch
) -> None:
    pytest.importorskip("psycopg")
    monkeypatch.setenv("STEELYARD_DATABASE", f"postgresql://nobody@/none?host={tmp_path}")
    assert "cannot open the log" in cli("history", status=1).err
    monkeypatch.setenv("STEELYARD_DATABASE", "somewhere over there")
    assert "STEELYARD_DATABASE names no server" in cli("history", status=1).err


def test_the_suite_runs_on_the_database_that_it_was_given(log_place: Place) -> None:
    server = os.environ.get("STEELYARD_TEST_DATABASE")
    assert connections["default"].vendor == ("sqlite" if server is None else "postgresql")
    assert log_place.log_file.exists() == (server is None)


def test_a_scratch_log_is_empty_apart_and_gone_afterwards(log_place: Place) -> None:
    with scratch_log() as alias:
        assert queries.count_entries(alias) == 0
        assert alias in connections.databases
        file = Path(str(connections.databases[alias]["NAME"]))
        assert file.exists()
        assert log_place.folder not in file.parents
    assert alias not in connections.databases
    assert not file.parent.exists()
    with scratch_log() as again:  # once more in the same process
        assert queries.count_entries(again) == 0
