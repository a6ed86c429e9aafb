"""A process of its own that reads one workbook, so that whatever is wrong in it harms nobody.

python -m steelyard.exchange.workbook_child FILE writes frames to its standard output.
"""

import math
import sys
from contextlib import suppress
from pathlib import Path
from typing import BinaryIO

from msgspec import msgpack
from python_calamine import CalamineSheet, CalamineWorkbook, PasswordError, SheetTypeEnum

from .grid import Cell
from .packed_rows import pack
from .workbook_frames import Frame, write_frame
from .workbook_parts import WorkbookRefused, check_workbook

# Resident memory stays below 200 MB so; addresses are more than what is in use.
MOST_HEAP = 172 * 2**20
MOST_ADDRESSES = 700 * 2**20
MOST_CPU_S = 8
SUFFIXES = {"xlsx": {".xlsx", ".xlsm"}, "ods": {".ods"}, "xls": {".xls"}}


def main() -> None:
    """Read the workbook that the command line names; every end but a crash is told in a frame."""
    _bound_this_process()
    out = sys.stdout.buffer
    try:
        _send_workbook(out, sys.argv[1])
    except WorkbookRefused as refused:
        _send_refusal(out, refused.code, refused.place)
    except PasswordError:
        _send_refusal(out, "encrypted")
    except MemoryError:
        _send_refusal(out, "memory")
    except BaseException:  # a panic in Rust is no Exception
        _send_refusal(out, "damaged")
    write_frame(out, Frame.END)
    out.flush()


def _bound_this_process() -> None:
    try:
        import resource  # noqa: PLC0415 - there is none on Windows, where only the parent's clock bounds this process
    except ImportError:
        return
    for kind, most in (
        (resource.RLIMIT_CORE, 0),
        (resource.RLIMIT_FSIZE, 0),
        (resource.RLIMIT_CPU, MOST_CPU_S),
        (resource.RLIMIT_DATA, MOST_HEAP),
        (resource.RLIMIT_AS, MOST_ADDRESSES),
    ):
        allowed = resource.getrlimit(kind)[1]
        lower = most if allowed == resource.RLIM_INFINITY else min(most, allowed)
        # Not every system keeps every bound.
        with suppress(ValueError, OSError):
            resource.setrlimit(kind, (lower, lower))


def _send_refusal(out: BinaryIO, code: str, place: str = "") -> None:
    write_frame(out, Frame.REFUSED, content=msgpack.encode((code, place)))


def _send_workbook(out: BinaryIO, path: str) -> None:
    kind = check_workbook(path)
    write_frame(out, Frame.KIND, content=kind.encode())
    with _opened(path, kind) as workbook:
        sheets = [sheet for sheet in workbook.sheets_metadata if sheet.typ == SheetTypeEnum.WorkSheet]
        for place, sheet in enumerate(sheets):
            _send_sheet(out, workbook.get_sheet_by_name(sheet.name), place, len(sheets))


def _opened(path: str, kind: str) -> CalamineWorkbook:
    """By its path, which takes less memory, unless the end of its name says it were something else."""
    if Path(path).suffix.casefold() in SUFFIXES[kind]:
        return CalamineWorkbook.from_path(path)
    with Path(path).open("rb") as file:
        return CalamineWorkbook.from_filelike(file)


def _send_sheet(out: BinaryIO, sheet: CalamineSheet, place: int, sheets: int) -> None:
    write_frame(out, Frame.SHEET, content=msgpack.encode((sheet.name, sheet.total_height, place, sheets)))
    left = [""] * (sheet.start[1] if sheet.start else 0)
    for number, cells in enumerate(sheet.iter_rows(), start=1):
        while cells and cells[-1] == "":
            cells.pop()
        if cells:
            write_frame(out, Frame.ROW, number, pack([*left, *map(_finite, cells)]))


def _finite(cell: Cell) -> Cell:
    """A number that is none is kept as text, so that whoever reads the cell says so."""
    return str(cell) if isinstance(cell, float) and not math.isfinite(cell) else cell


if __name__ == "__main__":
    main()
