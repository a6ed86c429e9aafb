"""What slips of the pen cost: simulated lifters, two sets in a hundred corrupted, against the same logs as they were.

`python -m tests.engine.strength.slips` prints it. How far the 1RM of today is off (ln, root mean square over sessions)
is held against the simulation's own truth, which no log holds.
"""

import random
import sys
from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from math import inf, log, sqrt
from typing import Literal
from unittest.mock import patch

from msgspec import Struct, structs
from numpy.random import default_rng

from steelyard.engine.backtest.trials import LifterTrials
from steelyard.engine.history import LineKey
from steelyard.engine.log import SetBody
from steelyard.engine.quantities import HEAVIEST, KG_PER_LB, Load, plain
from steelyard.engine.simulation.simulate import BodyName, simulate
from steelyard.engine.simulation.values import Simulated
from steelyard.engine.strength import updates
from steelyard.engine.strength.learning import learn_session
from steelyard.engine.strength.outlook import level_of

from .learners import beginning, trials_of

BODIES: tuple[BodyName, ...] = ("by-dose", "by-drift")
SHARE = 0.02
BEGINS = date(2026, 1, 5)
WEEKS = 26
# Nobody knows a lifter after a session or two.
FROM_SESSION = 4
SlipKind = Literal["exercise", "ten times", "a tenth", "pounds for kg", "kg for pounds"]
SLIP_KINDS: tuple[SlipKind, ...] = ("exercise", "ten times", "a tenth", "pounds for kg", "kg for pounds")
Off = dict[tuple[date, LineKey], float]


class SlipCost(Struct, frozen=True):
    """Root mean square error (ln) of today's 1RM, of a number of levels, of a number of slips."""

    clean: float
    slipped: float
    careless: float
    levels: int
    slips: int

    @property
    def loss(self) -> float:
        """How much of the accuracy the slips cost, as a share."""
        return self.slipped / self.clean - 1

    @property
    def careless_loss(self) -> float:
        """The same where nothing is ever held for a slip: what there was to lose."""
        return self.careless / self.clean - 1


def simulated_trials(body: BodyName, seed: int, weeks: int = WEEKS) -> LifterTrials:
    """A simulated lifter's log, without a slip."""
    drawn = simulate("trained", default_rng(seed), name="", begins=BEGINS, weeks=weeks, body=body, slip_rate=0.0)
    return trials_of([*drawn.check_ins, *drawn.sets], f"{seed} {body} simulated")


def slip_cost(body: BodyName, seeds: Sequence[int], weeks: int = WEEKS) -> SlipCost:
    """Lifters of these seeds, trained for so many weeks."""
    squares, levels, slips = [0.0, 0.0, 0.0], 0, 0
    for seed in seeds:
        simulated = simulate(
            "trained", default_rng(seed), name=f"{seed}", begins=BEGINS, weeks=weeks, body=body, slip_rate=0.0
        )
        corrupted, many = with_slips(simulated.sets, random.Random(seed))
        clean, slipped = (_off(simulated, sets) for sets in (simulated.sets, corrupted))
        with patch.object(updates, "ODD", inf):
            careless = _off(simulated, corrupted)
        both = clean.keys() & slipped.keys()
        for place, off in enumerate((clean, slipped, careless)):
            squares[place] += sum(off[at] ** 2 for at in both)
        levels, slips = levels + len(both), slips + many
    clean_off, slipped_off, careless_off = (sqrt(s / levels) for s in squares)
    return SlipCost(clean_off, slipped_off, careless_off, levels, slips)


def with_slips(sets: Sequence[SetBody], chance: random.Random, share: float = SHARE) -> tuple[list[SetBody], int]:
    """The same sets with a share of them written down wrongly, and how many these are."""
    used = sorted({body.exercise for body in sets})
    found = [slipped(body, used, chance) if chance.random() < share else body for body in sets]
    return found, sum(now != was for now, was in zip(found, sets, strict=True))


def slipped(body: SetBody, used: Sequence[str], chance: random.Random, kind: SlipKind | None = None) -> SetBody:
    """One slip: of this kind, or of any that the set can have; the same set where it can have none."""
    kinds = [kind] if kind else ["exercise", *(SLIP_KINDS[1:] if body.load else ())]
    others = [exercise for exercise in used if exercise != body.exercise]
    chosen = chance.choice(kinds)
    if chosen == "exercise":
        return structs.replace(body, exercise=chance.choice(others)) if others else body
    if body.load is None:
        return body
    kg = body.load.value
    by_kind = {
        "ten times": Load(kg * 10) if kg * 10 <= HEAVIEST else body.load,
        "a tenth": Load(kg / 10),
        "pounds for kg": Load(plain((kg / KG_PER_LB).quantize(Decimal("0.1")))) if kg < 900 else body.load,
        "kg for pounds": Load(kg, "lb"),
    }
    return structs.replace(body, load=by_kind[chosen])


def _off(simulated: Simulated, sets: Sequence[SetBody]) -> Off:
    """ln of today's 1RM as it is believed after the session over what is true, from the fourth session on."""
    true = {(on, code): kg for code, levels in simulated.levels.items() for on, kg in levels}
    lifter: LifterTrials = trials_of([*simulated.check_ins, *sets])
    posterior, found = beginning(), Off()
    for session in lifter.sessions:
        learn_session(posterior, session)
        for entry in session.entries:
            known = true.get((session.on, entry.key[0]))
            if known is not None and posterior.seen[entry.key] >= FROM_SESSION:
                found[session.on, entry.key] = log(level_of(posterior, entry.key).kg / known)
    return found


def told(costs: dict[BodyName, SlipCost]) -> list[str]:
    """A table with a row a body."""
    return [
        "| body | levels | slips | off, as it was | off, with slips | loss | loss were none held odd |",
        "|---|---|---|---|---|---|---|",
        *(
            f"| {body} | {cost.levels} | {cost.slips} | {cost.clean:.2%} | {cost.slipped:.2%} | {cost.loss:+.1%} "
            f"| {cost.careless_loss:+.0%} |"
            for body, cost in costs.items()
        ),
    ]


def main() -> None:
    """Print it, for as many lifters a body as asked for."""
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 12
    print("\n".join(told({body: slip_cost(body, range(many)) for body in BODIES})))


if __name__ == "__main__":
    main()
