"""The heavy peers of the backtest are honest: they know no future, nor whom they follow, and answer distributions."""

import random
from collections.abc import Callable, Iterator, Sequence
from functools import partial

import numpy as np
import pytest
from benchmarks.backtest_peers.boosted_trees import BoostedTreesFollower, Settings, boosted_trees_followers
from benchmarks.backtest_peers.clubs import IN_THE_GYM, TUNED_ON, simulated_club
from benchmarks.backtest_peers.examples import examples_of
from benchmarks.backtest_peers.folds import folds
from benchmarks.backtest_peers.growth_curves import Curve, Series, fit_curves, log_time
from benchmarks.backtest_peers.mixed_model import Line, MixedModelFollower, mixed_model_followers
from benchmarks.backtest_peers.strength_bands import band_of, repetition_rows
from msgspec import structs
from statsmodels.regression.mixed_linear_model import MixedLM
from tests.engine.backtest.leaking import leaks
from tests.engine.backtest.trial_builders import any_lifter, trial
from threadpoolctl import threadpool_limits

from steelyard.engine.backtest.models import Asked, Follower
from steelyard.engine.backtest.replaying import foresee
from steelyard.engine.backtest.trials import LONGEST, LifterTrials

Make = Callable[[Sequence[LifterTrials], str], Sequence[Follower]]
# Few trees: what is checked here does not hang on how many there are.
FEW_TREES: Make = partial(boosted_trees_followers, settings=Settings(trees=20, spread_trees=10))
PEERS: tuple[Make, ...] = (mixed_model_followers, FEW_TREES)


@pytest.fixture(scope="module", autouse=True)
def one_thread() -> Iterator[None]:
    """On tables as small as these, more threads only wait for each other."""
    with threadpool_limits(1):
        yield


@pytest.fixture(scope="module")
def club() -> list[LifterTrials]:
    """Enough lifters that exercises have models of their own; none of those the benchmark measures."""
    found = simulated_club(IN_THE_GYM[:3], "by-dose", 10, TUNED_ON + 1)
    return [structs.replace(lifter, sessions=lifter.sessions[:15]) for lifter in found]


@pytest.fixture(scope="module", params=PEERS)
def peer(request: pytest.FixtureRequest, club: list[LifterTrials]) -> tuple[Make, Sequence[Follower]]:
    """A way to make followers, and those it makes for the club."""
    make: Make = request.param
    return make, make(club, "epley")


@pytest.mark.parametrize("count", [1, 2, 4, 5, 8, 61])
def test_everybody_is_followed_once_by_what_the_others_taught(count: int) -> None:
    found = folds(count)
    assert sorted(place for fold in found for place in fold.followed) == list(range(count))
    for fold in found:
        assert set(fold.followed) | set(fold.others) == set(range(count))
        assert not set(fold.followed) & set(fold.others)


def test_nobody_is_learned_from_who_is_followed(
    peer: tuple[Make, Sequence[Follower]], club: list[LifterTrials]
) -> None:
    """With all logs of a fold replaced by nonsense, what that fold's followers foresee of a lifter stays the same."""
    fold = folds(len(club))[0]
    nonsense = [
        structs.replace(any_lifter(random.Random(place), 9), name=lifter.name) if place in fold.followed else lifter
        for place, lifter in enumerate(club)
    ]
    other = folds(len(club))[1].followed[0]
    mine = fold.followed[0]
    make, plain = peer
    changed = make(nonsense, "epley")
    assert _cdf(club[mine], plain[mine]).tobytes() == _cdf(club[mine], changed[mine]).tobytes()
    # The check can fail: whoever does learn from them foresees otherwise.
    assert _cdf(club[other], plain[other]).tobytes() != _cdf(club[other], changed[other]).tobytes()


def test_the_future_changes_nothing_foreseen(peer: tuple[Make, Sequence[Follower]], club: list[LifterTrials]) -> None:
    for lifter in (structs.replace(club[0], sessions=club[0].sessions[:8]), any_lifter(random.Random(3), 8)):
        assert leaks(lambda lifter: _fresh(peer[1][0]), lifter, cuts=2) == []


def test_every_answer_is_a_distribution(peer: tuple[Make, Sequence[Follower]], club: list[LifterTrials]) -> None:
    odd = [any_lifter(random.Random(seed), 12) for seed in range(4)]
    for lifter, follower in zip([*club[:3], *odd], peer[1], strict=False):
        found = foresee(lifter, _fresh(follower), "epley")
        cdf = found.cdf
        assert cdf.shape == (len(found.sets), LONGEST + 1)
        assert np.isfinite(cdf).all()
        assert (cdf > 0).all()
        assert (np.diff(cdf, axis=1) >= -1e-12).all()
        assert (cdf[:, LONGEST] == 1).all()
        assert all(best.spread > 0 and np.isfinite(best.foreseen) for best in found.bests)


@pytest.mark.parametrize("make", PEERS)
def test_a_lifter_without_others_is_answered_too(make: Make, club: list[LifterTrials]) -> None:
    [follower] = make(club[:1], "epley")
    assert np.isfinite(_cdf(club[0], follower)).all()


def test_an_exercise_never_seen_has_no_answer(club: list[LifterTrials]) -> None:
    [mixed], [trees] = mixed_model_followers(club[:1], "epley"), boosted_trees_followers(club[:1], "epley")
    asked = Asked(club[0].sessions[0].on, ("squat", ""), (100.0,))
    assert mixed.forecast(asked) is None
    assert trees.forecast(asked) is None


def test_the_posterior_is_that_of_all_sessions_at_once() -> None:
    """Session by session as in one step: (C^-1 + X'X/s)^-1 (C^-1 m + X'y/s), the textbook's normal posterior."""
    curve = Curve(np.array([4.5, 0.03]), np.array([[0.04, -0.001], [-0.001, 0.0009]]), 0.0016)
    days, levels = [0, 3, 10, 24, 60], np.array([4.6, 4.62, 4.59, 4.66, 4.71])
    line = Line(curve, 0, levels[0], is_level_known=True)
    for day, level in zip(days, levels, strict=True):
        line.update(day, float(level))
    design = np.array([[1.0, log_time(day)] for day in days])
    prior = np.linalg.inv(curve.covariance)
    covariance = np.linalg.inv(prior + design.T @ design / curve.scatter)
    mean = covariance @ (prior @ curve.mean + design.T @ levels / curve.scatter)
    np.testing.assert_allclose(line.mean, mean, rtol=1e-9)
    np.testing.assert_allclose(line.covariance, covariance, rtol=1e-8)


# Every variance under 0.01 is suspected of being nought; those of logarithms are.
@pytest.mark.filterwarnings("ignore:The MLE may be on the boundary")
def test_a_known_lifter_ends_where_statsmodels_has_them() -> None:
    """The posterior of a fitted lifter is the mixed model's own prediction of their level and slope (its BLUP)."""
    chance = np.random.default_rng(5)
    days = [0, 4, 9, 17, 30, 44, 70]
    times = tuple(log_time(day) for day in days)
    people = chance.multivariate_normal([4.5, 0.03], [[0.04, -0.001], [-0.001, 0.0009]], size=12)
    series = [
        Series(("squat", ""), times, tuple(level + slope * np.array(times) + chance.normal(0.0, 0.03, len(times))))
        for level, slope in people
    ]
    curve = fit_curves(series)[0]["squat", ""]
    design = np.column_stack([np.ones(len(times) * 12), np.tile(times, 12)])
    levels, who = np.concatenate([s.levels for s in series]), np.repeat(np.arange(12), len(times))
    fitted = MixedLM(levels, design, groups=who, exog_re=design).fit(reml=True, method=["lbfgs"], maxiter=60)
    for place, one in enumerate(series):
        line = Line(curve, 0, one.levels[0], is_level_known=True)
        for day, level in zip(days, one.levels, strict=True):
            line.update(day, level)
        np.testing.assert_allclose(line.mean, curve.mean + fitted.random_effects[place], atol=1e-6)


def test_a_set_tells_the_band_between_its_repetitions_and_one_more() -> None:
    """Epley 1985: 1RM = load x (1 + r/30); a single is the load itself."""
    five = band_of(trial(90.0, 5), "epley")
    assert np.exp([five.lower, five.upper]) == pytest.approx([90 * (1 + 5 / 30), 90 * (1 + 6 / 30)])
    missed = band_of(trial(90.0, 0), "epley")
    assert (missed.lower, np.exp(missed.upper)) == (-np.inf, pytest.approx(90.0))
    made = band_of(trial(90.0, 1, 1, evidence="attempt"), "epley")
    assert (np.exp(made.lower), made.upper, made.middle) == (pytest.approx(90.0), np.inf, None)


def test_a_strength_in_the_middle_of_a_band_makes_its_repetitions_most_probable() -> None:
    for repetitions in (2, 5, 11):
        middle = band_of(trial(80.0, repetitions), "epley").middle
        assert middle is not None
        [cdf] = repetition_rows([80.0], np.array([middle]), np.array([0.02]), 0.05, "epley")
        assert int(np.argmax(np.diff(cdf, prepend=0.0))) == repetitions


def test_no_example_holds_its_own_set(club: list[LifterTrials]) -> None:
    """Another outcome of the last session changes what it told, never the row of what came before it."""
    lifter = club[0]
    last = lifter.sessions[-1]
    entries = tuple(
        structs.replace(e, trials=tuple(structs.replace(t, reps=t.reps + 3, possible=t.possible + 3) for t in e.trials))
        for e in last.entries
    )
    other = structs.replace(lifter, sessions=(*lifter.sessions[:-1], structs.replace(last, entries=entries)))
    before, after = examples_of(lifter, "epley"), examples_of(other, "epley")
    np.testing.assert_array_equal(before.rows, after.rows)
    assert not np.array_equal(before.told, after.told, equal_nan=True)


def _cdf(lifter: LifterTrials, follower: Follower) -> "np.ndarray[tuple[int, ...], np.dtype[np.float64]]":
    return foresee(lifter, _fresh(follower), "epley").cdf


def _fresh(follower: Follower) -> Follower:
    """One that learned the same from others and has seen nothing yet."""
    assert isinstance(follower, MixedModelFollower | BoostedTreesFollower)
    return type(follower)(follower.learned, "epley")  # type: ignore[arg-type] # each has what its own kind learned
