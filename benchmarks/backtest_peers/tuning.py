"""Settings of the boosted trees, compared on simulated lifters of other seeds than those the backtest measures.

`python -m benchmarks.backtest_peers.tuning [--lifters N]` prints, for each candidate, the mean log score of the sets
of held-out lifters (five folds), by body; attempts are judged by the probability that they are missed. With --columns
the chosen settings are tried without one group of numbers after the other: what each is worth.
"""

import argparse
import time
from collections.abc import Sequence

import numpy as np
from msgspec import structs
from threadpoolctl import threadpool_limits

from .boosted_trees import CHOSEN, LEAST_MISS, Learned, Settings, learn_from
from .clubs import AT_MEETS, IN_THE_GYM, TUNED_ON, simulated_club
from .examples import ATTEMPT, SET, Examples, examples_of, together
from .folds import folds
from .memory import COLUMNS
from .strength_bands import log_probability

EQUATION = "epley"
CANDIDATES = (
    Settings(),
    Settings(loss="squared_error"),
    Settings(trees=40),
    Settings(trees=150),
    Settings(trees=150, rate=0.05),
    Settings(leaves=6),
    Settings(leaves=24),
    Settings(least_in_leaf=80),
    Settings(spread_trees=30),
    Settings(spread_trees=120),
)
# What the trees are told, by what it is about.
GROUPS: dict[str, tuple[str, ...]] = {
    "nothing": (),
    "the loads asked": ("load", "load_beside_heaviest", "load_beside_last_time"),
    "what the same load brought": ("same_load", "days_since_same_load", "same_load_is_measured"),
    "last time's sets": ("set_before", "set_before_is_measured", "reps_before", "last_reps_of_its_first_set"),
    "the exercise": ("pattern", "exercise"),
    "the order of the set": ("order", "sets_asked"),
    "earlier sessions": ("slope", "line_through_eight", "mean_of_eight", "slow_mean", "best_of_three", "last_but_one"),
}


def sums_of(learned: Learned, held: Examples) -> tuple[float, int]:
    """Summed log score of held-out lifters' sets, and how many there were."""
    is_set, is_attempt = held.kind == SET, held.kind == ATTEMPT
    total = 0.0
    if is_set.any():
        expected = np.asarray(learned.expected.predict(held.rows[is_set]))
        spread = learned.factors[0] * np.exp(np.asarray(learned.spread.predict(held.rows[is_set])))
        bands = held.lower[is_set], held.upper[is_set]
        total += float(log_probability(*bands, expected, spread, learned.wide_share).sum())
    if is_attempt.any() and learned.miss is not None:
        miss = np.clip(learned.miss.predict_proba(held.rows[is_attempt])[:, 1], LEAST_MISS, 1 - LEAST_MISS)
        total += float(np.log(np.where(np.isfinite(held.lower[is_attempt]), 1 - miss, miss)).sum())
    return total, int(is_set.sum() + is_attempt.sum())


def mean_score(examples: Sequence[Examples], settings: Settings) -> float:
    """Mean log score over all held-out sets."""
    found = []
    for fold in folds(len(examples)):
        learned = learn_from([examples[i] for i in fold.others], settings)
        found.append(sums_of(learned, together([examples[i] for i in fold.followed])[0]))
    return sum(total for total, _ in found) / sum(count for _, count in found)


def without(examples: Examples, columns: Sequence[str]) -> Examples:
    """The same with nothing in these columns."""
    rows = examples.rows.copy()
    rows[:, [COLUMNS.index(name) for name in columns]] = 0.0
    return structs.replace(examples, rows=rows)


def main() -> None:
    """Print the comparison."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--lifters", type=int, default=40, help="simulated lifters in each club")
    parser.add_argument("--columns", action="store_true", help="leave out numbers instead of changing settings")
    asked = parser.parse_args()
    count = asked.lifters
    clubs = {
        f"{body}, {'gym' if kinds == IN_THE_GYM else 'meets'}": [
            examples_of(lifter, EQUATION) for lifter in simulated_club(kinds, body, count, TUNED_ON)
        ]
        for body in ("by-dose", "by-drift")
        for kinds in (IN_THE_GYM, AT_MEETS)
    }
    tried: list[tuple[str, Settings, tuple[str, ...]]] = [(str(s), s, ()) for s in CANDIDATES]
    if asked.columns:
        tried = [(f"without {name}", CHOSEN, columns) for name, columns in GROUPS.items()]
    with threadpool_limits(1):
        for said, settings, columns in tried:
            begins = time.perf_counter()
            scores = "  ".join(
                f"{name} {mean_score([without(e, columns) for e in found], settings):.4f}"
                for name, found in clubs.items()
            )
            print(f"{scores}  {time.perf_counter() - begins:.0f} s  {said}", flush=True)


if __name__ == "__main__":
    main()
