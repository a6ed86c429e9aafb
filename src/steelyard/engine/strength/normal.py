"""The normal distribution without SciPy, which a cold command must not wait for."""

from math import erfc, pi, sqrt

import numpy as np

from steelyard.engine.arrays import Floats

_ERFC = np.frompyfunc(erfc, 1, 1)
_ROOT = sqrt(0.5)


def cumulative(z: Floats) -> Floats:
    """P(Z <= z)."""
    return np.asarray(0.5 * _ERFC(-z * _ROOT), dtype=float)


def density(z: Floats) -> Floats:
    """The density at z."""
    return np.asarray(np.exp(-0.5 * z * z) / sqrt(2 * pi))
