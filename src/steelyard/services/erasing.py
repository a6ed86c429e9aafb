"""Erase a person: every entry of theirs, their name where the house kept it, and the bytes behind."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import repeat
from pathlib import Path

from msgspec import Struct

from steelyard.engine.erased import Erased
from steelyard.engine.log import THE_HOUSE, LifterBody, decode_body
from steelyard.store import erasing, queries
from steelyard.store.ledger import ledger
from steelyard.store.scrubbing import scrub
from steelyard.wording.message import tell, tell_count

from .erased_names import hashed_name
from .gear import places
from .lifters import Lifter, all_lifters, find_lifter, folded, quoted
from .refusal import Refused
from .roster import about_lifter
from .scribe import Scribe, new_id
from .traces import Traces, shared_without

# How long a backup is usually kept before it is removed: our proposal; a house may keep them shorter.
KEEP_BACKUPS_DAYS = 35
BACKUP_NAMES = "steelyard-backup-*"


class Erasure(Struct, frozen=True, kw_only=True):
    """What was removed, and what a person must still do by hand."""

    lifter: str
    entries_removed: int
    set_aside_removed: int
    shared_rewritten: int
    is_scrubbed: bool
    named_by_others: int
    backups_found: tuple[str, ...]
    to_do: tuple[str, ...]


class Surroundings(Struct, frozen=True, kw_only=True):
    """Where backups may lie, and whether a server holds the log."""

    folders: tuple[Path, ...] = ()
    is_server: bool = False


def erase_lifter(name: str, typed: str, scribe: Scribe, around: Surroundings, *, with_place: bool = False) -> Erasure:
    """Remove a lifter for good, after their name was typed again; `with_place` removes their usual place as well."""
    lifter = find_lifter(name)
    if folded(typed) != folded(lifter.name):
        raise Refused(
            tell("{typed!r} is not {name!r}, so nothing was erased", typed=typed, name=lifter.name),
            tell("Type the name in full, or give --yes-erase {name}", name=quoted(lifter.name)),
        )
    place = about_lifter(lifter).place
    if with_place:
        _check_place(lifter, place)
    names = _names(lifter)
    traces = Traces(lifter.person, names)
    shared = shared_without(
        queries.entries_of(THE_HOUSE),
        traces,
        frozenset({place} if with_place else ()),
        (new_id(now) for now in repeat(scribe.now())),
    )
    gone = Erased(
        person=lifter.person,
        on=scribe.today(),
        names=tuple(hashed_name(folded(n)) for n in names),
        entries=shared.removed,
    )
    aside = [n for n, entry in queries.all_set_aside() if entry.person == THE_HOUSE and traces.are_in(entry)]
    removed = erasing.erase(gone, scribe.now(), rewritten=shared.rewritten, aside=aside)
    is_scrubbed = scrub()
    left = place if place in places() else ""
    others = sum(1 for e in queries.all_entries() if e.person != THE_HOUSE and traces.are_in(e))
    backups = tuple(str(p) for folder in around.folders for p in sorted(folder.glob(BACKUP_NAMES)))
    return Erasure(
        lifter=lifter.name,
        entries_removed=removed.entries,
        set_aside_removed=removed.set_aside,
        shared_rewritten=len(shared.removed),
        is_scrubbed=is_scrubbed,
        named_by_others=others,
        backups_found=backups,
        to_do=tuple(_to_do(is_scrubbed, around.is_server, backups, others, left)),
    )


def apply_ledger(erased: Sequence[Erased], received: datetime) -> None:
    """Erase here as well whoever was erased where a backup comes from."""
    known = {gone.person: gone for gone in ledger()}
    for gone in erased:
        mine = known.get(gone.person)
        if mine is None or set(gone.names) - set(mine.names) or set(gone.entries) - set(mine.entries):
            erasing.erase(gone, received)
    scrub()


def _names(lifter: Lifter) -> list[str]:
    """Every name that the lifter ever went by."""
    bodies = (decode_body(e.kind, e.schema, e.body) for e in queries.entries_of(lifter.person))
    return list(dict.fromkeys(b.name for b in bodies if isinstance(b, LifterBody)))


def _check_place(lifter: Lifter, place: str) -> None:
    if not place:
        raise Refused(tell("no place is known as theirs"), tell("Leave --with-place out"))
    for other in all_lifters():
        if other != lifter and about_lifter(other).place == place:
            raise Refused(
                tell("{name} trains at {place!r} too", name=other.name, place=place), tell("Leave --with-place out")
            )


def _to_do(is_scrubbed: bool, is_server: bool, backups: tuple[str, ...], others: int, place: str) -> Iterator[str]:
    """What is not in the program's hands, in sentences."""
    if not is_scrubbed:
        yield tell(
            "Another program holds the log, or the disk is full: what was freed is overwritten at the next start."
        )
    if is_server:
        yield tell(
            "The server's own write-ahead log, replicas and backups keep older pages for a time: ask who runs it."
        )
    found = ", ".join(backups)
    yield tell(
        "Backups and files made before today still hold them: remove those by hand, at the latest after {days} days.",
        days=KEEP_BACKUPS_DAYS,
    ) + (" " + tell("Found: {files}.", files=found) if found else "")
    if place:
        yield tell("The place {place!r} stays for everybody; it does not say whose it was.", place=place)
    if others:
        yield tell_count(
            "{count} entry of another lifter names them; it is that lifter's and stays.",
            "{count} entries of other lifters name them; they are those lifters' and stay.",
            others,
        )
