"""One rule following one lifter: it foresees a session, then sees it, and learns how wrong it usually is."""

from bisect import bisect_right
from math import inf, log, sqrt

from .models import Asked
from .population import ORDERS, PRIOR_SESSIONS, PRIOR_SETS, USUAL_OFFSETS, USUAL_SPREAD, Population, Tally, order_index
from .rules import Past, Rule
from .sessions import SessionLevel, session_level
from .strengths import Forecast, ln_ratios
from .trials import ExerciseEntry, TrialSession

# An error of more than so many spreads is taken as so many: a slip of the pen is no measure of a rule.
CLIP = 3.0


class RuleFollower:
    """A rule with what it has seen of one lifter; errors and offsets are pooled over the lifter's exercises."""

    def __init__(self, rule: Rule, population: Population, asked_equation: str) -> None:
        self.rule = rule
        self.equation = rule.equation or asked_equation
        self._asked_equation = asked_equation
        self._population = population
        self._spread = population.spreads.get(rule.name, USUAL_SPREAD)
        self._usual_offsets = population.offsets.get(self.equation, USUAL_OFFSETS)
        self._pasts: dict[tuple[str, str], Past] = {}
        self._patterns: dict[tuple[str, str], tuple[float, ...]] = {}
        self._foreseen: dict[tuple[str, str], Forecast] = {}
        self._singles: set[tuple[str, str]] = set()
        self.best_count, self.best_squares = 0, 0.0
        self.set_count, self.set_squares = 0, 0.0
        self.offset_counts, self.offset_sums = [0] * ORDERS, [0.0] * ORDERS

    def forecast(self, asked: Asked) -> Forecast | None:
        """What is foreseen of a session; None for an exercise never seen."""
        found = self._foresee(asked.key, asked.day, len(asked.loads_kg))
        if found is None:
            return None
        self._foreseen[asked.key] = found
        return self._as_asked(found, asked)

    def learn(self, session: TrialSession) -> None:
        """See a session that is over."""
        day = session.on.toordinal()
        for entry in session.entries:
            level = session_level(entry, self.equation)
            foreseen = self._foreseen.pop(entry.key, None) or self._foresee(entry.key, day, len(entry.trials))
            if foreseen is not None and level.told == "measured":
                self._count_errors(level, foreseen)
            if level.told == "measured":
                self._count_offsets(entry, level)
            self._keep(entry, level, day)
            (self._singles.add if level.is_single else self._singles.discard)(entry.key)

    def tallies(self) -> tuple[Tally, Tally, tuple[Tally, ...]]:
        """Squared errors of sessions and of sets, and offsets by order."""
        offsets = (Tally(n, s) for n, s in zip(self.offset_counts, self.offset_sums, strict=True))
        return Tally(self.best_count, self.best_squares), Tally(self.set_count, self.set_squares), tuple(offsets)

    def past_of(self, key: tuple[str, str]) -> Past | None:
        """The sessions of an exercise as the rule took them."""
        return self._pasts.get(key)

    def _foresee(self, key: tuple[str, str], day: int, count: int) -> Forecast | None:
        past = self._pasts.get(key)
        if past is None:
            return None
        best = self.rule.level(past, day, self._population)
        return Forecast(
            sets=tuple(best + self._offset(key, order) for order in range(1, count + 1)),
            spread=_root_mean(self.set_squares, self.set_count, self._spread.sets, PRIOR_SETS),
            best=best,
            best_spread=_root_mean(self.best_squares, self.best_count, self._spread.best, PRIOR_SESSIONS),
        )

    def _offset(self, key: tuple[str, str], order: int) -> float:
        pattern = self._patterns.get(key) if self.rule.is_repeat else None
        if pattern:
            return pattern[min(order, len(pattern)) - 1]
        index = order_index(order)
        prior = self._usual_offsets[index] * PRIOR_SETS
        return (prior + self.offset_sums[index]) / (PRIOR_SETS + self.offset_counts[index])

    def _as_asked(self, found: Forecast, asked: Asked) -> Forecast:
        """The session's best in terms of the equation that was asked for, at the middle load of the session."""
        if self.equation == self._asked_equation or asked.key in self._singles:
            return found
        load = log(sorted(asked.loads_kg)[len(asked.loads_kg) // 2])
        best = load + _translated(found.best - load, self.equation, self._asked_equation)
        return Forecast(found.sets, found.spread, best, found.best_spread)

    def _count_errors(self, level: SessionLevel, foreseen: Forecast) -> None:
        self.best_squares += _clipped(level.ln_kg - foreseen.best, self._spread.best)
        self.best_count += 1
        for seen, expected in zip(level.sets, foreseen.sets, strict=True):
            if seen is not None:
                self.set_squares += _clipped(seen - expected, self._spread.sets)
                self.set_count += 1

    def _count_offsets(self, entry: ExerciseEntry, level: SessionLevel) -> None:
        pattern: list[float] = []
        for trial, seen in zip(entry.trials, level.sets, strict=True):
            if seen is not None:
                index = order_index(trial.order)
                self.offset_counts[index] += 1
                self.offset_sums[index] += seen - level.ln_kg
                pattern.append(seen - level.ln_kg)
            else:
                pattern.append(pattern[-1] if pattern else 0.0)
        self._patterns[entry.key] = tuple(pattern)

    def _keep(self, entry: ExerciseEntry, level: SessionLevel, day: int) -> None:
        """A bound that does not raise what was known tells nothing, nor a miss that does not lower it."""
        past = self._pasts.setdefault(entry.key, Past())
        known = past.levels[-1] if past.levels else None
        if known is not None and level.told == "at-least" and level.ln_kg <= known:
            return
        if known is not None and level.told == "below" and level.ln_kg >= known:
            return
        past.days.append(day)
        past.levels.append(level.ln_kg)


def _clipped(error: float, spread: float) -> float:
    return float(min(abs(error), CLIP * spread) ** 2)


def _root_mean(squares: float, count: int, prior: float, weight: int) -> float:
    return sqrt((prior**2 * weight + squares) / (weight + count))


def _translated(ratio: float, own: str, other: str) -> float:
    """ln(1RM / load) of one equation as another would have it for the same repetitions; straight between whole ones."""
    if ratio <= 0:
        return ratio
    mine, theirs = ln_ratios(own)[1:], ln_ratios(other)[1:]
    upper = bisect_right(mine, ratio)
    if upper >= len(mine) or mine[upper] == inf or theirs[upper] == inf:
        return ratio
    lower = upper - 1
    share = (ratio - mine[lower]) / (mine[upper] - mine[lower])
    return theirs[lower] + share * (theirs[upper] - theirs[lower])
