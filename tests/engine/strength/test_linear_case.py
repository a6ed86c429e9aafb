"""With Gaussian sets the model is a linear state space: statsmodels must filter and smooth it to the same numbers."""

from datetime import date
from math import log, pi

import msgspec
import numpy as np
import pytest
from scipy.linalg import expm
from scipy.special import logsumexp

from steelyard.engine.arrays import Floats
from steelyard.engine.strength.posterior import Posterior
from steelyard.engine.strength.relations import LineKey
from steelyard.engine.strength.smoothing import DayLevels, Trail

from .linear_careers import (
    CELLS,
    MONDAY,
    SETTINGS,
    Career,
    career,
    posterior_of,
    relation_of,
    tell_posterior,
    tell_twin,
)
from .linear_twin import over_weeks

CAREERS = [career(1, 30), career(2, 30), career(3, 30, is_unseen=True)]
ONE_CELL = [(1.0, 1.0), (1.7, 0.4), (0.75, 2.5)]
WITHIN = 1e-8
# Mean and variance of ln 1RM.
Moments = dict[LineKey, tuple[float, float]]

each_career = pytest.mark.parametrize("told", CAREERS, ids=lambda told: told.name)


def assert_same(mean: Floats, covariance: Floats, other_mean: Floats, other: Floats) -> None:
    """Within 1e-8 standard deviations of each place; a place that is certain must be so in both."""
    spread = np.sqrt(np.diag(covariance)) + 1e-12
    assert (np.abs(mean - other_mean) / spread).max() < WITHIN
    assert (np.abs(covariance - other) / np.outer(spread, spread)).max() < WITHIN


@each_career
@pytest.mark.parametrize("cell", ONE_CELL)
def test_filter_and_likelihood_are_those_of_statsmodels(told: Career, cell: tuple[float, float]) -> None:
    found = tell_twin(told, cell)[0].smoothed()
    sets = 0
    for i, (mean, covariance, log_weight) in enumerate(tell_posterior(posterior_of(cell), told)):
        places = len(mean)
        filtered, spread = found.filtered_state[:places, i], found.filtered_state_cov[:places, :places, i]
        assert_same(mean, covariance, filtered, spread)
        sets += found.nmissing[i] == 0
        # Weights are only compared with each other, so that they leave out the constant of each set.
        assert log_weight - sets / 2 * log(2 * pi) == pytest.approx(found.llf_obs[: i + 1].sum(), abs=WITHIN)
    assert sets > 50
    assert i + 1 == len(found.llf_obs)


def twin_levels(told: Career, cell: tuple[float, float]) -> tuple[float, dict[int, Moments]]:
    """Log likelihood, and by day and exercise the smoothed moments, by statsmodels."""
    twin, ends = tell_twin(told, cell)
    found, known = twin.smoothed(), {}
    for day, end in ends.items():
        means, covariance = found.smoothed_state[:, end], found.smoothed_state_cov[:, :, end]
        by_day = [(key, twin.level_row(key)) for key in twin.places if twin.joined[key] <= end]
        known[day] = {key: (float(row @ means), float(row @ covariance @ row)) for key, row in by_day}
    return float(found.llf), known


def smoothed(told: Career, *cells: tuple[float, float], session_days: int = 1000) -> list[DayLevels]:
    """By the trail."""
    posterior = posterior_of(*cells)
    trail = Trail(posterior, session_days)
    for _ in tell_posterior(posterior, told):
        pass
    return trail.levels()


def assert_levels(found: list[DayLevels], expected: dict[int, Moments]) -> None:
    """Every session day and every exercise known by then, to 1e-8 standard deviations."""
    assert [day.on for day in found] == [date.fromordinal(day) for day in expected]
    for day, moments in zip(found, expected.values(), strict=True):
        assert day.levels.keys() == moments.keys()
        for key, (mean, variance) in moments.items():
            assert day.levels[key].mean == pytest.approx(mean, rel=0, abs=WITHIN * variance**0.5)
            assert day.levels[key].sd ** 2 == pytest.approx(variance, rel=WITHIN)


@each_career
@pytest.mark.parametrize("cell", ONE_CELL)
def test_the_smoother_is_that_of_statsmodels(told: Career, cell: tuple[float, float]) -> None:
    found = smoothed(told, cell)
    assert_levels(found, twin_levels(told, cell)[1])
    assert len(found[0].levels) == 2
    assert len(found[-1].levels) == 6


def test_a_grid_is_the_mixture_of_its_cells() -> None:
    # A short one, after which several cells are still believed.
    told = career(2, 8)
    by_cell = [twin_levels(told, cell) for cell in CELLS]
    likelihoods = np.array([likelihood for likelihood, _ in by_cell])
    weights = np.exp(likelihoods - logsumexp(likelihoods))
    assert (weights > 0.05).sum() > 3, "one cell alone is no mixture"
    expected: dict[int, Moments] = {}
    for day, moments in by_cell[0][1].items():
        expected[day] = {}
        for key in moments:
            means, variances = np.array([levels[day][key] for _, levels in by_cell]).T
            mean = float(weights @ means)
            expected[day][key] = mean, float(weights @ (variances + (means - mean) ** 2))
    assert_levels(smoothed(told, *CELLS), expected)


def test_the_last_days_are_those_of_the_whole() -> None:
    whole = smoothed(CAREERS[0], (1.0, 1.0))
    for session_days in (1, 2, 7):
        assert smoothed(CAREERS[0], (1.0, 1.0), session_days=session_days) == whole[-session_days:]


# A day, a week, a month and a year.
GAPS = [1, 7, 31, 365]


def only_time(drift: float) -> Posterior:
    """Nothing is uncertain, no layoff costs, nothing grows but by its slope."""
    settings = msgspec.structs.replace(SETTINGS, noise_scales=(1.0,), drift_scales=(drift,), lasting_gain=0.0)
    posterior = Posterior(settings, relation_of)
    posterior.is_unseen = True
    posterior.covariance[:] = 0.0
    posterior.pass_time(MONDAY)
    return posterior


@pytest.mark.parametrize("days", GAPS)
@pytest.mark.parametrize("drift", [0.4, 2.5])
def test_time_passes_as_the_differential_equations_say(days: int, drift: float) -> None:
    weeks = days / 7
    step, noise = over_weeks(weeks, drift, SETTINGS)
    posterior = only_time(drift)
    posterior.pass_time(MONDAY + days)
    np.testing.assert_allclose(posterior.covariance[0, :6, :6], noise, rtol=1e-10)
    for place in range(6):
        posterior = only_time(drift)
        posterior.means[:] = np.eye(posterior.means.shape[1])[place]
        posterior.pass_time(MONDAY + days)
        np.testing.assert_allclose(posterior.means[0, :6], step[:, place], rtol=1e-12, atol=1e-12)


@pytest.mark.parametrize("days", GAPS)
def test_the_noise_of_a_step_is_that_of_all_its_moments(days: int) -> None:
    # Of one ability, summed over when it came in and what became of it until now.
    s, weeks = SETTINGS, days / 7
    pull = np.array([[0.0, 1.0], [0.0, -1 / s.slope_weeks]])
    shaking = np.diag([s.level_noise**2, s.slope_noise**2])

    def of_moment(ago: float) -> Floats:
        since = expm(pull * ago)
        return np.asarray(since @ shaking @ since.T)

    moments, shares = np.polynomial.legendre.leggauss(40)
    noise = sum(share * weeks / 2 * of_moment(weeks / 2 * (1 + at)) for at, share in zip(moments, shares, strict=True))
    posterior = only_time(1.0)
    posterior.pass_time(MONDAY + days)
    np.testing.assert_allclose(posterior.covariance[0, :2, :2], noise, rtol=1e-10)
    np.testing.assert_allclose(posterior.covariance[0, :2, 4:6], noise * s.between_patterns, rtol=1e-10)


@pytest.mark.parametrize("days", [2, 30, 364])
def test_two_steps_make_one(days: int) -> None:
    once, twice = only_time(1.0), only_time(1.0)
    once.pass_time(MONDAY + days)
    twice.pass_time(MONDAY + days // 2)
    twice.pass_time(MONDAY + days)
    np.testing.assert_allclose(twice.means[0], once.means[0], rtol=1e-12)
    np.testing.assert_allclose(twice.covariance[0], once.covariance[0], rtol=1e-10, atol=1e-18)
