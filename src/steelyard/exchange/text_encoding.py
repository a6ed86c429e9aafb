"""In which encoding a file of text is written."""

import codecs
import re
from typing import BinaryIO

from charset_normalizer import from_bytes
from msgspec import Struct

from steelyard.wording.message import tell

from .bounds import refusal

SAMPLE = 64 * 1024
_CHUNK = 2**20
_BOMS = ((codecs.BOM_UTF8, "utf-8"), (codecs.BOM_UTF16_LE, "utf-16-le"), (codecs.BOM_UTF16_BE, "utf-16-be"))
_LABELS = {"cp1252": "windows-1252", "cp1250": "windows-1250", "cp1251": "windows-1251"}
_CONTROL = re.compile(rb"[\x00-\x08\x0e-\x19\x1b-\x1f\x7f]")
_MULTIBYTE = re.compile(rb"[\xc3-\xdf][\x80-\xbf]|[\xe0-\xef][\x80-\xbf]{2}|[\xf0-\xf4][\x80-\xbf]{3}")
_HIGH = re.compile(rb"[\x80-\xff]")
_PLAIN_UTF_16 = re.compile("[\n\r\t -~\u00a0-\u024f]")
MOST_CONTROLS = 0.02
# Umlauts, quotes and dashes stand for the same in the Windows encodings of western and central Europe.
_SHARED_HIGH = bytes(
    n for n in range(0x80, 0x100) if bytes([n]).decode("cp1252", "replace") == bytes([n]).decode("cp1250", "ignore")
)
_WORD_OF_HIGH = re.compile(rb"[\xc0-\xff]{3}")


class Encoding(Struct, frozen=True):
    """A codec, its name for people, and how many bytes stand before the text."""

    codec: str
    label: str
    skip: int = 0


def find_encoding(file: BinaryIO) -> Encoding:
    """The encoding in which the whole file can be read; raises FileRefused where it is no text.

    In this order: a byte order mark, UTF-16 without one, strict UTF-8, Windows-1252 where it gives words, then what
    charset-normalizer finds.
    """
    head = file.read(SAMPLE)
    marked = _by_mark(head)
    if marked is not None:
        breaks_at = _breaks_at(file, marked)
        if breaks_at is None:
            return marked
        if marked.codec != "utf-8":
            raise _damaged(marked, breaks_at)
    skip = 0 if (mark := _mark(head)) is None else len(mark[0])
    unmarked = _utf_16_without_mark(head)
    if unmarked is not None:
        breaks_at = _breaks_at(file, unmarked)
        if breaks_at is None:
            return unmarked
        raise _damaged(unmarked, breaks_at)
    _refuse_binary(head)
    utf_8 = Encoding("utf-8", "utf-8", skip)
    breaks_at = _breaks_at(file, utf_8)
    return utf_8 if breaks_at is None else _eight_bit(file, breaks_at, skip)


def _mark(head: bytes) -> tuple[bytes, str] | None:
    return next(((bom, codec) for bom, codec in _BOMS if head.startswith(bom)), None)


def _by_mark(head: bytes) -> Encoding | None:
    """What the mark says, unless it lies: UTF-16 has a zero in each blank and line end."""
    mark = _mark(head)
    if mark is None or (mark[1] != "utf-8" and b"\0" not in head and len(head) > 100):
        return None
    return Encoding(mark[1], mark[1], len(mark[0]))


def _utf_16_without_mark(head: bytes) -> Encoding | None:
    if b"\0" not in head:
        return None
    even = head[: len(head) // 2 * 2]
    for codec in ("utf-16-le", "utf-16-be"):
        text = even.decode(codec, errors="ignore")
        if "\0" not in text and len(_PLAIN_UTF_16.findall(text)) > len(text) * 0.3:
            return Encoding(codec, codec)
    return None


def _refuse_binary(head: bytes) -> None:
    zero = head.find(0)
    controls = len(_CONTROL.findall(head))
    if zero >= 0 or controls > len(head) * MOST_CONTROLS:
        raise refusal(
            tell("is no text: it holds bytes that no table has"),
            tell("save the table as CSV or XLSX"),
            value=tell("byte {place}", place=zero) if zero >= 0 else "",
        )


def _breaks_at(file: BinaryIO, encoding: Encoding) -> int | None:
    """Where the file leaves this encoding, in bytes; None where it never does."""
    decoder = codecs.getincrementaldecoder(encoding.codec)()
    file.seek(encoding.skip)
    done = encoding.skip
    while True:
        chunk = file.read(_CHUNK)
        held = len(decoder.getstate()[0])
        try:
            decoder.decode(chunk, final=not chunk)
        except UnicodeDecodeError as refused:
            return done - held + refused.start
        if not chunk:
            return None
        done += len(chunk)


def _eight_bit(file: BinaryIO, breaks_at: int, skip: int) -> Encoding:
    file.seek(max(skip, breaks_at - SAMPLE // 2))
    around = file.read(SAMPLE)
    proper = len(_MULTIBYTE.findall(around))
    if proper and proper >= len(_HIGH.findall(_MULTIBYTE.sub(b"", around))):
        raise _damaged(Encoding("utf-8", "utf-8"), breaks_at)
    western = Encoding("cp1252", _LABELS["cp1252"], skip)
    if _is_western(around) and _breaks_at(file, western) is None:
        return western
    # Only where Windows-1252 gives no plausible words are the many other encodings tried.
    for matches in (from_bytes(around, cp_isolation=["utf_8", "cp1252"]), from_bytes(around)):
        best = matches.best()
        if best is not None:
            found = Encoding(best.encoding, _LABELS.get(best.encoding, best.encoding.replace("_", "-")), skip)
            if _breaks_at(file, found) is None:
                return found
    raise refusal(
        tell("is no text in any encoding that is known"),
        tell("save it as CSV in UTF-8 or as XLSX"),
        value=tell("byte {place}", place=breaks_at),
    )


def _is_western(text: bytes) -> bool:
    """Whether all high bytes are such as Windows-1252 shares with its neighbour, single in words of plain letters."""
    high = {byte for byte in text if byte >= 0x80}
    return high <= set(_SHARED_HIGH) and not _WORD_OF_HIGH.search(text)


def _damaged(encoding: Encoding, place: int) -> Exception:
    return refusal(
        tell("is {encoding} text, but not all of it", encoding=encoding.label.upper()),
        tell("save it anew as CSV in UTF-8, or use a copy that is not damaged"),
        value=tell("byte {place}", place=place),
    )
