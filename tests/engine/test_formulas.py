"""What holds of every equation and table, whatever numbers its source prints (those are in tests/published)."""

from itertools import pairwise
from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from steelyard.engine.formulas import (
    EQUATIONS,
    NSCA_CHART,
    NSCA_TEXTBOOK,
    NUZZO_BENCH_PRESS,
    NUZZO_GENERAL,
    NUZZO_LEG_PRESS,
    Equation,
    LoadTable,
    RepetitionTable,
    UnableToEstimate,
    estimate_one_rm,
    repetitions_at,
)

equations = st.sampled_from(tuple(EQUATIONS.values()))
repetition_counts = st.floats(1, 30)
masses = st.floats(0.5, 1000)


@given(equations, masses, repetition_counts)
def test_more_repetitions_mean_a_higher_maximum(equation: Equation, load: float, repetitions: float) -> None:
    assert estimate_one_rm(equation, load, repetitions) < estimate_one_rm(equation, load, repetitions + 1)


@given(equations, masses, repetition_counts, st.floats(0.1, 10))
def test_the_unit_of_the_load_is_the_unit_of_the_maximum(
    equation: Equation, load: float, repetitions: float, per_unit: float
) -> None:
    estimated = estimate_one_rm(equation, load, repetitions)
    assert isclose(estimate_one_rm(equation, load * per_unit, repetitions), estimated * per_unit, rel_tol=1e-12)


@given(equations, masses, st.floats(1.5, 30))
def test_the_inverse_gives_the_repetitions_back(equation: Equation, load: float, repetitions: float) -> None:
    one_rm = estimate_one_rm(equation, load, repetitions)
    if one_rm >= load:  # Some equations put a set of two above its own maximum; then nothing is to be inverted.
        assert isclose(repetitions_at(equation, load, one_rm), repetitions, rel_tol=1e-9)


@given(equations, masses)
def test_a_lifted_single_is_its_own_maximum(equation: Equation, load: float) -> None:
    assert estimate_one_rm(equation, load, 1) == load


@given(equations, st.floats(-5, 0.999))
def test_less_than_one_repetition_says_nothing(equation: Equation, repetitions: float) -> None:
    with pytest.raises(UnableToEstimate, match="at least one"):
        estimate_one_rm(equation, 100, repetitions)


@pytest.mark.parametrize("name", EQUATIONS)
def test_an_equation_ends_where_it_says(name: str) -> None:
    equation = EQUATIONS[name]
    assert estimate_one_rm(equation, 100, equation.defined_below - 0.01) > 100
    for beyond in (equation.defined_below, equation.defined_below + 1, 1000.0):
        with pytest.raises(UnableToEstimate, match="not defined"):
            estimate_one_rm(equation, 100, beyond)


@given(equations, masses, st.floats(1.0001, 3))
def test_above_the_maximum_no_repetition_is_left(equation: Equation, one_rm: float, over: float) -> None:
    assert repetitions_at(equation, one_rm * over, one_rm) == 0


@given(equations, masses)
def test_at_the_maximum_one_is_left(equation: Equation, one_rm: float) -> None:
    assert 1 <= repetitions_at(equation, one_rm, one_rm) < 3


@given(equations, masses, st.floats(0.02, 0.99))
def test_a_lighter_load_allows_no_fewer_repetitions(equation: Equation, one_rm: float, share: float) -> None:
    here = repetitions_at(equation, one_rm * share, one_rm)
    assert here >= 1
    assert here <= repetitions_at(equation, one_rm * share * 0.99, one_rm) <= equation.defined_below


@pytest.mark.parametrize(("name", "floor"), [("mayhew", 0.522), ("wathan", 0.488)])
def test_below_where_an_equation_levels_off_it_sets_no_end(name: str, floor: float) -> None:
    equation = EQUATIONS[name]
    for share in (floor, floor / 2, 0.01):
        with pytest.raises(UnableToEstimate, match="ends at"):
            equation.repetitions(share)
        assert repetitions_at(equation, 100 * share, 100) == equation.defined_below


@pytest.mark.parametrize("equation", EQUATIONS.values(), ids=EQUATIONS)
def test_every_equation_names_its_source(equation: Equation) -> None:
    assert EQUATIONS[equation.name] is equation
    assert any(year in equation.source for year in ("1985", "1989", "1992", "1993", "1994"))


@pytest.mark.parametrize("table", [NSCA_CHART, NSCA_TEXTBOOK], ids=lambda table: table.name)
def test_a_load_table_falls_and_refuses_what_it_does_not_print(table: LoadTable) -> None:
    printed = [table.percent_at(repetitions) for repetitions in sorted(table.percent)]
    assert printed == sorted(printed, reverse=True)
    for unprinted in (0, 13, 14, 16):
        with pytest.raises(UnableToEstimate, match=table.name):
            table.percent_at(unprinted)


@pytest.mark.parametrize("table", [NUZZO_GENERAL, NUZZO_BENCH_PRESS, NUZZO_LEG_PRESS], ids=lambda table: table.name)
def test_a_repetition_table_gives_its_rows_and_lies_between_them(table: RepetitionTable) -> None:
    printed = sorted(table.rows)
    for percent in printed:
        assert table.mean_at(percent) == table.rows[percent].mean
    for lower, upper in pairwise(printed):
        middle = (table.rows[lower].mean + table.rows[upper].mean) / 2
        assert isclose(table.mean_at((lower + upper) / 2), middle)
    for outside in (printed[0] - 0.1, printed[-1] + 0.1):
        with pytest.raises(UnableToEstimate, match=table.name):
            table.mean_at(outside)
