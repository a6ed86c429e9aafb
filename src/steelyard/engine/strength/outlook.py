"""What is to be expected of a lifter: repetitions at a load, a prescribed line, the level in weeks to come."""

from collections.abc import Sequence
from datetime import date, timedelta
from math import exp, log, log1p, sqrt

import numpy as np
from msgspec import Struct

from steelyard.engine.arrays import Floats
from steelyard.engine.curve import ratio_table

from .learning import direction
from .normal import cumulative
from .posterior import BIAS, LEVELS, SLOPES, STEEPNESS, STEEPNESS_LEAST, STEEPNESS_MOST, TIRING, Posterior
from .relations import LineKey

LONGEST = 60
# Our judgement: so many of a thousand predictions say nothing at all (a slip of the pen, another machine).
LOST_SHARE = 0.004
# Cells of the grid that are believed less than this are left out of a prediction.
LEAST_WEIGHT = 0.002
# Steele et al. 2022: strength grows with the logarithm of time; half a year is where it bends (our judgement).
BEND_WEEKS = 26.0
# Standard deviations to either side that hold 80 % of a normal distribution.
EIGHTY = 1.2816
# Found on simulated lifters, so that ranges of the 1RM hold the truth as often as they say: people's steepness as far
# as no set can tell it, and repetitions by which reserves and habits are wrong for good.
CURVE_DOUBT, RESERVE_DOUBT = 0.22, 1.0
FURTHEST = timedelta(weeks=104)
_NODES, _SHARES = np.polynomial.hermite_e.hermegauss(15)


class Telling(Struct, frozen=True):
    """How sets tell what was possible: share of those that say a reserve, and the reserve they usually say.

    Attempts have rest enough between them that an earlier one costs nothing.
    """

    reserve_share: float = 0.0
    usual_reserve: float = 2.0
    is_attempt: bool = False


class Level(Struct, frozen=True):
    """A 1RM (total kg): its middle, and the ends of its 80 and its 95 % interval."""

    kg: float
    low80_kg: float
    high80_kg: float
    low95_kg: float
    high95_kg: float


class GoalDates(Struct, frozen=True):
    """When a level is reached with a chance of one in ten, of a half, of nine in ten; None: not within two years."""

    earliest: date | None
    middle: date | None
    latest: date | None


def told_cdf(posterior: Posterior, key: LineKey, loads_kg: Sequence[float], telling: Telling) -> Floats:
    """P(R <= 0) to P(R <= 60) of what each set will tell, as the lifter tells it."""
    orders = [1] * len(loads_kg) if telling.is_attempt else range(1, len(loads_kg) + 1)
    rows = [_row(posterior, key, load, order, telling) for order, load in zip(orders, loads_kg, strict=True)]
    return np.stack(rows)


def _row(posterior: Posterior, key: LineKey, load_kg: float, order: int, telling: Telling) -> Floats:
    reached = np.zeros(LONGEST + 1)
    said = 0.0 if telling.is_attempt else telling.reserve_share
    kinds = ((1 - said, None), (said, telling.usual_reserve))
    for share, reserve in kinds:
        if share > LEAST_WEIGHT:
            reached += share * _reached(posterior, key, log(load_kg), order, reserve)
    cdf = (1 - LOST_SHARE) * (1 - reached) + LOST_SHARE * np.arange(1, LONGEST + 2) / (LONGEST + 1)
    cdf[-1] = 1.0
    return np.asarray(np.maximum.accumulate(np.clip(cdf, 0.0, 1.0)))


def _reached(posterior: Posterior, key: LineKey, ln_load: float, order: int, reserve: float | None) -> Floats:
    """P(at least 1), P(at least 2) ... of what a set will tell."""
    s = posterior.settings
    cells = posterior.weights > LEAST_WEIGHT
    weights = posterior.weights[cells]
    ratios = np.array(ratio_table(posterior.relations[key].curve.name))[1:]
    slopes = np.append(np.diff(ratios), ratios[-1] - ratios[-2])
    mean, variance, with_state = (part[cells] for part in posterior.along(*direction(posterior, key, order)))
    own = posterior.place_of(key) + 1
    m, p = posterior.means[cells], posterior.covariance[cells]
    steep = np.clip(m[:, STEEPNESS] + m[:, own], STEEPNESS_LEAST, STEEPNESS_MOST)
    scale = steep[:, None]
    noise = s.set_noise + s.set_noise_longer * np.arange(1, LONGEST + 2)
    expected = mean[:, None] - steep[:, None] * ratios
    spread = (
        variance[:, None]
        - 2 * (with_state[:, STEEPNESS] + with_state[:, own])[:, None] * ratios
        + (p[:, STEEPNESS, STEEPNESS] + p[:, own, own] + 2 * p[:, STEEPNESS, own])[:, None] * ratios**2
    )
    if reserve is not None:
        on_bias = -slopes * scale
        expected = expected + m[:, BIAS, None] * on_bias
        spread = (
            spread
            + 2 * with_state[:, BIAS, None] * on_bias
            + p[:, BIAS, BIAS, None] * on_bias**2
            - 2 * (p[:, STEEPNESS, BIAS] + p[:, own, BIAS])[:, None] * ratios * on_bias
        )
        noise = np.sqrt(noise**2 + (s.reserve_noise + s.reserve_noise_further * reserve) ** 2)
    of_set = (slopes * scale * noise) * posterior.noise[cells][:, None]
    z = (expected - ln_load) / np.sqrt(np.maximum(spread, 0.0) + of_set**2)
    return np.asarray(np.minimum.accumulate(weights @ cumulative(z)))


def chance_to_complete(posterior: Posterior, key: LineKey, load_kg: float, repetitions: Sequence[int]) -> float:
    """The chance that every set of a line is completed, so many repetitions (with the reserve wanted) in each.

    Sets share the day's form; what each further set costs is part of what is known of the lifter.
    """
    shares = [
        weight * _completed(posterior, cell, key, log(load_kg), repetitions)
        for cell, weight in enumerate(posterior.weights)
        if weight > LEAST_WEIGHT
    ]
    return float(min(max(sum(shares), 0.0), 1.0))


def _completed(posterior: Posterior, cell: int, key: LineKey, ln_load: float, repetitions: Sequence[int]) -> float:
    """The chance under one cell, over the form of the day; more is never likelier than less."""
    s, curve, own = posterior.settings, posterior.relations[key].curve, posterior.place_of(key) + 1
    raw = float(posterior.means[cell, STEEPNESS] + posterior.means[cell, own])
    steep = min(max(raw, STEEPNESS_LEAST), STEEPNESS_MOST)
    places, weights = direction(posterior, key, 1)
    ratio = curve.ratio(float(max(repetitions)))
    mean, variance, _ = posterior.along([*places, STEEPNESS, own], [*weights, -ratio, -ratio])
    middle = float(mean[cell]) + (raw - steep) * ratio
    doubt = unseen_doubt(posterior, key, ratio)
    form = middle + sqrt(max(float(variance[cell]), 0.0) + doubt) * _NODES
    chance = np.ones(len(_NODES))
    for order, most in enumerate(repetitions):
        tired = float(posterior.means[cell, TIRING]) * order
        counts = np.arange(1, most + 1)
        ratios = np.array([curve.ratio(float(count)) for count in counts])
        slopes = np.array([curve.slope(float(count)) for count in counts])
        noise = steep * slopes * (s.set_noise + s.set_noise_longer * counts) * posterior.noise[cell]
        z = (form[:, None] + tired + steep * (ratio - ratios) - ln_load) / noise
        chance *= cumulative(z).min(axis=1)
    return float(chance @ _SHARES / _SHARES.sum())


def level_of(posterior: Posterior, key: LineKey, weeks_ahead: float = 0.0) -> Level:
    """The 1RM of an exercise, rested and on a usual day, now or in weeks to come if training goes on as it did.

    Its range holds the doubt of the curve between the repetitions that are trained and a single one, and of reserves:
    both shift every set alike, so that no number of sets takes them away. Singles do.
    """
    mean, variance = _ahead(posterior, key, weeks_ahead)
    variance = variance + unseen_doubt(posterior, key)
    weights = posterior.weights
    middle = float(weights @ mean)
    spread = sqrt(float(weights @ (variance + (mean - middle) ** 2)))
    return Level(*(exp(middle + z * spread) for z in (0.0, -EIGHTY, EIGHTY, -1.96, 1.96)))


def unseen_doubt(posterior: Posterior, key: LineKey, ratio: float = 0.0) -> float:
    """Variance (ln) of what the sets as trained leave open at another place on the curve; a single by default."""
    trained = posterior.read_at.get(key, 0.0)
    if trained <= 0:
        return 0.0
    curve = posterior.relations[key].curve
    reserve = RESERVE_DOUBT * curve.slope(curve.repetitions_at(trained))
    return (CURVE_DOUBT * (trained - ratio)) ** 2 + reserve**2


def gain_a_week(posterior: Posterior, key: LineKey) -> tuple[float, float, float]:
    """Gain a week as a share: middle, and the ends of the 80 % interval."""
    loadings = posterior.relations[key].loadings
    mean, variance, _ = posterior.along(SLOPES, list(loadings))
    weights = posterior.weights
    middle = float(weights @ mean)
    spread = sqrt(float(weights @ (variance + (mean - middle) ** 2)))
    return middle, middle - EIGHTY * spread, middle + EIGHTY * spread


def goal_dates(posterior: Posterior, key: LineKey, goal_kg: float, on: date) -> GoalDates:
    """When a 1RM is to be expected if training goes on as it did: a range, or nothing within two years."""

    def reached(weeks: int) -> float:
        mean, variance = _ahead(posterior, key, float(weeks))
        return float(posterior.weights @ cumulative((mean - log(goal_kg)) / np.sqrt(variance)))

    chances = [reached(weeks) for weeks in range(int(FURTHEST.days / 7) + 1)]

    def first(chance: float) -> date | None:
        weeks = next((w for w, c in enumerate(chances) if c >= chance), None)
        return None if weeks is None else on + timedelta(weeks=weeks)

    return GoalDates(first(0.1), first(0.5), first(0.9))


def _ahead(posterior: Posterior, key: LineKey, weeks: float) -> tuple[Floats, Floats]:
    """Mean and variance of ln 1RM by cell; growth goes with the logarithm of time, doubt with time itself."""
    s = posterior.settings
    place = posterior.place_of(key)
    loadings = list(posterior.relations[key].loadings)
    reach = BEND_WEEKS * log1p(weeks / BEND_WEEKS)
    places = [*LEVELS, *SLOPES, place]
    mean, variance, _ = posterior.along(places, [*loadings, *(reach * w for w in loadings), 1.0])
    drawn = sum(w * w for w in loadings)
    noise = (s.level_noise**2 * drawn + s.exercise_noise**2) * weeks + s.slope_noise**2 * drawn * reach**3 / 3
    return mean, variance + posterior.drift**2 * noise
