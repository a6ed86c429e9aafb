"""Correct or withdraw an entry; what was written before stays in the log."""

from msgspec import Struct, structs

from steelyard.catalogue import catalogue
from steelyard.engine.fold import LoggedSet, fold, versions_of
from steelyard.engine.log import SetBody, TombstoneBody
from steelyard.engine.quantities import Unit
from steelyard.exchange.cells import CellRefused
from steelyard.exchange.set_export import SetLine, set_line
from steelyard.exchange.set_line import read_line
from steelyard.store import queries

from .lifters import all_lifters
from .refusal import Refused
from .scribe import Scribe

SHORTEST_ID = 6


class Amended(Struct, frozen=True, kw_only=True):
    """A set before and after; no `after` where it was withdrawn."""

    lifter: str
    before: SetLine
    after: SetLine | None


def amend(handle: str, line: str | None, why: str, unit: Unit, scribe: Scribe) -> Amended:
    """Write a set anew from a typed line, or withdraw it where there is no line; `handle` is the end of its id."""
    lifter, person, logged = _find(handle)
    versions = versions_of(queries.entries_of(person), logged.id)
    before = set_line(lifter, logged, catalogue())
    if line is None:
        scribe.write([scribe.entry(person, TombstoneBody(why=why or "withdrawn"), replaces=versions)])
        return Amended(lifter=lifter, before=before, after=None)
    body = _typed(line, logged, unit)
    entry = scribe.entry(person, body, replaces=versions)
    scribe.write([entry])
    return Amended(lifter=lifter, before=before, after=set_line(lifter, LoggedSet(entry.id, body), catalogue()))


def _find(handle: str) -> tuple[str, str, LoggedSet]:
    """The one current set whose id ends so."""
    if len(handle) < SHORTEST_ID:
        raise Refused(f"{handle!r} is too short", f"Give the last {SHORTEST_ID} or more characters of it")
    found = [
        (lifter.name, lifter.person, logged)
        for lifter in all_lifters()
        for logged in fold(queries.entries_of(lifter.person)).sets
        if logged.id.endswith(handle.casefold())
    ]
    if len(found) != 1:
        many = "more than one set" if found else "no set"
        raise Refused(f"{many} has an id that ends in {handle!r}", "Copy it from `steelyard history`")
    return found[0]


def _typed(line: str, logged: LoggedSet, unit: Unit) -> SetBody:
    try:
        typed = read_line(line, catalogue(), logged.body.on, unit)
    except CellRefused as refused:
        raise Refused(refused.problem, refused.remedy[:1].upper() + refused.remedy[1:]) from refused
    if len(typed.sets) != 1:
        raise Refused(f"{line!r} is not one set", "Write the one set as it was, such as: bench 8 @ 62.5kg rir 2")
    return structs.replace(typed.sets[0], session=logged.body.session, phase=logged.body.phase)
