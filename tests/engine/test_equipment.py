"""Which loads one place can make, and from which plates."""

from decimal import Decimal
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.builders import an_equipment, an_exercise, plate, steps
from tests.strategies import any_number

from steelyard.engine.equipment import ASSUMED, Equipment, Loadable, PlatePair, Steps, loads_for, plates_per_side
from steelyard.engine.exercises import Implement
from steelyard.engine.quantities import Load, QuantityRefused, Unit, kg, lb

BARBELL = an_exercise()


def every_side(plates: tuple[PlatePair, ...]) -> dict[Decimal, list[tuple[Load, ...]]]:
    """Everything that can hang on one side, by its mass: tried out one by one."""
    pieces = [pair.plate for pair in plates for _ in range(pair.pairs)]
    found: dict[Decimal, list[tuple[Load, ...]]] = {}
    for count in range(len(pieces) + 1):
        for chosen in combinations(pieces, count):
            largest_inside = tuple(sorted(chosen, key=lambda piece: -piece.magnitude))
            found.setdefault(sum((p.magnitude for p in chosen), Decimal(0)), []).append(largest_inside)
    return found


@st.composite
def few_plates(draw: st.DrawFn) -> tuple[PlatePair, ...]:
    """Up to five sizes of plate, up to seven pairs in all, in kilograms and pounds."""
    masses = ("0.5", "1", "1.25", "1.5", "2", "2.5", "5", "10", "15", "20", "25", "45")
    any_plate = st.builds(Load, st.sampled_from(masses).map(Decimal), st.sampled_from(("kg", "kg", "lb")))
    chosen = draw(st.lists(any_plate, max_size=5, unique=True))
    pairs = draw(st.lists(st.integers(0, 3), min_size=len(chosen), max_size=len(chosen)))
    kept: list[PlatePair] = []
    for mass, count in zip(chosen, pairs, strict=True):
        room = 7 - sum(pair.pairs for pair in kept)
        kept.append(PlatePair(mass, min(count, room)))
    return tuple(kept)


@given(few_plates())
def test_a_bar_makes_exactly_what_trying_out_makes(plates: tuple[PlatePair, ...]) -> None:
    made = loads_for(BARBELL, an_equipment(*plates, bar=20)).magnitudes
    assert made == tuple(sorted(20 + 2 * side for side in every_side(plates)))


@given(few_plates())
def test_a_plate_machine_makes_the_same_without_the_bar(plates: tuple[PlatePair, ...]) -> None:
    made = loads_for(an_exercise(implement="plate-machine"), an_equipment(*plates, bar=20)).magnitudes
    assert made == tuple(sorted(2 * side for side in every_side(plates)))


@given(few_plates())
def test_each_side_gets_the_fewest_plates_and_the_larger_inside(plates: tuple[PlatePair, ...]) -> None:
    equipment = an_equipment(*plates, bar=20)
    for side, ways in every_side(plates).items():
        total = 20 + 2 * side
        fewest = min(ways, key=lambda way: (len(way), [-piece.magnitude for piece in way]))
        assert plates_per_side(kg(total), equipment) == fewest


@given(few_plates(), any_number())
def test_what_cannot_be_made_gets_no_plates(plates: tuple[PlatePair, ...], wanted: Decimal) -> None:
    hung = plates_per_side(kg(wanted), an_equipment(*plates, bar=20))
    can_be_made = (wanted - 20) / 2 in every_side(plates)
    assert (hung is not None) == can_be_made
    if hung is not None:
        assert 20 + 2 * sum(p.magnitude for p in hung) == wanted


@pytest.mark.parametrize(
    ("total", "per_side"),
    [
        ("20", ()),
        ("22.5", ("1.25",)),
        ("60", ("20",)),
        ("62.5", ("20", "1.25")),
        ("100", ("25", "15")),
        ("142.5", ("25", "25", "10", "1.25")),
        ("327.5", ("25", "25", "25", "25", "20", "15", "10", "5", "2.5", "1.25")),
    ],
)
def test_plates_of_the_assumed_place(total: str, per_side: tuple[str, ...]) -> None:
    assert plates_per_side(kg(total), ASSUMED) == tuple(kg(mass) for mass in per_side)


@pytest.mark.parametrize("total", ["19.99", "0", "-20", "21", "61", "330"])
def test_the_assumed_place_cannot_make_these(total: str) -> None:
    assert plates_per_side(kg(total), ASSUMED) is None


def test_a_bar_in_pounds_makes_pounds() -> None:
    place = an_equipment(PlatePair(lb(45), 2), PlatePair(lb(10)), PlatePair(lb("2.5")), bar=lb(45))
    assert plates_per_side(lb(245), place) == (lb(45), lb(45), lb(10))
    assert plates_per_side(lb(140), place) == (lb(45), lb("2.5"))
    assert plates_per_side(kg(100), place) is None


def test_plates_of_both_kinds_on_one_bar() -> None:
    place = an_equipment(plate(20), PlatePair(lb(45)), bar=20)
    assert loads_for(BARBELL, place).magnitudes == tuple(
        Decimal(total) for total in ("20", "60", "60.8233133", "100.8233133")
    )


@given(few_plates().filter(lambda plates: sum(pair.pairs for pair in plates) <= 4))
def test_added_to_body_mass_hangs_every_plate_alone(plates: tuple[PlatePair, ...]) -> None:
    made = loads_for(an_exercise(implement="body-mass", body_mass_share="1"), an_equipment(*plates)).magnitudes
    assert made == tuple(sorted(every_side(tuple(PlatePair(pair.plate, 2 * pair.pairs) for pair in plates))))


def test_one_dumbbell_by_the_steps_of_the_rack() -> None:
    place = an_equipment(dumbbells=(steps(1, 1, 4), steps(4, "2.5", "11.5")))
    made = loads_for(an_exercise(implement="dumbbell"), place).magnitudes
    assert made == tuple(Decimal(mass) for mass in ("1", "2", "3", "4", "6.5", "9", "11.5"))


def test_kettlebells_by_the_steps_of_the_row() -> None:
    place = an_equipment(kettlebells=(steps(8, 4, 16),))
    assert loads_for(an_exercise(implement="kettlebell"), place).magnitudes == (Decimal(8), Decimal(12), Decimal(16))


def test_steps_that_do_not_come_out_even_end_below_the_heaviest() -> None:
    place = an_equipment(stack=steps(5, "7.5", 30))
    made = loads_for(an_exercise(implement="stack"), place).magnitudes
    assert made == tuple(Decimal(mass) for mass in ("5", "12.5", "20", "27.5"))


@given(st.integers(1, 20), st.integers(1, 20), st.integers(0, 60), st.sampled_from(("kg", "lb", "mark")))
def test_every_pin_of_a_stack_is_there(lightest: int, step: int, pins: int, unit: Unit) -> None:
    def typed(number: int) -> Load:
        return Load(Decimal(number), unit)

    heaviest = lightest + pins * step
    made = loads_for(
        an_exercise(implement="stack"), an_equipment(stack=Steps(typed(lightest), typed(step), typed(heaviest)))
    )
    assert made.magnitudes == tuple(typed(mark).magnitude for mark in range(lightest, heaviest + 1, step))


@pytest.mark.parametrize("lightest", [0, 5])
def test_an_assisting_stack_takes_load_off_and_ends_at_nothing(lightest: int) -> None:
    assisted = an_exercise(implement="stack", body_mass_share="1")
    made = loads_for(assisted, an_equipment(stack=steps(lightest, 5, 15))).magnitudes
    assert [int(load) for load in made] == [-15, -10, -5, 0]


@pytest.mark.parametrize(("lightest", "step", "heaviest"), [("5", "0", "50"), ("5", "-5", "50"), ("50", "5", "45")])
def test_steps_that_lead_nowhere_are_refused(lightest: str, step: str, heaviest: str) -> None:
    with pytest.raises(QuantityRefused):
        steps(lightest, step, heaviest)


@pytest.mark.parametrize(("mass", "pairs"), [("0", 1), ("-20", 1), ("20", -1)])
def test_plates_that_cannot_be_are_refused(mass: str, pairs: int) -> None:
    with pytest.raises(QuantityRefused):
        plate(mass, pairs)


loadables = st.lists(any_number(), min_size=1, max_size=12, unique=True).map(lambda made: Loadable(tuple(sorted(made))))


@given(loadables, any_number())
def test_rounding_down_never_goes_up(made: Loadable, wanted: Decimal) -> None:
    lighter = [m for m in made.magnitudes if m <= wanted]
    assert made.at_most(wanted) == (max(lighter) if lighter else None)


@given(loadables, any_number())
def test_the_steps_around_a_load(made: Loadable, load: Decimal) -> None:
    assert made.above(load) == min((m for m in made.magnitudes if m > load), default=None)
    assert made.below(load) == max((m for m in made.magnitudes if m < load), default=None)


@given(loadables)
def test_a_load_that_can_be_made_is_its_own_rounding(made: Loadable) -> None:
    for place, load in enumerate(made.magnitudes):
        assert made.at_most(load) == made.nearest(load) == load
        assert made.below(load) == (made.magnitudes[place - 1] if place else None)


@given(loadables, any_number())
def test_nothing_is_nearer_than_the_nearest(made: Loadable, wanted: Decimal) -> None:
    found = made.nearest(wanted)
    assert found in made.magnitudes
    assert all(abs(found - wanted) <= abs(other - wanted) for other in made.magnitudes)


def test_of_two_equally_near_the_lighter_is_taken() -> None:
    assert Loadable((Decimal(40), Decimal(45))).nearest(Decimal("42.5")) == 40


@given(loadables, any_number())
def test_a_load_once_shown_can_be_made(made: Loadable, shown: Decimal) -> None:
    grown = made.having(shown)
    assert set(grown.magnitudes) == {*made.magnitudes, shown}
    assert list(grown.magnitudes) == sorted(set(grown.magnitudes))


@pytest.mark.parametrize("implement", ["barbell", "dumbbell", "stack", "plate-machine", "kettlebell", "body-mass"])
def test_the_assumed_place_makes_something_of_every_implement(implement: Implement) -> None:
    made = loads_for(an_exercise(implement=implement), ASSUMED).magnitudes
    assert len(made) > 10
    assert list(made) == sorted(set(made))


def test_only_the_assumed_place_is_assumed() -> None:
    assert ASSUMED.is_assumed
    assert not Equipment(bar=kg(20), plates=(), dumbbells=(), kettlebells=(), stack=ASSUMED.stack).is_assumed
