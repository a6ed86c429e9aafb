"""Which sessions were normal training: layoffs, returns, new starts, deloads."""

from typing import Any

import pytest

from steelyard.engine.history import SessionDone
from steelyard.engine.log import TrainedAsWrittenBody
from steelyard.engine.phases import days_off, deload_sessions, marked_deloads, phased, training_weeks_since_rest

from .exposures import absences, ago, exposure, history
from .limit_builders import EPLEY


def confirmed(first: int, after: int) -> TrainedAsWrittenBody:
    """Days confirmed as trained, from so many days ago to before so many."""
    return TrainedAsWrittenBody(earliest=ago(first), until=ago(after), by="coach")


def off(done: tuple[int, ...], trained: tuple[int, ...] = (), sure: tuple[Any, ...] = ()) -> int:
    """Days off of a line done so many days ago, with all other training."""
    everything = sorted({*done, *trained}, reverse=True)
    return days_off(tuple(exposure(n, 100, 5) for n in done), ago(0), absences(*everything, confirmed=sure))


def test_days_off_are_none_without_history_and_on_the_day_itself() -> None:
    assert off(()) == 0
    assert off((3, 0)) == 0


@pytest.mark.parametrize(
    ("done", "expected"), [((9, 6, 3), 0), ((14, 11, 8), 8), ((28, 21, 14, 7), 0), ((22, 15, 8), 0)]
)
def test_a_week_counts_only_where_it_is_unusual(done: tuple[int, ...], expected: int) -> None:
    assert off(done) == expected


def test_the_longest_stretch_since_the_exercise_was_done_counts() -> None:
    assert off((40, 37), trained=(34, 10, 7, 4)) == 37  # its own gap is unusual
    assert off((60, 35), trained=(20, 10, 5)) == 15  # 35 days are less than twice its usual 25


@pytest.mark.parametrize(("own", "expected"), [(13, 0), (14, 14), (62, 62), (63, 63)])
def test_an_own_gap_counts_from_two_weeks_where_others_went_on(own: int, expected: int) -> None:
    others = tuple(range(own + 6, 0, -2))
    assert off((own + 6, own + 3, own), trained=others) == expected


def test_an_own_gap_of_nine_weeks_counts_however_usual() -> None:
    others = tuple(range(200, 0, -2))
    assert off((200, 130, 63), trained=others) == 63
    assert off((190, 126, 62), trained=others) == 0


def test_confirmed_days_split_a_stretch() -> None:
    assert off((23, 20), sure=(confirmed(12, 8),)) == 9  # from the last confirmed day, the ninth before
    assert off((23, 20), sure=(confirmed(30, 19), confirmed(10, 9), confirmed(15, 12))) == 10
    assert off((23, 20), sure=(confirmed(40, 30),)) == 20


def phases(*line: Any, deloads: Any = frozenset()) -> list[str]:
    """The phase of each exposure of a line that nothing else was trained beside."""
    gone = absences(*((ago(0) - e.on).days for e in line))
    return [p.phase for p in phased(line, EPLEY, gone, deloads)]


def test_a_return_lasts_until_the_level_is_back() -> None:
    line = (exposure(60, 100, 5), exposure(57, 100, 5), exposure(40, 90, 5), exposure(37, 96, 5), exposure(34, 97, 5))
    assert phases(*line) == ["normal", "normal", "return", "return", "normal"]


def test_a_return_ends_after_six_weeks() -> None:
    back = tuple(exposure(n, 80, 5) for n in range(80, 30, -3))
    found = phases(exposure(103, 100, 5), exposure(100, 100, 5), *back)
    assert found[2:] == ["return"] * 15 + ["normal"] * 2


def test_nothing_is_normal_on_the_way_back_even_if_it_is_marked_so() -> None:
    line = (exposure(40, 100, 5), exposure(20, 80, 5), exposure(18, 80, 5, marked_phase="normal"))
    assert phases(*line) == ["normal", "return", "return"]
    marked = tuple(exposure(9, 100, 5, marked_phase=phase) for phase in ("deload", "taper", "rehab", "test", "return"))
    assert [phases(exposure(12, 100, 5), one)[1] for one in marked] == ["deload", "taper", "rehab", "test", "return"]


def test_a_second_layoff_begins_a_new_return_and_nine_weeks_a_new_start() -> None:
    line = (exposure(150, 100, 5), exposure(130, 80, 5), exposure(110, 80, 5), exposure(40, 70, 5))
    found = phased(line, EPLEY, absences(150, 130, 110, 40), frozenset())
    assert [(p.phase, p.epoch, p.spell) for p in found] == [
        ("normal", 0, 0), ("return", 0, 1), ("return", 0, 2), ("normal", 1, 0),
    ]  # fmt: skip


def test_a_session_that_looks_like_a_deload_is_one_even_in_a_return() -> None:
    line = (exposure(40, 100, 5), exposure(20, 80, 5), exposure(17, 70, 5))
    assert phases(*line, deloads=frozenset({(ago(17), 1)})) == ["normal", "return", "deload"]


FULL = exposure(10, 100, 5, 5, 5)


@pytest.mark.parametrize(
    ("then", "is_deload"),
    [
        (exposure(7, 97, 5, 5), True),
        (exposure(7, "97.5", 5, 5), False),
        (exposure(7, 90, 5, 5, 5), False),
        (exposure(7, 90, 5, 5, is_cut_short=True), False),
        (exposure(7, 90, 5, is_ramp=True), False),
        (exposure(7, 90, 5, marked_phase="normal"), False),
        (exposure(7, 90, 5, marked_phase="deload"), False),
    ],
)
def test_an_unmarked_session_looks_like_a_deload(then: Any, is_deload: bool) -> None:
    assert deload_sessions(history(squat=(FULL, then))) == (frozenset({(ago(7), 1)}) if is_deload else frozenset())


def test_a_deload_is_compared_with_a_session_under_two_weeks_old() -> None:
    assert deload_sessions(history(squat=(exposure(20, 100, 5, 5, 5), exposure(7, 90, 5)))) == {(ago(7), 1)}
    assert deload_sessions(history(squat=(exposure(21, 100, 5, 5, 5), exposure(7, 90, 5)))) == frozenset()


def test_no_line_may_be_heavier_and_half_must_be_lighter() -> None:
    pull = exposure(10, 50, 8, 8, 8)
    lighter, same, heavier = (exposure(7, load, 5) for load in (45, 50, 51))
    squat = (FULL, exposure(7, 90, 5))
    assert deload_sessions(history(squat=squat, row=(pull, same))) == {(ago(7), 1)}
    assert deload_sessions(history(squat=squat, row=(pull, heavier))) == frozenset()
    assert deload_sessions(history(squat=(FULL, exposure(7, 100, 5)), row=(pull, same))) == frozenset()
    assert deload_sessions(history(squat=squat, row=(pull, lighter), press=(exposure(7, 60, 5),))) == {(ago(7), 1)}
    missed = exposure(7, 60, 5, is_cut_short=True)
    assert deload_sessions(history(squat=squat, press=(missed,))) == frozenset()


def test_a_deload_is_compared_with_the_latest_session_that_was_none() -> None:
    two = history(squat=(FULL, exposure(7, 90, 5), exposure(4, 90, 5)))
    assert deload_sessions(two) == {(ago(7), 1), (ago(4), 1)}
    marked = history(squat=(FULL, exposure(7, 90, 5, marked_phase="deload"), exposure(4, 90, 5)))
    assert deload_sessions(marked) == {(ago(4), 1)}
    assert marked_deloads(marked) == {(ago(7), 1)}


@pytest.mark.parametrize(
    ("days_ago", "deload_on", "weeks"),
    [((20, 17, 14, 7, 0), None, 2), ((27, 14, 7, 0), None, 2), ((21, 14, 7), 14, 1), ((8,), None, 0), ((7,), None, 1)],
)
def test_weeks_since_rest_end_at_a_deload_or_a_week_without_training(
    days_ago: tuple[int, ...], deload_on: int | None, weeks: int
) -> None:
    sessions = tuple(SessionDone(ago(n), 1, (("squat", ""),)) for n in days_ago)
    deloads = frozenset() if deload_on is None else frozenset({(ago(deload_on), 1)})
    assert training_weeks_since_rest(sessions, deloads, ago(0)) == weeks
