"""How simulated lifters choose loads and repetitions, and what they write of it."""

from datetime import date, timedelta
from itertools import pairwise
from statistics import fmean

import pytest
from numpy.random import default_rng

from steelyard.engine.simulation.habits import Line, LineState
from steelyard.engine.simulation.pen import Pen
from steelyard.engine.simulation.simulate import simulate
from steelyard.engine.simulation.values import Kind, Simulated

BEGINS = date(2025, 1, 6)
SQUAT = Line("squat", 3, 5, 8, 2.0, 150)
PRESS = Line("machine-chest-press", 1, 7, 9, 0.0, 120)


def lifters(kind: Kind, count: int = 8, weeks: int = 40) -> list[Simulated]:
    """Some lifters of a kind, without slips."""
    return [
        simulate(kind, default_rng((6, k)), name=f"Lifter {k}", begins=BEGINS, weeks=weeks, slip_rate=0.0)
        for k in range(count)
    ]


def after(state: LineState, done: list[int], felt: float, *, is_to_failure: bool = False) -> tuple[float, int]:
    """Added load (kg) and repetitions aimed at after a session."""
    state.learn(done, felt, default_rng(1), is_to_failure)
    return state.added_kg, state.aim


def test_repetitions_rise_to_the_top_of_the_range_and_then_the_load() -> None:
    state = LineState(SQUAT, "squat", 100.0)
    assert after(state, [5, 5, 5], 2.0) == (100.0, 6)
    assert after(state, [6, 6, 6], 2.0) == (100.0, 7)
    assert after(state, [7, 7, 7], 2.0) == (100.0, 8)
    assert after(state, [8, 8, 8], 2.0) == (102.5, 5)


def test_a_session_short_of_the_aim_is_repeated_and_two_far_short_are_eased() -> None:
    state = LineState(SQUAT, "squat", 100.0)
    assert after(state, [5, 5, 4], 1.0) == (100.0, 5)
    assert after(state, [5, 3, 3], 0.0) == (100.0, 5)
    assert after(state, [5, 3, 3], 0.0) == (92.5, 5)


def test_a_session_without_the_wanted_reserve_is_repeated() -> None:
    assert after(LineState(SQUAT, "squat", 100.0), [5, 5, 5], 0.5) == (100.0, 5)


def test_much_spare_makes_a_larger_rise() -> None:
    steps = [after(LineState(SQUAT, "squat", 100.0), [5, 5, 5], 2.0 + spare)[0] for spare in (3, 6, 30)]
    assert steps[0] < steps[1] < steps[2] == 120.0


def test_to_failure_the_top_of_the_range_raises_and_twice_below_it_lowers() -> None:
    state = LineState(PRESS, "machine-chest-press", 50.0)
    raised, _ = after(state, [9], 0.0, is_to_failure=True)
    assert raised > 50.0
    assert after(state, [8], 0.0, is_to_failure=True)[0] == raised
    assert after(state, [6], 0.0, is_to_failure=True)[0] == raised
    assert after(state, [6], 0.0, is_to_failure=True)[0] < raised


def test_deloads_are_lighter_and_have_half_the_sets() -> None:
    beside = []
    for lifter in lifters("trained"):
        by_day = {(s.exercise, s.on): [x for x in lifter.sets if (x.exercise, x.on) == (s.exercise, s.on)]
                  for s in lifter.sets if s.exercise == "squat"}  # fmt: skip
        for before, deload in pairwise(by_day[key] for key in sorted(by_day)):
            if before[0].phase is None and deload[0].phase == "deload":
                assert len(deload) == 2 < len(before) == 4
                assert deload[0].load and before[0].load
                beside.append(float(deload[0].load.value) / float(before[0].load.value))
    assert len(beside) > 10
    assert 0.9 < fmean(beside) < 0.97  # 7.5 % lighter than a load that had often just risen by a step


def test_who_was_away_comes_back_lighter_and_the_log_says_so() -> None:
    beside = []
    for lifter in lifters("irregular"):
        loads = {(s.exercise, s.on): float(s.load.value) for s in lifter.sets if s.load and s.exercise == "bench-press"}
        days = sorted({done.on for done in lifter.sets})
        for before, back in pairwise(days):
            if back - before >= timedelta(14):
                assert {s.phase for s in lifter.sets if s.on == back} <= {"return", "deload"}
                last, first = (
                    max((d for _, d in loads if d <= before), default=None),
                    min((d for _, d in loads if d >= back), default=None),
                )
                if last and first:
                    beside.append(loads["bench-press", first] / loads["bench-press", last])
    assert len(beside) > 5
    assert 0.75 < fmean(beside) < 0.95  # a tenth to a fifth less


def test_who_cannot_do_an_exercise_does_an_easier_one() -> None:
    pulls = [{s.exercise for s in x.sets} & {"pull-up", "inverted-row"} for x in lifters("body-mass", 30)]
    assert {"pull-up"} in pulls
    assert any("inverted-row" in of for of in pulls)
    missed = [done.reps == 0 for x in lifters("body-mass") for done in x.sets]
    assert sum(missed) < 0.01 * len(missed)


def test_some_last_sets_go_on_to_failure() -> None:
    for lifter in lifters("novice", 4):
        ends = [truth.possible - (done.reps or 0) for done, truth in zip(lifter.sets, lifter.truth, strict=True)]
        assert 0.01 < sum(end == 0 for end in ends) / len(ends) < 0.5


def test_a_set_of_the_body_alone_has_no_load() -> None:
    pen = Pen(default_rng(1), 0.0)
    assert pen.set_of(BEGINS, "pull-up", 0.0, 5, None).load is None


@pytest.mark.parametrize(("felt", "said"), [(0.2, 0), (1.6, 2), (14.0, 10), (None, None)])
def test_a_reserve_is_written_in_whole_repetitions_up_to_ten(felt: float | None, said: int | None) -> None:
    effort = Pen(default_rng(1), 0.0).set_of(BEGINS, "squat", 100.0, 5, felt).effort
    assert (effort and effort.rir) == said


def test_kilograms_are_written_exactly() -> None:
    written = [Pen(default_rng(1), 0.0).set_of(BEGINS, "squat", kg, 5, None).load for kg in (62.5, 20.0, 0.1 + 0.2)]
    assert [str(load and load.value) for load in written] == ["62.5", "20", "0.3"]
