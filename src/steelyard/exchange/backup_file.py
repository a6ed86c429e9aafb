"""A backup: every entry as a line of JSON, compressed, closed by a hash over all lines before it."""

import gzip
import zlib
from collections.abc import Iterable, Iterator
from hashlib import sha256
from pathlib import Path

import msgspec
from msgspec import Struct

from steelyard.engine.erased import Erased
from steelyard.engine.log import Entry, encode_canonical
from steelyard.wording.message import tell

from .entry_line import EntryLine, entry_of, line_of

FORMAT = 1
LONGEST_LINE = 4_000_000


class BackupRefused(Exception):
    """A file that is no sound backup."""


class _Head(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What the file is; `erased` is who must stay out of a log that it is brought back into."""

    steelyard_backup: int
    made: str
    erased: tuple[Erased, ...] = ()


class _Tail(Struct, frozen=True, kw_only=True):
    entries: int
    sha256: str


def write_backup(path: Path, entries: Iterable[Entry], made: str, erased: tuple[Erased, ...] = ()) -> int:
    """Write a new file (an existing one is refused) and give back how many entries it holds."""
    hashed, count = sha256(), 0
    with path.open("xb") as raw, gzip.GzipFile(fileobj=raw, mode="wb", mtime=0, filename="") as file:
        path.chmod(0o600)

        def line(value: Struct) -> None:
            written = encode_canonical(value) + b"\n"
            hashed.update(written)
            file.write(written)

        line(_Head(steelyard_backup=FORMAT, made=made, erased=erased))
        for entry in entries:
            line(line_of(entry))
            count += 1
        line(_Tail(entries=count, sha256=hashed.hexdigest()))
    return count


def read_backup(path: Path) -> list[Entry]:
    """Every entry of a sound backup; raises BackupRefused for anything else, before anything is kept."""
    entries: list[Entry] = []
    hashed = sha256()
    try:
        lines = _lines(path)
        head = next(lines, b"")
        if msgspec.json.decode(head, type=_Head).steelyard_backup != FORMAT:
            raise BackupRefused(
                tell("{file} has a format that this version does not know; update Steelyard", file=path)
            )
        hashed.update(head)
        decoder = msgspec.json.Decoder(EntryLine)
        held = next(lines, b"")
        for following in lines:
            hashed.update(held)
            entries.append(entry_of(decoder.decode(held)))
            held = following
        tail = msgspec.json.decode(held, type=_Tail)
    except (msgspec.DecodeError, EOFError, OSError, zlib.error, UnicodeError, RecursionError) as refused:
        raise BackupRefused(
            tell("{file} is damaged or no backup ({why}); use another copy", file=path, why=refused)
        ) from refused
    if tail.entries != len(entries) or tail.sha256 != hashed.hexdigest():
        raise BackupRefused(tell("{file} is damaged: its hash does not fit; use another copy", file=path))
    return entries


def read_erased(path: Path) -> tuple[Erased, ...]:
    """Who was erased from the log when the backup was made; the file was found sound by read_backup() before."""
    return msgspec.json.decode(next(_lines(path)), type=_Head).erased


def _lines(path: Path) -> Iterator[bytes]:
    with gzip.open(path, "rb") as file:
        while line := file.readline(LONGEST_LINE):
            if not line.endswith(b"\n"):
                raise BackupRefused(tell("{file} is damaged: a line has no end; use another copy", file=path))
            yield line
