"""The beginners' protocol on a body whose answers are known."""

from datetime import date

import pytest

from .beginners import STEP, beginner


class Steady:
    """Legs of one strength, each of which grows by so much with a set; a repetition less for each 2.5 % of load."""

    def __init__(self, kg: float, growth: float) -> None:
        self.growth = growth
        self.kg = {"single-leg-leg-press/left": kg, "single-leg-leg-press/right": kg}
        self.days: list[date] = []
        self.done: dict[str, dict[date, list[int]]] = {leg: {} for leg in self.kg}

    def begin_day(self, on: date) -> None:
        assert not self.days or on > self.days[-1]
        self.days.append(on)

    def one_rm_kg(self, exercise: str) -> float:
        return self.kg[exercise]

    def body_mass_kg(self) -> float:
        return 70

    def possible(self, exercise: str, total_kg: float) -> int:
        return max(0, int(1 + (1 - total_kg / self.kg[exercise]) / STEP + 1e-9))

    def lift(self, exercise: str, total_kg: float, repetitions: int, to_failure: float, rest_interval_s: int) -> None:
        self.done[exercise].setdefault(self.days[-1], []).append(repetitions)
        if repetitions > 1:
            self.kg[exercise] += self.growth

    def felt_reserve(self, exercise: str, done: int, possible: int) -> float:
        return possible - done

    def interrupt(self, what: str, days: int) -> None:
        raise AssertionError("the study has no such event")


def test_a_strength_that_stays_is_found_within_a_step_and_never_gains() -> None:
    legs = beginner(Steady(100, 0))
    assert 100 / (1 + STEP) <= legs.one_set_kg[0] <= 100
    assert set(legs.one_set_kg) == {0, 2, 5, 9, 12}
    assert legs.one_set_kg[12] == legs.three_sets_kg[12] == legs.after_one_kg[0] == legs.one_set_kg[0]


def test_each_leg_does_its_own_number_of_sets_to_failure_about_the_aim() -> None:
    body = Steady(100, 0)
    beginner(body)
    one, three = ([reps for reps in done.values() if reps[0] > 1] for done in body.done.values())
    assert len(one) == len(three) == 1 + 3 * 12
    assert {len(reps) for reps in one} == {1} and {len(reps) for reps in three} == {3}
    assert one[2:4] == [[10], [10]]
    assert three[-2:] == [[7, 7, 7], [7, 7, 7]]


def test_growth_by_the_set_shows_in_the_tests() -> None:
    # 37 training days of the one leg by 12 weeks, 1 kg a set: 137 kg; of the other leg 111 sets: 211 kg.
    legs = beginner(Steady(100, 1))
    assert 137 / (1 + STEP) <= legs.one_set_kg[12] <= 137
    assert 211 / (1 + STEP) <= legs.three_sets_kg[12] <= 211
    assert legs.after_one_kg == pytest.approx((101, 103), rel=STEP)
