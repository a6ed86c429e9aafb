"""A rule that follows a lifter: what it says next, by hand, from the sets it has seen."""

from math import exp, log, sqrt

import pytest

from steelyard.engine.backtest.following import CLIP, RuleFollower
from steelyard.engine.backtest.models import Asked
from steelyard.engine.backtest.population import PRIOR_SESSIONS, PRIOR_SETS, USUAL, USUAL_OFFSETS, USUAL_SPREAD
from steelyard.engine.backtest.replaying import foresee
from steelyard.engine.backtest.rules import RULES, SEVEN
from steelyard.engine.backtest.scores import medians
from steelyard.engine.backtest.sessions import best_kg, session_level
from steelyard.engine.backtest.strengths import Forecast
from steelyard.engine.backtest.trials import LONGEST, Trial, TrialSession
from steelyard.engine.formulas import EQUATIONS, estimate_one_rm

from .trial_builders import SQUAT, entry_of, lifter_of, session_on, trial

REPEAT = next(rule for rule in RULES if rule.is_repeat)
BEST_OF_THREE = next(rule for rule in RULES if rule.name == "best of last three")


def epley(load_kg: float, repetitions: float) -> float:
    """ln 1RM by load x (1 + repetitions / 30)."""
    return log(load_kg * (1 + repetitions / 30))


def between(load_kg: float, repetitions: int) -> float:
    """Half-way to the next repetition."""
    return (epley(load_kg, repetitions) + epley(load_kg, repetitions + 1)) / 2


def after(*sessions: TrialSession, rule_name: str = "repeat", loads_kg: tuple[float, ...] = (100.0,)) -> Forecast:
    """What is foreseen of a squat after these sessions."""
    rule = next(rule for rule in RULES if rule.name == rule_name)
    follower = RuleFollower(rule, USUAL, "epley")
    for session in sessions:
        follower.learn(session)
    found = follower.forecast(Asked(session_on(300, trial(100, 5)).on, SQUAT, loads_kg))
    assert found is not None
    return found


def bound(load_kg: float, reps: int) -> Trial:
    """A set that was stopped with more left."""
    return trial(load_kg, reps, reps, evidence="bound")


def test_the_level_of_a_session_is_its_best_measured_set() -> None:
    level = session_level(entry_of(trial(100, 5), bound(100, 20), trial(90, 12), trial(110, 0)), "epley")
    assert level.told == "measured"
    assert level.ln_kg == pytest.approx(epley(90, 12))
    assert [known for known in level.sets if known is not None] == pytest.approx([between(100, 5), between(90, 12)])
    assert [known is None for known in level.sets] == [False, True, False, True]


def test_a_session_of_bounds_is_at_least_its_best() -> None:
    level = session_level(entry_of(bound(100, 5), bound(90, 12)), "epley")
    assert (level.told, level.sets) == ("at-least", (None, None))
    assert level.ln_kg == pytest.approx(epley(90, 12))


def test_a_session_of_nothing_but_misses_is_below_its_lightest() -> None:
    missed = [trial(load, 0, 1, evidence="attempt") for load in (210.0, 200.0, 205.0)]
    level = session_level(entry_of(*missed), "epley")
    assert (level.told, level.ln_kg) == ("below", log(200))


def test_attempts_measure_the_best_and_lie_between_made_and_missed() -> None:
    made = [trial(load, 1, 1, evidence="attempt") for load in (190.0, 200.0)]
    level = session_level(entry_of(*made, trial(210, 0, 1, evidence="attempt")), "epley")
    assert (level.told, level.ln_kg, level.is_single) == ("measured", log(200), True)
    assert level.sets == pytest.approx([log(sqrt(200 * 210))] * 3)
    # A load missed first and made afterwards bounds nothing; above the heaviest the next attempt would be 3 % more.
    again = session_level(entry_of(trial(200, 0, 1, evidence="attempt"), *made), "epley")
    assert again.sets == pytest.approx([log(200) + 0.015] * 3)


@pytest.mark.parametrize("repetitions", [1, 2, 5, 10])
def test_the_best_1rm_is_that_of_the_plain_equation(repetitions: int) -> None:
    for name, equation in EQUATIONS.items():
        found = best_kg(entry_of(trial(100, repetitions)), name)
        assert found == pytest.approx(max(100.0, estimate_one_rm(equation, 100, repetitions)))
    assert best_kg(entry_of(bound(100, repetitions)), "epley") is None


def test_repeat_foresees_each_set_as_it_was() -> None:
    found = after(session_on(0, trial(100, 8), trial(100, 6), trial(80, 10)), loads_kg=(100.0, 100.0, 80.0, 80.0))
    expected = (between(100, 8), between(100, 6), between(80, 10), between(80, 10))
    assert found.sets == pytest.approx(expected)
    assert found.best == pytest.approx(epley(100, 8))


def test_others_foresee_the_usual_pattern_of_sets_and_learn_the_lifters_own() -> None:
    first = session_on(0, trial(100, 8), trial(100, 6))
    offsets = [between(100, 8) - epley(100, 8), between(100, 6) - epley(100, 8)]
    found = after(first, rule_name="best of last three", loads_kg=(100.0,) * 6)
    learned = [
        (usual * PRIOR_SETS + offset) / (PRIOR_SETS + 1) for usual, offset in zip(USUAL_OFFSETS, offsets, strict=False)
    ]
    orders = [*learned, *USUAL_OFFSETS[2:], USUAL_OFFSETS[-1]]
    assert found.sets == pytest.approx([epley(100, 8) + offset for offset in orders])


def test_the_spread_is_the_usual_one_and_then_more_and_more_its_own() -> None:
    first, second = session_on(0, trial(100, 8)), session_on(3, trial(100, 9))
    assert (after(first).spread, after(first).best_spread) == (USUAL_SPREAD.sets, USUAL_SPREAD.best)
    of_best = epley(100, 9) - epley(100, 8)
    of_set = between(100, 9) - between(100, 8)
    found = after(first, second)
    assert found.best_spread == pytest.approx(sqrt((20 * USUAL_SPREAD.best**2 + of_best**2) / 21))
    assert found.spread == pytest.approx(sqrt((20 * USUAL_SPREAD.sets**2 + of_set**2) / 21))
    assert (PRIOR_SESSIONS, PRIOR_SETS) == (20, 20)


def test_a_slip_of_the_pen_counts_as_three_spreads() -> None:
    found = after(session_on(0, trial(100, 8)), session_on(3, trial(1000, 8)))
    assert found.best_spread == pytest.approx(USUAL_SPREAD.best * sqrt((20 + CLIP**2) / 21))
    assert found.spread == pytest.approx(USUAL_SPREAD.sets * sqrt((20 + CLIP**2) / 21))


def test_bounds_say_nothing_of_the_spread_of_a_set_and_attempts_what_lies_between_them() -> None:
    first = session_on(0, trial(150, 1, 1, evidence="attempt"))
    assert after(first, session_on(3, bound(100, 20))).spread == USUAL_SPREAD.sets
    made = after(first, session_on(3, trial(155, 1, 1, evidence="attempt")))
    # The rule repeats: what lay above the best made last time lies above it again, so that both errors are the same.
    assert made.spread == pytest.approx(sqrt((20 * USUAL_SPREAD.sets**2 + log(155 / 150) ** 2) / 21))
    assert made.best_spread == pytest.approx(sqrt((20 * USUAL_SPREAD.best**2 + log(155 / 150) ** 2) / 21))


@pytest.mark.parametrize(
    ("second", "best"),
    [
        (bound(100, 6), epley(100, 8)),
        (bound(100, 9), epley(100, 9)),
        (trial(130, 0, 1, evidence="attempt"), epley(100, 8)),
        (trial(120, 0, 1, evidence="attempt"), log(120)),
        (trial(90, 5), epley(90, 5)),
    ],
    ids=["bound below", "bound above", "miss above", "miss below", "measured below"],
)
def test_a_bound_only_raises_and_a_miss_only_lowers_what_was_known(second: Trial, best: float) -> None:
    """100 kg for eight is a 1RM of 126.7 kg."""
    assert after(session_on(0, trial(100, 8)), session_on(3, second)).best == pytest.approx(best)


def test_an_exercise_never_seen_is_not_foreseen() -> None:
    assert RuleFollower(REPEAT, USUAL, "epley").forecast(Asked(session_on(0, trial(1, 1)).on, SQUAT, (100.0,))) is None


@pytest.mark.parametrize("equation", SEVEN)
@pytest.mark.parametrize("repetitions", range(1, 11))
def test_at_the_same_load_every_equation_foresees_the_same_again(equation: str, repetitions: int) -> None:
    """Through the equation and back is no change: the repetitions that were done, and the 1RM that was asked for."""
    rule = next(rule for rule in RULES if rule.equation == equation)
    lifter = lifter_of(*(session_on(3 * n, trial(100, repetitions)) for n in range(30)))
    found = foresee(lifter, RuleFollower(rule, USUAL, "epley"), "epley", model_equation=equation)
    assert set(medians(found.cdf)) == {repetitions}
    plain = 100.0 if repetitions == 1 else 100 * (1 + repetitions / 30)
    assert [exp(best.foreseen) for best in found.bests] == pytest.approx([plain] * 28)


@pytest.mark.parametrize("equation", SEVEN)
def test_equations_differ_once_the_load_is_another(equation: str) -> None:
    rule = next(rule for rule in RULES if rule.equation == equation)
    follower = RuleFollower(rule, USUAL, equation)
    follower.learn(session_on(0, trial(100, 5)))
    found = follower.forecast(Asked(session_on(3, trial(1, 1)).on, SQUAT, (80.0,)))
    assert found is not None
    assert exp(found.best) == pytest.approx(estimate_one_rm(EQUATIONS[equation], 100, 5))


def test_repeat_says_as_many_again_set_by_set() -> None:
    done = (12, 9, 9, 7, 5, 4)
    lifter = lifter_of(*(session_on(3 * n, *(trial(60, reps) for reps in done)) for n in range(4)))
    found = foresee(lifter, RuleFollower(REPEAT, USUAL, "epley"), "epley")
    assert list(medians(found.cdf)) == [*done, *done]
    assert all(s.trial.told_up_to == LONGEST for s in found.sets)


def test_scored_is_from_the_third_session_of_an_exercise_on() -> None:
    other = entry_of(trial(50, 5), key=("bench-press", ""))
    lifter = lifter_of(
        session_on(0, trial(100, 5), other),
        session_on(3, trial(100, 5)),
        session_on(6, trial(100, 5), other),
        session_on(9, trial(100, 5), trial(100, 4), other),
    )
    found = foresee(lifter, RuleFollower(BEST_OF_THREE, USUAL, "epley"), "epley")
    assert [(s.on.day, s.key[0], s.trial.order) for s in found.sets] == [
        (11, "squat", 1),
        (14, "bench-press", 1),
        (14, "squat", 1),
        (14, "squat", 2),
    ]
    assert [(b.on.day, b.key[0]) for b in found.bests] == [(11, "squat"), (14, "bench-press"), (14, "squat")]
    assert len(found.cdf) == len(found.sets)
    assert foresee(lifter, RuleFollower(BEST_OF_THREE, USUAL, "epley"), "epley", from_session=2).bests[0].on.day == 8
