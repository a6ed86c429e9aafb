"""What a place can load."""

from decimal import Decimal

import msgspec
from msgspec import Struct, structs

from steelyard.catalogue import catalogue
from steelyard.engine.equipment import ASSUMED, Equipment, PlatePair, Steps, loads_for
from steelyard.engine.fold import fold
from steelyard.engine.log import THE_HOUSE, EquipmentBody
from steelyard.engine.quantities import Load
from steelyard.store import queries

from .refusal import Refused
from .scribe import Scribe

USUAL_PLACE = "gym"
# Every further kind of plate may double the loads that a side can carry.
MOST_PAIRS, MOST_KINDS = 60, 10


class Gear(Struct, frozen=True, kw_only=True):
    """One place and what it can load."""

    place: str
    is_assumed: bool
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


def equipment_at(place: str | None) -> tuple[str, Equipment | None]:
    """The equipment of a place, or of the only one that is known; None where nobody said."""
    known = {body.place: body.equipment for body in fold(queries.entries_of(THE_HOUSE)).equipment}
    if place is not None and known and place not in known:
        raise Refused(f"no place is called {place!r}", f"Known: {', '.join(sorted(known))}")
    if place is None and len(known) > 1 and USUAL_PLACE not in known:
        raise Refused("more than one place is known", f"Name one with --place: {', '.join(sorted(known))}")
    chosen = place or (next(iter(known)) if len(known) == 1 else USUAL_PLACE)
    return chosen, known.get(chosen)


def show_gear(place: str | None) -> Gear:
    """What a place can load."""
    name, equipment = equipment_at(place)
    return _gear(name, equipment or ASSUMED)


def change_gear(place: str | None, change: GearChange, scribe: Scribe) -> Gear:
    """Say what a place can load; what was said before of other parts stays."""
    name = place or equipment_at(None)[0]
    entries = queries.entries_of(THE_HOUSE)
    known = {body.place: body.equipment for body in fold(entries).equipment}
    changes = {n: getattr(change, n) for n in change.__struct_fields__ if getattr(change, n) is not None}
    _check(change)
    equipment = structs.replace(known.get(name, ASSUMED), is_assumed=False, **changes)
    older = [e.id for e in entries if e.kind == "equipment" and _place_of(e.body) == name]
    scribe.write([scribe.entry(THE_HOUSE, EquipmentBody(place=name, equipment=equipment), replaces=older)])
    return _gear(name, equipment)


def _place_of(body: bytes) -> str:

    return msgspec.json.decode(body, type=EquipmentBody).place


def _check(change: GearChange) -> None:
    masses = [change.bar] if change.bar is not None else []
    masses += [p.plate for p in change.plates or ()]
    runs = [*(change.dumbbells or ()), *(change.kettlebells or ()), *((change.stack,) if change.stack else ())]
    masses += [mass for run in runs for mass in (run.lightest, run.step, run.heaviest)]
    if any(m.unit == "mark" or m.magnitude <= 0 for m in masses):
        raise Refused("equipment has masses above zero", "Write them in kg or lb, such as 20kg or 45lb")
    if any(run.heaviest.magnitude < run.lightest.magnitude for run in runs):
        raise Refused("a rack goes from the lightest to the heaviest", "Write it as 2kg-40kg/2kg")
    if any((run.heaviest.magnitude - run.lightest.magnitude) / run.step.magnitude > Decimal(500) for run in runs):
        raise Refused("a rack has at most 500 steps", "Check its step")
    plates = change.plates or ()
    if sum(p.pairs for p in plates) > MOST_PAIRS or len(plates) > MOST_KINDS:
        raise Refused(f"more than {MOST_PAIRS} pairs or {MOST_KINDS} kinds of plates", "Name those that one bar uses")


def _gear(name: str, equipment: Equipment) -> Gear:
    made = loads_for(catalogue()["squat"], equipment).magnitudes
    return Gear(
        place=name,
        is_assumed=equipment.is_assumed,
        bar=equipment.bar,
        plates=equipment.plates,
        dumbbells=equipment.dumbbells,
        kettlebells=equipment.kettlebells,
        stack=equipment.stack,
        bar_loads_kg=tuple(float(m) for m in made),
    )
