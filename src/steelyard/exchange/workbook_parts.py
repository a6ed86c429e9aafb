"""What a workbook is made of, looked at before it is opened: nothing is unpacked, sizes are counted, not believed."""

import os
import re
import struct
import zipfile
import zlib
from collections.abc import Iterator
from typing import BinaryIO

from .bounds import MOST_CELLS, MOST_ROWS
from .file_kinds import COMPOUND

MOST_PARTS = 5_000
MOST_BYTES_OF_A_PART = 160 * 2**20
MOST_BYTES_OF_ALL_PARTS = 256 * 2**20
_CHUNK = 256 * 1024
_LOCAL_HEAD = struct.Struct("<4s22xHH")
# A cell with content (not <c .../>) in a column of three letters or a row of six digits.
_FAR_CELL = re.compile(rb'\br="(?:([A-Z]{3})(\d{1,7})|([A-Z]{1,2})(\d{6,7}))"[^>/]*>')
_LONGEST_CELL_HEAD = 200
_DOCUMENTS = {
    "word/document.xml": "document",
    "ppt/presentation.xml": "presentation",
    "xl/workbook.bin": "xlsb",
}
_SPREADSHEET = b"application/vnd.oasis.opendocument.spreadsheet"


class WorkbookRefused(Exception):
    """Why a workbook is not opened, as a code, and where the cause stands."""

    def __init__(self, code: str, place: str = "") -> None:
        super().__init__(code)
        self.code = code
        self.place = place


def check_workbook(path: str) -> str:
    """Its kind ("xlsx", "ods" or "xls"); raises WorkbookRefused, or what the zipfile module raises for a broken one."""
    with open(path, "rb") as file:  # noqa: PTH123 - the path arrives as text
        if file.read(len(COMPOUND)) == COMPOUND:
            return _compound_kind(file)
        with zipfile.ZipFile(file) as archive:
            parts = archive.infolist()
            if len(parts) > MOST_PARTS:
                raise WorkbookRefused("many-parts", str(len(parts)))
            if any(part.flag_bits & 1 for part in parts):
                raise WorkbookRefused("encrypted")
            kind = _zip_kind(archive)
            # Parts that overlap are work without end.
            if sum(part.compress_size for part in parts) > file.seek(0, os.SEEK_END):
                raise WorkbookRefused("lies")
            _count_bytes(file, parts)
            return kind


def _compound_kind(file: BinaryIO) -> str:
    """What a compound file holds, by the names of its streams."""
    held = file.read()
    for name, kind in (
        ("EncryptedPackage", "encrypted"),
        ("WordDocument", "document"),
        ("PowerPoint Document", "presentation"),
        ("Workbook", "xls"),
        ("Book", "xls"),
    ):
        if name.encode("utf-16-le") in held:
            if kind == "xls":
                return kind
            raise WorkbookRefused(kind)
    raise WorkbookRefused("document")


def _zip_kind(archive: zipfile.ZipFile) -> str:
    names = set(archive.namelist())
    for name, kind in _DOCUMENTS.items():
        if name in names:
            raise WorkbookRefused(kind)
    if "xl/workbook.xml" in names:
        return "xlsx"
    if "mimetype" in names:
        with archive.open("mimetype") as file:
            mimetype = file.read(200)
        if mimetype.startswith(_SPREADSHEET):
            return "ods"
        raise WorkbookRefused("document")
    raise WorkbookRefused("archive")


def _count_bytes(file: BinaryIO, parts: list[zipfile.ZipInfo]) -> None:
    """Really inflate every part, keeping nothing, up to the bounds."""
    total = 0
    for part in parts:
        size = 0
        tail = b""
        is_sheet = part.filename.startswith("xl/worksheets/") and part.filename.endswith(".xml")
        for chunk in _inflated(file, part):
            size += len(chunk)
            total += len(chunk)
            if size > MOST_BYTES_OF_A_PART or total > MOST_BYTES_OF_ALL_PARTS:
                raise WorkbookRefused("too-large", part.filename[:100])
            if is_sheet:
                _refuse_far_cells(tail + chunk)
                tail = chunk[-_LONGEST_CELL_HEAD:]
        if size != part.file_size:
            raise WorkbookRefused("lies", part.filename[:100])


def _inflated(file: BinaryIO, part: zipfile.ZipInfo) -> Iterator[bytes]:
    file.seek(part.header_offset)
    signature, name_length, extra_length = _LOCAL_HEAD.unpack(file.read(_LOCAL_HEAD.size))
    if signature != b"PK\x03\x04" or part.compress_type not in {zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED}:
        raise WorkbookRefused("damaged", part.filename[:100])
    file.seek(name_length + extra_length, 1)
    inflater = zlib.decompressobj(-zlib.MAX_WBITS)
    left = part.compress_size
    while left > 0 and (packed := file.read(min(_CHUNK, left))):
        left -= len(packed)
        if part.compress_type == zipfile.ZIP_STORED:
            yield packed
            continue
        while packed:
            yield inflater.decompress(packed, _CHUNK)
            packed = inflater.unconsumed_tail
    if part.compress_type == zipfile.ZIP_DEFLATED:
        yield inflater.flush()
        if not inflater.eof:
            raise WorkbookRefused("damaged", part.filename[:100])


def _refuse_far_cells(xml: bytes) -> None:
    """A sheet is opened as one block, so a cell far away would make it a huge one."""
    for found in _FAR_CELL.finditer(xml):
        letters, digits = (found[1] or found[3]).decode(), int(found[2] or found[4])
        column = 0
        for letter in letters:
            column = column * 26 + ord(letter) - ord("A") + 1
        if column > MOST_CELLS or digits > MOST_ROWS:
            raise WorkbookRefused("far", f"{letters}{digits}")
