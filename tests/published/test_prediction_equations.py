"""Agreement with the published equations that predict a 1RM from a set to failure (checks S1.1-S1.6)."""

import pytest

from steelyard.engine.formulas import EQUATIONS, FROM_FIVE_RM, UnableToEstimate, estimate_one_rm, repetitions_at

# Worked from the equations as printed, to the third decimal (half a unit of it is the tolerance):
#   Epley 1985, Boyd Epley Workout, p. 86: w(1 + r/30), reprinted as w(1 + 0.0333r) and w(1 + 0.033r)
#   Brzycki 1993, JOPERD 64(1):88-90: 36w/(37 - r), this form from memory
#   Lander 1985, NSCA Journal 6(6):60-61: 100w/(101.3 - 2.67123r)
#   Lombardi 1989, Beginning Weight Training: w r^0.10, from memory
#   Mayhew et al. 1992, J Appl Sport Sci Res 6(4):200-206: 100w/(52.2 + 41.9 exp(-0.055r))
#   O'Conner, Simmons & O'Shea 1989, Weight Training Today: w(1 + 0.025r), from memory
#   Wathan 1994, in Baechle (ed), Essentials of Strength Training and Conditioning, 435-446:
#   100w/(48.8 + 53.8 exp(-0.075r)), form from memory
COLUMNS = ("epley", "epley-0.0333", "epley-0.033", "brzycki", "lander", "lombardi", "mayhew", "oconner", "wathan")
WORKED = {
    (100, 1): (103.333, 103.330, 103.300, 100.000, 101.390, 100.000, 108.864, 102.500, 101.304),
    (100, 3): (110.000, 109.990, 109.900, 105.882, 107.197, 111.612, 113.990, 107.500, 108.980),
    (100, 5): (116.667, 116.650, 116.500, 112.500, 113.709, 117.462, 119.011, 112.500, 116.583),
    (80, 8): (101.333, 101.312, 101.120, 99.310, 100.087, 98.492, 101.029, 96.000, 102.137),
    (100, 10): (133.333, 133.300, 133.000, 133.333, 134.070, 125.893, 130.934, 125.000, 134.747),
    (60, 12): (84.000, 83.976, 83.760, 86.400, 86.649, 76.925, 81.239, 78.000, 84.898),
    (225, 10): (300.000, 299.925, 299.250, 300.000, 301.658, 283.258, 294.602, 281.250, 303.180),
}
CELLS = [
    pytest.param(name, load, repetitions, one_rm, id=f"{name}-{load}x{repetitions}")
    for (load, repetitions), row in WORKED.items()
    for name, one_rm in zip(COLUMNS, row, strict=True)
]
# Percent of 1RM that the same equations give at 5, 8, 10, 12 and 15 repetitions, to the first decimal.
PERCENT = {
    "epley": (85.7, 78.9, 75.0, 71.4, 66.7),
    "brzycki": (88.9, 80.6, 75.0, 69.4, 61.1),
    "lander": (87.9, 79.9, 74.6, 69.2, 61.2),
    "lombardi": (85.1, 81.2, 79.4, 78.0, 76.3),
    "mayhew": (84.0, 79.2, 76.4, 73.9, 70.6),
    "oconner": (88.9, 83.3, 80.0, 76.9, 72.7),
    "wathan": (85.8, 78.3, 74.2, 70.7, 66.3),
}


@pytest.mark.parametrize(("name", "load", "repetitions", "one_rm"), CELLS)
def test_worked_values(name: str, load: int, repetitions: int, one_rm: float) -> None:
    assert load / EQUATIONS[name].fraction(repetitions) == pytest.approx(one_rm, abs=5.1e-4)


@pytest.mark.parametrize(("name", "load", "repetitions", "one_rm"), CELLS)
def test_worked_values_backwards(name: str, load: int, repetitions: int, one_rm: float) -> None:
    # Half a unit of the third decimal of the 1RM is less than a thousandth of a repetition.
    assert EQUATIONS[name].repetitions(load / one_rm) == pytest.approx(repetitions, abs=1e-3)
    if repetitions > 1:
        assert repetitions_at(EQUATIONS[name], load, one_rm) == pytest.approx(repetitions, abs=1e-3)


@pytest.mark.parametrize("name", PERCENT)
def test_implied_percentages(name: str) -> None:
    implied = [100 * EQUATIONS[name].fraction(repetitions) for repetitions in (5, 8, 10, 12, 15)]
    assert implied == pytest.approx(PERCENT[name], abs=0.0501)


def test_s1_1_printed_worked_example() -> None:
    # A Christian Guide to Body Stewardship, Diet and Exercise, 3rd ed, Appendix E: 225 lb x 10 gives 299.25 lb.
    assert estimate_one_rm(EQUATIONS["epley-0.033"], 225, 10) == pytest.approx(299.25, abs=0.005)


def test_s1_2_two_equations_cross_at_ten() -> None:
    # Epley 1985 and Brzycki 1993 as above: both 100/0.75.
    epley, brzycki = (estimate_one_rm(EQUATIONS[name], 100, 10) for name in ("epley", "brzycki"))
    assert epley == pytest.approx(133.333, abs=1e-3)
    assert epley == pytest.approx(brzycki, abs=1e-9)
    for repetitions in range(2, 10):
        assert EQUATIONS["epley"].fraction(repetitions) < EQUATIONS["brzycki"].fraction(repetitions)
    for repetitions in range(11, 37):
        assert EQUATIONS["epley"].fraction(repetitions) > EQUATIONS["brzycki"].fraction(repetitions)


@pytest.mark.parametrize(("name", "one_rm"), [("brzycki", 112.500), ("wathan", 116.583), ("mayhew", 119.011)])
def test_s1_3_five_repetitions(name: str, one_rm: float) -> None:
    # Worked from the equations as above.
    assert estimate_one_rm(EQUATIONS[name], 100, 5) == pytest.approx(one_rm, abs=5e-3)


@pytest.mark.parametrize("name", EQUATIONS)
def test_s1_4_a_single_is_not_put_through_an_equation(name: str) -> None:
    # Only two of the equations give the load back at one repetition, so a tool must treat a lifted single apart.
    assert estimate_one_rm(EQUATIONS[name], 140, 1) == 140


@pytest.mark.parametrize(
    ("name", "percent_over"),
    [
        ("brzycki", 0),
        ("lombardi", 0),
        ("mayhew", 8.9),
        ("epley", 3.3),
        ("oconner", 2.5),
        ("lander", 1.4),
        ("wathan", 1.3),
    ],
)
def test_s1_4_how_far_each_equation_misses_a_single(name: str, percent_over: float) -> None:
    # Worked from the equations as above.
    assert 100 / EQUATIONS[name].fraction(1) - 100 == pytest.approx(percent_over, abs=0.0501)


@pytest.mark.parametrize(("name", "refused", "still_given"), [("brzycki", 37, 36), ("lander", 38, 37)])
def test_s1_5_refused_where_an_equation_is_undefined(name: str, refused: int, still_given: int) -> None:
    # Brzycki 1993 divides by 37 - r; Lander 1985 by 101.3 - 2.67123r, which is nought at 37.92.
    with pytest.raises(UnableToEstimate):
        estimate_one_rm(EQUATIONS[name], 100, refused)
    assert estimate_one_rm(EQUATIONS[name], 100, still_given) > 0


@pytest.mark.parametrize(
    ("lift", "five_rm_kg", "one_rm_kg"), [("chest-press", 100, 113.770), ("leg-press", 200, 233.655)]
)
def test_s1_6_one_rm_from_five_rm(lift: str, five_rm_kg: float, one_rm_kg: float) -> None:
    # Reynolds, Gordon & Robergs 2006, J Strength Cond Res 20(3):584-592.
    assert FROM_FIVE_RM[lift](five_rm_kg) == pytest.approx(one_rm_kg, abs=5e-3)
