"""Machine learning's peer: gradient-boosted trees over some forty numbers of a past, learned on other lifters.

One model says how far a set's strength (or the session's best) will lie from the exercise's running mean, one how far
off that usually is, and one how likely an attempt is missed. How far off is learned from predictions of lifters that
the first was not fitted on; so are the tails. The settings were chosen on other simulated lifters: see `tuning`.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np
from msgspec import Struct
from scipy.optimize import minimize
from sklearn.dummy import DummyRegressor
from sklearn.ensemble import HistGradientBoostingClassifier, HistGradientBoostingRegressor
from threadpoolctl import threadpool_limits

from steelyard.engine.arrays import Floats
from steelyard.engine.backtest.models import Asked, RepetitionForecast
from steelyard.engine.backtest.trials import LifterTrials, TrialSession

from .examples import ATTEMPT, BEST, SET, Examples, examples_of, new_memory, together
from .folds import folds
from .memory import CATEGORIES, COLUMNS, LOAD
from .strength_bands import log_probability, repetition_rows, without_certainty

# Fewer examples than this teach nothing: then the running mean is the answer, with a usual spread.
LEAST_EXAMPLES = 60
USUAL_SPREAD = 0.05
INNER_FOLDS = 3
LEAST_SPREAD, LEAST_MISS = 0.004, 0.004
IS_CATEGORY = [name in CATEGORIES for name in COLUMNS]
# A heavier load is never missed less often.
HEAVIER_IS_HARDER = [1 if place == LOAD else 0 for place in range(len(COLUMNS))]


class Settings(Struct, frozen=True):
    """Of the trees; chosen by `tuning`."""

    loss: str = "absolute_error"
    trees: int = 80
    rate: float = 0.08
    leaves: int = 12
    least_in_leaf: int = 30
    spread_trees: int = 60


CHOSEN = Settings()


class Learned(Struct, frozen=True):
    """The fitted models; `factors` of the spread for sets and for bests; share of the distribution that is wide."""

    expected: Any
    spread: Any
    miss: Any
    factors: tuple[float, float]
    wide_share: float


class BoostedTreesFollower:
    """The models with what they have seen of one lifter."""

    def __init__(self, learned: Learned, equation: str) -> None:
        self.learned, self._equation = learned, equation
        self._memory = new_memory(equation)

    def forecast(self, asked: Asked) -> RepetitionForecast | None:
        """What is foreseen; None for an exercise never seen."""
        line = self._memory.line(asked.key)
        if line is None:
            return None
        rows = self._memory.rows(asked)
        expected = self.learned.expected.predict(rows) + line.reference
        spread = np.exp(self.learned.spread.predict(rows))
        of_sets, of_best = self.learned.factors
        cdf = repetition_rows(
            asked.loads_kg, expected[:-1], of_sets * spread[:-1], self.learned.wide_share, self._equation
        )
        if line.was_attempt and self.learned.miss is not None:
            cdf = _with_misses(cdf, self._misses(rows[:-1]))
        return RepetitionForecast(cdf=cdf, best=float(expected[-1]), best_spread=of_best * float(spread[-1]))

    def learn(self, session: TrialSession) -> None:
        """See a session that is over."""
        self._memory.see(session)

    def _misses(self, rows: Floats) -> Floats:
        return np.asarray(np.clip(self.learned.miss.predict_proba(rows)[:, 1], LEAST_MISS, 1 - LEAST_MISS))


def _with_misses(cdf: Floats, misses: Floats) -> Floats:
    """The same distribution of more repetitions, with this probability of none."""
    made = (cdf - cdf[:, :1]) / (1 - cdf[:, :1])
    return without_certainty(misses[:, None] + (1 - misses[:, None]) * np.maximum(made, 0.0))


def learn_from(others: Sequence[Examples], settings: Settings) -> Learned:
    """Fit on other lifters."""
    examples, whose = together(others)
    with threadpool_limits(1):
        is_told = np.isfinite(examples.told)
        expected, apart = _cross_fitted(examples.rows, examples.told, is_told, whose, _Expected(settings))
        off = np.log(np.maximum(np.abs(examples.told - apart), LEAST_SPREAD))
        spread_model, ln_off = _cross_fitted(examples.rows, off, is_told, whose, _Spread(settings))
        factors, wide_share = _tails(examples, apart, np.exp(ln_off))
        return Learned(expected, spread_model, _miss_model(examples, settings), factors, wide_share)


class _Expected(Struct, frozen=True):
    settings: Settings

    def fit(self, rows: Floats, told: Floats) -> Any:
        if len(told) < LEAST_EXAMPLES:
            return DummyRegressor(strategy="constant", constant=0.0).fit(np.zeros((1, len(COLUMNS))), [0.0])
        s = self.settings
        return HistGradientBoostingRegressor(
            loss=s.loss,
            max_iter=s.trees,
            learning_rate=s.rate,
            max_leaf_nodes=s.leaves,
            min_samples_leaf=s.least_in_leaf,
            categorical_features=IS_CATEGORY,
            early_stopping=False,
            random_state=0,
        ).fit(rows, told)


class _Spread(Struct, frozen=True):
    settings: Settings

    def fit(self, rows: Floats, told: Floats) -> Any:
        if len(told) < LEAST_EXAMPLES:
            usual = float(np.log(USUAL_SPREAD))
            return DummyRegressor(strategy="constant", constant=usual).fit(np.zeros((1, len(COLUMNS))), [usual])
        return HistGradientBoostingRegressor(
            max_iter=self.settings.spread_trees,
            learning_rate=0.05,
            max_leaf_nodes=8,
            min_samples_leaf=50,
            categorical_features=IS_CATEGORY,
            early_stopping=False,
            random_state=0,
        ).fit(rows, told)


def _cross_fitted(
    rows: Floats, told: Floats, is_told: Any, whose: Floats, maker: "_Expected | _Spread"
) -> tuple[Any, Floats]:
    """The model of all, and what models without a lifter said of that lifter."""
    apart = np.zeros(len(rows))
    for place in range(INNER_FOLDS):
        held = whose % INNER_FOLDS == place
        if held.any():
            apart[held] = maker.fit(rows[~held & is_told], told[~held & is_told]).predict(rows[held])
    return maker.fit(rows[is_told], told[is_told]), apart


def _tails(examples: Examples, expected: Floats, spread: Floats) -> tuple[tuple[float, float], float]:
    """By how much the spread must be widened, and how much of it is wide: most probable for other lifters' sets."""
    is_set, is_best = examples.kind == SET, examples.kind == BEST

    def loss(settings: Floats) -> float:
        wide = 1 / 3 / (1 + np.exp(-(settings[1] - 1.1)))
        scaled = np.exp(settings[0]) * spread[is_set]
        probable = log_probability(examples.lower[is_set], examples.upper[is_set], expected[is_set], scaled, wide)
        return -float(probable.sum()) + float(np.sum(settings**2)) / 2

    found = np.asarray(minimize(loss, np.array([0.5, 0.0]), method="Nelder-Mead").x) if is_set.any() else np.zeros(2)
    off = np.abs(examples.told[is_best] - expected[is_best]) / spread[is_best]
    # Four in five of a normal distribution lie within 1.28 spreads.
    of_best = float(np.quantile(off, 0.8) / 1.2816) if is_best.any() else 1.0
    return (float(np.exp(found[0])), of_best), float(1 / 3 / (1 + np.exp(-(found[1] - 1.1))))


def _miss_model(examples: Examples, settings: Settings) -> Any:
    """How likely an attempt is missed; None where too few were made or missed: then the strength foreseen decides."""
    is_attempt = examples.kind == ATTEMPT
    rows, missed = examples.rows[is_attempt], ~np.isfinite(examples.lower[is_attempt])
    if len(missed) < LEAST_EXAMPLES or missed.all() or not missed.any():
        return None
    return HistGradientBoostingClassifier(
        max_iter=settings.spread_trees,
        learning_rate=settings.rate,
        max_leaf_nodes=8,
        min_samples_leaf=settings.least_in_leaf,
        categorical_features=IS_CATEGORY,
        monotonic_cst=HEAVIER_IS_HARDER,
        early_stopping=False,
        random_state=0,
    ).fit(rows, missed)


def boosted_trees_followers(
    lifters: Sequence[LifterTrials], equation: str, settings: Settings = CHOSEN
) -> list[BoostedTreesFollower]:
    """One follower a lifter, each fitted without that lifter."""
    examples = [examples_of(lifter, equation) for lifter in lifters]
    found: dict[int, BoostedTreesFollower] = {}
    for fold in folds(len(lifters)):
        learned = learn_from([examples[i] for i in fold.others], settings)
        found |= {i: BoostedTreesFollower(learned, equation) for i in fold.followed}
    return [found[i] for i in range(len(lifters))]
