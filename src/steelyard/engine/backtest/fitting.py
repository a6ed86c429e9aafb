"""What one lifter adds to the settings of all others: every rule followed once through the whole log."""

from .following import RuleFollower
from .population import GAPS, USUAL, WEIGHTS, LifterFit, Tally, gap_index
from .rules import RULES, Past, last
from .trials import LifterTrials


def fit_lifter(lifter: LifterTrials, equation: str) -> LifterFit:
    """The sums of one lifter under the usual settings."""
    followers = [RuleFollower(rule, USUAL, equation) for rule in RULES]
    for session in lifter.sessions:
        for follower in followers:
            follower.learn(session)
    best: dict[str, Tally] = {}
    sets: dict[str, Tally] = {}
    offsets: dict[str, tuple[Tally, ...]] = {}
    for follower in followers:
        best[follower.rule.name], sets[follower.rule.name], offsets[follower.equation] = follower.tallies()
    pasts = _pasts(lifter, next(f for f in followers if f.rule.level is last and f.equation == equation))
    return LifterFit(best=best, sets=sets, offsets=offsets, weights=_weights(pasts), gains=_gains(pasts))


def _pasts(lifter: LifterTrials, follower: RuleFollower) -> list[Past]:
    keys = dict.fromkeys(entry.key for session in lifter.sessions for entry in session.entries)
    found = (follower.past_of(key) for key in keys)
    return [past for past in found if past is not None]


def _weights(pasts: list[Past]) -> tuple[float, ...]:
    """Absolute one-step errors (ln) of the weighted mean under each weight."""
    errors = []
    for weight in WEIGHTS:
        total = 0.0
        for past in pasts:
            level = past.levels[0]
            for newer in past.levels[1:]:
                total += abs(newer - level)
                level += weight * (newer - level)
        errors.append(total)
    return tuple(errors)


def _gains(pasts: list[Past]) -> tuple[tuple[float, ...], ...]:
    gains: list[list[float]] = [[] for _ in range(len(GAPS) + 1)]
    for past in pasts:
        for i in range(1, len(past.days)):
            gap = past.days[i] - past.days[i - 1]
            gains[gap_index(gap)].append(past.levels[i] - past.levels[i - 1])
    return tuple(tuple(g) for g in gains)
