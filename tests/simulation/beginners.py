"""The beginners' study run on any body: one leg trains with one set, the other with three, 1RM tests between.

After Hammarstrom et al. 2020, J Physiol 598:543-565. How many sessions a week, which repetitions maximum and the
raising of the load are from memory of it; the tests' weeks and the single session before the re-test are the data's.
"""

from datetime import date, timedelta

from steelyard.engine.simulation.physiology import Physiology

from .open_data_figures import Legs

BEGINS = date(2025, 1, 6)
EXERCISE = "single-leg-leg-press"
TEST_WEEKS = (2, 5, 9, 12)
SESSION_DAYS = (0, 2, 4)  # of the week; from memory
STEP = 0.025  # of an attempt, and of a load for each repetition off the aim; common practice, no source
REST_S = 150
SINGLE_SESSION_DAY, RE_TEST_DAY, TRAINING_DAY = 3, 7, 9  # days between the first test and what follows; our judgement


def repetitions_aimed_at(training_week: int) -> int:
    """The repetitions maximum trained at: 10, then 8, then 7; from memory."""
    return 10 if training_week <= 2 else 8 if training_week <= 5 else 7


class Leg:
    """One leg as its coach sees it: the load of the next set, and the 1RM tested last."""

    def __init__(self, body: Physiology, side: str, sets: int) -> None:
        self.body, self.exercise, self.sets = body, f"{EXERCISE}/{side}", sets
        self.tested_kg = body.one_rm_kg(self.exercise) * 0.9  # where a careful coach would begin
        self.load_kg = 0.7 * self.test()

    def test(self) -> float:
        """The heaviest load (kg) lifted once today, in steps from the one before."""
        load_kg = self.tested_kg
        while self._lift(load_kg, most=1) == 0:
            load_kg *= 1 - STEP
        while self._lift(load_kg * (1 + STEP), most=1):
            load_kg *= 1 + STEP
        self.tested_kg = load_kg
        return load_kg

    def train(self, aim: int) -> None:
        """Sets to failure at the load that was last found right for this aim."""
        reps = [self._lift(self.load_kg) for _ in range(self.sets)]
        self.load_kg *= 1 + STEP * (reps[0] - aim)

    def _lift(self, load_kg: float, most: int = 99) -> int:
        possible = self.body.possible(self.exercise, load_kg)
        done = min(possible, most)
        self.body.lift(self.exercise, load_kg, done, possible - done, REST_S)
        return done


def beginner(body: Physiology) -> Legs:
    """The tests of one person; which leg goes first changes from day to day."""
    on = BEGINS
    body.begin_day(on)
    one, three = legs = Leg(body, "left", 1), Leg(body, "right", 3)
    tests = [{0: leg.tested_kg} for leg in legs]
    body.begin_day(on + timedelta(SINGLE_SESSION_DAY))
    for leg in legs:
        leg.train(repetitions_aimed_at(1))
    body.begin_day(on + timedelta(RE_TEST_DAY))
    after_one = three.test(), one.test()
    for training_week in range(1, TEST_WEEKS[-1] + 1):
        monday = on + timedelta(TRAINING_DAY + 7 * (training_week - 1))
        for number, day in enumerate(SESSION_DAYS):
            body.begin_day(monday + timedelta(day))
            for leg in legs if number % 2 else legs[::-1]:
                leg.train(repetitions_aimed_at(training_week))
        if training_week in TEST_WEEKS:
            body.begin_day(monday + timedelta(SESSION_DAYS[-1] + 2))
            for leg, tested in zip(legs, tests, strict=True):
                tested[training_week] = leg.test()
    return Legs(tests[0], tests[1], after_one[::-1])
