"""Correct or withdraw an entry; what was written before stays in the log."""

from msgspec import Struct, structs

from steelyard.engine.exercises import Catalogue
from steelyard.engine.fold import LoggedSet, fold, versions_of
from steelyard.engine.log import SetBody, TombstoneBody
from steelyard.engine.quantities import Unit
from steelyard.exchange.cells import CellRefused
from steelyard.exchange.set_export import SetLine, set_line
from steelyard.exchange.set_line import read_line
from steelyard.store import queries
from steelyard.wording.message import tell

from .lifters import all_lifters
from .own_exercises import catalogue_of
from .refusal import Refused
from .scribe import Scribe

SHORTEST_ID = 6


class Amended(Struct, frozen=True, kw_only=True):
    """A set before and after; no `after` where it was withdrawn."""

    lifter: str
    before: SetLine
    after: SetLine | None


def amend(handle: str, line: str | None, why: str, unit: Unit | None, scribe: Scribe) -> Amended:
    """Write a set anew from a typed line, or withdraw it where there is no line; `handle` is the end of its id.

    Without a unit, bare numbers are in the lifter's own.
    """
    lifter, person, logged = _find(handle)
    stored = queries.entries_of(person)
    log = fold(stored)
    known = catalogue_of(log)
    versions = versions_of(stored, logged.id)
    before = set_line(lifter, logged, known)
    if line is None:
        scribe.write([scribe.entry(person, TombstoneBody(why=why or "withdrawn"), replaces=versions)])
        return Amended(lifter=lifter, before=before, after=None)
    own_unit = log.lifter.unit if log.lifter is not None else None
    body = _typed(line, logged, known, unit or own_unit or "kg")
    entry = scribe.entry(person, body, replaces=versions)
    scribe.write([entry])
    return Amended(lifter=lifter, before=before, after=set_line(lifter, LoggedSet(entry.id, body), known))


def _find(handle: str) -> tuple[str, str, LoggedSet]:
    """The one current set whose id ends so."""
    if len(handle) < SHORTEST_ID:
        raise Refused(
            tell("{handle!r} is too short", handle=handle),
            tell("Give the last {least} or more characters of it", least=SHORTEST_ID),
        )
    found = [
        (lifter.name, lifter.person, logged)
        for lifter in all_lifters()
        for logged in fold(queries.entries_of(lifter.person)).sets
        if logged.id.endswith(handle.casefold())
    ]
    if len(found) != 1:
        if found:
            problem = tell("more than one set has an id that ends in {handle!r}", handle=handle)
        else:
            problem = tell("no set has an id that ends in {handle!r}", handle=handle)
        raise Refused(problem, tell("Copy it from `steelyard history`"))
    return found[0]


def _typed(line: str, logged: LoggedSet, known: Catalogue, unit: Unit) -> SetBody:
    try:
        typed = read_line(line, known, logged.body.on, unit)
    except CellRefused as refused:
        raise Refused(refused.problem, refused.remedy[:1].upper() + refused.remedy[1:]) from refused
    if len(typed.sets) != 1:
        raise Refused(
            tell("{line!r} is not one set", line=line),
            tell("Write the one set as it was, such as: bench 8 @ 62.5kg rir 2"),
        )
    old = logged.body
    return structs.replace(typed.sets[0], session=old.session, phase=old.phase, source=old.source)
