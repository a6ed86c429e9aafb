"""Logs as people keep them, through the importer: never silently wrong, never a crash, mostly exact."""

from collections import Counter

import pytest

from .judge import Verdict
from .recipe import SHAPES
from .run import hold

FILES_EACH = 9
# Measured with `python -m tests.messy.run`, see docs/evidence/messy_logs.md; raised when the importer learns more.
LEAST_EXACT = 0.94
MOST_STUCK = 0.02  # mostly tables of fixed width that were cut wrongly: then no date is found


@pytest.fixture(scope="module")
def verdicts() -> list[Verdict]:
    """126 files of fixed seeds: shapes take turns, so each is met nine times."""
    return [hold(seed)[1] for seed in range(9_000, 9_000 + FILES_EACH * len(SHAPES))]


def test_nothing_is_silently_wrong(verdicts: list[Verdict]) -> None:
    assert [(v.seed, v.said[:3]) for v in verdicts if v.outcome == "SILENT-WRONG"] == []


def test_nothing_wrong_is_read_beside_what_is_refused(verdicts: list[Verdict]) -> None:
    assert [(v.seed, v.said[:3]) for v in verdicts if v.outcome == "refused-but-wrong"] == []


def test_nothing_crashes(verdicts: list[Verdict]) -> None:
    assert [(v.seed, v.said) for v in verdicts if v.outcome == "crash"] == []


def test_nearly_every_question_can_be_answered_truly(verdicts: list[Verdict]) -> None:
    stuck = [(v.seed, v.said) for v in verdicts if v.outcome == "question-unanswerable"]
    assert len(stuck) <= MOST_STUCK * len(verdicts), stuck


def test_nothing_is_guessed_where_a_person_must_ask(verdicts: list[Verdict]) -> None:
    assert [(v.seed, v.guessed) for v in verdicts if v.guessed] == []


def test_most_files_are_read_exactly(verdicts: list[Verdict]) -> None:
    outcomes = Counter(v.outcome for v in verdicts)
    exact = outcomes["exact"] + outcomes["exact-after-questions"]
    assert exact >= LEAST_EXACT * len(verdicts), outcomes
