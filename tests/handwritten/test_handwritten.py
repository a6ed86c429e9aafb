"""What thirty people wrote by hand: nothing of it is read wrongly in silence."""

import pytest

from .judge import Outcome, files, judge

# Measured on 2026-11-25; it may rise, never fall.
EXACT_AT_LEAST = 835


@pytest.fixture(scope="module")
def outcomes() -> list[Outcome]:
    """Each file judged once."""
    return [judge(path) for path in files()]


def test_no_file_is_wrong_in_silence(outcomes: list[Outcome]) -> None:
    assert [(o.file, o.wrong, o.missing) for o in outcomes if o.verdict == "SILENT WRONG"] == []


def test_as_many_sets_are_read_exactly_as_were(outcomes: list[Outcome]) -> None:
    assert len(outcomes) == 30
    assert sum(o.exact for o in outcomes) >= EXACT_AT_LEAST


def test_the_judge_sees_a_wrong_load(outcomes: list[Outcome]) -> None:
    """A judge that calls everything exact would be no judge: the truth of one file does not fit another."""
    fitting = next(o for o in outcomes if o.file.startswith("13"))
    assert (fitting.exact, fitting.wrong, fitting.missing) == (fitting.sets, (), ())
    spoilt = next(o for o in outcomes if o.missing or o.wrong)
    assert spoilt.exact < spoilt.sets
