"""JSON as rows: one object a line, or one list of objects.

The header is the keys in order of first appearance; it is row 0, so that the other rows keep their numbers: that of
the line, or in a list which object of the list it is, from 1.
"""

import json
import re
from collections.abc import Callable, Iterator, Mapping
from io import TextIOWrapper
from typing import BinaryIO, TextIO

import msgspec

from steelyard.wording.message import tell

from .bounds import LONGEST_LINE, MOST_CELLS, line_too_long, refusal, too_many_cells
from .grid import Cell
from .packed_rows import PackedRows, RowPacker
from .text_encoding import Encoding
from .text_lines import TextLines, zero_byte

_CHUNK = 64 * 1024
_LARGEST_WHOLE = 2**63 - 1
_BLANKS = " \t\n\r"
_LINES = re.compile(r'\s*\{\s*["}]')
_LIST = re.compile(r"\s*\[\s*[\[{\]]")
# A zero byte as JSON writes it, not a backslash (written as two) before u0000.
_ZERO = re.compile(r"(?<!\\)(?:\\\\)*\\u0000")


def json_kind(sample: str, suffix: str) -> str | None:
    """What a text that begins so is: "json-lines", "json-list" or no JSON at all."""
    if _LIST.match(sample) or (suffix == ".json" and sample.lstrip().startswith("[")):
        return "json-list"
    if _LINES.match(sample) or suffix in {".json", ".jsonl", ".ndjson"}:
        return "json-lines"
    return None


def read_json(
    file: BinaryIO, encoding: Encoding, kind: str, size: int, progress: Callable[[int, int], None] | None
) -> PackedRows:
    """All objects as rows; raises FileRefused for the first that cannot be read."""
    file.seek(encoding.skip)
    text = TextIOWrapper(file, encoding.codec, newline="")
    keys: dict[str, int] = {}
    packer = RowPacker()
    objects = _of_lines(TextLines(text, file, size, progress)) if kind == "json-lines" else _of_list(text)
    for number, value in objects:
        try:
            packer.add(number, _cells(number, value, keys))
        except UnicodeEncodeError as refused:
            remedy = tell("write this row anew, in plain characters")
            raise refusal(tell("holds half a character"), remedy, row=number) from refused
        except RecursionError as refused:
            raise _no_json(number, str(refused)) from refused
        if progress is not None and number % 1000 == 0:
            progress(min(file.tell(), size), size)
    text.detach()
    header = RowPacker()
    header.add(0, tuple(keys))
    return header.rows().followed_by(packer.rows())


def _of_lines(lines: TextLines) -> Iterator[tuple[int, object]]:
    for line in lines:
        if not line or line.isspace():
            continue
        if _has_zero_byte(line):
            raise zero_byte(lines.number)
        try:
            yield lines.number, _DECODER.decode(line)
        except (ValueError, RecursionError) as refused:
            raise _no_json(lines.number, str(refused)) from refused


def _has_zero_byte(text: str) -> bool:
    return "\\u0000" in text and _ZERO.search(text) is not None


def _of_list(text: TextIO) -> Iterator[tuple[int, object]]:
    reader = _ListReader(text)
    reader.take("[", 0)
    number = 0
    while reader.next_character() != "]":
        if number:
            reader.take(",", number)
        number += 1
        reader.next_character()
        yield number, reader.value(number)
    reader.take("]", number)
    if reader.next_character():
        raise _no_json(number, tell("text after the list"))


class _ListReader:
    """Reads a list value by value, never holding more than a long one."""

    def __init__(self, text: TextIO) -> None:
        self._text = text
        self._held = ""
        self._at = 0

    def _read_on(self) -> bool:
        read = self._text.read(_CHUNK)
        self._held = self._held[self._at :] + read
        self._at = 0
        return bool(read)

    def next_character(self) -> str:
        """The next character that is no blank, not yet taken; "" at the end."""
        while True:
            while self._at < len(self._held):
                if self._held[self._at] not in _BLANKS:
                    return self._held[self._at]
                self._at += 1
            if not self._read_on():
                return ""

    def take(self, wanted: str, number: int) -> None:
        """Take this character, which must come next."""
        if self.next_character() != wanted:
            raise _no_json(number, tell("no {mark} where one is needed", mark=wanted))
        self._at += 1

    def value(self, number: int) -> object:
        """Take the value that begins here."""
        while True:
            try:
                value, end = _DECODER.raw_decode(self._held, self._at)
            except (ValueError, RecursionError) as refused:
                if len(self._held) - self._at > LONGEST_LINE:
                    raise line_too_long(number) from refused
                if isinstance(refused, RecursionError) or not self._read_on():
                    raise _no_json(number, str(refused)) from refused
            else:
                if _has_zero_byte(self._held[self._at : end]):
                    raise zero_byte(number)
                self._at = end
                return value


def _cells(number: int, value: object, keys: dict[str, int]) -> list[Cell]:
    if not isinstance(value, dict):
        raise refusal(
            tell("holds JSON that is no object with names and values"),
            tell("write each row as an object such as {example}", example='{"exercise": "squat", "reps": 8}'),
            row=number,
            value=_compact(value)[:40],
        )
    if len(value) > MOST_CELLS:
        raise too_many_cells(number)
    for key in value:
        if key not in keys:
            key.encode()  # raises UnicodeEncodeError, as its cells do later
            keys[key] = len(keys)
    if len(keys) > MOST_CELLS:
        raise too_many_cells(number)
    cells: list[Cell] = [""] * (1 + max(map(keys.__getitem__, value), default=-1))
    for key, inner in value.items():
        cells[keys[key]] = _cell(inner)
    return cells


def _cell(value: object) -> Cell:
    if value is None:
        return ""
    if isinstance(value, int):
        return value if -_LARGEST_WHOLE <= value <= _LARGEST_WHOLE else str(value)
    return value if isinstance(value, str | float) else _compact(value)


def _compact(value: object) -> str:
    try:
        return _ENCODER.encode(value).decode()
    except OverflowError:
        return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def _decimal(digits: str) -> float | str:
    found = float(digits)
    return digits if abs(found) == float("inf") else found


def _object(pairs: list[tuple[str, object]]) -> Mapping[str, object]:
    found = dict(pairs)
    if len(found) < len(pairs):
        raise ValueError(tell("a name stands twice in one object"))
    return found


_ENCODER = msgspec.json.Encoder()
# What no number of ours can hold stays text, so that whoever reads the cell says so.
_DECODER = json.JSONDecoder(object_pairs_hook=_object, parse_float=_decimal, parse_constant=str, strict=False)


def _no_json(row: int, why: str) -> Exception:
    return refusal(
        tell("looks like JSON, but cannot be read as such ({why})", why=why[:80]),
        tell("write one object a line, or one list of objects"),
        row=row,
    )
