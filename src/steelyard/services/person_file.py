"""One person's whole log as a file: given away, and taken in elsewhere with the same content."""

from collections.abc import Callable
from pathlib import Path

from msgspec import Struct

from steelyard.engine.fold import fold
from steelyard.engine.log import THE_HOUSE
from steelyard.exchange.person_file import PersonFile, PersonFileRefused, is_person_file, write_person_file
from steelyard.exchange.person_file import read_person_file as read_file
from steelyard.exchange.set_export import csv_lines
from steelyard.store import commands, queries
from steelyard.store.ledger import kept_out
from steelyard.wording.message import tell
from steelyard.wording.outside_errors import tell_system_error

from .backing_up import content_hash
from .erased_names import is_erased_name
from .lifters import all_lifters, find_lifter, folded, log_of
from .own_exercises import catalogue_of
from .refusal import Refused
from .scribe import Scribe

__all__ = ["PersonExported", "PersonTakenIn", "export_person", "is_person_file", "read_person_file", "take_in"]


class PersonExported(Struct, frozen=True, kw_only=True):
    """What was written of a person."""

    lifter: str
    file: str
    entries: int
    set_aside: int
    hash: str
    sets_file: str
    sets: int


class PersonTakenIn(Struct, frozen=True, kw_only=True):
    """What a person file brought."""

    file: str
    lifter: str
    entries_added: int
    entries_known: int
    set_aside: int
    hash: str
    is_same_as_file: bool


def export_person(name: str | None, out: Path, sets_out: Path | None, scribe: Scribe) -> PersonExported:
    """Write everything that the log holds of a lifter to a new file, and their sets as CSV to another if asked."""
    lifter = find_lifter(name)
    entries = queries.entries_of(lifter.person)
    aside = tuple(queries.set_aside_of(lifter.person))
    content = PersonFile(person=lifter.person, name=lifter.name, entries=tuple(entries), set_aside=aside)
    log = log_of(lifter)
    lines = list(csv_lines(lifter.name, log.sets, catalogue_of(log)))
    _write(out, lambda: write_person_file(out, content, scribe.now().isoformat(timespec="seconds")))
    if sets_out is not None:
        _write(sets_out, lambda: _write_lines(sets_out, lines))
    return PersonExported(
        lifter=lifter.name,
        file=str(out),
        entries=len(entries),
        set_aside=len(aside),
        hash=content_hash(entries),
        sets_file=str(sets_out or ""),
        sets=len(log.sets),
    )


def read_person_file(path: Path) -> PersonFile:
    """A sound person file; refuses anything else."""
    try:
        content = read_file(path)
    except PersonFileRefused as refused:
        raise Refused(str(refused)) from refused
    if content.person == THE_HOUSE or fold(content.entries).lifter is None:
        raise Refused(tell("{file} does not say whose log it is", file=path), tell("Use another copy"))
    return content


def take_in(path: Path, scribe: Scribe, *, is_again: bool = False) -> PersonTakenIn:
    """Add what this log does not hold of a person's file; who was erased here stays out, unless they came back.

    `is_again` lets an erased name in under another person's id; the same id stays out for good.
    """
    content = read_person_file(path)
    body = fold(content.entries).lifter
    name = body.name if body is not None else content.name
    _refuse_erased(content, name, is_again=is_again)
    for other in all_lifters():
        if other.person != content.person and folded(other.name) == folded(name):
            raise Refused(
                tell("there is another lifter called {name!r} here", name=other.name),
                tell("Give that one another name first: `steelyard lifter rename`"),
            )
    appended = commands.append((*content.entries, *content.set_aside), scribe.now())
    ids = {entry.id for entry in content.entries}
    now = [entry for entry in queries.entries_of(content.person) if entry.id in ids]
    return PersonTakenIn(
        file=str(path),
        lifter=name,
        entries_added=appended.count("stored"),
        entries_known=appended.count("known"),
        set_aside=appended.count("set-aside"),
        hash=content_hash(queries.entries_of(content.person)),
        is_same_as_file=content_hash(now) == content_hash(content.entries),
    )


def _refuse_erased(content: PersonFile, name: str, *, is_again: bool) -> None:
    if content.person in kept_out().people:
        raise Refused(
            tell("this file is of somebody who was erased from this log"),
            tell("They may begin anew with `steelyard lifter add`, without what was erased"),
        )
    is_here = any(lifter.person == content.person for lifter in all_lifters())
    if not is_again and not is_here and is_erased_name(folded(name)):
        raise Refused(
            tell("a lifter called {name!r} was erased from this log", name=name),
            tell("Nothing was taken in; the file may be of the same person"),
        )


def _write(path: Path, write: Callable[[], None]) -> None:
    try:
        write()
    except FileExistsError as refused:
        raise Refused(tell("{file} exists already", file=path), tell("Give another name")) from refused
    except OSError as refused:
        path.unlink(missing_ok=True)
        raise Refused(
            tell("cannot write {file}: {problem}", file=path, problem=tell_system_error(refused)),
            tell("Give another place"),
        ) from refused


def _write_lines(path: Path, lines: list[str]) -> None:
    with path.open("x", encoding="utf-8", newline="") as file:
        path.chmod(0o600)
        file.writelines(lines)
