"""Sheets as an OpenDocument spreadsheet, written by hand from the open standard (OASIS ODF 1.2): a zip of XML."""

import io
import zipfile
from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal
from xml.sax.saxutils import escape, quoteattr

from .recipe import Recipe
from .sheets import Cell, Cells, Sheet

_KIND = "application/vnd.oasis.opendocument.spreadsheet"
_URN = "urn:oasis:names:tc:opendocument:xmlns"
_MANIFEST = (
    f'<manifest:manifest xmlns:manifest="{_URN}:manifest:1.0" manifest:version="1.2">'
    f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{_KIND}"/>'
    '<manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/></manifest:manifest>'
)


def open_document(sheets: Sequence[Sheet], recipe: Recipe) -> bytes:
    """The spreadsheet's bytes."""
    tables = "".join(_table(sheet, recipe) for sheet in sheets)
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="{_URN}:office:1.0" '
        f'xmlns:table="{_URN}:table:1.0" xmlns:text="{_URN}:text:1.0" office:version="1.2"><office:body>'
        f"<office:spreadsheet>{tables}</office:spreadsheet></office:body></office:document-content>"
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        # Entries without the time of writing, so that a seed gives the same bytes.
        archive.writestr(zipfile.ZipInfo("mimetype"), _KIND, zipfile.ZIP_STORED)
        archive.writestr(zipfile.ZipInfo("content.xml"), content, zipfile.ZIP_DEFLATED)
        archive.writestr(zipfile.ZipInfo("META-INF/manifest.xml"), _MANIFEST, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def _table(sheet: Sheet, recipe: Recipe) -> str:
    spans = {(r, earliest): latest - earliest + 1 for r, earliest, latest in sheet.merged}
    rows = "".join(_row(row, n, spans, recipe) for n, row in enumerate(sheet.rows))
    rest = '<table:table-row table:number-rows-repeated="1000"><table:table-cell/></table:table-row>'
    return f"<table:table table:name={quoteattr(sheet.name)}>{rows}{rest}</table:table>"


def _row(row: Cells, n: int, spans: dict[tuple[int, int], int], recipe: Recipe) -> str:
    written, covered = [], 0
    for at, cell in enumerate(row or [None]):
        if covered:
            written.append("<table:covered-table-cell/>")
            covered -= 1
            continue
        span = spans.get((n, at), 1)
        covered = span - 1
        written.append(_cell(cell, span, recipe))
    if covered:
        written.append(f'<table:covered-table-cell table:number-columns-repeated="{covered}"/>')
    return f"<table:table-row>{''.join(written)}</table:table-row>"


def _cell(cell: Cell, span: int, recipe: Recipe) -> str:
    spanned = f' table:number-columns-spanned="{span}" table:number-rows-spanned="1"' if span > 1 else ""
    if cell is None:
        return f"<table:table-cell{spanned}/>"
    kind, text = _typed(cell, recipe)
    return f"<table:table-cell{spanned} {kind}><text:p>{text}</text:p></table:table-cell>"


def _typed(cell: str | int | Decimal | date, recipe: Recipe) -> tuple[str, str]:
    if isinstance(cell, str):
        # Spaces that stand together or at an end need their own element.
        spaced = escape(cell).replace("  ", " <text:s/>")
        return 'office:value-type="string"', f"<text:s/>{spaced[1:]}" if spaced.startswith(" ") else spaced
    if isinstance(cell, datetime):
        return f'office:value-type="date" office:date-value="{cell:%Y-%m-%dT%H:%M:%S}"', f"{cell:%d.%m.%Y %H:%M}"
    if isinstance(cell, date):
        return f'office:value-type="date" office:date-value="{cell.isoformat()}"', f"{cell:%d.%m.%y}"
    number = f"{Decimal(cell).normalize():f}"
    shown = number.replace(".", ",") if recipe.decimal == "comma" else number
    return f'office:value-type="float" office:value="{number}"', shown
