"""Sums of one model on one lifter, against each set scored on its own."""

import random
from datetime import date, timedelta
from math import log

import numpy as np
import pytest

from steelyard.engine.arrays import Floats
from steelyard.engine.backtest.following import RuleFollower
from steelyard.engine.backtest.population import USUAL
from steelyard.engine.backtest.replaying import Foreseen, foresee
from steelyard.engine.backtest.rules import RULES
from steelyard.engine.backtest.scores import crps, log_score
from steelyard.engine.backtest.strengths import strength_transform
from steelyard.engine.backtest.summing import summarise
from steelyard.engine.backtest.tallying import LEAST_PROBABILITY, OF_SETS, RANKED, tally

from .trial_builders import any_lifter, lifter_of, session_on, trial


def tallied_slowly(foreseen: Foreseen, chance: Floats) -> tuple[dict[tuple[str, str], list[float]], dict[str, float]]:
    """Each set on its own: sums of sets by month and evidence, and the whole of bests and bounds."""
    sums: dict[tuple[str, str], list[float]] = {}
    whole = {"bests": 0.0, "off": 0.0, "within": 0.0, "bounds": 0.0, "bounds_log": 0.0, "broken": 0.0}
    for n, found in enumerate(foreseen.sets):
        row = [float(p) for p in foreseen.cdf[n]]
        seen, most = found.trial.possible, found.trial.told_up_to
        one = (foreseen.cdf[n : n + 1], np.array([seen]), np.array([most]))
        logarithm = max(float(log_score(*one)[0]), log(LEAST_PROBABILITY))
        under = row[seen - 1] if seen else 0.0
        if found.trial.evidence == "bound":
            whole["bounds"] += 1
            whole["bounds_log"] += logarithm
            whole["broken"] += under > 0.9
            continue
        middle = min(next(count for count, p in enumerate(row) if p >= 0.5), most)
        step = (1.0 if seen == most else row[seen]) - under
        off = abs(under + float(chance[n]) * step - 0.5)
        scores = [1, abs(middle - seen), middle - seen, logarithm, float(crps(*one)[0])]
        scores += [off < 0.25, off < 0.4, off < 0.45]
        known = sums.setdefault((f"{found.on:%Y-%m}", found.trial.evidence), [0.0] * len(OF_SETS))
        for place, score in enumerate(scores):
            known[place] += score
    for best in foreseen.bests:
        if best.actual is not None:
            whole["bests"] += 1
            whole["off"] += abs(np.exp(best.foreseen) / np.exp(best.actual) - 1)
            transformed = strength_transform(*(np.array([x]) for x in (best.actual, best.foreseen, best.spread)))
            whole["within"] += 0.1 < float(transformed[0]) < 0.9
    return sums, whole


@pytest.mark.parametrize("seed", range(6))
def test_sums_by_month_and_evidence_are_those_worked_out_slowly(seed: int) -> None:
    lifter = any_lifter(random.Random(seed), 30)
    rule = RULES[seed]
    foreseen = foresee(lifter, RuleFollower(rule, USUAL, "epley"), "epley", model_equation=rule.equation)
    chance = np.random.default_rng(seed).random(len(foreseen.sets))
    found = tally(foreseen, chance)
    sums, whole = tallied_slowly(foreseen, chance)
    for month, rows in zip(found.months, found.sets, strict=True):
        for evidence, row in zip(RANKED, rows, strict=True):
            assert row == pytest.approx(sums.pop((month, evidence), [0.0] * len(OF_SETS)))
    assert sums == {}
    bests, bounds = np.sum(found.bests, axis=0), np.sum(found.bounds, axis=0)
    assert bests[[0, 1, 3]] == pytest.approx([whole["bests"], whole["off"], whole["within"]])
    assert bounds == pytest.approx([whole["bounds"], whole["bounds_log"], whole["broken"]])


def test_the_impossible_that_happened_costs_much_and_not_without_end() -> None:
    lifter = lifter_of(*(session_on(3 * n, trial(100, 5)) for n in range(4)))
    honest = foresee(lifter, RuleFollower(RULES[0], USUAL, "epley"), "epley")
    certain = Foreseen(honest.sets, np.where(np.arange(61) >= 9, 1.0, 0.0)[None].repeat(2, axis=0), honest.bests)
    both = [tally(certain, np.full(2, 0.5)), tally(honest, np.full(2, 0.5))]
    assert sum(month[0][3] for month in both[0].sets) == pytest.approx(2 * log(LEAST_PROBABILITY))
    (found,) = summarise({"repeat": both}, "repeat", np.random.default_rng(1))
    assert np.isfinite(list(found.intervals.values())).all()


def test_months_are_those_of_the_calendar() -> None:
    days = [date(2026, 1, 29) + timedelta(n) for n in range(0, 40, 2)]
    lifter = lifter_of(*(session_on(f"{day}", trial(100, 5)) for day in days))
    foreseen = foresee(lifter, RuleFollower(RULES[0], USUAL, "epley"), "epley")
    found = tally(foreseen, np.full(len(foreseen.sets), 0.5))
    counted = {month: rows[0][0] for month, rows in zip(found.months, found.sets, strict=True)}
    scored = [f"{day:%Y-%m}" for day in days[2:]]
    assert counted == {month: scored.count(month) for month in sorted(set(scored))}
