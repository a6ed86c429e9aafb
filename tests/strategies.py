"""Hypothesis strategies for engine values: any body of any kind, with every field that it has."""

from decimal import Decimal
from typing import Any

import msgspec
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st

from steelyard.engine import health, log, reasons, sheet
from steelyard.engine.body import Body
from steelyard.engine.effort import Effort
from steelyard.engine.equipment import Equipment, PlatePair, Steps
from steelyard.engine.quantities import HEAVIEST, Load

# A sheet with all its reasons is long to draw; how long says nothing of the engine.
slow_to_draw = settings(suppress_health_check=[HealthCheck.too_slow])
HALF_POINTS = tuple(Decimal(written) for written in ("5", "6", "7", "7.5", "8", "8.5", "9", "9.5", "10"))


@st.composite
def typed_decimals(draw: st.DrawFn, least: Decimal, most: Decimal, *, places: int | None = None) -> Decimal:
    """A number as people type it: at most twelve digits, zeros at the end kept."""
    exponent = -(draw(st.integers(0, 8)) if places is None else places)
    room = 10**12 - 1
    scale = 10**-exponent
    digits = draw(st.integers(max(-room, int(least * scale)), min(room, int(most * scale))))
    return Decimal(digits).scaleb(exponent)


def any_number() -> st.SearchStrategy[Decimal]:
    """Any finite number that could stand in a body."""
    return typed_decimals(-HEAVIEST, HEAVIEST)


def counts() -> st.SearchStrategy[int | None]:
    """Repetitions or seconds; nought is a set that was missed."""
    return st.none() | st.integers(0, 600)


def loads() -> st.SearchStrategy[Load]:
    """Any load, also negative (assisted) and in any unit."""
    return st.builds(Load, any_number(), st.sampled_from(("kg", "lb", "mark")))


def efforts() -> st.SearchStrategy[Effort]:
    """Any effort that the scales hold."""
    in_reserve = st.builds(Effort, typed_decimals(Decimal(0), Decimal(10)))
    return in_reserve | st.builds(Effort, st.sampled_from(HALF_POINTS), st.just("rpe"))


def positive_loads() -> st.SearchStrategy[Load]:
    """A mass that a plate or a step can have."""
    return st.builds(Load, typed_decimals(Decimal(1), Decimal(50)), st.sampled_from(("kg", "lb")))


def steps_of_any_rack() -> st.SearchStrategy[Steps]:
    """Steps that go up."""
    three = st.tuples(positive_loads(), positive_loads(), positive_loads())
    return three.map(lambda found: Steps(found[0], found[1], Load(Decimal(1000), "kg")))


def struct_of(kind: type[msgspec.Struct], **given_fields: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """A value of the type with each optional field there or not."""
    required: dict[str, st.SearchStrategy[Any]] = {}
    optional: dict[str, st.SearchStrategy[Any]] = {}
    for field in msgspec.structs.fields(kind):
        wanted = given_fields.get(field.name, st.from_type(field.type))
        (required if field.required else optional)[field.name] = wanted
    return st.fixed_dictionaries(required, optional=optional).map(lambda values: kind(**values))


def bodies() -> st.SearchStrategy[Body]:
    """Any body of any kind."""
    return st.one_of(*(st.from_type(kind) for kind in log.KIND_OF))


# Inner types before the outer ones that hold them.
st.register_type_strategy(Decimal, any_number())
st.register_type_strategy(Load, loads())
st.register_type_strategy(Effort, efforts())
st.register_type_strategy(Steps, steps_of_any_rack())
st.register_type_strategy(PlatePair, st.builds(PlatePair, positive_loads(), st.integers(1, 4)))
for _kind in (
    Equipment,
    log.Pain,
    *reasons.AnyReason.__args__,
    sheet.PlannedSet,
    sheet.DoneSet,
    sheet.PreviousLine,
    sheet.Considered,
    sheet.Decision,
    sheet.Basis,
    sheet.Sheet,
):
    st.register_type_strategy(_kind, struct_of(_kind))
_at_least_none = st.none() | typed_decimals(Decimal(0), HEAVIEST)
_up_to_five = st.none() | st.integers(0, 5)
_up_to_ten = st.none() | st.integers(0, 10)
_narrower: dict[type[Body], dict[str, st.SearchStrategy[Any]]] = {
    log.SetBody: {"reps": counts(), "seconds": counts(), "metres": _at_least_none},
    log.OverruleBody: {"ceiling": _at_least_none},
    log.LifterBody: {
        "birth_year": st.none() | st.integers(1900, 2100),
        "sessions_per_week": st.none() | st.integers(1, 14),
    },
    log.CheckInBody: {"blood_pressure": st.none() | st.tuples(st.integers(100, 250), st.integers(40, 99))},
    health.EpisodeBody: {"score": _up_to_ten},
    health.RestrictionBody: {"rir": _up_to_five},
    health.ClearanceBody: {"least_rir": _up_to_five},
}
for _body in log.KIND_OF:
    st.register_type_strategy(_body, struct_of(_body, **_narrower.get(_body, {})))
