"""How many repetitions a share of the 1RM allows, in one simulated person."""

from bisect import bisect_right
from math import exp, log

# Nuzzo et al. 2024, Sports Med 54(2):303-321, general table: mean repetitions at these shares of the 1RM. A whole
# number of repetitions is what is left of a broken one, half a repetition less on average: so half a one is added. At
# the 1RM itself one repetition is just possible; straight between the rows (our judgement).
_ROWS = ((0.60, 20.03), (0.65, 17.61), (0.70, 15.30), (0.75, 12.87), (0.80, 10.25), (0.85, 7.65), (0.90, 5.44))
_SHARES = (*(share for share, _ in _ROWS), 1.0)
_REPETITIONS = (*(repetitions for _, repetitions in _ROWS), 1.0)
# Below 60 %: as steep as between 60 and 65 % (our judgement; nothing is published for light loads in that table).
_LIGHTER = 2.57


def broken_repetitions(share: float, endurance: float) -> float:
    """Repetitions (with a fraction) at this share of the 1RM; below 1 the load cannot be lifted."""
    if share >= 1.0:
        return 1.0 + (1.0 - share) * 44.4  # as steep as just below the 1RM
    if share < _SHARES[0]:
        mean = _REPETITIONS[0] * exp(_LIGHTER * (_SHARES[0] - share))
    else:
        above = bisect_right(_SHARES, share)
        low, high = _SHARES[above - 1], _SHARES[above]
        part = (share - low) / (high - low)
        mean = _REPETITIONS[above - 1] + part * (_REPETITIONS[above] - _REPETITIONS[above - 1])
    return 1.0 + (mean - 1.0) * exp(_unlike(share) * log(endurance))


def _unlike(share: float) -> float:
    """How much people differ at this share, beside 80 %: more near the 1RM, as the between-person SD of that table."""
    return max(0.8, min(1.3, 1.0 + 3.0 * (share - 0.8) if share > 0.8 else 1.0 + 1.5 * (share - 0.8)))
