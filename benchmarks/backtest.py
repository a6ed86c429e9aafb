"""The light rules of `steelyard backtest` beside two heavy peers, on the demo club and on simulated lifters.

`python -m benchmarks.backtest [--lifters N] [--write]` prints one table for each club, best log score first. With
--write they become docs/evidence/backtest.md, with date and commit. Each model's time is told beside that of the rule
"repeat" in the same run. The peers learn from other lifters, five folds by lifter; each rule's settings come from all
others. What the order of the models says is at WHY.
"""

import argparse
import os
import platform
import subprocess
import time
from collections.abc import Callable, Iterator, Sequence
from datetime import UTC, datetime

import numpy as np
from msgspec import Struct
from threadpoolctl import threadpool_limits

from steelyard.catalogue import catalogue
from steelyard.engine.arrays import Floats
from steelyard.engine.backtest.fitting import fit_lifter
from steelyard.engine.backtest.following import RuleFollower
from steelyard.engine.backtest.models import Follower
from steelyard.engine.backtest.population import Crowd
from steelyard.engine.backtest.replaying import foresee
from steelyard.engine.backtest.rules import RULES, Rule
from steelyard.engine.backtest.summing import ModelScores, summarise
from steelyard.engine.backtest.tallying import Tallied, tally
from steelyard.engine.backtest.trials import LifterTrials
from steelyard.engine.strength.following import StrengthFollower
from steelyard.engine.strength.relations import relation_of

from .backtest_peers.boosted_trees import boosted_trees_followers
from .backtest_peers.clubs import AT_MEETS, IN_THE_GYM, demo_club, simulated_club
from .backtest_peers.mixed_model import mixed_model_followers
from .cold import ROOT

EQUATION, REFERENCE = "epley", "repeat"
LIFTERS, SEED = 60, 1


def strength_followers(lifters: Sequence[LifterTrials], equation: str) -> list[Follower]:
    """Latent strength: it learns nothing from the others."""
    known = catalogue()
    return [StrengthFollower(lambda key: relation_of(key, known), equation) for _ in lifters]


PEERS: dict[str, Callable[[Sequence[LifterTrials], str], Sequence[Follower]]] = {
    "latent strength": strength_followers,
    "mixed model (statsmodels)": mixed_model_followers,
    "boosted trees (scikit-learn)": boosted_trees_followers,
}
CLUBS: dict[str, Callable[[int], list[LifterTrials]]] = {
    "Demo club": lambda count: demo_club(),
    "Simulated by dose, in the gym": lambda count: simulated_club(IN_THE_GYM, "by-dose", count),
    "Simulated by dose, at meets": lambda count: simulated_club(AT_MEETS, "by-dose", count),
    "Simulated by drift, in the gym": lambda count: simulated_club(IN_THE_GYM, "by-drift", count),
    "Simulated by drift, at meets": lambda count: simulated_club(AT_MEETS, "by-drift", count),
}
HEAD = (
    "| model | log score | by evidence | over repeat | MAE reps | bias reps | CRPS | best 1RM error % | 50 % | 80 % "
    "| 90 % | time x repeat |",
    "|---|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|",
)

WHY = """\
How to read it: log score, mean ln probability of what was seen, higher is better; the second figures are those of
sets to failure / with a reserve / attempts alone. Intervals are 95 % by drawing lifters again; 50, 80, 90 % are the
shares that lay within. Simulated lifters are evidence of nothing about people. The heavy peers learn from other
lifters only (five folds by lifter); the trees' settings were chosen on simulated lifters of other seeds.

## Why the order is as it is

- **Latent strength first in the gym, on both bodies and on the demo club; at meets behind the peers.** It learns from
  nobody else. It averages all sets of all exercises by what each can tell, knows how noisy this lifter is, and puts
  repetitions and load on one curve. At meets the peers have learned from other lifters how attempts are chosen; it
  reads the opener alone.
- **Then boosted trees, then the mixed model, then the rules.** Whoever chooses a load knows what they can do that day,
  and the trees read that from the loads: without them they lose 0.05 in the gym and 0.08 to 0.10 at meets; without the
  order of the attempt 0.02 at meets; any other group of numbers can be left out for about 0.01 or less (25 lifters,
  `python -m benchmarks.backtest_peers.tuning --columns --lifters 25`). The mixed model knows only sessions and time;
  it gains on the rules because its spread and the offset of each set are fitted by likelihood on the others, and
  because it averages as much as their scatter says. Eight lifters, as in the demo club, are few to learn from: there
  the trees are behind on sets to failure, which hardly any of the others did.
- **Brzycki's and Lander's equations before Epley's** where many sets carry a reserve, and not on sets to failure.
  They are steeper: a lighter load promises fewer additional repetitions. The simulated lifters' own curve is not so
  steep (by dose it lies between O'Connor's and Epley's); but a felt reserve falls short the more, the longer the set,
  so that what is reported looks steeper than what is possible. That this is the cause is our reading, not shown.
- **Lombardi's equation last**, Mayhew's and O'Connor's far down: flatter than the lifters' curve from five
  repetitions on, so that every change of load is translated into too many repetitions. `repeat` hardly translates,
  since the sets of last time come again: it stands with Epley's.
- **Weighted mean against repeat**: a session's best is mostly noise and averaging gains, unless lifters rise quickly,
  as in the demo club, where its bias is the largest downwards.
- **Best of last three** takes the luckiest of three: in the gym its bias is upwards throughout. At meets it gains by
  just that, since the other rules expect too many misses there.
- **A line through the last eight** draws noise on in the gym; over years of meets growth is larger than noise, and it
  is among the best rules.
- **At meets the equations tie in log score**: a single is its own 1RM, nothing is translated. A rule takes the middle
  between made and missed and learns how far it is off from one meet to the next; it does not know that attempts are
  chosen so that most are made.
"""


class Measured(Struct, frozen=True):
    """Sums of one model by lifter, and the seconds it took to learn from others and to foresee."""

    tallied: list[Tallied]
    seconds: float


def measure(lifters: Sequence[LifterTrials]) -> dict[str, Measured]:
    """Every model on every lifter."""
    chance = [np.random.default_rng([SEED, place]).random(_sets(lifter)) for place, lifter in enumerate(lifters)]
    begins = time.perf_counter()
    crowd = Crowd([fit_lifter(lifter, EQUATION) for lifter in lifters])
    # Rules are fitted together; each is told its share.
    share = (time.perf_counter() - begins) / len(RULES)
    found = {rule.name: _replayed(lifters, _rule(rule, crowd), chance, rule.equation, share) for rule in RULES}
    return found | {name: _replayed(lifters, make, chance) for name, make in PEERS.items()}


def _sets(lifter: LifterTrials) -> int:
    return sum(len(entry.trials) for session in lifter.sessions for entry in session.entries)


def _rule(rule: Rule, crowd: Crowd) -> Callable[[Sequence[LifterTrials], str], Sequence[Follower]]:
    return lambda lifters, equation: [RuleFollower(rule, crowd.without(i), equation) for i in range(len(lifters))]


def _replayed(
    lifters: Sequence[LifterTrials],
    make: Callable[[Sequence[LifterTrials], str], Sequence[Follower]],
    chance: Sequence[Floats],
    model_equation: str = "",
    shared_s: float = 0.0,
) -> Measured:
    begins = time.perf_counter()
    followers = make(lifters, EQUATION)
    foreseen = [
        foresee(lifter, follower, EQUATION, model_equation=model_equation)
        for lifter, follower in zip(lifters, followers, strict=True)
    ]
    seconds = shared_s + time.perf_counter() - begins
    return Measured([tally(f, c[: len(f.sets)]) for f, c in zip(foreseen, chance, strict=True)], seconds)


def table(lifters: Sequence[LifterTrials]) -> list[str]:
    """How many were measured, and the rows of a table, best log score first."""
    measured = measure(lifters)
    scores = summarise({name: m.tallied for name, m in measured.items()}, REFERENCE, np.random.default_rng(SEED))
    usual = measured[REFERENCE].seconds
    sessions = sum(len(lifter.sessions) for lifter in lifters)
    evidence = ", ".join(f"{told['sets']:,.0f} {name}" for name, told in scores[0].by_evidence.items())
    return [
        f"{len(lifters)} lifters, {sessions:,} sessions; sets scored: {evidence}. {REFERENCE}: {usual:.2f} s.",
        "",
        *HEAD,
        *(_row(model, measured[model.name].seconds / usual) for model in scores),
    ]


def _row(model: ModelScores, times: float) -> str:
    covers = [
        f"{100 * cover:.0f}" if cover is not None else "" for cover in (model.cover50, model.cover80, model.cover90)
    ]
    cells = [
        _with_interval(model, "log_score", model.log_score, 3),
        " / ".join(_by_evidence(model, kind) for kind in ("to-failure", "reserve", "attempt")),
        _with_interval(model, "log_score_over_repeat", model.log_score_over_repeat, 3),
        _with_interval(model, "mae_reps", model.mae_reps, 2),
        _with_interval(model, "bias_reps", model.bias_reps, 2),
        _with_interval(model, "crps_reps", model.crps_reps, 2),
        _with_interval(model, "mae_pct", model.mae_pct, 2),
        *covers,
        f"{times:.1f}",
    ]
    return f"| {model.name} | {' | '.join(cells)} |"


def _by_evidence(model: ModelScores, kind: str) -> str:
    return f"{model.by_evidence[kind]['log_score']:.2f}" if kind in model.by_evidence else "-"


def _with_interval(model: ModelScores, score: str, value: float | None, digits: int) -> str:
    if value is None:
        return ""
    told = f"{value:.{digits}f}"
    if score not in model.intervals:
        return told
    low, high = model.intervals[score]
    return f"{told} ({low:.{digits}f} to {high:.{digits}f})"


def tables(count: int) -> Iterator[str]:
    """All clubs, each under its name."""
    for name, club in CLUBS.items():
        yield "\n".join([f"## {name}", "", *table(club(count)), ""])


def main() -> None:
    """Print the tables, or write them down."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--lifters", type=int, default=LIFTERS, help="simulated lifters in each club")
    parser.add_argument("--write", action="store_true", help="into docs/evidence/backtest.md")
    asked = parser.parse_args()
    begins = time.perf_counter()
    # One thread: on small tables more of them cost more than they bring.
    found = []
    with threadpool_limits(1):
        for one in tables(asked.lifters):
            print(one, flush=True)
            found.append(one)
    took = time.perf_counter() - begins
    print(f"{took:.0f} s in all")
    if asked.write:
        page = _page("\n".join(found), asked.lifters, took)
        (ROOT / "docs/evidence/backtest.md").write_text(page, encoding="utf-8")


def _page(found: str, count: int, took: float) -> str:
    revision = ["git", "rev-parse", "--short", "HEAD"]
    commit = subprocess.run(revision, cwd=ROOT, capture_output=True, text=True, check=True)
    machine = f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}"
    return (
        "# Backtest: light rules beside heavy peers\n\n"
        f"Written by `python -m benchmarks.backtest --lifters {count} --write` on {datetime.now(UTC):%Y-%m-%d}, "
        f"commit {commit.stdout.strip()}, {machine}; {took:.0f} s in all.\n\n{WHY}\n{found}"
    )


if __name__ == "__main__":
    main()
