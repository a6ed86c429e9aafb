"""The first simulated body, and the habits that any body trains by."""

from collections import defaultdict
from collections.abc import Iterable
from datetime import date, timedelta
from itertools import pairwise
from math import isfinite, log
from statistics import fmean, stdev

import msgspec
import numpy as np
import pytest
from numpy.random import default_rng

from steelyard.catalogue import catalogue
from steelyard.engine.simulation.body_by_dose import BodyByDose
from steelyard.engine.simulation.exercises import EXERCISES
from steelyard.engine.simulation.load_repetitions import broken_repetitions
from steelyard.engine.simulation.pen import SLIP_RATE
from steelyard.engine.simulation.person_by_dose import person_by_dose
from steelyard.engine.simulation.rotas import habit_of
from steelyard.engine.simulation.simulate import BodyName, simulate
from steelyard.engine.simulation.values import KINDS, Kind, Simulated

BEGINS = date(2025, 1, 6)
BODIES: tuple[BodyName, ...] = ("by-dose", "by-drift")


def lifter(
    kind: Kind, number: int = 0, weeks: int = 16, body: BodyName = "by-dose", slip_rate: float = SLIP_RATE
) -> Simulated:
    """One lifter of this kind, the same for the same number."""
    rng = default_rng((4, KINDS.index(kind), number))
    return simulate(kind, rng, name=f"Lifter {number}", begins=BEGINS, weeks=weeks, body=body, slip_rate=slip_rate)


def body(kind: Kind = "trained", number: int = 0) -> BodyByDose:
    """A body on its first day, rested."""
    rng = default_rng((5, number))
    made = BodyByDose(person_by_dose(kind, rng, "female" if number % 2 else "male"), rng)
    made.begin_day(BEGINS)
    return made


def logged_kg(lifters: Iterable[Simulated]) -> list[float]:
    """Every load as it stands in the logs, 0 where there is none."""
    return [float(done.load.value) if done.load else 0.0 for one in lifters for done in one.sets]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("by", BODIES)
class TestEveryKindOnEveryBody:
    def test_the_same_seed_gives_the_same_lifter_to_the_byte(self, kind: Kind, by: BodyName) -> None:
        encoded = [msgspec.json.encode(lifter(kind, number, body=by)) for number in (0, 0, 1)]
        assert encoded[0] == encoded[1] != encoded[2]

    def test_nothing_is_drawn_from_the_chance_that_all_share(self, kind: Kind, by: BodyName) -> None:
        before = msgspec.json.encode(lifter(kind, body=by))
        np.random.seed(1)
        state = repr(np.random.get_state())
        assert msgspec.json.encode(lifter(kind, body=by)) == before
        assert repr(np.random.get_state()) == state

    def test_truth_goes_with_sets_one_by_one(self, kind: Kind, by: BodyName) -> None:
        one = lifter(kind, body=by)
        assert len(one.sets) == len(one.truth) > 0
        for done, truth in zip(one.sets, one.truth, strict=True):
            assert done.reps is not None
            assert 0 <= done.reps <= truth.possible
            assert dict(one.levels[done.exercise])[done.on] == truth.one_rm_kg

    def test_levels_are_finite_and_above_nothing(self, kind: Kind, by: BodyName) -> None:
        levels = lifter(kind, body=by).levels.values()
        assert levels
        assert all(isfinite(kg) and kg > 0 for of in levels for _, kg in of)

    def test_days_are_in_order_and_within_the_time(self, kind: Kind, by: BodyName) -> None:
        one = lifter(kind, body=by)
        days = [done.on for done in one.sets]
        assert days == sorted(days)
        assert days[0] >= BEGINS and days[-1] < BEGINS + timedelta(7 * 16)
        for of in one.levels.values():
            assert [on for on, _ in of] == sorted({on for on, _ in of})

    def test_a_missed_set_has_no_repetition_and_no_other_has_none(self, kind: Kind, by: BodyName) -> None:
        for done in lifter(kind, body=by).sets:
            assert (done.reps == 0) == (done.missed == "strength")


def test_kinds_differ_in_what_they_do() -> None:
    done = {kind: {(s.exercise, s.kind, s.phase) for s in lifter(kind, weeks=52).sets} for kind in KINDS}
    assert {code for code, *_ in done["competitor"]} == {"squat", "bench-press", "deadlift"}
    assert {code for code, *_ in done["machine-study"]} == {"machine-chest-press", "machine-row", "leg-press"}
    assert "deload" in {phase for *_, phase in done["trained"]}
    assert "deload" not in {phase for *_, phase in done["novice"]}
    for number, kind in enumerate(KINDS):
        for other in KINDS[number + 1 :]:
            assert done[kind] != done[other] or {kind, other} == {"trained", "irregular"}


def test_the_machine_study_is_one_set_to_failure() -> None:
    one = lifter("machine-study")
    assert all(done.reps == truth.possible for done, truth in zip(one.sets, one.truth, strict=True))
    assert len({(done.on, done.exercise) for done in one.sets}) == len(one.sets)


def test_irregular_lifters_are_away_longer_than_trained_ones() -> None:
    def away(kind: Kind) -> float:
        gaps = []
        for number in range(12):
            days = sorted({done.on for done in lifter(kind, number, weeks=52).sets})
            gaps.append(max((after - before).days for before, after in pairwise(days)))
        return fmean(gaps)

    assert away("irregular") > 2 * away("trained")


def test_competitors_take_three_attempts_a_lift_and_miss_some() -> None:
    lifters = [lifter("competitor", number, weeks=104) for number in range(20)]
    attempts: dict[tuple[str, date, str], list[float]] = defaultdict(list)
    for one in lifters:
        for done in one.sets:
            assert done.load is not None
            attempts[one.name, done.on, done.exercise].append(float(done.load.value))
    assert all(len(loads) == 3 and loads == sorted(loads) for loads in attempts.values())
    assert all(load % 2.5 == 0 for loads in attempts.values() for load in loads)
    good = fmean(done.reps or 0 for one in lifters for done in one.sets)
    assert 0.6 < good < 0.95  # most attempts are good, some are not; common practice, no source


def test_slips_of_the_pen_come_about_as_often_as_said_and_change_nothing_else() -> None:
    slips = written = 0
    factors = set()
    for number in range(30):
        right, wrong = lifter("trained", number, slip_rate=0.0), lifter("trained", number)
        assert right.truth == wrong.truth
        assert right.check_ins == wrong.check_ins
        pairs = list(zip(logged_kg([right]), logged_kg([wrong]), strict=True))
        written += len(pairs)
        slips += sum(a != b for a, b in pairs)
        factors |= {round(b / a, 1) for a, b in pairs if a != b}
    expected = SLIP_RATE * written
    assert abs(slips - expected) < 4 * expected**0.5
    assert {10.0, 0.1, 2.2, 0.5} <= factors


def test_no_slip_is_heavier_than_a_log_can_hold() -> None:
    heaviest = max(logged_kg(lifter("novice", number, slip_rate=1.0) for number in range(4)))
    assert 1000 < heaviest <= 2000


def test_the_exercises_agree_with_the_catalogue() -> None:
    known = {exercise.code: exercise for exercise in catalogue().exercises}
    for code, exercise in EXERCISES.items():
        assert exercise.pattern == known[code].pattern
        assert exercise.body_mass_share == float(known[code].body_mass_share)
        assert known[code].measure == "reps"


def test_every_line_of_every_kind_is_an_exercise_that_is_known() -> None:
    for kind in KINDS:
        for number in range(8):
            for line in (line for day in habit_of(kind, default_rng(number)).days for line in day):
                assert {line.exercise, line.easier} <= {*EXERCISES, ""}


def test_possible_repetitions_fall_with_the_load_and_asking_changes_nothing() -> None:
    for number in range(20):
        able = body(number=number)
        one_rm_kg = able.one_rm_kg("squat")
        loads = [one_rm_kg * per_cent / 100 for per_cent in range(30, 131)]
        counts = [able.possible("squat", kg) for kg in loads]
        assert counts == sorted(counts, reverse=True)
        assert counts == [able.possible("squat", kg) for kg in loads]
        assert counts[0] > 20
        assert counts[-1] == 0


def test_repetitions_by_load_are_the_published_means() -> None:
    # Nuzzo et al. 2024, Sports Med 54(2):303-321; whole repetitions are on average half a one fewer.
    for share, mean in (
        (0.9, 4.94),
        (0.85, 7.15),
        (0.8, 9.75),
        (0.75, 12.37),
        (0.7, 14.8),
        (0.65, 17.11),
        (0.6, 19.53),
    ):
        assert broken_repetitions(share, 1.0) - 0.5 == pytest.approx(mean, abs=0.005)
    assert broken_repetitions(1.0, 1.7) == 1.0
    assert broken_repetitions(1.001, 1.0) < 1.0


def test_a_set_tires_a_rest_interval_restores_and_a_rest_day_restores_more() -> None:
    tired: list[int] = []
    paused: list[int] = []
    rested = []
    for number in range(40):
        for rest_interval_s, after in ((30, tired), (600, paused)):
            able = body(number=number)
            load_kg = able.one_rm_kg("bench-press") * 0.75
            fresh = able.possible("bench-press", load_kg)
            able.lift("bench-press", load_kg, fresh, 0.0, rest_interval_s)
            after.append(able.possible("bench-press", load_kg) - fresh)
        able.begin_day(BEGINS + timedelta(2))
        rested.append(able.possible("bench-press", load_kg) - fresh)
    assert fmean(tired) < fmean(paused) - 1 < fmean(rested)
    assert abs(fmean(rested)) < 4 * stdev(rested) / 40**0.5 + 0.3


def test_a_set_near_failure_tires_more_than_one_far_from_it() -> None:
    def after(to_failure: float) -> int:
        able = body()
        load_kg = able.one_rm_kg("squat") * 0.75
        able.lift("squat", load_kg, 8, to_failure, 60)
        return able.possible("squat", load_kg)

    assert after(0.0) < after(4.0)


def test_days_never_go_back() -> None:
    able = body()
    with pytest.raises(ValueError, match="days never go back"):
        able.begin_day(BEGINS - timedelta(1))


def grown(sets: int, *, kind: Kind = "novice", number: int = 0) -> float:
    """How far (ratio) six weeks of so many sets of an exercise carry it."""
    able = body(kind, number)
    before = able.one_rm_kg("leg-press")
    for day in range(2, 44, 2):
        able.begin_day(BEGINS + timedelta(day))
        for _ in range(sets):
            able.lift("leg-press", able.one_rm_kg("leg-press") * 0.75, 10, 1.0, 150)
    able.begin_day(BEGINS + timedelta(60))
    return able.one_rm_kg("leg-press") / before


def test_more_sets_make_stronger_and_each_further_set_less() -> None:
    none, one, three, five = (fmean(grown(sets, number=number) for number in range(10)) for sets in (0, 1, 3, 5))
    assert none < one < three < five
    assert (five - three) / 2 < (three - one) / 2 < one - none


def test_three_sets_make_beginners_grow_about_a_tenth_more_than_one() -> None:
    # Leg press, logarithms of 65 against 57 % by week 12: 1.11; of 49 against 44 % by week 5: 1.09 (Hammarstrom et al.
    # 2020). Without what three sets add to growth it would be 1.07, by practice alone.
    one, three = (fmean(log(grown(sets, number=number)) for number in range(10)) for sets in (1, 3))
    assert 1.09 < three / one < 1.25


def test_beginners_gain_more_than_the_trained() -> None:
    assert grown(3, kind="novice") > 1.1 > grown(3, kind="trained")


def test_a_layoff_costs_nothing_for_a_week_and_more_with_time() -> None:
    def left(days: int) -> float:
        ratios = []
        for number in range(60):
            able = body(number=number)
            before = able.one_rm_kg("squat")
            able.begin_day(BEGINS + timedelta(days))
            ratios.append(able.one_rm_kg("squat") / before)
        return fmean(ratios)

    week, five_weeks, ten_weeks = left(7), left(35), left(70)
    assert week > 0.985
    # Kayakers of world class lost 8.9 % in five weeks (Garcia-Pallares et al. 2010), untrained people less.
    assert 0.88 < five_weeks < 0.97
    assert 0.75 < ten_weeks < five_weeks - 0.04


def felt_short(possible: int, done: int) -> float:
    """By how much (repetitions) the felt reserve falls short, over many people."""
    felt = [body(number=number).felt_reserve("squat", done, possible) for number in range(600)]
    return possible - done - fmean(felt)


def test_the_reserve_is_felt_too_low_as_published() -> None:
    # Refalo et al. 2023: one to three left at about 10: -0.17, within one repetition. Halperin et al. 2022: 0.95
    # (0.17-1.73) over all. Zourdos et al. 2021: sets of 16: 2.05 at felt 1, 3.65 at felt 3, 5.15 at felt 5.
    assert 0 < felt_short(10, 8) < 0.7
    assert 0.17 < fmean(felt_short(possible, possible - left) for possible in (6, 10, 14) for left in (1, 3, 5)) < 1.73
    assert felt_short(16, 13) == pytest.approx(2.05, abs=0.7)
    assert felt_short(16, 9) == pytest.approx(3.65, abs=1.0)
    assert felt_short(16, 6) == pytest.approx(5.15, abs=1.0)
    assert felt_short(16, 13) < felt_short(16, 9) < felt_short(16, 6)


def test_two_sides_of_a_lifter_are_alike_and_train_apart() -> None:
    able = body("novice")
    left, right = (f"single-leg-leg-press/{side}" for side in ("left", "right"))
    before = {side: able.one_rm_kg(side) for side in (left, right)}
    assert before[left] != before[right]
    assert before[left] == pytest.approx(before[right], rel=0.25)
    for day in range(2, 44, 2):
        able.begin_day(BEGINS + timedelta(day))
        able.lift(left, before[left] * 0.75, 10, 0.0, 120)
    able.begin_day(BEGINS + timedelta(45))
    assert able.one_rm_kg(left) / before[left] > 1.2
    assert able.one_rm_kg(right) / before[right] < 1.0  # not trained for six weeks


def test_body_masses_are_said_every_week_and_look_like_people() -> None:
    for number in range(10):
        said = lifter("trained", number).check_ins
        assert len(said) >= 8
        assert all(one.body_mass is not None and 35 < float(one.body_mass.value) < 170 for one in said)
