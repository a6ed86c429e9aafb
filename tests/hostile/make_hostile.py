"""Hostile files from a seed: honest files damaged, and files made to break a reader. The same seed, the same files."""

from collections.abc import Callable
from random import Random

from msgspec import Struct

from .hostile_text import TEXT_KINDS, Made
from .hostile_workbooks import WORKBOOK_KINDS
from .originals import originals


class HostileFile(Struct, frozen=True):
    """One file: its number, what kind of hostility it is, its suffix and its bytes."""

    number: int
    kind: str
    suffix: str
    content: bytes


def _any(rng: Random) -> tuple[str, bytearray]:
    found = rng.choice(list(originals().values()))
    return found.suffix, bytearray(found.content)


def cut(rng: Random) -> Made:
    """An honest file that breaks off at any byte."""
    suffix, content = _any(rng)
    return suffix, bytes(content[: rng.randrange(len(content))])


def flipped(rng: Random) -> Made:
    """An honest file with some bits the other way round."""
    suffix, content = _any(rng)
    for _ in range(rng.choice((1, 1, 5, 100))):
        content[rng.randrange(len(content))] ^= 1 << rng.randrange(8)
    return suffix, bytes(content)


def zeros(rng: Random) -> Made:
    """An honest file with zero bytes in it, or a hole of them."""
    suffix, content = _any(rng)
    place = rng.randrange(len(content))
    content[place : place + rng.choice((0, 1, 600))] = bytes(rng.choice((1, 4, 600)))
    return suffix, bytes(content)


def pieces(rng: Random) -> Made:
    """An honest file with a piece missing, doubled or from another file."""
    suffix, content = _any(rng)
    _, other = _any(rng)
    place, begin = rng.randrange(len(content)), rng.randrange(len(other))
    piece = other[begin : begin + rng.randrange(1, 2_000)]
    content[place : place + rng.choice((0, 50, 2_000))] = rng.choice((piece, content[:place], b""))
    return suffix, bytes(content)


def wrong_suffix(rng: Random) -> Made:
    """An honest file under another's name."""
    _, content = _any(rng)
    return rng.choice(("csv", "xlsx", "ods", "xls", "json", "jsonl", "txt", "pdf", "xlsb", "")), bytes(content)


def other_signature(rng: Random) -> Made:
    """The beginning of a picture, a program and so on before an honest file or noise."""
    signatures = (
        *(b"%PDF-1.7\n", b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff\xe0", b"GIF89a", b"RIFF\0\0\0\0WEBP"),
        *(b"\0\0\0\x18ftypheic", b"PK\x03\x04", b"PK\x05\x06", b"\x1f\x8b\x08\0", b"Rar!\x1a\x07", b"7z\xbc\xaf'\x1c"),
        *(b"\x7fELF\x02\x01\x01\0", b"MZ\x90\0\x03", b"SQLite format 3\0", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"),
        *(b"<html><table>", b"<?xml version='1.0'?><!DOCTYPE x>", b"{\\rtf1"),
    )  # fmt: skip
    _, content = _any(rng)
    return rng.choice(("csv", "xlsx", "xls")), rng.choice(signatures) + rng.choice(
        (b"", bytes(content), rng.randbytes(3_000))
    )


def noise(rng: Random) -> Made:
    """Nothing but chance."""
    size = rng.choice((0, 1, 2, 30, 5_000, 200_000))
    some = bytes(rng.choice(b'",;\n\r\t |{}[]:0123456789abc\xc3\xa4\xff\0') for _ in range(min(size, 5_000)))
    return rng.choice(("csv", "xlsx", "json")), rng.choice((rng.randbytes(size), some))


KINDS: dict[str, Callable[[Random], Made]] = {
    "cut off": cut,
    "bits flipped": flipped,
    "zero bytes": zeros,
    "pieces missing, doubled, foreign": pieces,
    "wrong suffix": wrong_suffix,
    "signature of another kind": other_signature,
    "noise": noise,
    **TEXT_KINDS,
    **WORKBOOK_KINDS,
}
# Plain damage is what happens most: it gets several turns a round.
TURNS = ("cut off", "bits flipped", "zero bytes", "pieces missing, doubled, foreign", "damage inside a part")
ROUND = (*KINDS, *TURNS, *TURNS)


def hostile_file(seed: int, number: int) -> HostileFile:
    """One of the files of a seed; kinds take turns."""
    kind = ROUND[number % len(ROUND)]
    suffix, content = KINDS[kind](Random(f"{seed} {number}"))
    return HostileFile(number, kind, suffix, content)
