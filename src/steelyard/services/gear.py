"""What a place can load."""

from decimal import Decimal

import msgspec
from msgspec import Struct, structs

from steelyard.catalogue import catalogue
from steelyard.engine.equipment import ASSUMED, PlatePair, Steps, loads_for
from steelyard.engine.fold import fold
from steelyard.engine.health import Answer
from steelyard.engine.log import THE_HOUSE, EquipmentBody
from steelyard.engine.quantities import Load
from steelyard.exchange import cells
from steelyard.exchange.cells import CellRefused
from steelyard.store import queries
from steelyard.wording.message import tell

from .refusal import Refused
from .scribe import Scribe

USUAL_PLACE = "gym"
# Every further kind of plate may double the loads that a side can carry.
MOST_PAIRS, MOST_KINDS = 60, 10
LONGEST_PLACE = 100


class Gear(Struct, frozen=True, kw_only=True):
    """One place: what it can load, whether people lift alone there and whether the rack catches a bar."""

    place: str
    is_assumed: bool
    alone: Answer | None
    safeties: Answer | None
    bar: Load
    plates: tuple[PlatePair, ...]
    dumbbells: tuple[Steps, ...]
    kettlebells: tuple[Steps, ...]
    stack: Steps
    bar_loads_kg: tuple[float, ...]


class GearChange(Struct, frozen=True, kw_only=True):
    """What to change at a place; absent parts stay."""

    bar: Load | None = None
    plates: tuple[PlatePair, ...] | None = None
    dumbbells: tuple[Steps, ...] | None = None
    kettlebells: tuple[Steps, ...] | None = None
    stack: Steps | None = None
    alone: Answer | None = None
    safeties: Answer | None = None


def place_at(place: str | None, usual: str = "") -> tuple[str, EquipmentBody | None]:
    """What is known of a place: the one that is named, else the lifter's usual one, else the only one, else the gym."""
    known = places()
    if place is not None and known and place not in known:
        raise Refused(
            tell("no place is called {place!r}", place=place), tell("Known: {names}", names=", ".join(sorted(known)))
        )
    if place is None and usual not in known and len(known) > 1 and USUAL_PLACE not in known:
        raise Refused(
            tell("more than one place is known"),
            tell("Name one with --place: {names}", names=", ".join(sorted(known))),
        )
    chosen = place or (usual if usual in known else "") or (next(iter(known)) if len(known) == 1 else USUAL_PLACE)
    return chosen, known.get(chosen)


def places() -> dict[str, EquipmentBody]:
    """Every place that somebody described, by its name."""
    return {body.place: body for body in fold(queries.entries_of(THE_HOUSE)).equipment}


def show_gear(place: str | None) -> Gear:
    """What a place can load."""
    name, body = place_at(place)
    return _gear(body or EquipmentBody(place=name, equipment=ASSUMED))


def change_gear(place: str | None, change: GearChange, scribe: Scribe) -> Gear:
    """Say what a place can load; what was said before of other parts stays."""
    name = _named(place)
    _check(change)
    changes = {n: getattr(change, n) for n in change.__struct_fields__ if getattr(change, n) is not None}
    habits = {n: changes.pop(n) for n in ("alone", "safeties") if n in changes}
    before = places().get(name) or EquipmentBody(place=name, equipment=ASSUMED)
    equipment = structs.replace(before.equipment, is_assumed=before.equipment.is_assumed and not changes, **changes)
    body = structs.replace(before, equipment=equipment, **habits)
    older = [e.id for e in queries.entries_of(THE_HOUSE) if e.kind == "equipment" and _place_of(e.body) == name]
    scribe.write([scribe.entry(THE_HOUSE, body, replaces=older)])
    return _gear(body)


def _named(place: str | None) -> str:
    if place is None:
        return place_at(None)[0]
    try:
        name = cells.text(place)
    except CellRefused as refused:
        raise Refused(tell("the name of the place {problem}", problem=refused.problem), refused.remedy) from refused
    if not name or len(name) > LONGEST_PLACE:
        raise Refused(tell("a place has a name of 1 to {most} characters", most=LONGEST_PLACE), "")
    return name


def _place_of(body: bytes) -> str:
    return msgspec.json.decode(body, type=EquipmentBody).place


def _check(change: GearChange) -> None:
    masses = [change.bar] if change.bar is not None else []
    masses += [p.plate for p in change.plates or ()]
    runs = [*(change.dumbbells or ()), *(change.kettlebells or ()), *((change.stack,) if change.stack else ())]
    masses += [mass for run in runs for mass in (run.lightest, run.step, run.heaviest)]
    if any(m.unit == "mark" or m.magnitude <= 0 for m in masses):
        raise Refused(tell("equipment has masses above zero"), tell("Write them in kg or lb, such as 20kg or 45lb"))
    if any(run.heaviest.magnitude < run.lightest.magnitude for run in runs):
        raise Refused(tell("a rack goes from the lightest to the heaviest"), tell("Write it as 2kg-40kg/2kg"))
    if any((run.heaviest.magnitude - run.lightest.magnitude) / run.step.magnitude > Decimal(500) for run in runs):
        raise Refused(tell("a rack has at most 500 steps"), tell("Check its step"))
    plates = change.plates or ()
    if sum(p.pairs for p in plates) > MOST_PAIRS or len(plates) > MOST_KINDS:
        raise Refused(
            tell("more than {pairs} pairs or {kinds} kinds of plates", pairs=MOST_PAIRS, kinds=MOST_KINDS),
            tell("Name those that one bar uses"),
        )


def _gear(body: EquipmentBody) -> Gear:
    equipment = body.equipment
    made = loads_for(catalogue()["squat"], equipment).magnitudes
    return Gear(
        place=body.place,
        is_assumed=equipment.is_assumed,
        alone=body.alone,
        safeties=body.safeties,
        bar=equipment.bar,
        plates=equipment.plates,
        dumbbells=equipment.dumbbells,
        kettlebells=equipment.kettlebells,
        stack=equipment.stack,
        bar_loads_kg=tuple(float(m) for m in made),
    )
