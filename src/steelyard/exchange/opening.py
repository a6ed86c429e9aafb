"""Any file that holds a table, opened as grids of plain cells; nothing in it is ever run, followed or unpacked."""

import stat
from collections.abc import Callable
from io import TextIOWrapper
from pathlib import Path
from typing import BinaryIO

from steelyard.wording.message import tell
from steelyard.wording.outside_errors import tell_system_error

from .bounds import MOST_BYTES, file_too_large, refusal
from .file_kinds import COMPOUND, ZIP, refuse_by_signature, refuse_markup
from .grid import Grid, Opened
from .json_rows import json_kind, read_json
from .text_encoding import Encoding, find_encoding
from .text_rows import SAMPLE, read_table
from .workbook_rows import read_workbook

HEAD = 4096


def open_file(path: Path, progress: Callable[[int, int], None] | None = None) -> Opened:
    """A file as grids; raises FileRefused with what is wrong and what to try.

    `kind` is "csv", "fixed-width", "lines", "json-lines", "json-list", "xlsx", "ods" or "xls". `progress` hears how
    many bytes of how many are read.
    """
    try:
        size = _size(path)
        with path.open("rb") as file:
            head = file.read(HEAD)
            if not head.strip():
                raise _empty()
            refuse_by_signature(head)
            if head.startswith((*ZIP, COMPOUND)):
                kind, grids = read_workbook(path, size, progress)
                opened = Opened(file=_shown(path), kind=kind, grids=grids)
            else:
                file.seek(0)
                opened = _open_text(path, file, size, progress)
    except OSError as refused:
        raise refusal(
            tell("cannot be read: {why}", why=tell_system_error(refused)), tell("check the path"), value=str(path)
        ) from refused
    if not any(grid.rows for grid in opened.grids):
        raise _empty()
    if progress is not None:
        progress(size, size)
    return opened


def _size(path: Path) -> int:
    found = path.stat()
    if stat.S_ISDIR(found.st_mode):
        raise refusal(tell("is a folder"), tell("name one of the files in it"), value=str(path))
    if not stat.S_ISREG(found.st_mode):
        raise refusal(tell("is no file that can be read"), tell("name a file"), value=str(path))
    if found.st_size > MOST_BYTES:
        raise file_too_large(found.st_size)
    return found.st_size


def _shown(path: Path) -> str:
    """Its name, whatever bytes it is made of."""
    return path.name.encode(errors="replace").decode()


def _empty() -> Exception:
    return refusal(tell("holds no rows"), tell("check that it is the right file and was saved"))


def _open_text(path: Path, file: BinaryIO, size: int, progress: Callable[[int, int], None] | None) -> Opened:
    encoding = find_encoding(file)
    sample = _sample(file, encoding)
    refuse_markup(sample)
    kind = json_kind(sample, path.suffix.casefold())
    if kind is not None:
        rows, separator = read_json(file, encoding, kind, size, progress), ""
    else:
        table = read_table(file, encoding, sample, size, progress)
        kind, separator, rows = table.kind, table.separator, table.rows
    grids = (Grid(name="", rows=rows),)
    return Opened(file=_shown(path), kind=kind, encoding=encoding.label, separator=separator, grids=grids)


def _sample(file: BinaryIO, encoding: Encoding) -> str:
    """The beginning of the text, up to the end of a line."""
    file.seek(encoding.skip)
    text = TextIOWrapper(file, encoding.codec, newline="")
    sample = text.read(SAMPLE)
    text.detach()
    end = max(sample.rfind("\n"), sample.rfind("\r"))
    return sample if len(sample) < SAMPLE or end < 0 else sample[: end + 1]
