"""Rows kept small: each is bytes until somebody asks for it, so that a large file stays within its bounds."""

from array import array
from collections.abc import Iterator, Sequence
from datetime import date, datetime, time, timedelta
from typing import Any, overload

from msgspec import msgpack

from .bounds import (
    LAST_ROW_NUMBER,
    LONGEST_CELL,
    MOST_CELLS,
    MOST_CELLS_IN_ALL,
    MOST_CONTENT,
    MOST_ROWS,
    cell_too_long,
    too_many_cells,
    too_many_cells_in_all,
    too_many_lines,
    too_many_rows,
    too_much_content,
)
from .grid import Cell, Row

_DATETIME, _DATE, _TIME, _TIMEDELTA = range(1, 5)
_MICROSECOND = timedelta(microseconds=1)
_PLAIN = frozenset({str, int, float, bool})
_ENCODER = msgpack.Encoder()


def pack(cells: Sequence[Cell]) -> bytes:
    """Cells as MessagePack, dates and times as extensions."""
    if _PLAIN.issuperset(map(type, cells)):
        return _ENCODER.encode(cells)
    return _ENCODER.encode([c if type(c) in _PLAIN else _extension(c) for c in cells])


def unpack(packed: bytes) -> tuple[Cell, ...]:
    """The cells again."""
    return _DECODER.decode(packed)


def _extension(cell: Cell) -> msgpack.Ext:
    match cell:
        case datetime():
            return msgpack.Ext(_DATETIME, cell.isoformat().encode())
        case date():
            return msgpack.Ext(_DATE, cell.isoformat().encode())
        case time():
            return msgpack.Ext(_TIME, cell.isoformat().encode())
        case timedelta():
            return msgpack.Ext(_TIMEDELTA, str(cell // _MICROSECOND).encode())
        case _:
            raise TypeError(f"no cell of a file is a {type(cell)}")


def _cell(code: int, content: memoryview) -> Any:
    text = bytes(content).decode()
    match code:
        case 1:
            return datetime.fromisoformat(text)
        case 2:
            return date.fromisoformat(text)
        case 3:
            return time.fromisoformat(text)
        case _:
            return int(text) * _MICROSECOND


_DECODER: msgpack.Decoder[tuple[Any, ...]] = msgpack.Decoder(tuple[Any, ...], ext_hook=_cell)


class PackedRows(Sequence[Row]):
    """Rows that are unpacked one by one as they are asked for, anew each time."""

    def __init__(self, numbers: "array[int]", packed: list[bytes]) -> None:
        self._numbers = numbers
        self._packed = packed

    def __len__(self) -> int:
        return len(self._packed)

    @overload
    def __getitem__(self, index: int) -> Row: ...

    @overload
    def __getitem__(self, index: slice) -> "PackedRows": ...

    def __getitem__(self, index: int | slice) -> "Row | PackedRows":
        if isinstance(index, slice):
            return PackedRows(self._numbers[index], self._packed[index])
        return Row(self._numbers[index], unpack(self._packed[index]))

    def followed_by(self, others: "PackedRows") -> "PackedRows":
        """These rows, then others."""
        return PackedRows(self._numbers + others._numbers, self._packed + others._packed)

    def __iter__(self) -> Iterator[Row]:
        for number, packed in zip(self._numbers, self._packed, strict=True):
            yield Row(number, unpack(packed))


class RowPacker:
    """Takes the rows of one file in, within the bounds of a file; a row without content is left out."""

    def __init__(self) -> None:
        self._rows = self._cells = self._content = 0
        self.begin("")

    def begin(self, sheet: str) -> PackedRows:
        """Begin a sheet and give its rows, which grow as they are added; the bounds go on over all sheets."""
        self._sheet = sheet
        self._numbers = array("L")
        self._packed: list[bytes] = []
        return self.rows()

    def add(self, number: int, cells: Sequence[Cell]) -> None:
        """One row, without its empty end; raises FileRefused where it goes over a bound."""
        if number > LAST_ROW_NUMBER:
            raise too_many_lines(self._sheet)
        end = len(cells)
        while end and cells[end - 1] == "":
            end -= 1
        if end > MOST_CELLS:
            raise too_many_cells(number, self._sheet)
        if not any(not isinstance(c, str) or c.strip() for c in cells):
            return
        packed = pack(cells if end == len(cells) else cells[:end])
        if len(packed) > LONGEST_CELL:
            self._check_lengths(number, cells)
        self._rows += 1
        self._cells += end
        self._content += len(packed)
        if self._rows > MOST_ROWS:
            raise too_many_rows(self._sheet)
        if self._cells > MOST_CELLS_IN_ALL:
            raise too_many_cells_in_all(number, self._sheet)
        if self._content > MOST_CONTENT:
            raise too_much_content(number, self._sheet)
        self._numbers.append(number)
        self._packed.append(packed)

    def _check_lengths(self, number: int, cells: Sequence[Cell]) -> None:
        for column, cell in enumerate(cells):
            if isinstance(cell, str) and len(cell) > LONGEST_CELL:
                raise cell_too_long(number, column, cell, self._sheet)

    def rows(self) -> PackedRows:
        """The rows of this sheet."""
        return PackedRows(self._numbers, self._packed)
