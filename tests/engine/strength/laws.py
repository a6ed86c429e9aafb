"""Laws of latent strength on many generated logs: `python -m tests.engine.strength.laws N [--write]`.

Each log goes through all of them; with --write the counts go into docs/evidence with day and commit. What slips cost
is measured beside it on simulated lifters.
"""

import argparse
import random
import subprocess
from datetime import UTC, datetime
from pathlib import Path
from time import process_time

from steelyard.engine.simulation.simulate import BodyName

from .expectations import expect
from .jumps import told as told_of_jumps
from .learners import after
from .odd_logs import odd_lifter
from .sameness import change_nothing
from .single_sets import UNDER, one_more
from .slips import BODIES, simulated_trials, slip_cost
from .slips import told as told_of_slips
from .soundness import watched
from .tally import Tally

REPOSITORY = Path(__file__).parents[3]
EVIDENCE = REPOSITORY / "docs/evidence/strength_laws.md"
SESSIONS = 7
HEAD = """# Laws of latent strength

Written by `python -m tests.engine.strength.laws {many} --lifters {lifters} --write` on {day},
commit {commit}; {seconds:.0f} s of one processor.

"""
ABOUT = """{many} generated logs (seeds 0 to {last}) of up to {sessions} sessions: a seventh each plain, with absurd
loads and counts (0.1 kg, 10,000 kg, 60 repetitions), with one load for ever, ten times heavier every second session,
all on one day, years between, and with nothing but misses. Each goes through the laws, every fourth also through those
of replays. "Ways known": steepness of the curve, telling of reserves and tiring are known, only strength is learned.
Where they are learned too, more repetitions than expected at a light load may speak for a flatter curve and not for
more strength. What is only measured need not hold. Of it "simulated" are {lifters} simulated trained
lifters a body with 26 weeks of training. In one log of a thousand a chance to complete rises with the repetitions: far
from what is trained, doubt grows faster than what is expected falls.
"""
SLIPS = """## Slips of the pen

Twice as many lifters, 2 % of their sets written down wrongly (ten times, a tenth, pounds and kilograms taken for each
other, another exercise): how far today's 1RM is off (root mean square, ln), from an exercise's fourth session on. The
target is a loss under 10 %. One lifter whose first slips in an exercise agree with each other can cost more than all
others together.
"""


def put_to_the_laws(seed: int, tally: Tally, sessions: int = SESSIONS) -> None:
    """One log through all of them; what takes several replays every fourth time, or a third of it each time."""
    chance = random.Random(seed)
    lifter = odd_lifter(seed, chance.randint(1, sessions))
    posterior = watched(lifter, tally)
    if seed % 4 == 0:
        change_nothing(lifter, posterior, chance, tally)
    key = chance.choice(list(posterior.places))
    expect(posterior, key, lifter.sessions[-1].on, lifter.name, chance, tally)
    one_more(lifter, chance, tally, (chance.choice(list(UNDER)),))


def of_the_simulated(body: BodyName, seed: int, tally: Tally) -> None:
    """A simulated lifter, as people train, through what must change nothing and what one more set does."""
    lifter, chance = simulated_trials(body, seed), random.Random(seed)
    change_nothing(lifter, after(lifter), chance, tally)
    one_more(lifter, chance, tally)


def told(tally: Tally) -> list[str]:
    """Two tables: laws, and what is only measured."""
    lines = ["## Laws", "", "| law | cases | broken | furthest | in log |", "|---|---|---|---|---|"]
    lines += [_row(tally, law) for law in tally.cases if law not in tally.measured]
    lines += ["", "## Measured", "", "| what | cases | above 0 | furthest | in log |", "|---|---|---|---|---|"]
    return [*lines, *(_row(tally, what) for what in sorted(tally.measured)), ""]


def _row(tally: Tally, law: str) -> str:
    worst, cases, broken = tally.worst[law], tally.cases[law], tally.broken[law]
    share = f" ({broken / cases:.2%})" if law in tally.measured and broken else ""
    furthest = f"{worst.excess:.2g} | {worst.where}" if broken else "|"
    return f"| {law} | {cases} | {broken}{share} | {furthest} |"


def commit() -> str:
    """The commit that this was made from, and whether the files differ from it."""
    revision = ["git", "rev-parse", "--short", "HEAD"]
    known = subprocess.run(revision, cwd=REPOSITORY, capture_output=True, text=True, check=True).stdout.strip()
    changed = ["git", "status", "--porcelain", "src/steelyard/engine", "tests/engine/strength"]
    is_changed = subprocess.run(changed, cwd=REPOSITORY, capture_output=True, text=True, check=True).stdout
    return f"{known} and uncommitted changes" if is_changed else known


def main() -> int:
    """Print it; 1 where a law broke."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("many", type=int, nargs="?", default=200)
    asked.add_argument("--lifters", type=int, default=10, help="simulated lifters a body, for slips and jumps")
    asked.add_argument("--write", action="store_true", help=f"write {EVIDENCE.relative_to(REPOSITORY)}")
    given = asked.parse_args()
    tally, began, made_from = Tally(), process_time(), commit()
    for seed in range(given.many):
        put_to_the_laws(seed, tally)
    for body in BODIES:
        for seed in range(given.lifters):
            of_the_simulated(body, seed, tally)
    slips = told_of_slips({body: slip_cost(body, range(2 * given.lifters)) for body in BODIES})
    jumps = told_of_jumps(range(given.lifters))
    about = ABOUT.format(many=given.many, last=given.many - 1, sessions=SESSIONS, lifters=given.lifters)
    lines = [about, *told(tally), SLIPS, *slips, "", "## A jump, and a first set that was a slip", "", *jumps]
    print("\n".join(lines))
    if given.write:
        day = datetime.now(UTC).date().isoformat()
        seconds = process_time() - began
        head = HEAD.format(many=given.many, lifters=given.lifters, day=day, commit=made_from, seconds=seconds)
        EVIDENCE.write_text(head + "\n".join(lines).rstrip() + "\n", encoding="utf-8")
    return 1 if tally.breaches else 0


if __name__ == "__main__":
    raise SystemExit(main())
