"""A disk that is full or broken: the command says so and ends with 1, and the log holds all of a batch or nothing."""

import subprocess
import sys
from pathlib import Path

import pytest

from .batches import LIFTER, Batch, hold_against
from .starting import start
from .tracing import LOG

COMMAND = (sys.executable, "-c", "from steelyard.cli import main; main()")
BEFORE, AFTER = Batch(1, is_import=False), {False: Batch(2, is_import=False), True: Batch(3, is_import=True)}
pytestmark = pytest.mark.usefixtures("tracer")


def run(folder: Path, batch: Batch, fault: str = "", on: str = f"{LOG}-wal") -> tuple[int, str]:
    """Log or import a batch by the command line, with a fault that strace makes on one file; exit code, complaints."""
    file = folder.with_suffix(".csv")
    file.write_text(batch.csv, encoding="utf-8")
    words = ["import", str(file)] if batch.is_import else ["log", *batch.line.split()]
    faulty = ["strace", "-f", "-o", f"{folder}.trace", "-P", str(folder / on), "-e", f"inject={fault}"]
    command = [*(faulty if fault else []), *COMMAND, "--data", str(folder), *words, "--lifter", LIFTER]
    with start(command, subprocess.DEVNULL) as process:
        complaints = process.communicate(timeout=120)[1].decode()
    return process.returncode, complaints


@pytest.mark.parametrize("is_import", [False, True], ids=["log", "import"])
def test_a_full_disk_is_said_and_changes_nothing(tmp_path: Path, is_import: bool) -> None:
    """No room from the k-th write on, for k = 1, 2, 4 and so on until there was room enough."""
    folder, batch, write = tmp_path / "log", AFTER[is_import], 1
    assert run(folder, BEFORE)[0] == 0
    while True:
        status, said = run(folder, batch, f"pwrite64:error=ENOSPC:when={write}+")
        if status == 0:
            break
        assert_refused_in_words(status, said, "database or disk is full")
        found = hold_against(folder / LOG, [BEFORE.mark])
        assert (found.lost, found.unacknowledged, found.unsound) == (set(), set(), [])
        write *= 2
    assert write > 4, "no write was made to fail"
    found = hold_against(folder / LOG, [BEFORE.mark, batch.mark])
    assert (found.lost, found.half_applied, found.unsound) == (set(), set(), [])


@pytest.mark.parametrize("is_import", [False, True], ids=["log", "import"])
def test_a_sync_that_fails_is_no_acknowledgement(tmp_path: Path, is_import: bool) -> None:
    folder, batch = tmp_path / "log", AFTER[is_import]
    assert run(folder, BEFORE)[0] == 0
    status, said = run(folder, batch, "fdatasync:error=EIO:when=1+")
    assert_refused_in_words(status, said, "disk I/O error")
    found = hold_against(folder / LOG, [BEFORE.mark])
    assert (found.lost, found.half_applied, found.unsound) == (set(), set(), [])


@pytest.mark.parametrize("file", [LOG, f"{LOG}-journal", f"{LOG}-wal"])
def test_a_disk_that_is_full_at_the_first_start_is_named_as_the_reason(tmp_path: Path, file: str) -> None:
    folder = tmp_path / "log"
    status, said = run(folder, BEFORE, "pwrite64:error=ENOSPC:when=1+", on=file)
    assert status == 1, said
    assert said.startswith("Refused: cannot open the log"), said
    assert "database or disk is full" in said, said
    assert run(folder, BEFORE)[0] == 0
    found = hold_against(folder / LOG, [BEFORE.mark])
    assert (found.lost, found.half_applied, found.unsound) == (set(), set(), [])


def assert_refused_in_words(status: int, said: str, reason: str) -> None:
    assert status == 1, said
    assert said.startswith("Refused: "), said
    assert reason in said, said
    assert "try again" in said, said
    assert "Traceback" not in said, said
