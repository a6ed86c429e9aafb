"""Backups that are proved: written, read back, restored into an empty log, and compared by hash."""

from collections import defaultdict
from collections.abc import Callable, Iterable
from contextlib import AbstractContextManager
from hashlib import sha256
from pathlib import Path

from django.db import transaction
from msgspec import Struct

from steelyard.engine.fold import fold
from steelyard.engine.log import Entry, encode_canonical
from steelyard.exchange.backup_file import BackupRefused, read_backup, read_erased, write_backup
from steelyard.store import commands, queries
from steelyard.store.ledger import kept_out, ledger
from steelyard.wording.message import tell, tell_count
from steelyard.wording.outside_errors import tell_system_error

from .erasing import apply_ledger
from .refusal import Refused
from .scribe import Scribe


class BackedUp(Struct, frozen=True, kw_only=True):
    """A backup that was proved by restoring it."""

    file: str
    entries: int
    people: int
    hash: str
    is_proved: bool


class Restored(Struct, frozen=True, kw_only=True):
    """What a backup brought back."""

    file: str
    entries_added: int
    entries_known: int
    entries_erased: int
    people: int
    people_erased: int
    hash: str
    is_same_as_backup: bool


def back_up(path: Path, scratch: Callable[[], AbstractContextManager[str]], scribe: Scribe) -> BackedUp:
    """Write every entry to a new file and prove it; a file that fails its proof is removed and the failure is loud."""
    with transaction.atomic():
        entries, erased = list(queries.all_entries()), tuple(ledger())
    try:
        count = write_backup(path, entries, scribe.now().isoformat(timespec="seconds"), erased)
    except FileExistsError as refused:
        raise Refused(tell("{file} exists already", file=path), tell("Give another name with --out")) from refused
    except OSError as refused:
        path.unlink(missing_ok=True)
        raise Refused(
            tell("cannot write {file}: {problem}", file=path, problem=tell_system_error(refused)),
            tell("Give another place with --out"),
        ) from refused
    wanted = content_hash(entries)
    try:
        proved = _restored_hash(path, scratch, scribe)
    except BackupRefused as refused:
        proved = str(refused)
    if proved != wanted:
        path.unlink()
        raise Refused(
            tell("the backup could not be proved ({found}) and was removed", found=proved),
            tell("Check the disk and try again"),
        )
    return BackedUp(file=str(path), entries=count, people=_people(entries), hash=wanted, is_proved=True)


def restore(path: Path, scribe: Scribe) -> Restored:
    """Bring back every entry of a sound backup that this log does not hold; nothing is overwritten.

    Who was erased, here or where the backup comes from, stays out.
    """
    try:
        entries, erased = read_backup(path), read_erased(path)
    except BackupRefused as refused:
        raise Refused(str(refused)) from refused
    apply_ledger(erased, scribe.now())
    appended = commands.append(entries, scribe.now(), skip_erased=True)
    if appended.count("set-aside"):
        raise Refused(
            tell_count(
                "{count} entry of {file} has other content than this log under the same id",
                "{count} entries of {file} have other content than this log under the same id",
                appended.count("set-aside"),
                file=path,
            ),
            tell("What differs is kept aside and changes nothing; everything else was added"),
        )
    now, out = list(queries.all_entries()), kept_out().people
    kept = [e for e, outcome in zip(entries, appended.outcomes, strict=True) if outcome != "erased"]
    ids = {entry.id for entry in kept}
    same = content_hash(e for e in now if e.id in ids) == content_hash(kept)
    return Restored(
        file=str(path),
        entries_added=appended.count("stored"),
        entries_known=appended.count("known"),
        entries_erased=appended.count("erased"),
        people=_people(kept),
        people_erased=len({e.person for e in entries} & out),
        hash=content_hash(now),
        is_same_as_backup=same,
    )


def content_hash(entries: Iterable[Entry]) -> str:
    """One hash over every person's folded history and every entry's bytes, whatever their order."""
    by_person: dict[str, list[Entry]] = defaultdict(list)
    for entry in entries:
        by_person[entry.person].append(entry)
    hashed = sha256()
    for person in sorted(by_person):
        hashed.update(person.encode())
        hashed.update(encode_canonical(fold(by_person[person])))
        for entry in sorted(by_person[person], key=lambda e: e.id):
            envelope = (entry.id, entry.author, entry.device, entry.kind, entry.schema, entry.hlc, entry.wall_time)
            hashed.update(encode_canonical((*envelope, entry.replaces)))
            hashed.update(entry.body_sha256)
    return hashed.hexdigest()


def _restored_hash(path: Path, scratch: Callable[[], AbstractContextManager[str]], scribe: Scribe) -> str:
    with scratch() as alias:
        commands.append(read_backup(path), scribe.now(), using=alias)
        return content_hash(queries.all_entries(alias))


def _people(entries: list[Entry]) -> int:
    return len({e.person for e in entries if e.kind == "lifter"})
