"""The body by drift: the same from the same seed, and each of its parts as it is meant."""

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from functools import partial

import numpy as np
import pytest
from numpy.random import default_rng

from steelyard.engine.simulation.body_by_drift import FORM_DAILY, SETBACK, BodyByDrift
from steelyard.engine.simulation.exercises import EXERCISES
from steelyard.engine.simulation.lifts_by_drift import LIFTS, Sex
from steelyard.engine.simulation.person_by_drift import person_by_drift
from steelyard.engine.simulation.physiology import Physiology
from steelyard.engine.simulation.training import train
from steelyard.engine.simulation.values import KINDS, Kind

BEGINS = date(2025, 1, 6)
SEXES: tuple[Sex, ...] = ("female", "male")
PRESS = "machine-chest-press"


def body_of(kind: Kind, number: int) -> BodyByDrift:
    """One person of a kind, women and men by turns."""
    rng = default_rng((3, number))
    return BodyByDrift(person_by_drift(kind, rng, SEXES[number % 2]), rng)


def after(days: float) -> date:
    return BEGINS + timedelta(days)


def to_failure(body: Physiology, exercise: str = PRESS, share: float = 0.75, rest_interval_s: int = 180) -> int:
    """A set to failure at a share of the true 1RM."""
    load_kg = share * body.one_rm_kg(exercise)
    reps = body.possible(exercise, load_kg)
    body.lift(exercise, load_kg, reps, 0.0, rest_interval_s)
    return reps


def twice_a_week(body: Physiology, begins: int, ends: int, sets: int = 1) -> None:
    """Sets to failure every three or four days."""
    for day in range(begins, ends):
        if (day - begins) % 7 in (0, 3):
            body.begin_day(after(day))
            for _ in range(sets):
                to_failure(body)


def mean_over(people: int, figure: Callable[[int], float]) -> float:
    return float(np.mean([figure(number) for number in range(people)]))


def heaviest_single_kg(body: Physiology, exercise: str) -> float:
    """The most (kg) that can be lifted once today, to a ten-thousandth."""
    least, most = 0.0, 2 * body.one_rm_kg(exercise)
    while most - least > most / 20_000:
        middle = (least + most) / 2
        least, most = (middle, most) if body.possible(exercise, middle) else (least, middle)
    return least


def answers(body: Physiology, days: Sequence[int]) -> list[float]:
    """What a body says and does on these days."""
    said: list[float] = []
    for day in days:
        body.begin_day(after(day))
        reps = to_failure(body)
        said += [reps, body.one_rm_kg(PRESS), body.body_mass_kg(), body.felt_reserve(PRESS, reps, reps + 3)]
    return said


def test_it_is_the_same_from_the_same_seed_and_another_from_another() -> None:
    days = range(0, 84, 4)
    assert answers(body_of("trained", 1), days) == answers(body_of("trained", 1), days)
    assert answers(body_of("trained", 1), days) != answers(body_of("trained", 3), days)


def test_asking_changes_nothing() -> None:
    asked, left = body_of("trained", 2), body_of("trained", 2)
    for day in range(0, 40, 3):
        asked.begin_day(after(day))
        asked.begin_day(after(day))
        left.begin_day(after(day))
        for exercise in LIFTS:
            asked.possible(exercise, 50.0)
            asked.one_rm_kg(exercise)
        assert to_failure(asked) == to_failure(left)
    assert asked.one_rm_kg("squat") == left.one_rm_kg("squat")


def test_days_never_go_back() -> None:
    body = body_of("trained", 1)
    body.begin_day(after(2))
    with pytest.raises(ValueError, match="2025-01-07 is before 2025-01-08"):
        body.begin_day(after(1))


def test_it_knows_every_exercise_that_lifters_do_and_either_side() -> None:
    assert LIFTS.keys() == EXERCISES.keys()
    body = body_of("novice", 1)
    body.begin_day(BEGINS)
    left, right = (body.one_rm_kg(f"single-leg-leg-press/{side}") for side in ("left", "right"))
    assert left != right
    assert left == pytest.approx(right, rel=0.2)
    with pytest.raises(KeyError):
        body.one_rm_kg("squat/left")


@pytest.mark.parametrize("kind", KINDS)
def test_people_of_every_kind_train_by_their_habits(kind: Kind) -> None:
    for number in range(4):
        lifter = train(kind, body_of(kind, number), default_rng(number), name="A", begins=BEGINS, weeks=60)
        assert len(lifter.truth) == len(lifter.sets) > 0
        assert all(
            done.reps is not None and done.reps <= of.possible
            for done, of in zip(lifter.sets, lifter.truth, strict=True)
        )
        levels = [[kg for _, kg in of] for of in lifter.levels.values()]
        assert all(min(of) > 0 and max(of) < 3 * of[0] for of in levels)


@pytest.mark.parametrize("number", range(6))
def test_possible_falls_with_load_to_a_miss(number: int) -> None:
    body = body_of("trained", number)
    body.begin_day(BEGINS)
    one_rm_kg = body.one_rm_kg("squat")
    reps = [body.possible("squat", share * one_rm_kg) for share in np.arange(0.0, 1.3, 0.01)]
    assert reps == sorted(reps, reverse=True)
    assert reps[0] > 25
    assert reps[-1] == 0
    assert body.possible("squat", heaviest_single_kg(body, "squat")) >= 1


def test_a_lighter_press_of_the_legs_gives_more_repetitions_than_the_bench() -> None:
    # At 80 % of 1RM 13.05 (9.78-17.41) in leg press and 8.82 (7.72-10.08) in bench press: Nuzzo et al. 2024, Sports Med
    # 54:303-321.
    def reps(exercise: str, number: int) -> int:
        body = body_of("trained", number)
        body.begin_day(BEGINS)
        return body.possible(exercise, 0.8 * body.one_rm_kg(exercise))

    assert 9.78 < mean_over(200, lambda k: reps("leg-press", k)) < 17.41
    assert 7.72 < mean_over(200, lambda k: reps("bench-press", k)) < 10.08


def test_sets_scatter_with_heavy_tails() -> None:
    body = body_of("machine-study", 1)
    body.begin_day(BEGINS)
    reps = []
    for _ in range(4_000):
        reps.append(body.possible("leg-press", 0.0))
        body.lift("leg-press", 0.0, 1, 10_000.0, 600)
    logs = np.log(np.array(reps) + default_rng(1).random(len(reps)))
    lower, middle, upper = np.percentile(logs, [25, 50, 75])
    off = np.abs(logs - middle) / ((upper - lower) / 2)
    # Three SD of normal draws are 4.45 times the half width of their middle half: 0.27 % lie beyond. Of Student's t
    # with four degrees of freedom 3.0 % lie beyond as many half widths.
    assert 0.02 < float((off > 4.45).mean()) < 0.04


@pytest.mark.parametrize("every", [1, 2, 5])
def test_day_form_goes_with_the_day_before_and_less_with_days_between(every: int) -> None:
    def forms(number: int) -> list[float]:
        body, found = body_of("trained", number), []
        for day in range(0, 100 * every, every):
            body.begin_day(after(day))
            found.append(float(np.log(heaviest_single_kg(body, PRESS) / body.one_rm_kg(PRESS))))
        return found

    form = np.array([forms(number) for number in range(12)])
    from_one_to_next = np.corrcoef(form[:, :-1].ravel(), form[:, 1:].ravel())[0, 1]
    assert float(from_one_to_next) == pytest.approx(FORM_DAILY**every, abs=0.1)
    assert 0.012 < float(form.std()) < 0.025


def test_a_good_day_is_shared_by_the_lifts_and_not_wholly() -> None:
    pairs = []
    for number in range(200):
        body = body_of("trained", number)
        body.begin_day(BEGINS)
        pairs.append([heaviest_single_kg(body, lift) / body.one_rm_kg(lift) for lift in ("squat", PRESS)])
    assert 0.35 < float(np.corrcoef(np.transpose(pairs))[0, 1]) < 0.85


def test_sets_tire_by_the_rest_between_them_and_tomorrow_is_another_day() -> None:
    def lost(rest_interval_s: int) -> float:
        def of(number: int) -> int:
            body = body_of("trained", number)
            body.begin_day(BEGINS)
            return to_failure(body, rest_interval_s=rest_interval_s) - to_failure(body)

        return mean_over(300, of)

    at_60_s, at_180_s, at_600_s = map(lost, (60, 180, 600))
    assert at_60_s > at_180_s + 0.5 > at_600_s + 0.5
    # A minute's rest after a set of about twelve: three to six fewer; three minutes': one to three. From memory.
    assert 3 < at_60_s < 6
    assert 1 < at_180_s < 3

    def reps_after(days: int, number: int) -> int:
        body = body_of("trained", number)
        body.begin_day(BEGINS)
        for _ in range(6):
            to_failure(body)
        body.begin_day(after(days))
        return to_failure(body)

    def fresh(number: int) -> int:
        body = body_of("trained", number)
        body.begin_day(BEGINS)
        return to_failure(body)

    next_day = mean_over(300, lambda k: reps_after(1, k))
    fourth_day = mean_over(300, lambda k: reps_after(4, k))
    assert next_day < fourth_day - 0.1
    assert fourth_day == pytest.approx(mean_over(300, fresh), abs=0.4)


def test_other_lifts_tire_less_and_a_set_far_from_failure_hardly_tires() -> None:
    def left(lifted: str, reserve: float, number: int) -> float:
        body = body_of("trained", number)
        body.begin_day(BEGINS)
        fresh_kg = heaviest_single_kg(body, PRESS)
        body.lift(lifted, 1.0, 10, reserve, 60)
        return heaviest_single_kg(body, PRESS) / fresh_kg

    same, other, easy = left(PRESS, 0, 1), left("squat", 0, 1), left(PRESS, 8, 1)
    assert same < other < 1
    assert same < easy < 1
    assert 1 - easy < (1 - same) / 3


def test_a_layoff_lowers_and_training_brings_back() -> None:
    def levels(number: int) -> list[float]:
        body = body_of("trained", number)
        twice_a_week(body, 0, 28)
        found = []
        for day in (25, 33, 59, 94):  # 1, 9, 35 and 70 days off
            body.begin_day(after(day))
            found.append(body.one_rm_kg(PRESS))
        twice_a_week(body, 94, 129)
        body.begin_day(after(129))
        return [*found, body.one_rm_kg(PRESS)]

    before, week, five_weeks, ten_weeks, back = np.log([levels(number) for number in range(60)]).mean(axis=0)
    assert week == pytest.approx(before, abs=0.004)
    # Five weeks: 9 % in world-class kayakers (García-Pallarés et al. 2010), less in most.
    assert 0.03 < before - five_weeks < 0.09
    assert 0.08 < before - ten_weeks < 0.18
    # Ten weeks off were regained in five (Halonen et al. 2024).
    assert back > before - 0.015


def test_who_never_trained_loses_nothing_and_who_competes_trains_unseen() -> None:
    def change(kind: Kind, number: int) -> float:
        body = body_of(kind, number)
        body.begin_day(BEGINS)
        first_kg = body.one_rm_kg("squat")
        body.begin_day(after(200))
        return float(np.log(body.one_rm_kg("squat") / first_kg))

    assert change("novice", 1) == 0
    assert mean_over(100, lambda k: change("competitor", k)) > 0.02


@pytest.mark.parametrize("what", SETBACK)
def test_events_set_back_at_once_and_never_under_the_floor(what: str) -> None:
    body = body_of("irregular", 1)
    body.begin_day(BEGINS)
    before = body.one_rm_kg("squat")
    body.interrupt(what, 10)
    assert (body.one_rm_kg("squat") < before) == (what in ("illness", "injury"))
    for _ in range(50):
        body.interrupt(what, 10)
    assert body.one_rm_kg("squat") > 0.6 * before


def test_an_announced_illness_stops_unseen_training() -> None:
    ill, well = body_of("competitor", 4), body_of("competitor", 4)
    for body in (ill, well):
        body.begin_day(BEGINS)
    ill.interrupt("travel", 60)
    for body in (ill, well):
        body.begin_day(after(60))
    assert ill.one_rm_kg("squat") < 0.98 * well.one_rm_kg("squat")


def gains(sets: int, people: int = 200) -> list[float]:
    """Mean gains (ln) of novices in three times four weeks, twice a week with so many sets to failure."""
    found = []
    for number in range(people):
        body = body_of("novice", number)
        levels = []
        for training_week in (0, 4, 8, 12):
            body.begin_day(after(7 * training_week))
            levels.append(body.one_rm_kg(PRESS))
            twice_a_week(body, 7 * training_week, 7 * (training_week + 4), sets)
        found.append(np.diff(np.log(levels)))
    return [float(gain) for gain in np.mean(found, axis=0)]


def test_gains_die_out_and_more_sets_give_somewhat_more() -> None:
    one, six = gains(1), gains(6)
    assert one[0] > one[1] > one[2] > 0
    # Leg press gained 57 % in 12 weeks, ln 1.57 = 0.45 (Hammarstrom et al. 2020); other lifts gain less, our judgement.
    assert 0.25 < sum(one) < 0.40
    # Three sets against one gave ln 1.65 / ln 1.57 = 1.11 times as much (the same); six give little more than three.
    assert 1.08 < sum(six) / sum(one) < 1.3


def test_a_session_lasts_some_days_and_no_longer() -> None:
    def gain(every: int, number: int) -> float:
        body = body_of("novice", number)
        body.begin_day(BEGINS)
        first_kg = body.one_rm_kg(PRESS)
        for day in range(0, 84, every):
            body.begin_day(after(day))
            to_failure(body)
        body.begin_day(after(84))
        return float(np.log(body.one_rm_kg(PRESS) / first_kg))

    often, less, rarely = (mean_over(150, partial(gain, every)) for every in (2, 4, 12))
    assert often == pytest.approx(less, abs=0.03)
    assert rarely < 0.65 * less


def test_what_is_felt_is_too_low_and_the_more_so_far_from_failure() -> None:
    def too_low(reserve: int, possible: int) -> float:
        bodies = [body_of("trained", number) for number in range(400)]
        return float(np.mean([reserve - body.felt_reserve(PRESS, possible - reserve, possible) for body in bodies]))

    by_reserve = [too_low(reserve, 10) for reserve in range(7)]
    assert by_reserve[0] == 0
    assert by_reserve == sorted(by_reserve)
    # 0.95 (0.17-1.73) on average: Halperin et al. 2022, Sports Med 52:377-390; which reserves were asked after is our
    # judgement.
    assert float(np.mean(by_reserve[1:])) == pytest.approx(0.95, abs=0.12)
    # Called five in reserve in sets of 16: 5.15 more were left than said (Zourdos et al. 2021, J Strength Cond Res
    # 35:S158).
    assert too_low(10, 16) == pytest.approx(5.15, abs=1)
    assert too_low(4, 18) > too_low(4, 10) + 0.3


def test_people_differ_as_kinds_and_sexes_do() -> None:
    def squat_kg(kind: Kind, sex: Sex) -> float:
        people = (person_by_drift(kind, default_rng((5, number)), sex) for number in range(200))
        return float(np.mean([person.lifts[0].one_rm_kg for person in people]))

    assert squat_kg("novice", "male") < squat_kg("trained", "male") < squat_kg("competitor", "male")
    assert squat_kg("trained", "female") < squat_kg("trained", "male")
