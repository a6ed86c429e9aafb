"""Whose log it is."""

import unicodedata
from collections import defaultdict

from msgspec import Struct

from steelyard.engine.fold import TrainingLog, fold
from steelyard.engine.log import Entry, LifterBody
from steelyard.exchange import cells
from steelyard.exchange.cells import CellRefused
from steelyard.store import queries

from .refusal import Refused
from .scribe import Scribe, content_id

LONGEST_NAME = 100


class Lifter(Struct, frozen=True):
    """A person with a log."""

    person: str
    name: str


def all_lifters() -> list[Lifter]:
    """Everybody in the log, by name."""
    by_person: dict[str, list[Entry]] = defaultdict(list)
    for entry in queries.entries_of_kind("lifter"):
        by_person[entry.person].append(entry)
    found = [(person, fold(entries).lifter) for person, entries in by_person.items()]
    return sorted((Lifter(p, body.name) for p, body in found if body is not None), key=lambda x: x.name.casefold())


def find_lifter(name: str | None) -> Lifter:
    """The lifter of that name; without a name the only one there is."""
    lifters = all_lifters()
    if name is not None:
        return _named(lifters, name)
    if len(lifters) == 1:
        return lifters[0]
    if not lifters:
        raise Refused("the log holds nobody yet", "Import a file or log a set with --lifter NAME first")
    raise Refused("the log holds more than one lifter", f"Name one: {', '.join(x.name for x in lifters)}")


def _named(lifters: list[Lifter], name: str) -> Lifter:
    for lifter in lifters:
        if folded(lifter.name) == folded(name):
            return lifter
    known = ", ".join(x.name for x in lifters) or "nobody yet"
    raise Refused(f"there is no lifter {name!r}", f"Known: {known}")


def folded(name: str) -> str:
    """A name without regard to case and spaces."""
    return " ".join(unicodedata.normalize("NFC", name).casefold().split())


def new_lifter(name: str, scribe: Scribe) -> tuple[Lifter, Entry]:
    """A lifter who was not known, and the entry that says so.

    Two commands on this machine that take in the same name at the same moment mean the same person.
    """
    try:
        written = " ".join(cells.text(name).split())
    except CellRefused as refused:
        raise Refused(f"the name of the lifter {refused.problem}", refused.remedy) from refused
    if not written or len(written) > LONGEST_NAME:
        raise Refused(f"a lifter has a name of 1 to {LONGEST_NAME} characters", "Give it with --lifter NAME")
    lifter = Lifter(content_id(scribe.device, scribe.today(), folded(written).encode(), 1), written)
    return lifter, scribe.entry(lifter.person, LifterBody(name=lifter.name))


def log_of(lifter: Lifter) -> TrainingLog:
    """One lifter's history as it stands now."""
    return fold(queries.entries_of(lifter.person))
