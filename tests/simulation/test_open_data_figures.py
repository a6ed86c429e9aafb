"""The measures themselves, on logs so small that the answer is worked by hand."""

from collections.abc import Sequence
from datetime import date, timedelta
from decimal import Decimal
from math import exp, isnan, log, sqrt

import pytest

from steelyard.engine.log import CheckInBody, SetBody, SetKind
from steelyard.engine.quantities import kg, lb
from steelyard.engine.simulation.values import Simulated

from .open_data_figures import (
    Figures,
    Legs,
    Meet,
    Trial,
    beginner_figures,
    line,
    load_rises,
    longest_without_best,
    meet_figures,
    meets_of,
    same_load_changes,
    sampling_errors,
    series_of,
    training_figures,
    yearly_changes,
)

START = date(2025, 1, 6)


def a_set(day: int, load: str, reps: int, exercise: str = "leg-press", kind: SetKind | None = None) -> SetBody:
    return SetBody(on=START + timedelta(day), exercise=exercise, load=kg(load), reps=reps, kind=kind)


def a_lifter(*sets: SetBody, body_mass: str = "80") -> Simulated:
    said = (CheckInBody(on=START, body_mass=kg(body_mass)),)
    return Simulated(name="Test", kind="machine-study", sets=sets, check_ins=said, truth=(), levels={})


def trials(*loads_and_reps: tuple[int, int], days: int = 3) -> tuple[Trial, ...]:
    return tuple(Trial(START + timedelta(days * k), load, reps) for k, (load, reps) in enumerate(loads_and_reps))


def test_a_series_is_the_first_working_set_of_each_session_in_order_of_time() -> None:
    written = [
        a_set(3, "51", 9), a_set(0, "30", 8, kind="warm-up"), a_set(0, "50", 10), a_set(0, "50", 7),
        a_set(0, "20", 12, "seated-row"), a_set(5, "55", 0),
    ]  # fmt: skip
    assert series_of(written) == [
        (Trial(START + timedelta(3), 51, 9), Trial(START, 50, 10))[::-1],
        (Trial(START, 20, 12),),
    ]


def test_pounds_are_a_load_like_any_other() -> None:
    [(trial,)] = series_of([SetBody(on=START, exercise="leg-press", load=lb(100), reps=5)])
    assert trial.load_kg == pytest.approx(45.359237)


def test_changes_are_taken_only_where_the_load_stayed() -> None:
    assert same_load_changes([trials((50, 10), (50, 12), (51, 9), (51, 8), (50, 11))]) == [(3, 2), (3, -1)]


def test_rises_are_shares_of_the_load_before_and_falls_are_none() -> None:
    assert load_rises([trials((50, 10), (52, 10), (52, 10), (40, 10), (50, 10))]) == pytest.approx([0.04, 0.25])


def test_a_line_finds_the_rise_a_week_and_no_scatter_where_there_is_none() -> None:
    rising = tuple(Trial(START + timedelta(weeks=k), 100 * exp(0.004 * k), 5) for k in range(4))
    assert line(rising) == pytest.approx((0.004, 0), abs=1e-9)


def test_scatter_is_the_rest_over_n_less_two() -> None:
    # ln 1RM a, a + h, a + h, a at even times: the line is flat at a + h/2, four rests of h/2, over n - 2.
    ups = tuple(Trial(START + timedelta(weeks=k), 100 * exp(h), 5) for k, h in enumerate((0, 0.06, 0.06, 0)))
    assert line(ups) == pytest.approx((0, sqrt(4 * 0.03**2 / 2)), abs=1e-9)


def test_a_run_without_a_best_counts_equals_and_ends_at_the_next_best() -> None:
    assert longest_without_best(trials((50, 10), (50, 10), (50, 9), (50, 11), (50, 8))) == 2
    assert longest_without_best(trials((50, 1), (50, 2), (50, 3))) == 0
    assert longest_without_best(trials((50, 5), (50, 4), (50, 4), (50, 4), (50, 5))) == 4


def test_the_training_figures_of_two_short_series_and_a_long_one() -> None:
    # The long series: 100 kg, repetitions 10 and 12 by turns, ten sessions: nine changes of +2 or -2, five of them up.
    long = [a_set(7 * k, "100", 10 + 2 * (k % 2)) for k in range(10)]
    # The short ones: one rise of 2 %, one of 4 %, and a repeat with -1 after 22 days.
    short = [a_set(0, "50", 9, "seated-row"), a_set(3, "51", 9, "seated-row"), a_set(25, "51", 8, "seated-row")]
    other = [a_set(0, "50", 9), a_set(4, "52", 9)]
    found = training_figures([a_lifter(*long, *short), a_lifter(*other)])
    changes = [2, -2, 2, -2, 2, -2, 2, -2, 2, -1]
    mean = 0.1
    deviation = sqrt(sum((c - mean) ** 2 for c in changes) / 9)
    assert found["same-load repeats"] == 10
    assert found["same-load change"] == pytest.approx(mean)
    assert found["same-load change SD"] == pytest.approx(deviation)
    assert found["repetitions uncertain"] == pytest.approx(deviation / sqrt(2))
    assert found["change after 7-12 days"] == pytest.approx(2 / 9)
    assert found["change beyond 21 days"] == -1
    assert isnan(found["change after 3-7 days"])
    assert (found["load rise"], found["load rise 25th"]) == pytest.approx((3, 2.5))
    assert found["load rise 90th"] == pytest.approx(3.8)
    # After the second session nothing passes 12 repetitions: eight sessions without a best. The line rises: the high
    # sessions stand at 1, 3, 5, 7, 9, so slope = 5 x h / sum of squared times, 82.5, with h = ln(1.4 / (4/3)) and
    # the sum of (k - 4.5) over those k being 2.5.
    assert (found["runs of four"], found["runs of six"], found["upward"]) == (100, 100, 100)
    height = log((1 + 12 / 30) / (1 + 10 / 30))
    assert found["gain a week"] == pytest.approx(100 * 2.5 * height / 82.5)
    # Squares around the mean: 10 x (h/2)^2; the line takes 2.5^2 h^2 / 82.5 of them.
    assert found["scatter"] == pytest.approx(100 * height * sqrt((2.5 - 2.5**2 / 82.5) / 8))


def test_beginners_gain_from_their_first_test() -> None:
    people = [
        Legs({0: 100, 2: 130, 12: 150}, {0: 100, 2: 140, 12: 160}, (110, 106)),
        Legs({0: 50, 2: 60, 12: 70}, {0: 50, 2: 65, 12: 75}, (55, 55)),
        Legs({0: 80, 2: 100, 12: 104}, {0: 80, 2: 100, 12: 112}, (80, 88)),
    ]
    found = beginner_figures(people)
    assert found["one set, week 2"] == pytest.approx((30 + 20 + 25) / 3)
    assert found["three sets, week 12"] == pytest.approx((60 + 50 + 40) / 3)
    assert found["after one session"] == pytest.approx((10 + 6 + 10 + 10 + 0 + 10) / 6)
    assert found["legs agree"] == pytest.approx(1)  # 50, 40, 30 against 60, 50, 40


def attempts(day: int, squat: str, bench: str, deadlift: str) -> list[SetBody]:
    lifts = {"squat": squat, "bench-press": bench, "deadlift": deadlift}
    return [a_set(day, load, 1, lift) for lift, load in lifts.items()]


def test_a_meet_takes_the_best_good_attempt_of_each_lift() -> None:
    missed = SetBody(on=START, exercise="squat", load=kg("220"), reps=0, missed="strength")
    bombed_out = attempts(90, "200", "130", "240")[:2]
    lifter = a_lifter(*attempts(0, "190", "120", "230"), *attempts(0, "200", "125", "220"), missed, *bombed_out)
    assert meets_of(lifter) == [Meet(START, 200, 125, 230, 80)]
    assert meets_of(lifter)[0].total_kg == 555


def test_an_attempt_with_the_bar_up_but_not_given_does_not_count() -> None:
    refused = SetBody(on=START, exercise="squat", load=kg("210"), reps=1, missed="technique")
    assert meets_of(a_lifter(*attempts(0, "200", "125", "230"), refused))[0].squat_kg == 200


def test_years_of_competing_begin_at_the_first_meet_and_take_its_best() -> None:
    def meet(day: int, total: float) -> Meet:
        return Meet(START + timedelta(day), total - 2, 1, 1, 80)

    career = [meet(0, 500), meet(300, 520), meet(364, 510), meet(365, 530), meet(700, 546), meet(1200, 600)]
    assert yearly_changes(career, 0) == pytest.approx(5)
    assert yearly_changes(career, 1) is None
    assert yearly_changes(career[:1], 0) is None


def test_the_figures_of_meets() -> None:
    light = a_lifter(*attempts(0, "100", "70", "120"), *attempts(400, "110", "70", "132"), body_mass="50")
    heavy = a_lifter(*attempts(0, "200", "130", "260"), *attempts(400, "190", "133", "260"), body_mass="100")
    once = a_lifter(*attempts(0, "300", "200", "400"))
    found = meet_figures([light, heavy, once])
    first, second = 100 * (312 / 290 - 1), 100 * (583 / 590 - 1)
    assert found["change to year 2"] == pytest.approx((first + second) / 2)
    assert found["down in year 2"] == 50
    assert found["lifters"] == 2
    ratios = (70 / 110, 130 / 200)
    assert found["bench/squat"] == pytest.approx(sum(ratios) / 2)
    assert found["bench/squat SD"] == pytest.approx((ratios[1] - ratios[0]) / sqrt(2))
    assert found["deadlift/squat"] == pytest.approx((132 / 110 + 260 / 200) / 2)
    assert isnan(found["total scatter"])


def test_scatter_around_a_parabola_and_the_ratio_within_a_lifter() -> None:
    # ln squat 0, 0, 0, h, 0, 0 would need algebra; third differences need none: the part of a series of six that no
    # parabola takes, along (-5, 7, 4, -4, -7, 5), whose squares sum to 180 (orthogonal polynomials, n = 6, cubic).
    step = 0.002
    curve = [0.01 * k - 0.001 * k * k for k in range(6)]
    logs = [c + step * cubic for c, cubic in zip(curve, (-5, 7, 4, -4, -7, 5), strict=True)]
    squats = [Decimal(round(200 * exp(value), 6)) for value in logs]
    sets = [s for k, squat in enumerate(squats) for s in attempts(100 * k, str(squat)[:12], "120", "240")]
    found = meet_figures([a_lifter(*sets)])
    assert found["squat scatter"] == pytest.approx(100 * sqrt(step**2 * 180 / 3), rel=1e-4)
    assert found["bench scatter"] == pytest.approx(0, abs=1e-9)
    ratios = [120 / float(squat) for squat in squats]
    mean = sum(ratios) / 6
    assert found["bench/squat within"] == pytest.approx(sqrt(sum((r - mean) ** 2 for r in ratios) / 5), rel=1e-6)


def test_the_exponent_of_body_mass_and_its_bend() -> None:
    # Totals by mass^1 below the median body mass and mass^0.5 from there on; two meets each, the same total.
    def lifter(mass: int, total: float) -> Simulated:
        third = f"{total / 3:.9f}"
        return a_lifter(*attempts(0, third, third, third), *attempts(200, third, third, third), body_mass=str(mass))

    lighter = [lifter(mass, 6.0 * mass) for mass in (50, 55, 60)]
    heavier = [lifter(mass, 500 * (mass / 80) ** 0.5) for mass in (80, 90, 100)]
    assert meet_figures([*lighter, *heavier])["exponent bend"] == pytest.approx(0.5)
    assert meet_figures([lifter(mass, 400 * (mass / 80) ** 0.6) for mass in (60, 80, 90)])["exponent"] == (
        pytest.approx(0.6)
    )


def test_the_sampling_error_of_a_mean_is_that_of_the_book() -> None:
    def mean(people: Sequence[float]) -> Figures:
        return {"mean": sum(people) / len(people)}

    # One a group: SD / root n. The values 1, 3, 3, 5 have the variance 8/3, over four 2/3.
    assert sampling_errors(mean, [1.0, 3.0, 3.0, 5.0], groups=4) == {"mean": pytest.approx(sqrt(2 / 3))}
