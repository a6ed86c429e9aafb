"""Rows of a text: parted by a character, standing in columns, or a line a row."""

import csv
import re
from collections.abc import Callable, Iterator
from functools import cache
from io import TextIOWrapper
from typing import BinaryIO

from msgspec import Struct

from .bounds import LONGEST_CELL, MOST_CELLS, too_many_cells
from .fixed_width import Columns, find_columns
from .packed_rows import PackedRows, RowPacker
from .separators import find_separator, stated_separator
from .text_encoding import Encoding
from .text_lines import TextLines

# Characters from the beginning that are looked at to find separator or columns.
SAMPLE = 1_000_000
# A cell may go over so many lines before its opening quote is taken for an odd one.
MOST_LINES_OF_A_CELL = 100


class TextTable(Struct, frozen=True):
    """Rows of a text and how they were parted: "csv" by a separator, "fixed-width" or "lines"."""

    kind: str
    separator: str
    rows: PackedRows


def read_table(
    file: BinaryIO, encoding: Encoding, sample: str, size: int, progress: Callable[[int, int], None] | None
) -> TextTable:
    """All rows of a text that begins with the sample; raises FileRefused where a bound is passed."""
    looked_at = sample.splitlines()
    stated = stated_separator(looked_at[0]) if looked_at else None
    separator = stated or find_separator(looked_at)
    columns = None if separator else find_columns(looked_at)
    file.seek(encoding.skip)
    text = TextIOWrapper(file, encoding.codec, newline="")
    lines = TextLines(text, file, size, progress)
    packer = RowPacker()
    if stated:
        next(lines)
    if separator:
        _part(lines, separator, packer)
    else:
        for line in lines:
            packer.add(lines.number, [line] if columns is None else columns.cells(line))
    text.detach()
    return TextTable(_kind(separator, columns), separator or "", packer.rows())


def _kind(separator: str | None, columns: Columns | None) -> str:
    if separator:
        return "csv"
    return "lines" if columns is None else "fixed-width"


def _part(lines: TextLines, separator: str, packer: RowPacker) -> None:
    widest = 0
    for line in lines:
        if not line:
            continue
        number = lines.number
        if '"' in line:
            cells = _quoted_record(line, lines, separator, widest)
        else:
            # Spreadsheets end rows in many empty cells; what is left out here counts for no bound.
            filled = line.rstrip(separator)
            if filled.count(separator) >= MOST_CELLS:
                raise too_many_cells(number)
            cells = filled.split(separator)
        widest = max(widest, len(cells))
        packer.add(number, cells)


def _quoted_record(line: str, lines: TextLines, separator: str, widest: int) -> list[str]:
    """The record that begins with this line, strictly; with an odd quote the line alone, tolerantly."""
    read_on: list[str] = []

    def record_lines() -> Iterator[str]:
        yield line + "\n"
        length = len(line)
        for following in lines:
            read_on.append(following)
            length += len(following)
            if length > LONGEST_CELL + len(line) or len(read_on) > MOST_LINES_OF_A_CELL:
                return
            yield following + "\n"

    try:
        cells = next(csv.reader(record_lines(), delimiter=separator, strict=True, skipinitialspace=True))
    except csv.Error:
        cells = []
    if cells and not (read_on and _swallows_rows(cells, separator, widest)):
        return cells
    lines.give_back(read_on)
    return _tolerant_cells(line, separator)


def _swallows_rows(cells: list[str], separator: str, widest: int) -> bool:
    """Whether a cell over several lines holds lines that look like rows: then its quote is an odd one."""
    least = max(widest - 1, 2)
    return any(piece.count(separator) >= least for cell in cells for piece in cell.split("\n")[1:])


def _tolerant_cells(line: str, separator: str) -> list[str]:
    """Cells of a single line: quotes count only where they enclose a whole cell."""
    found = _tolerant_pattern(separator).findall(line + separator)
    return [quoted[1:-1].replace('""', '"') if quoted else bare for quoted, bare in found]


@cache
def _tolerant_pattern(separator: str) -> re.Pattern[str]:
    mark = re.escape(separator)
    return re.compile(rf' *+("(?:[^"]|"")*+")(?={mark}){mark}|([^{mark}]*+){mark}')
