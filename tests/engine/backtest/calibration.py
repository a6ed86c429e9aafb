"""What the ruler says of a model that is true, of one twice too sure and of one half as sure.

`python -m tests.engine.backtest.calibration` prints it; with --write it also goes into docs/evidence.

A lifter's strength of each set is drawn from exactly the distribution that the model states, and the repetitions follow
from it through the equation, one by one: no part of the ruler's own arithmetic makes the truth that it is held against.
"""

import subprocess
import sys
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from functools import cache
from math import log, sqrt
from pathlib import Path

import numpy as np
from msgspec import Struct
from numpy.random import Generator
from scipy.stats import chi2

from steelyard.engine.arrays import Floats
from steelyard.engine.backtest.models import Asked
from steelyard.engine.backtest.replaying import Foreseen, foresee
from steelyard.engine.backtest.scores import transforms
from steelyard.engine.backtest.strengths import LOST_SHARE, WIDE_SHARE, WIDER, Forecast
from steelyard.engine.backtest.summing import ModelScores, summarise
from steelyard.engine.backtest.tallying import COVERS, OF_SETS, RANKED, Tallied, tally
from steelyard.engine.backtest.trials import LONGEST, Evidence, LifterTrials, Trial, TrialSession
from steelyard.engine.formulas import EQUATIONS, estimate_one_rm

from .trial_builders import STARTS, lifter_of, session_on, trial

EQUATION = "epley"
SEEDS, SESSIONS, SETS = 200, 36, 3
SPREAD = 0.05
TRUE, TOO_SURE, HALF_SURE = "true", "twice too sure", "half as sure"
SPREADS = {TRUE: SPREAD, TOO_SURE: SPREAD / 2, HALF_SURE: SPREAD * 2}
KINDS: tuple[Evidence, ...] = ("to-failure", "attempt")


HEAD = f"""# Calibration of the ruler

Written by `python -m tests.engine.backtest.calibration --write` on {{day}}, commit {{commit}}.

{SEEDS} simulated lifters (seeds 0 to {SEEDS - 1}) with {SESSIONS} sessions of {SETS} sets, the first two not scored;
equation {EQUATION}, spread of a set {SPREAD:.0%}. Strengths are drawn from exactly the distribution that the true model
states; the other two state half and twice its spread.

* standard errors off: of a binomial share of all sets.
* lifters off alone: share of lifters more than 1.96 standard errors off by their own sets; chance makes it about 5 %.
* spread over seeds: where in the chi-square distribution the seeds' covers around the stated one lie; near 0 or 1 they
  differ by less or more than chance.
* closed whole numbers: how often what was seen lies between the whole-number quantiles, both included. Too often even
  for a true model, which is why the ruler spreads each whole number over its step.

"""


class Drawn(Struct, frozen=True):
    """A lifter and what was true of each day: the expected ln 1RM."""

    lifter: LifterTrials
    expected: dict[date, float]


class Knowing:
    """Knows the expected strength of each day, and states this spread around it."""

    def __init__(self, expected: dict[date, float], spread: float) -> None:
        self._expected = expected
        self._spread = spread

    def forecast(self, asked: Asked) -> Forecast:
        """The truth of the day, as sure as it is."""
        known = self._expected[asked.on]
        return Forecast((known,) * len(asked.loads_kg), self._spread, known, self._spread)

    def learn(self, session: TrialSession) -> None:
        """Knows all already."""


@cache
def _ln_needed() -> tuple[float, ...]:
    """ln(1RM / load) that 1, 2 ... repetitions need, from the equation itself."""
    return tuple(log(estimate_one_rm(EQUATIONS[EQUATION], 1.0, n)) for n in range(1, LONGEST + 1) if n < 60)


def draw_repetitions(chance: Generator, load_kg: float, expected: float) -> int:
    """How many were possible: a strength from the mixture that the model states, then one repetition after another."""
    if chance.random() < LOST_SHARE:
        return int(chance.integers(0, LONGEST + 1))
    spread = SPREAD * (WIDER if chance.random() < WIDE_SHARE else 1)
    left = expected + spread * chance.standard_normal() - log(load_kg)
    possible = 0
    for needed in _ln_needed():
        if left < needed:
            break
        possible += 1
    # Where the equation ends, it states that no more are possible.
    return possible


def draw_lifter(seed: int, kind: Evidence) -> Drawn:
    """A lifter whose strength wanders, trained to failure at light to heavy loads, or tried in singles."""
    chance = np.random.default_rng([seed, KINDS.index(kind)])
    strength, expected, sessions = log(chance.uniform(60, 200)), {}, []
    for n in range(SESSIONS):
        strength += 0.01 * chance.standard_normal()
        expected[STARTS + timedelta(3 * n)] = strength
        sessions.append(session_on(3 * n, *(_draw_set(chance, strength, kind) for _ in range(SETS))))
    return Drawn(lifter_of(*sessions, name=f"{seed}"), expected)


def _draw_set(chance: Generator, strength: float, kind: Evidence) -> Trial:
    share = chance.uniform(0.55, 1.0) if kind == "to-failure" else chance.uniform(0.9, 1.1)
    load_kg = float(np.exp(strength) * share)
    possible = draw_repetitions(chance, load_kg, strength)
    if kind == "attempt":
        return trial(load_kg, min(possible, 1), 1, evidence=kind)
    return trial(load_kg, possible)


class Measured(Struct, frozen=True):
    """What the ruler says of one model: of all lifters together, of each, of each set."""

    scores: ModelScores
    covers: dict[float, tuple[float, ...]]
    sets: int
    transformed: Floats
    closed: dict[float, float]

    def z_score(self, share: float) -> float:
        """How many standard errors of a binomial share the pooled cover lies from the one that was stated."""
        return (float(np.mean(self.covers[share])) - share) / sqrt(share * (1 - share) / self.sets)

    def off_alone(self, share: float) -> float:
        """Share of lifters whose own sets lie more than 1.96 standard errors off."""
        limit = 1.96 * sqrt(share * (1 - share) / (self.sets / SEEDS))
        return float(np.mean(np.abs(np.array(self.covers[share]) - share) > limit))

    def tail_of_spread(self, share: float) -> float:
        """Probability of no more spread over the seeds than was seen, were each seed's cover binomial."""
        each = self.sets / SEEDS
        squares = sum((cover - share) ** 2 for cover in self.covers[share]) / (share * (1 - share) / each)
        return float(chi2.cdf(squares, SEEDS))


@cache
def measured(kind: Evidence) -> dict[str, Measured]:
    """All three models over all seeds, measured as any model is."""
    foreseen: dict[str, list[Foreseen]] = {name: [] for name in SPREADS}
    chances = []
    for seed in range(SEEDS):
        drawn = draw_lifter(seed, kind)
        for name, spread in SPREADS.items():
            foreseen[name].append(foresee(drawn.lifter, Knowing(drawn.expected, spread), EQUATION))
        chances.append(np.random.default_rng([seed, 99]).random(len(foreseen[TRUE][-1].sets)))
    tallied = {name: [tally(f, c) for f, c in zip(found, chances, strict=True)] for name, found in foreseen.items()}
    scores = {m.name: m for m in summarise(tallied, TRUE, np.random.default_rng(1))}
    return {name: _measured(scores[name], tallied[name], foreseen[name], chances) for name in SPREADS}


def _measured(
    scores: ModelScores, tallied: Sequence[Tallied], foreseen: Sequence[Foreseen], chances: Sequence[Floats]
) -> Measured:
    sums = np.array([np.array(t.sets).reshape(-1, len(RANKED), len(OF_SETS)).sum(axis=(0, 1)) for t in tallied])
    covers = {share: tuple(sums[:, len(OF_SETS) - 3 + n] / sums[:, 0]) for n, share in enumerate(COVERS)}
    transformed = [transforms(f.cdf, f.seen, f.told_up_to, c) for f, c in zip(foreseen, chances, strict=True)]
    closed = {share: float(np.mean([_closed_cover(f, share) for f in foreseen])) for share in COVERS}
    return Measured(scores, covers, int(sums[:, 0].sum()), np.concatenate(transformed), closed)


def _closed_cover(foreseen: Foreseen, share: float) -> float:
    """How often what was seen lies between the whole-number quantiles of the middle share, both included."""
    low = np.argmax(foreseen.cdf >= 0.5 - share / 2, axis=1)
    high = np.argmax(foreseen.cdf >= 0.5 + share / 2, axis=1)
    low, high = np.minimum(low, foreseen.told_up_to), np.minimum(high, foreseen.told_up_to)
    return float(np.mean((low <= foreseen.seen) & (foreseen.seen <= high)))


def told() -> list[str]:
    """A table for each kind of set."""
    lines = []
    for kind in KINDS:
        found = measured(kind)
        lines += [
            f"## {kind}: {found[TRUE].sets} sets",
            "",
            "| model | stated | within | standard errors off | lifters off alone | spread over seeds | closed "
            "whole numbers |",
            "|---|---|---|---|---|---|---|",
        ]
        for name, m in found.items():
            lines += [
                f"| {name} | {share:.0%} | {np.mean(m.covers[share]):.2%} | {m.z_score(share):+.1f} "
                f"| {m.off_alone(share):.1%} | {m.tail_of_spread(share):.3f} | {m.closed[share]:.2%} |"
                for share in COVERS
            ]
        lines += [
            "",
            *(
                f"* {name}: log score {m.scores.log_score:.4f}, CRPS {m.scores.crps_reps:.4f}"
                for name, m in found.items()
            ),
            "",
        ]
    return lines


def main() -> None:
    """Print it; with --write also into docs/evidence, with day and commit."""
    lines = told()
    print("\n".join(lines))
    if "--write" in sys.argv:
        root = Path(__file__).parents[3]
        revision = ["git", "rev-parse", "--short", "HEAD"]
        commit = subprocess.run(revision, cwd=root, capture_output=True, text=True, check=True).stdout.strip()
        head = HEAD.format(day=f"{datetime.now(UTC):%Y-%m-%d}", commit=commit)
        text = head + "\n".join(lines).rstrip() + "\n"
        (root / "docs/evidence/calibration_of_the_ruler.md").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
