"""Everything that the log holds of one person as one file: JSON, an entry a line, closed by a hash over all lines."""

from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

import msgspec
from msgspec import Struct

from steelyard.engine.log import Entry, encode_canonical
from steelyard.wording.message import tell

from .entry_line import EntryLine, entry_of, line_of

FORMAT = 1
LONGEST_LINE = 4_000_000
LONGEST_HEAD = 4_000


class PersonFileRefused(Exception):
    """A file that is no sound person file."""


class PersonFile(Struct, frozen=True, kw_only=True):
    """What such a file holds: whose it is, their entries, and those that wait beside the log."""

    person: str
    name: str
    entries: tuple[Entry, ...]
    set_aside: tuple[Entry, ...] = ()


class _Head(Struct, frozen=True, kw_only=True):
    steelyard_person: int
    person: str
    name: str
    made: str


class _Tail(Struct, frozen=True, kw_only=True):
    entries: int
    sha256: str


def write_person_file(path: Path, content: PersonFile, made: str) -> None:
    """Write a new file that only its owner can read; an existing one is refused."""
    hashed = sha256()
    with path.open("xb") as file:
        path.chmod(0o600)

        def line(value: Struct) -> None:
            written = encode_canonical(value) + b"\n"
            hashed.update(written)
            file.write(written)

        line(_Head(steelyard_person=FORMAT, person=content.person, name=content.name, made=made))
        for entry in content.entries:
            line(line_of(entry))
        for entry in content.set_aside:
            line(line_of(entry, set_aside=True))
        line(_Tail(entries=len(content.entries) + len(content.set_aside), sha256=hashed.hexdigest()))


def is_person_file(path: Path) -> bool:
    """Whether a file begins as a person file does, in whatever version."""
    try:
        with path.open("rb") as file:
            msgspec.json.decode(file.readline(LONGEST_HEAD), type=_Head)
    except (msgspec.DecodeError, OSError, UnicodeError, RecursionError):
        return False
    return True


def read_person_file(path: Path) -> PersonFile:
    """A sound file as a value; raises PersonFileRefused for anything else, before anything is kept."""
    try:
        return _read(path)
    except (msgspec.DecodeError, OSError, UnicodeError, RecursionError) as refused:
        raise PersonFileRefused(
            tell("{file} is damaged or no person file ({why}); use another copy", file=path, why=refused)
        ) from refused


def _read(path: Path) -> PersonFile:
    lines = _lines(path)
    first = next(lines, b"")
    head = msgspec.json.decode(first, type=_Head)
    if head.steelyard_person != FORMAT:
        raise PersonFileRefused(
            tell("{file} has a format that this version does not know; update Steelyard", file=path)
        )
    hashed, decoder = sha256(first), msgspec.json.Decoder(EntryLine)
    found: list[EntryLine] = []
    held = next(lines, b"")
    for following in lines:
        hashed.update(held)
        found.append(decoder.decode(held))
        held = following
    tail = msgspec.json.decode(held, type=_Tail)
    if tail.entries != len(found) or tail.sha256 != hashed.hexdigest():
        raise PersonFileRefused(tell("{file} is damaged: its hash does not fit; use another copy", file=path))
    if any(line.person != head.person for line in found):
        raise PersonFileRefused(
            tell("{file} holds entries of more than one person; a person file holds those of one", file=path)
        )
    return PersonFile(
        person=head.person,
        name=head.name,
        entries=tuple(entry_of(line) for line in found if not line.set_aside),
        set_aside=tuple(entry_of(line) for line in found if line.set_aside),
    )


def _lines(path: Path) -> Iterator[bytes]:
    with path.open("rb") as file:
        while line := file.readline(LONGEST_LINE):
            if not line.endswith(b"\n"):
                raise PersonFileRefused(tell("{file} is damaged: a line has no end; use another copy", file=path))
            yield line
