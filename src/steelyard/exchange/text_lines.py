"""Lines of a text of any length, one after the other, within bounds."""

from collections.abc import Callable, Iterator
from typing import BinaryIO, TextIO

from steelyard.wording.message import tell

from .bounds import LAST_ROW_NUMBER, LONGEST_LINE, line_too_long, refusal, too_many_lines

TOLD_EVERY = 1000


class TextLines(Iterator[str]):
    r"""Lines without their ends (\n, \r or \r\n, also mixed), numbered from 1; lines read too far are given back."""

    def __init__(self, text: TextIO, raw: BinaryIO, size: int, progress: Callable[[int, int], None] | None) -> None:
        self.number = 0
        self._text = text
        self._raw = raw
        self._size = size
        self._progress = progress
        self._held: list[str] = []

    def __next__(self) -> str:
        """The next line; raises FileRefused where it is endless or holds a zero byte."""
        line = self._held.pop() if self._held else self._read()
        self.number += 1
        return line

    def _read(self) -> str:
        number = self.number + 1
        line = self._text.readline(LONGEST_LINE)
        if not line:
            raise StopIteration
        if len(line) == LONGEST_LINE:
            raise line_too_long(number)
        if "\0" in line:
            raise zero_byte(number)
        if number > LAST_ROW_NUMBER:
            raise too_many_lines("")
        if self._progress is not None and number % TOLD_EVERY == 0:
            self._progress(min(self._raw.tell(), self._size), self._size)
        return line.rstrip("\r\n")

    def give_back(self, lines: list[str]) -> None:
        """Put lines back so that they come next, in this order."""
        self._held += reversed(lines)
        self.number -= len(lines)


def zero_byte(row: int) -> Exception:
    """A zero byte is a sign that this is no text, or that it is damaged."""
    return refusal(
        tell("holds a zero byte, which no text has"),
        tell("save it anew as CSV, or use a copy that is not damaged"),
        row=row,
    )
