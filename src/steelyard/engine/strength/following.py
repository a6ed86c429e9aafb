"""Latent strength as a model that `backtest` can measure."""

from collections.abc import Callable
from math import log, sqrt

import numpy as np

from steelyard.engine.arrays import Floats
from steelyard.engine.backtest.models import Asked, RepetitionForecast
from steelyard.engine.backtest.sessions import attempts_level, best_kg
from steelyard.engine.backtest.strengths import ln_ratios
from steelyard.engine.backtest.trials import LONGEST, ExerciseEntry, TrialSession

from .learning import direction, learn_session
from .outlook import Telling, told_cdf
from .posterior import Posterior
from .relations import LineKey, Relation
from .settings import DEFAULTS, StrengthSettings
from .updates import measured

# What no set at all weighs beside what is counted: habits are not known from the first session.
PRIOR_SETS, PRIOR_ERRORS, USUAL_ERROR = 2.0, 20.0, 0.04
PRIOR_OPENERS, OPENER_SPREAD = 6.0, 0.03
CLIP = 0.15


class StrengthFollower:
    """The posterior of one lifter, asked before each session; how the lifter tells reserves is counted beside it."""

    def __init__(
        self, relation_of: Callable[[LineKey], Relation], equation: str, settings: StrengthSettings = DEFAULTS
    ) -> None:
        self.posterior = Posterior(settings, relation_of)
        self._equation = equation
        self._failures, self._reserves, self._reserve_sum = 1.0, 1.0, 2.0
        self._foreseen: dict[LineKey, float] = {}
        self._is_attempt: dict[LineKey, bool] = {}
        # Of session bests foreseen: how far off in sum, and how many, in meets and in training.
        self._apart = {True: [0.0, PRIOR_ERRORS / 4], False: [0.0, PRIOR_ERRORS / 4]}
        # How far (ln) openers lie under what was then possible: about 91 % of the hoped third, from memory.
        self._openers = PRIOR_OPENERS
        self._opener_sum, self._opener_squares = -log(0.91) * PRIOR_OPENERS, OPENER_SPREAD**2 * PRIOR_OPENERS
        self._squares = [USUAL_ERROR**2 * PRIOR_ERRORS, PRIOR_ERRORS]

    def forecast(self, asked: Asked) -> RepetitionForecast:
        """A distribution of what each set will tell, and of the session's best."""
        self.posterior.pass_time(asked.day)
        self.posterior.begin_entry(asked.key)
        is_attempt = self._is_attempt.get(asked.key, False)
        believed = self._after_opener(asked) if is_attempt else self.posterior
        rows = told_cdf(believed, asked.key, asked.loads_kg, self.telling(asked.key))
        best = self._foreseen[asked.key] = self._best(believed, asked, rows)
        apart, count = self._apart[is_attempt]
        return RepetitionForecast(rows, best + apart / count, sqrt(self._squares[0] / self._squares[1]))

    def _after_opener(self, asked: Asked) -> Posterior:
        """What is believed once the opener is named: lifters choose it by what they feel ready for.

        Only the first attempt is read so: the later ones tell how the earlier went.
        """
        believed = self.posterior.copy()
        under = self._opener_sum / self._openers
        spread = sqrt(self._opener_squares / self._openers)
        places, weights = direction(believed, asked.key, 1)
        measured(believed, asked.key, places, weights, log(asked.loads_kg[0]) + under, spread)
        return believed

    def telling(self, key: LineKey) -> Telling:
        """How this lifter has told reserves so far, and whether the exercise was last done as attempts."""
        share = self._reserves / (self._reserves + self._failures)
        return Telling(share, self._reserve_sum / self._reserves, self._is_attempt.get(key, False))

    def learn(self, session: TrialSession) -> None:
        """See a session that is over."""
        for entry in session.entries:
            self._count(entry)
        learn_session(self.posterior, session)

    def _count(self, entry: ExerciseEntry) -> None:
        for trial in entry.trials:
            self._failures += trial.evidence == "to-failure"
            if trial.evidence == "reserve":
                self._reserves += 1
                self._reserve_sum += trial.possible - trial.reps
        is_attempt = self._is_attempt[entry.key] = all(t.evidence == "attempt" for t in entry.trials)
        if is_attempt:
            under = attempts_level(entry).middle - log(entry.trials[0].load_kg)
            error = min(max(under - self._opener_sum / self._openers, -CLIP), CLIP)
            self._openers += 1
            self._opener_sum += under
            self._opener_squares += error**2
        actual, foreseen = best_kg(entry, self._equation), self._foreseen.pop(entry.key, None)
        if actual is None or foreseen is None:
            return
        error, apart = log(actual) - foreseen, self._apart[is_attempt]
        self._squares[0] += min(abs(error - apart[0] / apart[1]), CLIP) ** 2
        self._squares[1] += 1
        apart[0] += min(max(error, -CLIP), CLIP)
        apart[1] += 1

    def _best(self, believed: Posterior, asked: Asked, rows: Floats) -> float:
        """The expected 1RM (ln kg) of the set from which most is expected, by the equation that was asked for."""
        if self._is_attempt.get(asked.key, False):
            mean, _, _ = believed.along(*direction(believed, asked.key, 1))
            return float(believed.weights @ mean)
        ratios = np.array(ln_ratios(self._equation)[: LONGEST + 1])
        known = np.where(np.isfinite(ratios), ratios, ratios[np.isfinite(ratios)].max())
        known[0] = 0.0
        chances = np.diff(rows, axis=1, prepend=0.0)
        return float(np.max(np.log(np.array(asked.loads_kg)) + chances @ known))
