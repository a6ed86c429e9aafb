"""A process that is killed while it erases leaves the person whole, or gone to the last byte after the next start."""

import shutil
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest

from .eraser import MARK, NAME, OTHER, SETS
from .starting import refusal_at_start, start

ERASER = (sys.executable, "-m", "tests.durability.eraser")
KILLS = 12


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log with two lifters in it, closed."""
    folder = tmp_path_factory.mktemp("filled") / "data"
    subprocess_of([str(folder), "--fill"])
    return folder


def subprocess_of(arguments: list[str]) -> float:
    """Run the process to its end; how long it took from its beginning to its answer (s)."""
    with start([*ERASER, *arguments], subprocess.PIPE) as process:
        assert process.stdout is not None and process.stderr is not None
        process.stdout.readline()
        begins = time.perf_counter()
        process.stdout.read()
        took = time.perf_counter() - begins
        said = process.stderr.read().decode()
    assert process.returncode == 0, said
    return took


def kill_after(folder: Path, seconds: float, options: list[str]) -> bool:
    """Kill the process so long after it began to erase; whether it had answered by then."""
    with start([*ERASER, str(folder), *options], subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == b"begins\n"
        time.sleep(seconds)
        process.kill()
        return process.stdout.read() == b"done\n"


def sets_of(folder: Path, name: str) -> int:
    """How many marked sets of a lifter SQLite finds."""
    with sqlite3.connect(folder / "log.sqlite3") as reader:
        assert reader.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        rows = reader.execute("SELECT body FROM log_entry WHERE kind = 'set'").fetchall()
    reader.close()
    return sum(f"{MARK} {name}".encode() in bytes(body) for (body,) in rows)


def look(folder: Path, *, is_answered: bool) -> str:
    """Open the log as the product does, and say what became of the person."""
    assert refusal_at_start(folder) == []
    left, others = sets_of(folder, NAME), sets_of(folder, OTHER)
    assert others == SETS
    if left == SETS:
        assert not is_answered, "acknowledged, and not erased"
        return "before"
    content = b"".join(file.read_bytes() for file in folder.iterdir())
    if left == 0 and f"{MARK} {NAME}".encode() not in content and NAME.encode() not in content:
        return "after"
    return "half"


def outcomes(filled: Path, tmp_path: Path, kills: int, options: list[str]) -> set[str]:
    """Kill at moments spread over the whole erasure and a little beyond, each on its own copy of the log."""
    shutil.copytree(filled, tmp_path / "whole")
    took = subprocess_of([str(tmp_path / "whole"), *options])
    assert look(tmp_path / "whole", is_answered=True) == "after"
    found = set()
    for number in range(kills):
        folder = tmp_path / str(number)
        shutil.copytree(filled, folder)
        is_answered = kill_after(folder, took * 1.2 * number / kills, options)
        found.add(look(folder, is_answered=is_answered))
        shutil.rmtree(folder)
    return found


def test_the_person_is_whole_or_gone(filled: Path, tmp_path: Path) -> None:
    assert outcomes(filled, tmp_path, KILLS, []) == {"before", "after"}


def test_an_eraser_that_goes_entry_by_entry_is_caught(filled: Path, tmp_path: Path) -> None:
    assert "half" in outcomes(filled, tmp_path, 4, ["--one-by-one"])
