"""A lighter session: the total of work sets falls by the policy's share, the load a little, the exercises stay.

The share is borrowed from taper studies (Bosquet et al. 2007: 41-60 %); practice in Rogerson et al. 2024. No trial
has shown a gain from deloads in strength or size (Coleman et al. 2024; Pancar et al. 2026).
"""

from decimal import Decimal

from .line import Line
from .proposal import Proposal
from .reasons import DeloadTaken


def allot_sets(usual: tuple[int, ...], cut: Decimal) -> tuple[int, ...]:
    """How many sets each line keeps: at least one, the total nearest to what the cut leaves, earlier lines first."""
    total = sum(usual)
    goal = max(len(usual), int((total * (1 - cut)).to_integral_value()))
    kept = [1] * len(usual)
    while sum(kept) < goal:
        # The line that is furthest below its share takes the next set; of equals the earlier one.
        shares = [(kept[i] / usual[i], i) for i in range(len(usual)) if kept[i] < usual[i]]
        if not shares:
            break
        kept[min(shares)[1]] += 1
    return tuple(kept)


def deload_proposal(line: Line, sets: int) -> Proposal:
    """One line of a deload."""
    policy = line.policy
    reason = DeloadTaken(set_cut=policy.deload_set_cut, load_cut=policy.deload_load_cut, evidence=line.latest.evidence)
    return Proposal(
        course="deload",
        total=line.total * (1 - policy.deload_load_cut),
        count=min(max(line.count, line.range.bottom), line.range.top),
        sets=min(sets, line.usual_sets),
        rir=max(policy.return_rir, policy.target_rir),
        reasons=(reason,),
    )
