"""Agreement with rule books and published examples of bars and discs (checks S8.1-S8.6)."""

from decimal import Decimal

import pytest
from tests.builders import an_equipment, an_exercise, plate

from steelyard.engine.equipment import ASSUMED, loads_for, plates_per_side
from steelyard.engine.quantities import kg, lb, shown_in

# Bar of 20 kg and two collars of 2.5 kg (weightlifting and powerlifting rules agree).
WITH_COLLARS = kg(25)
# Weightlifting discs: 25, 20, 15, 10, 5, 2.5, 2, 1.5, 1, 0.5 kg.
WEIGHTLIFTING = an_equipment(
    plate(25, 4), *(plate(mass) for mass in ("20", "15", "10", "5", "2.5", "2", "1.5", "1", "0.5")), bar=WITH_COLLARS
)
# Powerlifting discs, older text of the rules of the IPF, read second-hand: 1.25, 2.5, 5, 10, 15, 20, 25 kg.
POWERLIFTING = ("25", "20", "15", "10", "5", "2.5", "1.25")


def test_s8_1_a_barbell_read_from_its_discs() -> None:
    # Dziepak 1997, "How much is that lifter attempting?": 25, 15 and 2.5 kg on each side are 110 kg.
    discs = (kg(25), kg(15), kg("2.5"))
    assert WITH_COLLARS.magnitude + 2 * sum(disc.magnitude for disc in discs) == 110
    assert plates_per_side(kg(110), WEIGHTLIFTING) == discs


def test_s8_3_discs_for_61_kg() -> None:
    # Worked: (61 - 25) / 2 = 18 = 15 + 2.5 + 0.5, fewest discs and the larger ones inside.
    assert plates_per_side(kg(61), WEIGHTLIFTING) == (kg(15), kg("2.5"), kg("0.5"))


def test_s8_4_a_load_that_cannot_be_made() -> None:
    # Worked: with pairs of 1.25 kg and more on a bar of 20 kg the steps are 2.5 kg; 42.5 is nearer to 41.3 than 40.
    place = an_equipment(*(plate(mass) for mass in POWERLIFTING), bar=20)
    made = loads_for(an_exercise(), place)
    wanted = Decimal("41.3")
    assert plates_per_side(kg(wanted), place) is None
    assert (made.below(wanted), made.above(wanted)) == (Decimal("40"), Decimal("42.5"))
    assert made.nearest(wanted) == Decimal("42.5")
    assert made.nearest(wanted) - wanted == Decimal("1.2")
    # What is prescribed never goes up to the nearest.
    assert made.at_most(wanted) == 40


def test_s8_6_pounds_and_back() -> None:
    # International pound, 1959: 0.45359237 kg exactly (from memory); 20 kg are 44.092 lb.
    in_pounds = shown_in(Decimal(20), "lb", places="0.0000000001")
    assert in_pounds == pytest.approx(Decimal("44.092"), abs=Decimal("0.0005"))
    assert lb(in_pounds).magnitude == pytest.approx(Decimal(20), abs=Decimal("1e-9"))


def test_a_45_lb_disc_is_not_20_kg() -> None:
    # Worked: 45 x 0.45359237 - 20 = 0.41 kg.
    assert lb(45).magnitude - kg(20).magnitude == pytest.approx(Decimal("0.41"), abs=Decimal("0.005"))


def test_the_assumed_discs_are_those_of_the_rules() -> None:
    # Older text of the rules of the IPF, read second-hand; the bar without collars 20 kg.
    assert {pair.plate for pair in ASSUMED.plates} == {kg(mass) for mass in POWERLIFTING}
    assert ASSUMED.bar == kg(20)
