"""Means and intervals of scores, against the same worked out slowly: one set, one unit, one draw after the other."""

from statistics import fmean

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from steelyard.engine.backtest.summing import DRAWS, ModelScores, summarise
from steelyard.engine.backtest.tallying import OF_SETS, RANKED, Tallied

Month = tuple[tuple[float, ...], ...]
NOTHING: Month = ((0.0,) * len(OF_SETS),) * len(RANKED)
seeds = st.integers(0, 2**32)


def a_month(count: float, score: float, evidence: int = 0) -> Month:
    """So many sets of one kind of evidence, each with this absolute error."""
    row = (count, count * score, *(0.0,) * (len(OF_SETS) - 2))
    return tuple(row if place == evidence else empty for place, empty in enumerate(NOTHING))


def lifter_with(*months: Month) -> Tallied:
    """A lifter with these months, and nothing of bests and bounds."""
    names = tuple(f"2026-{n:02d}" for n in range(1, len(months) + 1))
    return Tallied(names, months, ((0.0,) * 4,) * len(months), ((0.0,) * 3,) * len(months))


def scores_of(*lifters: Tallied, seed: int = 1) -> ModelScores:
    """The scores of one model."""
    (found,) = summarise({"repeat": lifters}, "repeat", np.random.default_rng(seed))
    return found


@st.composite
def tallied_lifters(draw: st.DrawFn, least: int = 1) -> dict[str, list[Tallied]]:
    """Sums of two models over the same lifters: some with no month, some with nothing in it."""
    chance = np.random.default_rng(draw(seeds))
    shapes = draw(st.lists(st.integers(0, 4), min_size=least, max_size=6))
    counts = [chance.integers(0, 4, (months, len(RANKED), 1)) for months in shapes]
    found: dict[str, list[Tallied]] = {}
    for name in ("repeat", "other"):
        found[name] = []
        for months, count in zip(shapes, counts, strict=True):
            scores = count * chance.normal(size=(months, len(RANKED), len(OF_SETS)))
            scores[:, :, :1] = count
            bests = chance.integers(0, 2, (months, 1)) * np.append(1, chance.normal(size=3))
            bounds = chance.integers(0, 2, (months, 1)) * np.append(1, chance.normal(size=2))
            names = tuple(f"2026-{n:02d}" for n in range(1, months + 1))
            rows = tuple(tuple(map(tuple, month)) for month in scores.tolist())
            found[name].append(
                Tallied(names, rows, tuple(map(tuple, bests.tolist())), tuple(map(tuple, bounds.tolist())))
            )
    return found


def units_of(lifters: list[Tallied], column: int) -> list[tuple[float, float]]:
    """Count and sum of a score of sets by unit: lifters, or the months of the only one."""
    months = [
        [(sum(kind[0] for kind in month), sum(kind[column] for kind in month)) for month in lifter.sets]
        for lifter in lifters
    ]
    if len(lifters) == 1:
        return months[0]
    return [(sum(c for c, _ in found), sum(total for _, total in found)) for found in months]


def middle_of(means: list[float]) -> tuple[float, float]:
    """2.5 and 97.5 % of the way through the sorted means, straight between two of them."""
    ordered = sorted(means)

    def at(share: float) -> float:
        place = share * (len(ordered) - 1)
        lower = int(place)
        upper = min(lower + 1, len(ordered) - 1)
        return ordered[lower] + (place - lower) * (ordered[upper] - ordered[lower])

    return at(0.025), at(0.975)


def drawn_means(units: list[tuple[float, float]], seed: int) -> list[float]:
    """The mean of each draw of as many units as there are, by the same draws."""
    draws = np.random.default_rng(seed).multinomial(len(units), [1 / len(units)] * len(units), size=DRAWS)
    means = []
    for draw in draws.tolist():
        count = sum(times * unit[0] for times, unit in zip(draw, units, strict=True))
        if count:
            means.append(sum(times * unit[1] for times, unit in zip(draw, units, strict=True)) / count)
    return means


@settings(max_examples=25)
@given(tallied=tallied_lifters(), seed=seeds)
def test_means_and_intervals_are_those_worked_out_slowly(tallied: dict[str, list[Tallied]], seed: int) -> None:
    found = {model.name: model for model in summarise(tallied, "repeat", np.random.default_rng(seed))}
    for name, lifters in tallied.items():
        for score, column in (("mae_reps", 1), ("bias_reps", 2), ("crps_reps", 4), ("cover50", 5), ("cover90", 7)):
            units = units_of(lifters, column)
            count = sum(unit[0] for unit in units)
            mean = getattr(found[name], score)
            if not count:
                assert mean is None
                assert score not in found[name].intervals
                continue
            assert mean == pytest.approx(sum(unit[1] for unit in units) / count)
            if len(units) > 1:
                assert found[name].intervals[score] == pytest.approx(middle_of(drawn_means(units, seed)))
            else:
                assert found[name].intervals == {}


@settings(max_examples=25)
@given(tallied=tallied_lifters(least=2), seed=seeds)
def test_models_are_compared_draw_by_draw(tallied: dict[str, list[Tallied]], seed: int) -> None:
    """The margin over repeating is of the same sets in the same draw, and so is the share of draws without gain."""
    found = {model.name: model for model in summarise(tallied, "repeat", np.random.default_rng(seed))}
    pairs = zip(units_of(tallied["other"], 3), units_of(tallied["repeat"], 3), strict=True)
    apart = [(count, total - reference) for (count, total), (_, reference) in pairs]
    other, repeat = found["other"], found["repeat"]
    if not any(count for count, _ in apart):
        assert (other.log_score_over_repeat, other.draws_without_gain) == (None, None)
        return
    means = drawn_means(apart, seed)
    assert other.intervals["log_score_over_repeat"] == pytest.approx(middle_of(means))
    assert other.draws_without_gain == pytest.approx(fmean(mean <= 0 for mean in means))
    assert (repeat.log_score_over_repeat, repeat.draws_without_gain) == (0, 1)
    assert repeat.intervals["log_score_over_repeat"] == (0, 0)


def test_every_set_weighs_the_same_and_every_lifter_is_drawn_as_often() -> None:
    """Ninety-nine sets without error and one of 100 repetitions: a mean of 1, and a draw of either alone."""
    found = scores_of(lifter_with(a_month(99, 0)), lifter_with(a_month(1, 100)))
    assert found.mae_reps == 1
    # A quarter of the draws holds only the one, a quarter only the other.
    assert found.intervals["mae_reps"] == (0, 100)


def test_two_like_lifters_are_drawn_as_a_coin_is_thrown() -> None:
    found = scores_of(lifter_with(a_month(10, 0)), lifter_with(a_month(10, 1)))
    draws = np.random.default_rng(1).multinomial(2, [0.5, 0.5], size=DRAWS)[:, 1] / 2
    assert found.mae_reps == 0.5
    assert set(draws) == {0, 0.5, 1}
    assert found.intervals["mae_reps"] == (0, 1)


def test_lifters_alike_leave_no_doubt() -> None:
    assert scores_of(*[lifter_with(a_month(7, 2))] * 5).intervals["mae_reps"] == (2, 2)


def test_of_a_single_lifter_months_are_drawn() -> None:
    alone = scores_of(lifter_with(a_month(10, 0), a_month(10, 1), a_month(10, 2)))
    three = scores_of(*(lifter_with(a_month(10, error)) for error in (0, 1, 2)))
    assert alone.mae_reps == 1
    assert alone.intervals == three.intervals
    assert alone.intervals["mae_reps"][0] < 1 < alone.intervals["mae_reps"][1]


def test_months_of_several_lifters_are_not_drawn_apart() -> None:
    """Each has the same error over its months, so whom one draws makes no difference."""
    two = [lifter_with(a_month(10, 0), a_month(10, 2)), lifter_with(a_month(10, 2), a_month(10, 0))]
    assert scores_of(*two).intervals["mae_reps"] == (1, 1)


def test_one_month_of_one_lifter_has_a_mean_and_no_interval() -> None:
    found = scores_of(lifter_with(a_month(10, 2)))
    assert (found.mae_reps, found.intervals, found.draws_without_gain) == (2, {}, None)


@pytest.mark.parametrize("lifters", [1, 2])
def test_where_nothing_was_scored_nothing_is_said(lifters: int) -> None:
    for nothing in (lifter_with(), lifter_with(NOTHING), lifter_with(NOTHING, NOTHING)):
        found = scores_of(*[nothing] * lifters)
        said = {field: getattr(found, field) for field in found.__struct_fields__}
        assert said.pop("name") == "repeat"
        assert (said.pop("intervals"), said.pop("by_evidence")) == ({}, {})
        assert set(said.values()) == {None}
    assert summarise({}, "repeat", np.random.default_rng(1)) == []


def test_lifters_without_a_scored_set_change_no_mean() -> None:
    some = lifter_with(a_month(10, 3))
    assert scores_of(some, lifter_with(), lifter_with(NOTHING)).mae_reps == 3


@settings(max_examples=25)
@given(tallied=tallied_lifters(), seed=seeds)
def test_kinds_of_evidence_add_up_to_the_whole(tallied: dict[str, list[Tallied]], seed: int) -> None:
    for model in summarise(tallied, "repeat", np.random.default_rng(seed)):
        kinds = model.by_evidence.values()
        count = sum(kind["sets"] for kind in kinds)
        assert count == sum(unit[0] for unit in units_of(tallied[model.name], 0))
        if not count:
            assert (model.mae_reps, model.by_evidence) == (None, {})
            continue
        for whole in ("mae_reps", "log_score"):
            assert sum(kind["sets"] * kind[whole] for kind in kinds) / count == pytest.approx(getattr(model, whole))


@settings(max_examples=25)
@given(tallied=tallied_lifters(least=2), seed=seeds)
def test_the_best_log_score_stands_at_the_head_and_names_of_models_do_not_matter(
    tallied: dict[str, list[Tallied]], seed: int
) -> None:
    found = summarise(tallied, "repeat", np.random.default_rng(seed))
    again = summarise(dict(reversed(tallied.items())), "repeat", np.random.default_rng(seed))
    assert sorted(found, key=lambda m: m.name) == sorted(again, key=lambda m: m.name)
    scores = [model.log_score for model in found if model.log_score is not None]
    assert scores == sorted(scores, reverse=True)
