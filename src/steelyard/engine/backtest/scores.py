"""Scores of a distribution of repetitions against what was seen, each best served by an honest distribution.

`cdf` has one row a set: P(R <= 0) to P(R <= 60). A set tells the lesser of R and `told_up_to`: all of it where the set
was taken to its end, whether there was a first repetition for an attempt. `seen` is what it told. What can be told is
known before the set, so that all scores are proper: Gneiting & Raftery 2007, J Am Stat Assoc 102:359-378; the
randomised probability-integral transform: Czado, Gneiting & Held 2009, Biometrics 65:1254-1261 (both from memory).
"""

import numpy as np
from numpy.typing import NDArray

from steelyard.engine.arrays import Floats, Whole


def below(cdf: Floats, counts: Whole) -> Floats:
    """P(R < count) of each row."""
    rows = np.arange(len(cdf))
    return np.where(counts > 0, cdf[rows, np.maximum(counts - 1, 0)], 0.0)


def up_to(cdf: Floats, counts: Whole) -> Floats:
    """P(R <= count) of each row."""
    return cdf[np.arange(len(cdf)), counts]


def told_chance(cdf: Floats, seen: Whole, told_up_to: Whole) -> tuple[Floats, Floats]:
    """P(less than was seen), and P(as much as was seen or less), of what the set could tell."""
    return below(cdf, seen), np.where(seen >= told_up_to, 1.0, up_to(cdf, seen))


def log_score(cdf: Floats, seen: Whole, told_up_to: Whole) -> Floats:
    """Natural logarithm of the probability given to what was seen; higher is better, -inf for "impossible"."""
    low, high = told_chance(cdf, seen, told_up_to)
    with np.errstate(divide="ignore"):
        scores: Floats = np.log(np.maximum(high - low, 0.0))
    return scores


def crps(cdf: Floats, seen: Whole, told_up_to: Whole) -> Floats:
    """Continuous ranked probability score (repetitions, lower is better) of what the set could tell."""
    counts = np.arange(cdf.shape[1])
    happened = counts >= seen[:, None]
    is_told = counts < told_up_to[:, None]
    return np.asarray(np.sum(np.where(is_told, (cdf - happened) ** 2, 0.0), axis=1))


def medians(cdf: Floats) -> Whole:
    """The whole number of repetitions that is reached or passed as often as not."""
    return np.asarray(np.argmax(cdf >= 0.5, axis=1))


def errors(cdf: Floats, seen: Whole, told_up_to: Whole) -> Whole:
    """How far (repetitions) the median, as far as the set could tell, lies above (positive) or below what was seen."""
    return np.asarray(np.minimum(medians(cdf), told_up_to) - seen)


def transforms(cdf: Floats, seen: Whole, told_up_to: Whole, chance: Floats) -> Floats:
    """The probability-integral transform, with chance in (0, 1) to spread it over the step of a whole number.

    Uniform where the distribution is true; closed intervals of whole numbers cover too much, this does not.
    """
    low, high = told_chance(cdf, seen, told_up_to)
    return np.asarray(low + chance * (high - low))


def is_covered(transformed: Floats, share: float) -> NDArray[np.bool_]:
    """Whether what was seen lies within the middle `share` of the distribution."""
    return np.asarray(np.abs(transformed - 0.5) < share / 2)
