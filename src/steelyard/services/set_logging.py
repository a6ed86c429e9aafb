"""Log what was lifted, from one line as people write it."""

from datetime import date

from msgspec import Struct, structs

from steelyard.catalogue import catalogue
from steelyard.engine.fold import LoggedSet
from steelyard.engine.log import CheckInBody, Entry, SetBody
from steelyard.engine.quantities import Unit
from steelyard.exchange.cells import CellRefused
from steelyard.exchange.set_export import SetLine, set_line
from steelyard.exchange.set_line import read_line

from .lifters import Lifter, all_lifters, find_lifter, folded, log_of, new_lifter
from .next_session import is_deload_on
from .refusal import Refused
from .scribe import Scribe


class Logged(Struct, frozen=True, kw_only=True):
    """What was kept."""

    lifter: str
    date: str
    sets: tuple[SetLine, ...] = ()
    body_mass_kg: float | None = None
    entries_added: int


def log_line(line: str, name: str | None, on: date | None, unit: Unit, scribe: Scribe) -> Logged:
    """Keep the sets of a typed line; a lifter who is named and not known yet is taken in."""
    try:
        typed = read_line(line, catalogue(), on or scribe.today(), unit)
    except CellRefused as refused:
        raise Refused(refused.problem, refused.remedy[:1].upper() + refused.remedy[1:]) from refused
    lifter, entries = _lifter(name, scribe)
    if typed.check_in is not None:
        entries.append(scribe.entry(lifter.person, typed.check_in))
        scribe.write(entries)
        return _of_check_in(lifter, typed.check_in)
    bodies = _in_phase(lifter, typed.sets)
    logged = []
    for body in bodies:
        entry = scribe.entry(lifter.person, body)
        entries.append(entry)
        logged.append(LoggedSet(entry.id, body))
    scribe.write(entries)
    lines = tuple(set_line(lifter.name, s, catalogue()) for s in logged)
    return Logged(lifter=lifter.name, date=lines[0].date, sets=lines, entries_added=len(logged))


def _lifter(name: str | None, scribe: Scribe) -> tuple[Lifter, list[Entry]]:
    known = name is None or any(folded(x.name) == folded(name) for x in all_lifters())
    if known or name is None:
        return find_lifter(name), []
    lifter, entry = new_lifter(name, scribe)
    return lifter, [entry]


def _in_phase(lifter: Lifter, sets: tuple[SetBody, ...]) -> tuple[SetBody, ...]:
    """Sets done on the day of a deload sheet belong to the deload."""
    if is_deload_on(log_of(lifter), sets[0].on):
        return tuple(structs.replace(s, phase="deload") for s in sets)
    return sets


def _of_check_in(lifter: Lifter, body: CheckInBody) -> Logged:
    mass = float(body.body_mass.magnitude) if body.body_mass is not None else None
    return Logged(lifter=lifter.name, date=body.on.isoformat(), body_mass_kg=mass, entries_added=1)
