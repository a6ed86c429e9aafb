"""How wrong a peer's forecasts of other lifters were, put into the distribution it answers: by maximum likelihood."""

import numpy as np
from msgspec import Struct
from scipy.optimize import minimize

from steelyard.engine.arrays import Floats, Whole
from steelyard.engine.backtest.population import ORDERS

from .strength_bands import log_probability

# Keeps the search sane where other lifters tell little: as so many sets that lie where they are expected.
PRIOR_SPREAD = 0.05


class Forecasts(Struct, frozen=True):
    """Sets of other lifters: bands of strength, what was expected, its spread, order, whether it was an attempt."""

    lower: Floats
    upper: Floats
    expected: Floats
    spread: Floats
    order: Whole
    is_attempt: Whole


class Calibration(Struct, frozen=True):
    """Offsets (ln) from the session's level by order, factor of the spread, both for sets and for attempts; tails."""

    offsets: Floats
    factors: Floats
    wide_share: float


UNCALIBRATED = Calibration(np.zeros((2, ORDERS)), np.ones(2), 1 / 12)


def calibrate(told: Forecasts) -> Calibration:
    """The offsets, factors and tails under which the sets of the other lifters were most probable."""
    if not len(told.lower):
        return UNCALIBRATED

    def loss(settings: Floats) -> float:
        now = _calibration(settings)
        expected = told.expected + now.offsets[told.is_attempt, told.order]
        spread = told.spread * now.factors[told.is_attempt]
        probable = log_probability(told.lower, told.upper, expected, spread, now.wide_share)
        prior = float(np.sum((settings[: 2 * ORDERS] / PRIOR_SPREAD) ** 2) + np.sum(settings[2 * ORDERS :] ** 2))
        return -float(probable.sum()) + prior / 2

    found = minimize(loss, np.zeros(2 * ORDERS + 3), method="L-BFGS-B", options={"maxiter": 60})
    return _calibration(np.asarray(found.x))


def _calibration(settings: Floats) -> Calibration:
    """Offsets as they are, factors by their logarithm, the wide share between 0 and a third."""
    offsets = settings[: 2 * ORDERS].reshape(2, ORDERS)
    tails = settings[-1] - 1.1
    return Calibration(offsets, np.exp(settings[2 * ORDERS : -1]), float(1 / 3 / (1 + np.exp(-tails))))
