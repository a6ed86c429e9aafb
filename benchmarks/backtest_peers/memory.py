"""What a lifter's past tells of the next session, as numbers for a learner; of the session itself only its loads."""

from collections import deque
from collections.abc import Sequence
from itertools import pairwise
from math import log, log1p, nan, sqrt

import numpy as np

from steelyard.engine.arrays import Floats
from steelyard.engine.backtest.models import Asked, LineKey
from steelyard.engine.backtest.sessions import session_level
from steelyard.engine.backtest.trials import TrialSession

from .line_memory import LineMemory

# Far from every number that occurs, so that a tree can tell it apart; and the category of what no catalogue holds.
UNKNOWN, OWN_EXERCISE = -9.0, 254
OF_LINE = (
    "sessions",
    "days_since",
    "days_since_begun",
    "last",
    "last_but_one",
    "last_but_two",
    "best_of_three",
    "slow_mean",
    "mean_of_eight",
    "slope",
    "line_through_eight",
    "roughness",
    "last_is_measured",
    "share_measured",
    "last_was_attempt",
    "last_load",
    "last_sets",
    "last_reps_of_its_first_set",
    "last_reps_of_its_last_set",
    "last_reserve",
    "heaviest_made",
    "lightest_missed",
    "usual_error",
    "days_since_any",
    "sessions_of_all",
    "sessions_in_four_weeks",
    "form_elsewhere",
    "usual_error_of_all",
    "pattern",
    "exercise",
)
OF_SET = (
    "order",
    "sets_asked",
    "load",
    "load_beside_heaviest",
    "load_beside_last_time",
    "set_before",
    "set_before_is_measured",
    "reps_before",
    "same_load",
    "days_since_same_load",
    "same_load_is_measured",
    "is_best",
)
COLUMNS = OF_LINE + OF_SET
CATEGORIES = ("pattern", "exercise")
LOAD = COLUMNS.index("load")
IS_BEST = COLUMNS.index("is_best")


class LifterMemory:
    """All that is known of one lifter; strengths are told as differences (ln) from the exercise's running mean."""

    def __init__(self, codes: dict[str, int], patterns: dict[str, int], equation: str) -> None:
        self._codes, self._patterns, self._equation = codes, patterns, equation
        self._lines: dict[LineKey, LineMemory] = {}
        self._days: list[int] = []
        self._form: deque[tuple[int, LineKey, float]] = deque(maxlen=12)
        self._errors, self._error_count = 0.0, 0

    def line(self, key: LineKey) -> LineMemory | None:
        """What is known of one exercise."""
        return self._lines.get(key)

    def see(self, session: TrialSession) -> None:
        """Take in a session that is over."""
        day = session.on.toordinal()
        for entry in session.entries:
            line = self._lines.setdefault(entry.key, LineMemory(day))
            apart = line.keep(day, session_level(entry, self._equation), entry, self._equation)
            self._form.append((day, entry.key, apart))
            self._errors += min(abs(apart), 0.3)
            self._error_count += 1
        self._days.append(day)

    def rows(self, asked: Asked) -> Floats:
        """One row a set, and a last one for the session's best."""
        line = self._lines[asked.key]
        common = self._of_line(line, asked)
        loads = [log(load) for load in asked.loads_kg]
        middle = sorted(loads)[len(loads) // 2]
        sets = [_of_set(line, asked.day, loads, order) for order in range(1, len(loads) + 1)]
        best = [0.0, len(loads), middle - line.reference, middle - max(loads), *([nan] * 7), 1.0]
        return np.asarray(np.nan_to_num(np.array([[*common, *row] for row in [*sets, best]]), nan=UNKNOWN))

    def _of_line(self, line: LineMemory, asked: Asked) -> list[float]:
        levels, day = list(line.levels), asked.day
        slope, at = _line_through(list(line.days), levels, day)
        away = [level - line.reference for level in levels]
        steps = [b - a for a, b in pairwise(away)]
        return [
            log1p(line.sessions),
            min(day - line.days[-1], 200),
            log1p(day - line.begun),
            away[-1],
            away[-2] if len(away) > 1 else nan,
            away[-3] if len(away) > 2 else nan,
            max(away[-3:]),
            line.slow - line.reference,
            sum(away) / len(away),
            slope,
            at - line.reference,
            sqrt(sum(s * s for s in steps) / len(steps)) if steps else nan,
            float(line.measured[-1]),
            sum(line.measured) / len(line.measured),
            float(line.was_attempt),
            max(s.ln_load for s in line.last) - line.reference,
            len(line.last),
            line.last[0].reps,
            line.last[-1].reps,
            line.reserve,
            line.heaviest_made - line.reference,
            line.lightest_missed - line.reference,
            line.errors / line.error_count,
            *self._of_lifter(asked),
        ]

    def _of_lifter(self, asked: Asked) -> list[float]:
        day = asked.day
        elsewhere = [apart for on, key, apart in self._form if key != asked.key and day - on <= 14]
        return [
            min(day - self._days[-1], 200),
            log1p(len(self._days)),
            sum(day - on <= 28 for on in self._days[-40:]),
            float(np.clip(np.mean(elsewhere), -0.2, 0.2)) if elsewhere else nan,
            self._errors / self._error_count,
            self._patterns.get(asked.key[0], OWN_EXERCISE),
            self._codes.get(asked.key[0], OWN_EXERCISE),
        ]


def _of_set(line: LineMemory, day: int, loads: Sequence[float], order: int) -> list[float]:
    load, reference = loads[order - 1], line.reference
    before = line.last[min(order, len(line.last)) - 1]
    same = line.near(load)
    return [
        order,
        len(loads),
        load - reference,
        load - max(loads),
        load - before.ln_load,
        before.strength - reference,
        float(before.is_measured),
        before.reps,
        same.strength - reference if same else nan,
        min(day - same.day, 200) if same else nan,
        float(same.is_measured) if same else nan,
        0.0,
    ]


def _line_through(days: Sequence[int], levels: Sequence[float], day: int) -> tuple[float, float]:
    """Slope (ln a week) of a straight line through these sessions, and where it is today."""
    middle, level = sum(days) / len(days), sum(levels) / len(levels)
    spread = sum((d - middle) ** 2 for d in days)
    if len(days) < 3 or spread == 0:
        return 0.0, levels[-1]
    slope = sum((d - middle) * (v - level) for d, v in zip(days, levels, strict=True)) / spread
    return 7 * slope, level + slope * min(day - middle, 2 * (days[-1] - days[0]))
