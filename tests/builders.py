"""Small builders of engine values, for tests only: what a test does not care about gets a plain default."""

from datetime import date
from decimal import Decimal
from typing import Any, Literal

from steelyard.engine.body import Body
from steelyard.engine.effort import Effort
from steelyard.engine.equipment import Equipment, PlatePair, Steps
from steelyard.engine.exercises import Exercise, Implement
from steelyard.engine.fold import TrainingLog, fold
from steelyard.engine.health import AttestBody
from steelyard.engine.log import KIND_OF, SCHEMA, Entry, SetBody, encode_body
from steelyard.engine.quantities import Load, kg

LIFTER = "01900000-0000-7000-8000-00000000000a"
OTHER_LIFTER = "01900000-0000-7000-8000-00000000000b"
COACH = "01900000-0000-7000-8000-0000000000c0"
DEVICE = "01900000-0000-7000-8000-0000000000d0"
# A coach's word before everything else, so that a test of something else meets no closed gate.
ATTESTED = (("attest", AttestBody(on=date.min, by="a coach")),)


def entry_id(number: int) -> str:
    """An id of the form that clients make (UUIDv7), by number."""
    return f"01900000-0000-7000-8000-{number:012x}"


def hlc_at(millisecond: int, counter: int = 0) -> str:
    """A hybrid logical clock that sorts as text."""
    return f"{millisecond:015d}-{counter:04d}"


def entry(
    body: Body | bytes,
    *,
    id: str | None = None,  # noqa: A002 (the name of the field it sets)
    hlc: str | None = None,
    person: str = LIFTER,
    author: str = LIFTER,
    replaces: tuple[str, ...] = (),
    kind: str | None = None,
    schema: int = SCHEMA,
) -> Entry:
    """An entry around a body, or around bytes as another version might write them (then kind is needed)."""
    if kind is None:
        if isinstance(body, bytes):
            raise TypeError("bytes say no kind; give one")
        kind = KIND_OF[type(body)]
    return Entry(
        id=entry_id(1) if id is None else id,
        person=person,
        author=author,
        device=DEVICE,
        kind=kind,
        schema=schema,
        hlc=hlc_at(1) if hlc is None else hlc,
        wall_time="2026-03-02T18:00:00+01:00",
        replaces=replaces,
        body=body if isinstance(body, bytes) else encode_body(body),
    )


def entries(*bodies: Body) -> tuple[Entry, ...]:
    """One entry a body, each later than the one before."""
    return tuple(entry(body, id=entry_id(n), hlc=hlc_at(n)) for n, body in enumerate(bodies, start=1))


def training_log(*bodies: Body) -> TrainingLog:
    """The history that these bodies make, entered in this order."""
    return fold(entries(*bodies))


def a_set(
    on: date | str,
    exercise: str,
    load: Load | str | int | None,
    reps: int | None,
    *,
    rir: int | None = None,
    **more: Any,
) -> SetBody:
    """A set; a bare number is kilograms, and a reserve may be given as rir=."""
    if rir is not None:
        more["effort"] = Effort(Decimal(rir))
    return SetBody(on=day(on), exercise=exercise, load=load_of(load), reps=reps, **more)


def sets_of(
    on: date | str, exercise: str, load: Load | str | int | None, *reps: int, rir: int | None = None, **more: Any
) -> tuple[SetBody, ...]:
    """One set for each count of repetitions; the reserve is that of the last one, as people report it."""
    last = len(reps) - 1
    return tuple(
        a_set(on, exercise, load, count, rir=rir if place == last else None, **more) for place, count in enumerate(reps)
    )


def day(on: date | str) -> date:
    """A date, also from ISO text."""
    return date.fromisoformat(on) if isinstance(on, str) else on


def load_of(load: Load | str | int | None) -> Load | None:
    """A load, also from a bare number of kilograms."""
    return load if load is None or isinstance(load, Load) else kg(load)


def an_exercise(
    code: str = "squat",
    *,
    implement: Implement = "barbell",
    measure: Literal["reps", "seconds", "metres"] = "reps",
    body_mass_share: str = "0",
    role: Literal["main", "accessory"] = "main",
    region: Literal["upper", "lower"] = "lower",
) -> Exercise:
    """An exercise of which only the implement matters."""
    return Exercise(
        code=code,
        name={"en": code},
        written=(),
        pattern="squat",
        role=role,
        implement=implement,
        region=region,
        size="large",
        measure=measure,
        per_side=False,
        body_mass_share=Decimal(body_mass_share),
        muscles={},
        joints=(),
    )


def an_equipment(
    *plates: PlatePair,
    bar: Load | str | int = 20,
    dumbbells: tuple[Steps, ...] = (),
    kettlebells: tuple[Steps, ...] = (),
    stack: Steps | None = None,
) -> Equipment:
    """A place with this bar and these plates, and otherwise one small stack."""
    return Equipment(
        bar=bar if isinstance(bar, Load) else kg(bar),
        plates=plates,
        dumbbells=dumbbells,
        kettlebells=kettlebells,
        stack=steps(5, 5, 50) if stack is None else stack,
    )


def plate(mass: str | int, pairs: int = 1) -> PlatePair:
    """So many pairs of a plate in kilograms."""
    return PlatePair(kg(mass), pairs)


def steps(lightest: str | int, step: str | int, heaviest: str | int) -> Steps:
    """Equal steps in kilograms."""
    return Steps(kg(lightest), kg(step), kg(heaviest))
