"""How the state moves when something is seen along one direction of it, by cell of the grid; moments are matched."""

from math import sqrt

import numpy as np

from steelyard.engine.arrays import Floats

from .normal import cumulative, density
from .posterior import Posterior
from .relations import LineKey

# ln of what a slip of the pen does to a load: ten times, a tenth, pounds for kilograms and back.
SLIPS = (np.log(10.0), -np.log(10.0), np.log(2.2046226), -np.log(2.2046226))
# Another slip, of whatever kind: anywhere within some 40 %.
BROAD = 0.4
# Within so many standard deviations nothing is held for a slip.
ODD = 3.5
# Two sessions that are odd in the same way, within SAME, are no slip but a jump: the exercise's level may be anywhere.
JUMP, SAME = 0.5, 0.15
# Our judgement: one set in five that was stopped was stopped far before what was possible, and tells nothing.
EASY_SHARE, EASY_WIDTH = 0.2, 0.15
# Nothing that is seen once makes anything more certain than by this share.
LEAST_LEFT = 1e-3
TINY = 1e-300
# A set that was stopped so far (ln) under what was expected is no easy set any more: a slip, or the level was one.
FAR_BELOW = 0.6


def measured(
    posterior: Posterior, key: LineKey, places: list[int], weights: list[float], target: float, spread: float
) -> None:
    """A value seen with noise; one that is far off may be a slip of the pen, and twice the same is a jump."""
    mean, variance, with_state = posterior.along(places, weights)
    noise = (spread * posterior.noise) ** 2
    total, error = variance + noise, target - mean
    if np.abs(error).max() <= ODD * sqrt(float(total.max())):
        posterior.odd.pop(key, None)
    elif _is_seen_again(posterior, key, float(posterior.weights @ error)):
        posterior.odd.pop(key)
        posterior.doubt(key, JUMP**2)
        mean, variance, with_state = posterior.along(places, weights)
        total, error = variance + noise, target - mean
    else:
        posterior.odd.setdefault(key, (posterior.day or 0, float(posterior.weights @ error)))
        _perhaps_a_slip(posterior, with_state, variance, noise, error)
        return
    posterior.log_weights += -0.5 * (np.log(total) + error**2 / total)
    posterior.move(with_state, variance, variance / total * error, variance * noise / total)


def _is_seen_again(posterior: Posterior, key: LineKey, error: float) -> bool:
    """Whether a set of an earlier session was as far off in the same direction."""
    day, before = posterior.odd.get(key, (posterior.day, 0.0))
    return day != posterior.day and abs(error - before) < SAME


def _perhaps_a_slip(posterior: Posterior, with_state: Floats, variance: Floats, noise: Floats, error: Floats) -> None:
    """As written, or one of the usual slips, or something else: a mixture, of which the first two moments are kept."""
    share = posterior.settings.slip_share
    chances = np.log(np.array([1 - share, *[share / 6] * 4, share / 3]))
    shifts = np.array([0.0, *SLIPS, 0.0])
    noises = np.stack([*[noise] * 5, noise + BROAD**2], axis=1)
    total = variance[:, None] + noises
    errors = error[:, None] - shifts
    told = chances - 0.5 * (np.log(total) + errors**2 / total)
    top = told.max(axis=1, keepdims=True)
    evidence = np.exp(told - top)
    posterior.log_weights += top[:, 0] + np.log(evidence.sum(axis=1))
    believed = evidence / evidence.sum(axis=1, keepdims=True)
    change = variance[:, None] / total * errors
    mean_change = (believed * change).sum(axis=1)
    left = (believed * (variance[:, None] * noises / total + (change - mean_change[:, None]) ** 2)).sum(axis=1)
    posterior.move(with_state, variance, mean_change, left)


def one_sided(
    posterior: Posterior, places: list[int], weights: list[float], target: float, side: float, spread: float
) -> None:
    """A load that could be lifted (side 1), or could not (-1)."""
    mean, variance, with_state = posterior.along(places, weights)
    total = np.sqrt(variance + (spread * posterior.noise) ** 2)
    z = np.maximum(side * (mean - target) / total, -30.0)
    chance = np.maximum(cumulative(z), TINY)
    # Far out the ratio of density and tail goes towards -z; the quotient of two vanishing numbers does not.
    pull = np.where(z < -8.0, -z, density(z) / chance)
    change = side * variance / total * pull
    left = variance * np.clip(1 - variance / total**2 * pull * (z + pull), LEAST_LEFT, 1.0)
    posterior.log_weights += np.log(chance)
    posterior.move(with_state, variance, change, left)


def at_least(
    posterior: Posterior, key: LineKey, places: list[int], weights: list[float], target: float, spread: float
) -> None:
    """A set that was stopped: usually at the lifter's habit, at times far before.

    It says too little of noise to choose between cells of the grid.
    """
    mean, variance, with_state = posterior.along(places, weights)
    total, error = variance + spread**2, target - mean
    is_above = (error > ODD * np.sqrt(total)).all()
    is_far_below = (error < -np.maximum(ODD * np.sqrt(total), FAR_BELOW)).all()
    if is_above or is_far_below:
        measured(posterior, key, places, weights, target, spread)
        return
    posterior.odd.pop(key, None)
    near = (1 - EASY_SHARE) * np.exp(-0.5 * error**2 / total) / np.sqrt(total)
    easy = EASY_SHARE * cumulative(-error / np.sqrt(total)) / EASY_WIDTH
    share = near / (near + easy + TINY)
    each = variance / total * error
    change = share * each
    left = share * (variance * spread**2 / total + (each - change) ** 2) + (1 - share) * (variance + change**2)
    posterior.move(with_state, variance, change, left)
