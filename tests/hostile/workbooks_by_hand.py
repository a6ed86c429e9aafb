"""Workbooks of formats for which no writer is installed, written by hand: OpenDocument and the old compound file."""

import io
import struct
import zipfile
from collections.abc import Sequence
from datetime import date
from xml.sax.saxutils import escape, quoteattr

OdsCell = str | float | date | None
_URN = "urn:oasis:names:tc:opendocument:xmlns"
SPREADSHEET = "application/vnd.oasis.opendocument.spreadsheet"
SECTOR = 512
_END_OF_CHAIN, _FAT_SECTOR, _FREE = 0xFFFFFFFE, 0xFFFFFFFD, 0xFFFFFFFF


def ods(sheets: dict[str, Sequence[Sequence[OdsCell]]]) -> bytes:
    """An OpenDocument spreadsheet (OASIS ODF 1.2)."""
    tables = "".join(
        f"<table:table table:name={quoteattr(name)}>"
        + "".join(f"<table:table-row>{''.join(map(_ods_cell, row))}</table:table-row>" for row in rows)
        + "</table:table>"
        for name, rows in sheets.items()
    )
    return ods_around(tables)


def ods_around(tables: str, before: str = "") -> bytes:
    """An OpenDocument spreadsheet with these tables as they are, and what stands before the root."""
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?>{before}<office:document-content xmlns:office="{_URN}:office:1.0" '
        f'xmlns:table="{_URN}:table:1.0" xmlns:text="{_URN}:text:1.0" office:version="1.2"><office:body>'
        f"<office:spreadsheet>{tables}</office:spreadsheet></office:body></office:document-content>"
    )
    manifest = (
        f'<manifest:manifest xmlns:manifest="{_URN}:manifest:1.0" manifest:version="1.2">'
        f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{SPREADSHEET}"/></manifest:manifest>'
    )
    parts = {"mimetype": SPREADSHEET, "content.xml": content, "META-INF/manifest.xml": manifest}
    return zipped({name: part.encode("utf-8", "surrogatepass") for name, part in parts.items()})


def zipped(parts: dict[str, bytes]) -> bytes:
    """A zip with these parts and no time of making, so that the same parts give the same bytes."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, content in parts.items():
            how = zipfile.ZIP_STORED if name == "mimetype" else zipfile.ZIP_DEFLATED
            archive.writestr(zipfile.ZipInfo(name), content, how)
    return out.getvalue()


def unzipped(content: bytes) -> dict[str, bytes]:
    """The parts of a zip."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def _ods_cell(cell: OdsCell) -> str:
    match cell:
        case None:
            return "<table:table-cell/>"
        case date():
            return f'<table:table-cell office:value-type="date" office:date-value="{cell.isoformat()}"/>'
        case float():
            return f'<table:table-cell office:value-type="float" office:value="{cell}"/>'
        case str():
            return f'<table:table-cell office:value-type="string"><text:p>{escape(cell)}</text:p></table:table-cell>'


def xls(name: str, rows: Sequence[Sequence[str | float]]) -> bytes:
    """An old workbook (BIFF8 in a compound file) with one sheet."""
    return compound("Workbook", _workbook_stream(name, rows))


def compound(stream_name: str, stream: bytes) -> bytes:
    """A compound file with one stream, which is filled up so that it needs no short sectors."""
    stream = stream.ljust(max(4096, -(-len(stream) // SECTOR) * SECTOR), b"\0")
    sectors = len(stream) // SECTOR
    chain = [_FAT_SECTOR, _END_OF_CHAIN, *range(3, 2 + sectors), _END_OF_CHAIN]
    fat = struct.pack(f"<{SECTOR // 4}I", *chain, *[_FREE] * (SECTOR // 4 - len(chain)))
    folder = _entry("Root Entry", 5, 1, _END_OF_CHAIN, 0) + _entry(stream_name, 2, _FREE, 2, len(stream))
    folder += _entry("", 0, _FREE, 0, 0) * 2
    head = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(16) + struct.pack("<HHHHH", 0x3E, 3, 0xFFFE, 9, 6) + bytes(6)
    head += struct.pack("<9I", 0, 1, 1, 0, 4096, _END_OF_CHAIN, 0, _END_OF_CHAIN, 0)
    head += struct.pack("<109I", 0, *[_FREE] * 108)
    return head + fat + folder + stream


def _entry(name: str, kind: int, child: int, start: int, size: int) -> bytes:
    written = name.encode("utf-16-le").ljust(64, b"\0")
    length = 2 * len(name) + 2 if name else 0
    return written + struct.pack("<HBBIII36xIQ", length, kind, 1, _FREE, _FREE, child, start, size)


def _workbook_stream(name: str, rows: Sequence[Sequence[str | float]]) -> bytes:
    sheet = _begin(0x10) + b"".join(
        _record(0x0203, struct.pack("<HHHd", r, c, 0, cell))
        if isinstance(cell, float)
        else _record(0x0204, struct.pack("<HHHHB", r, c, 0, len(cell), 1) + cell.encode("utf-16-le"))
        for r, row in enumerate(rows)
        for c, cell in enumerate(row)
    )
    bound = struct.pack("<BBBB", 0, 0, len(name), 0) + name.encode("latin-1")
    length_before = len(_begin(0x05)) + 4 + 4 + len(bound) + 4
    start = _begin(0x05) + _record(0x0085, struct.pack("<I", length_before) + bound) + _record(0x000A, b"")
    return start + sheet + _record(0x000A, b"")


def _begin(kind: int) -> bytes:
    return _record(0x0809, struct.pack("<HHHHII", 0x0600, kind, 0x0DBB, 0x07CC, 0, 6))


def _record(code: int, content: bytes) -> bytes:
    return struct.pack("<HH", code, len(content)) + content
