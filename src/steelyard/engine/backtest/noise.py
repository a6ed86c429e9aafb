"""How noisy a lifter is: how far one session's best scatters, against what a week brings."""

from itertools import pairwise
from math import exp, sqrt
from statistics import median

from msgspec import Struct

from .sessions import session_level
from .trials import LifterTrials

# Sessions further apart differ by more than noise.
NEAR_DAYS = 14
LEAST_CHANGES, LEAST_SESSIONS, LEAST_DAYS = 8, 6, 28
# The median absolute deviation of a normal distribution is this share of its standard deviation.
NORMAL_MEDIAN = 0.6745


class Noise(Struct, frozen=True, kw_only=True):
    """Scatter of one session's best 1RM and its usual gain a week, both in percent; None where too little is known."""

    scatter_pct: float | None
    gain_pct_per_week: float | None


def lifter_noise(lifter: LifterTrials, equation: str) -> Noise:
    """From sessions whose best is measured, all exercises together, robust against slips of the pen."""
    series: dict[tuple[str, str], list[tuple[int, float]]] = {}
    for session in lifter.sessions:
        for entry in session.entries:
            level = session_level(entry, equation)
            if level.told == "measured":
                series.setdefault(entry.key, []).append((session.on.toordinal(), level.ln_kg))
    changes = [
        later - earlier
        for sessions in series.values()
        for (before, earlier), (day, later) in pairwise(sessions)
        if day - before <= NEAR_DAYS
    ]
    slopes = [slope for sessions in series.values() for slope in _slopes(sessions)]
    return Noise(scatter_pct=_scatter(changes), gain_pct_per_week=_gain(slopes))


def _scatter(changes: list[float]) -> float | None:
    """A change between two sessions holds the noise of both."""
    if len(changes) < LEAST_CHANGES:
        return None
    middle = median(changes)
    return 100 * (exp(median(abs(c - middle) for c in changes) / NORMAL_MEDIAN / sqrt(2)) - 1)


def _slopes(sessions: list[tuple[int, float]]) -> list[float]:
    """Slopes (ln a week) between sessions half the series apart: a median of them is not moved by single days."""
    if len(sessions) < LEAST_SESSIONS or sessions[-1][0] - sessions[0][0] < LEAST_DAYS:
        return []
    half = len(sessions) // 2
    pairs = zip(sessions, sessions[half:], strict=False)
    return [(later - earlier) / (day - before) * 7 for (before, earlier), (day, later) in pairs if day > before]


def _gain(slopes: list[float]) -> float | None:
    return 100 * (exp(median(slopes)) - 1) if slopes else None
