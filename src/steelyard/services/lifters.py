"""Whose log it is."""

import unicodedata
from collections import defaultdict
from itertools import count

from msgspec import Struct

from steelyard.engine.fold import TrainingLog, fold
from steelyard.engine.log import Entry, LifterBody
from steelyard.exchange import cells
from steelyard.exchange.cells import CellRefused
from steelyard.store import queries
from steelyard.store.ledger import kept_out
from steelyard.wording.message import tell

from .erased_names import is_erased_name, slow_hash
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
        raise Refused(tell("the log holds nobody yet"), tell("Import a file or log a set with --lifter NAME first"))
    names = ", ".join(x.name for x in lifters)
    raise Refused(tell("the log holds more than one lifter"), tell("Name one: {names}", names=names))


def _named(lifters: list[Lifter], name: str) -> Lifter:
    for lifter in lifters:
        if folded(lifter.name) == folded(name):
            return lifter
    known = ", ".join(x.name for x in lifters) or tell("nobody yet")
    raise Refused(tell("there is no lifter {name!r}", name=name), tell("Known: {names}", names=known))


def folded(name: str) -> str:
    """A name without regard to case and spaces."""
    return " ".join(unicodedata.normalize("NFC", name).casefold().split())


def new_lifter(name: str, scribe: Scribe) -> tuple[Lifter, Entry]:
    """A lifter who was not known, and the entry that says so."""
    lifter = new_person(name, scribe)
    return lifter, scribe.entry(lifter.person, LifterBody(name=lifter.name))


def new_person(name: str, scribe: Scribe, *, is_again: bool = False) -> Lifter:
    """A lifter who was not known.

    Two commands on this machine that take in the same name at the same moment mean the same person. A name that was
    erased from this log is refused unless it is said to be somebody else, or the same one who came back.
    """
    written = checked_name(name)
    if not is_again and is_erased_name(folded(written)):
        raise Refused(
            tell("a lifter called {name!r} was erased from this log", name=written),
            tell(
                "Somebody else of that name, or back again: `steelyard lifter add {name} --again`", name=quoted(written)
            ),
        )
    return Lifter(_free_id(written, scribe), written)


def checked_name(name: str) -> str:
    """A name as it may stand in the log."""
    try:
        written = " ".join(cells.text(name).split())
    except CellRefused as refused:
        raise Refused(tell("the name of the lifter {problem}", problem=refused.problem), refused.remedy) from refused
    if not written or len(written) > LONGEST_NAME:
        raise Refused(
            tell("a lifter has a name of 1 to {most} characters", most=LONGEST_NAME), tell("Give it with --lifter NAME")
        )
    return written


def quoted(name: str) -> str:
    """A name as it is typed in a command."""
    return f'"{name}"' if " " in name else name


def _free_id(name: str, scribe: Scribe) -> str:
    """An id that no other person has or had: not one who goes by another name now, nor one who was erased."""
    day, salt = scribe.today(), f"{scribe.device} {scribe.today()}".encode()
    slow, erased = slow_hash(folded(name), salt), kept_out().people
    ids = (content_id(scribe.device, day, slow, ordinal) for ordinal in count(1))
    return next(i for i in ids if i not in erased and _goes_by(i) in {None, folded(name)})


def _goes_by(person: str) -> str | None:
    """The folded name of a person as it is now; None where nobody has the id."""
    body = fold(queries.entries_of(person)).lifter
    return folded(body.name) if body is not None else None


def log_of(lifter: Lifter) -> TrainingLog:
    """One lifter's history as it stands now."""
    return fold(queries.entries_of(lifter.person))
