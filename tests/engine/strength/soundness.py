"""After every single step: nothing but numbers, a covariance that is symmetric and positive semidefinite."""

import numpy as np

from steelyard.engine.arrays import Floats
from steelyard.engine.backtest.trials import LifterTrials
from steelyard.engine.history import LineKey
from steelyard.engine.strength.learning import learn_session
from steelyard.engine.strength.posterior import Posterior
from steelyard.engine.strength.settings import DEFAULTS, StrengthSettings

from .learners import related
from .tally import Tally

NUMBERS = "nothing but numbers after every step"
SYMMETRIC = "covariance symmetric after every step (relative 1e-12)"
SEMIDEFINITE = "smallest eigenvalue of the covariance at least -1e-9 of the largest, after every step"
SCALED = "the same with every place scaled to variance 1"


class Watched(Posterior):
    """A posterior that is looked at after every step."""

    def __init__(self, settings: StrengthSettings, tally: Tally, where: str) -> None:
        self._tally, self._where = tally, where
        super().__init__(settings, related)

    def pass_time(self, day: int) -> None:
        """And look."""
        super().pass_time(day)
        self._look()

    def begin_entry(self, key: LineKey) -> None:
        """And look."""
        super().begin_entry(key)
        self._look()

    def end_entry(self, key: LineKey) -> None:
        """And look."""
        super().end_entry(key)
        self._look()

    def move(self, with_state: Floats, variance: Floats, mean_change: Floats, new_variance: Floats) -> None:
        """And look."""
        super().move(with_state, variance, mean_change, new_variance)
        self._look()

    def _look(self) -> None:
        covariance, where = self.covariance, self._where
        is_sound = all(np.isfinite(part).all() for part in (covariance, self.means, self.log_weights, self.weights))
        self._tally.hold(NUMBERS, 0.0 if is_sound else np.inf, where)
        if not is_sound:
            return
        apart = np.abs(covariance - covariance.transpose(0, 2, 1)).max() / np.abs(covariance).max()
        self._tally.hold(SYMMETRIC, float(apart), where, 1e-12)
        eigenvalues = np.linalg.eigvalsh(covariance)
        self._tally.hold(SEMIDEFINITE, float((-eigenvalues[:, 0] / eigenvalues[:, -1]).max()), where, 1e-9)
        spread = np.sqrt(np.maximum(np.diagonal(covariance, axis1=1, axis2=2), 1e-300))
        scaled = covariance / spread[:, :, None] / spread[:, None, :]
        self._tally.hold(SCALED, float(-np.linalg.eigvalsh(scaled)[:, 0].min()), where, 1e-9)


def watched(
    lifter: LifterTrials, tally: Tally, where: str | None = None, settings: StrengthSettings = DEFAULTS
) -> Watched:
    """The posterior after a log, looked at after every step of it."""
    posterior = Watched(settings, tally, where or lifter.name)
    for session in lifter.sessions:
        learn_session(posterior, session)
    return posterior
