"""Loads: exact, bounded, shown without surprises."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.strategies import typed_decimals

from steelyard.engine.quantities import HEAVIEST, KG_PER_LB, Load, QuantityRefused, Unit, kg, lb, plain, shown_in


def test_pounds_are_exact_kilograms() -> None:
    assert lb(45).magnitude == Decimal("20.41165665")
    assert lb("0.25").magnitude == Decimal("0.1133980925")


@given(typed_decimals(-HEAVIEST, HEAVIEST))
def test_no_pound_is_rounded(value: Decimal) -> None:
    numerator, denominator = value.as_integer_ratio()
    of_pound, per_pound = KG_PER_LB.as_integer_ratio()
    in_kg = lb(value).magnitude.as_integer_ratio()
    assert in_kg[0] * denominator * per_pound == numerator * of_pound * in_kg[1]


@given(typed_decimals(-HEAVIEST, HEAVIEST), st.sampled_from(("kg", "mark")))
def test_kilograms_and_marks_stand_as_typed(value: Decimal, unit: Unit) -> None:
    assert Load(value, unit).magnitude is value


def test_a_mark_is_no_kilogram() -> None:
    assert Load(Decimal(12), "mark") != kg(12)


@pytest.mark.parametrize("unit", ["kg", "lb", "mark"])
@pytest.mark.parametrize("value", ["NaN", "sNaN", "Infinity", "-Infinity", "2000.01", "-2001", "1E+4"])
def test_what_cannot_be_a_load_is_refused(value: str, unit: Unit) -> None:
    with pytest.raises(QuantityRefused, match=f"is not a number of {unit}|{unit} is more than 2000"):
        Load(Decimal(value), unit)


@pytest.mark.parametrize("value", ["1.2345678901234567890123456789", "1E-29", "1E-1000000"])
def test_more_digits_than_arithmetic_keeps_are_refused(value: str) -> None:
    with pytest.raises(QuantityRefused, match="digits"):
        lb(value)


@pytest.mark.parametrize("value", ["2000", "-2000", "0", "1.234567890123456789012345678", "1E-28", "1E+3"])
def test_the_bounds_themselves_are_loads(value: str) -> None:
    assert kg(value).value == Decimal(value)


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("62.50", "62.5"),
        ("100", "100"),
        ("1E+2", "100"),
        ("0.00", "0"),
        ("-0.00", "0"),
        ("-20.0", "-20"),
        ("2E+3", "2000"),
    ],
)
def test_plain_has_neither_trailing_zeros_nor_exponent(written: str, meant: str) -> None:
    assert str(plain(Decimal(written))) == meant


@given(typed_decimals(-HEAVIEST, HEAVIEST, places=4))
def test_plain_is_the_same_number(value: Decimal) -> None:
    assert plain(value) == value


@pytest.mark.parametrize(
    ("mass_kg", "unit", "shown"),
    [
        ("20", "lb", "44.09"),  # 20 / 0.45359237 = 44.0924...
        ("20.41165665", "lb", "45"),
        ("20.41165665", "kg", "20.41"),
        ("-0.001", "kg", "0"),
        ("102.5", "kg", "102.5"),
    ],
)
def test_a_mass_is_shown_in_the_unit_asked_for(mass_kg: str, unit: Unit, shown: str) -> None:
    assert str(shown_in(Decimal(mass_kg), unit)) == shown


def test_the_places_to_show_may_be_chosen() -> None:
    assert shown_in(Decimal(20), "lb", places="1") == 44
