"""What each way of writing a set says of the repetitions that could have been done."""

from decimal import Decimal
from typing import Any

import pytest
from tests.builders import a_set, entries, entry, entry_id, hlc_at, sets_of, training_log

from steelyard.catalogue import catalogue
from steelyard.engine.backtest.trials import LONGEST, LifterTrials, Trial, read_trials
from steelyard.engine.body import Body
from steelyard.engine.effort import Effort
from steelyard.engine.fold import fold
from steelyard.engine.log import CheckInBody, SetBody
from steelyard.engine.policy import Policy
from steelyard.engine.quantities import Load, kg, lb

DAY = "2026-03-02"
ASSUMED_KG = float(Policy().assumed_body_mass_kg)


def read(*bodies: Body) -> LifterTrials:
    """The trials of a log with these entries."""
    return read_trials("Ada", training_log(*bodies), catalogue(), Policy())


def of_one_session(*bodies: Body) -> tuple[Trial, ...]:
    """The sets of the only exercise of the only session."""
    (session,) = read(*bodies).sessions
    (found,) = session.entries
    return found.trials


def tells(*bodies: Body) -> list[tuple[int, int, str]]:
    """What was possible, up to what a set can tell it, and by which evidence, of each set."""
    return [(t.possible, t.told_up_to, t.evidence) for t in of_one_session(*bodies)]


def weighed(on: str, mass_kg: int) -> CheckInBody:
    """A body mass of a day."""
    return CheckInBody(on=a_set(on, "squat", 1, 1).on, body_mass=kg(mass_kg))


def reserve(value: str) -> Effort:
    """A reserve, also of halves."""
    return Effort(Decimal(value))


@pytest.mark.parametrize(
    ("effort", "told"),
    [
        (None, (8, 8, "bound")),
        (reserve("0"), (8, LONGEST, "to-failure")),
        (reserve("1"), (9, LONGEST, "reserve")),
        (reserve("5"), (13, LONGEST, "reserve")),
        (reserve("0.5"), (8, LONGEST, "reserve")),
        (reserve("2.5"), (10, LONGEST, "reserve")),
        (reserve("2.25"), (10, LONGEST, "reserve")),
        (reserve("4.5"), (12, LONGEST, "reserve")),
        (reserve("5.5"), (8, 8, "bound")),
        (reserve("6"), (8, 8, "bound")),
        (reserve("10"), (8, 8, "bound")),
        (Effort(Decimal(10), "rpe"), (8, LONGEST, "to-failure")),
        (Effort(Decimal("9.5"), "rpe"), (8, LONGEST, "to-failure")),
        (Effort(Decimal(8), "rpe"), (10, LONGEST, "reserve")),
        (Effort(Decimal(5), "rpe"), (12, LONGEST, "reserve")),
    ],
)
def test_a_reserve_up_to_five_is_added_and_a_larger_one_only_bounds(
    effort: Effort | None, told: tuple[int, int, str]
) -> None:
    assert tells(a_set(DAY, "squat", 100, 8, effort=effort)) == [told]


def test_a_reserve_is_of_the_set_that_it_was_said_of() -> None:
    five = (5, 5, "bound")
    assert tells(*sets_of(DAY, "squat", 100, 5, 5, 5, rir=2)) == [five, five, (7, LONGEST, "reserve")]


@pytest.mark.parametrize(
    ("missed", "told"),
    [
        ("strength", (3, LONGEST, "missed")),
        ("unsaid", (3, LONGEST, "missed")),
        ("technique", (3, 3, "bound")),
        ("pain", (3, 3, "bound")),
    ],
)
def test_only_a_miss_for_want_of_strength_says_what_was_possible(missed: Any, told: tuple[int, int, str]) -> None:
    made = a_set(DAY, "squat", 100, 5, rir=1)
    assert tells(made, a_set(DAY, "squat", 100, 3, missed=missed))[1] == told
    # A reserve said beside it does not make it more.
    assert tells(made, a_set(DAY, "squat", 100, 3, missed=missed, rir=2))[1] == told


@pytest.mark.parametrize("missed", ["strength", "unsaid"])
def test_misses_are_not_ranked_where_sets_that_were_made_would_not_be(missed: Any) -> None:
    """It still tells how much was possible, all of it."""
    assert tells(a_set(DAY, "squat", 100, 5), a_set(DAY, "squat", 100, 3, missed=missed)) == [
        (5, 5, "bound"),
        (3, LONGEST, "bound"),
    ]


def test_a_set_not_done_is_no_set() -> None:
    done = of_one_session(a_set(DAY, "squat", 100, 5, rir=1), a_set(DAY, "squat", 100, 0, missed="not-done"))
    assert [(t.reps, t.order) for t in done] == [(5, 1)]
    assert read(a_set(DAY, "squat", 100, 0, missed="not-done")).sessions == ()


def test_nothing_lifted_among_sets_of_more_is_a_miss_at_nought() -> None:
    assert tells(a_set(DAY, "squat", 100, 3, rir=1), a_set(DAY, "squat", 110, 0))[1] == (0, LONGEST, "missed")
    assert tells(a_set(DAY, "squat", 100, 3), a_set(DAY, "squat", 110, 0))[1] == (0, LONGEST, "bound")


def test_singles_alone_are_attempts_made_or_missed() -> None:
    tried = (a_set(DAY, "squat", 180, 1), a_set(DAY, "squat", 190, 1), a_set(DAY, "squat", 195, 0))
    assert tells(*tried) == [(1, 1, "attempt"), (1, 1, "attempt"), (0, 1, "attempt")]
    assert tells(a_set(DAY, "squat", 195, 0)) == [(0, 1, "attempt")]


def test_a_missed_attempt_may_say_that_strength_was_wanting() -> None:
    tried = (a_set(DAY, "squat", 180, 1), a_set(DAY, "squat", 195, 0, missed="strength"))
    assert tells(*tried) == [(1, 1, "attempt"), (0, 1, "attempt")]


def test_a_single_beside_longer_sets_or_with_a_reserve_is_no_attempt() -> None:
    top = a_set(DAY, "squat", 180, 1)
    assert tells(top, a_set(DAY, "squat", 160, 3)) == [(1, 1, "bound"), (3, 3, "bound")]
    assert tells(a_set(DAY, "squat", 180, 1, rir=1)) == [(2, LONGEST, "reserve")]
    assert tells(top, a_set(DAY, "squat", 185, 1, rir=0)) == [(1, 1, "bound"), (1, LONGEST, "to-failure")]


def test_one_made_and_the_second_missed_is_no_single() -> None:
    assert tells(a_set(DAY, "squat", 180, 1, missed="strength")) == [(1, LONGEST, "bound")]


def test_attempts_are_told_by_session_and_exercise() -> None:
    (session,) = read(a_set(DAY, "squat", 180, 1), a_set(DAY, "bench-press", 100, 5, rir=0)).sessions
    evidence = {e.key[0]: e.trials[0].evidence for e in session.entries}
    assert evidence == {"bench-press": "to-failure", "squat": "attempt"}


@pytest.mark.parametrize("effort", [None, reserve("0"), reserve("2")])
def test_a_set_whose_repetitions_nobody_noted_says_nothing_of_them(effort: Effort | None) -> None:
    found = read(a_set(DAY, "squat", 100, None, effort=effort), a_set("2026-03-05", "squat", 100, 5, rir=1))
    assert [t.reps for s in found.sessions for e in s.entries for t in e.trials] == [5]
    assert found.passed_over == {"no-count": 1}


@pytest.mark.parametrize("why", ["pain", "technique"])
def test_stopped_for_pain_or_technique_before_the_first_repetition_says_nothing_of_strength(why: Any) -> None:
    found = read(a_set(DAY, "squat", 100, 0, missed=why), a_set("2026-03-05", "squat", 100, 1))
    assert [(s.on.day, s.entries[0].trials[0].reps) for s in found.sessions] == [(5, 1)]
    assert found.passed_over == {"nothing-done": 1}


def test_orders_are_of_the_sets_that_are_kept() -> None:
    found = of_one_session(
        a_set(DAY, "squat", 100, None), a_set(DAY, "squat", 100, 5), a_set(DAY, "squat", 100, 4, rir=1)
    )
    assert [(t.order, t.reps) for t in found] == [(1, 5), (2, 4)]


@pytest.mark.parametrize(
    ("reps", "effort", "told"),
    [
        (60, reserve("0"), (60, 60, LONGEST, "to-failure")),
        (75, reserve("0"), (60, 60, LONGEST, "to-failure")),
        (58, reserve("2"), (58, 60, LONGEST, "reserve")),
        (58, reserve("3"), (58, 60, LONGEST, "reserve")),
        (100, None, (60, 60, 60, "bound")),
        (59, None, (59, 59, 59, "bound")),
    ],
)
def test_sets_of_more_than_sixty_count_as_sixty(
    reps: int, effort: Effort | None, told: tuple[int, int, int, str]
) -> None:
    (found,) = of_one_session(a_set(DAY, "squat", 30, reps, effort=effort))
    assert (found.reps, found.possible, found.told_up_to, found.evidence) == told


@pytest.mark.parametrize(
    ("body", "is_ranked", "is_measure"),
    [
        (a_set(DAY, "squat", 100, 5, rir=0), True, True),
        (a_set(DAY, "squat", 100, 5, rir=2), True, True),
        (a_set(DAY, "squat", 100, 5), False, False),
        (a_set(DAY, "squat", 100, 3, missed="strength"), False, True),
        (a_set(DAY, "squat", 100, 1), True, True),
        (a_set(DAY, "squat", 100, 0), True, False),
    ],
)
def test_what_is_ranked_and_what_a_one_rm_can_be_estimated_from(
    body: SetBody, is_ranked: bool, is_measure: bool
) -> None:
    (found,) = of_one_session(body)
    assert (found.is_ranked, found.is_measure) == (is_ranked, is_measure)


def test_two_sessions_on_a_day_are_two() -> None:
    found = read(
        a_set(DAY, "squat", 110, 3, rir=1, session=2),
        a_set(DAY, "squat", 100, 5, rir=1),
        a_set(DAY, "bench-press", 80, 5, session=2),
        a_set("2026-03-01", "squat", 90, 5, session=2),
    )
    told = [
        (f"{s.on}", s.number, [(e.key[0], [t.load_kg for t in e.trials]) for e in s.entries]) for s in found.sessions
    ]
    assert told == [
        ("2026-03-01", 2, [("squat", [90.0])]),
        ("2026-03-02", 1, [("squat", [100.0])]),
        ("2026-03-02", 2, [("bench-press", [80.0]), ("squat", [110.0])]),
    ]


def test_equal_sets_are_each_a_set_in_the_order_in_which_they_were_written() -> None:
    found = of_one_session(*(a_set(DAY, "squat", load, 5) for load in (100, 110, 100, 100)))
    assert [(t.order, t.load_kg) for t in found] == [(1, 100), (2, 110), (3, 100), (4, 100)]


def test_sets_of_one_load_keep_their_order_whatever_was_done_in_each() -> None:
    found = of_one_session(*sets_of(DAY, "squat", 100, 4, 8, 6))
    assert [t.reps for t in found] == [4, 8, 6]


def test_warm_ups_are_left_out_marked_or_not() -> None:
    found = of_one_session(
        a_set(DAY, "squat", 60, 5, kind="warm-up"),
        a_set(DAY, "squat", 40, 10),
        a_set(DAY, "squat", 100, 5, rir=1),
        a_set(DAY, "squat", 85, 8),
        a_set(DAY, "squat", 84, 8),
        a_set(DAY, "squat", 70, 12, kind="back-off"),
    )
    assert [(t.load_kg, t.order) for t in found] == [(100, 1), (85, 2), (70, 3)]


def test_a_body_mass_is_used_from_its_day_on_and_guessed_before() -> None:
    found = read(
        a_set("2026-03-01", "pull-up", None, 5, rir=0),
        a_set("2026-03-03", "pull-up", 10, 5, rir=0),
        a_set("2026-03-05", "pull-up", None, 5, rir=0),
        weighed("2026-03-03", 80),
        weighed("2026-03-06", 90),
    )
    assert [s.entries[0].trials[0].load_kg for s in found.sessions] == [ASSUMED_KG, 90.0, 80.0]


def test_a_body_mass_that_never_comes_is_guessed_and_a_share_of_it_is_lifted() -> None:
    (pull_up,) = of_one_session(a_set(DAY, "pull-up", "2.5", 5))
    (push_up,) = of_one_session(weighed("2026-03-01", 100), a_set(DAY, "push-up", None, 20))
    assert pull_up.load_kg == ASSUMED_KG + 2.5
    assert push_up.load_kg == 64.0  # 0.64 of body mass, as the catalogue has it


def test_help_takes_from_body_mass_until_nothing_is_left() -> None:
    found = read(weighed("2026-03-01", 80), *(a_set(DAY, "assisted-pull-up", load, 5) for load in (-30, -80, -90)))
    assert [t.load_kg for s in found.sessions for e in s.entries for t in e.trials] == [50.0]


def test_a_bar_of_no_load_is_passed_over() -> None:
    assert read(a_set(DAY, "squat", None, 5)).passed_over == {"no-load": 1}


def test_marks_of_a_machine_seconds_and_metres_are_passed_over_and_counted_by_why() -> None:
    mark = Load(Decimal(7), "mark")
    found = read(
        a_set(DAY, "leg-press", mark, 10, rir=0),
        a_set(DAY, "leg-press", mark, 9, rir=0),
        a_set(DAY, "plank", None, None, seconds=60),
        a_set(DAY, "farmers-carry", 30, None, metres=Decimal(40)),
        a_set(DAY, "squat", 100, 5, rir=1),
    )
    assert found.passed_over == {"mark": 2, "not-repetitions": 2}
    assert [e.key[0] for s in found.sessions for e in s.entries] == ["squat"]


def test_pounds_are_kilograms() -> None:
    (found,) = of_one_session(a_set(DAY, "squat", lb(225), 5))
    assert found.load_kg == pytest.approx(102.05828325, abs=1e-9)  # 225 x 0.45359237, international pound


def test_left_and_right_are_two_sets_of_one_exercise() -> None:
    found = of_one_session(
        a_set(DAY, "single-leg-leg-press", 60, 8, rir=1, side="left"),
        a_set(DAY, "single-leg-leg-press", 60, 10, rir=1, side="right"),
        a_set(DAY, "single-leg-leg-press", 60, 9, rir=1, side="each"),
    )
    assert [(t.order, t.reps, t.possible) for t in found] == [(1, 8, 9), (2, 10, 11), (3, 9, 10)]


def test_two_implements_are_two_histories() -> None:
    (session,) = read(a_set(DAY, "squat", 100, 5), a_set(DAY, "squat", 60, 8, implement="stack")).sessions
    assert [e.key for e in session.entries] == [("squat", ""), ("squat", "stack")]


def test_an_exercise_that_the_catalogue_does_not_know_is_left_out() -> None:
    assert read(a_set(DAY, "no-such-lift", 100, 5)).sessions == ()


def test_the_order_of_entry_of_other_days_and_repeated_entries_change_nothing() -> None:
    bodies: tuple[SetBody, ...] = tuple(
        a_set(f"2026-03-{n:02d}", exercise, 80 + n, 5, rir=n % 3) for n in range(1, 9) for exercise in ("squat", "dip")
    )
    written = entries(*bodies)
    once = read_trials("Ada", fold(written), catalogue(), Policy())
    again = read_trials("Ada", fold((*reversed(written), *written[3:7])), catalogue(), Policy())
    assert once == again


def test_a_corrected_set_stands_as_it_was_corrected() -> None:
    wrong = entry(a_set(DAY, "squat", 1000, 5, rir=1), id=entry_id(1), hlc=hlc_at(1))
    right = entry(a_set(DAY, "squat", 100, 5, rir=1), id=entry_id(2), hlc=hlc_at(2), replaces=(entry_id(1),))
    found = read_trials("Ada", fold((wrong, right)), catalogue(), Policy())
    assert [t.load_kg for s in found.sessions for e in s.entries for t in e.trials] == [100.0]
