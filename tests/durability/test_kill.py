"""A process that is killed loses nothing it has acknowledged, and leaves no half of a batch."""

from pathlib import Path

import pytest

from .killing import kill_many

KILLS = 50
# The share of a batch's time that is spent inside the transaction is large, so that five kills are enough to see it.
FAULTY_KILLS = 5


@pytest.mark.parametrize("is_import", [False, True], ids=["log", "import"])
def test_acknowledged_batches_outlive_kill_9(tmp_path: Path, is_import: bool) -> None:
    killed = kill_many(KILLS, 2026, tmp_path, is_import)
    assert killed.kills == KILLS
    assert killed.acknowledged > KILLS
    assert killed.before_any_batch > 0, "no kill fell into a start"
    assert (killed.lost, killed.half_applied, killed.unsound) == (set(), set(), set())


def test_a_writer_that_acknowledges_too_early_is_caught(tmp_path: Path) -> None:
    assert kill_many(FAULTY_KILLS, 1, tmp_path, is_import=True, wrongly="too-early").lost


def test_a_writer_that_imports_set_by_set_is_caught(tmp_path: Path) -> None:
    assert kill_many(FAULTY_KILLS, 1, tmp_path, is_import=True, wrongly="one-by-one").half_applied
