"""A small sample of the hostile files, in this process: each gives rows within the bounds, or a sentence."""

from pathlib import Path

import pytest
from tests.hostile.make_hostile import ROUND, hostile_file
from tests.hostile.originals import originals
from tests.hostile.targets import open_and_read

from steelyard.exchange.grid import FileRefused

SAMPLE = 3 * len(ROUND)


@pytest.mark.parametrize("name", originals())
def test_an_honest_file_opens_whole(tmp_path: Path, name: str) -> None:
    original = originals()[name]
    path = tmp_path / f"log.{original.suffix}"
    path.write_bytes(original.content)
    assert open_and_read(path) == original.rows


@pytest.mark.parametrize("number", range(SAMPLE))
def test_a_hostile_file_is_opened_or_refused(tmp_path: Path, number: int) -> None:
    made = hostile_file(7, number)
    path = tmp_path / f"log.{made.suffix}"
    path.write_bytes(made.content)
    try:
        assert open_and_read(path) > 0
    except FileRefused as refused:
        assert refused.problem.problem
        assert refused.problem.remedy
    assert list(tmp_path.iterdir()) == [path]


def test_the_same_seed_gives_the_same_files() -> None:
    for number in range(len(ROUND)):
        assert hostile_file(7, number) == hostile_file(7, number)
