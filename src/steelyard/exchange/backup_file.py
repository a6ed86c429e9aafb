"""A backup: every entry as a line of JSON, compressed, closed by a hash over all lines before it."""

import gzip
import zlib
from collections.abc import Iterable, Iterator
from hashlib import sha256
from pathlib import Path

import msgspec
from msgspec import Struct

from steelyard.engine.log import Entry, encode_canonical

FORMAT = 1
LONGEST_LINE = 4_000_000


class BackupRefused(Exception):
    """A file that is no sound backup."""


class _Head(Struct, frozen=True, kw_only=True):
    steelyard_backup: int
    made: str


class _Line(Struct, frozen=True, kw_only=True):
    """An entry with its body as the text it was sent as."""

    id: str
    person: str
    author: str
    device: str
    kind: str
    schema: int
    hlc: str
    wall_time: str
    replaces: tuple[str, ...]
    body: str


class _Tail(Struct, frozen=True, kw_only=True):
    entries: int
    sha256: str


def write_backup(path: Path, entries: Iterable[Entry], made: str) -> int:
    """Write a new file (an existing one is refused) and give back how many entries it holds."""
    hashed, count = sha256(), 0
    with path.open("xb") as raw, gzip.GzipFile(fileobj=raw, mode="wb", mtime=0, filename="") as file:
        path.chmod(0o600)

        def line(value: Struct) -> None:
            written = encode_canonical(value) + b"\n"
            hashed.update(written)
            file.write(written)

        line(_Head(steelyard_backup=FORMAT, made=made))
        for entry in entries:
            values = {n: getattr(entry, n) for n in entry.__struct_fields__ if n != "body"}
            line(_Line(**values, body=entry.body.decode()))
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
            raise BackupRefused(f"{path} has a format that this version does not know; update Steelyard")
        hashed.update(head)
        decoder = msgspec.json.Decoder(_Line)
        held = next(lines, b"")
        for following in lines:
            hashed.update(held)
            entries.append(_entry(decoder.decode(held)))
            held = following
        tail = msgspec.json.decode(held, type=_Tail)
    except (msgspec.DecodeError, EOFError, OSError, zlib.error, UnicodeError) as refused:
        raise BackupRefused(f"{path} is damaged or no backup ({refused}); use another copy") from refused
    if tail.entries != len(entries) or tail.sha256 != hashed.hexdigest():
        raise BackupRefused(f"{path} is damaged: its hash does not fit; use another copy")
    return entries


def _lines(path: Path) -> Iterator[bytes]:
    with gzip.open(path, "rb") as file:
        while line := file.readline(LONGEST_LINE):
            if not line.endswith(b"\n"):
                raise BackupRefused(f"{path} is damaged: a line has no end; use another copy")
            yield line


def _entry(line: _Line) -> Entry:
    values = {n: getattr(line, n) for n in line.__struct_fields__ if n != "body"}
    return Entry(**values, body=line.body.encode())
