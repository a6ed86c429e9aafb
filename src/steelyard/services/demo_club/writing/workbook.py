"""A workbook with one sheet a training week: the least of Office Open XML (ECMA-376) that a spreadsheet opens.

Stored, not deflated, and with one fixed time: the same sets give the same bytes everywhere.
"""

import io
import zipfile
from collections.abc import Sequence
from datetime import date
from itertools import groupby
from xml.sax.saxutils import escape

from steelyard.engine.log import SetBody

Cell = str | int | float | date | None
HEADER = ("Date", "Exercise", "Machine", "Sets", "Reps", "kg", "RIR", "Pain", "Technique", "Note")
# Day 0 of a workbook's calendar, for every day after 29 February 1900.
_DAY_ZERO = date(1899, 12, 30)
_FIXED = (1980, 1, 1, 0, 0, 0)
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_DOCUMENT = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_SHEET = "application/vnd.openxmlformats-officedocument.spreadsheetml"
_DECLARATION = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'


def weeks_xlsx(entries: list[list[SetBody]], starts: date) -> bytes:
    """A sheet a week; equal sets are one row, the day is a true date on the first row of a session only."""
    sheets = []
    for week, group in groupby(entries, lambda e: (e[0].on - starts).days // 7 + 1):
        rows: list[Sequence[Cell]] = [(f"Week {week}",), (), HEADER]
        shown = None
        for entry in group:
            for row in _rows(entry):
                rows.append((None if entry[0].on == shown else entry[0].on, *row))
                shown = entry[0].on
        sheets.append((f"Week {week}", rows))
    return _workbook(sheets)


def _rows(entry: list[SetBody]) -> list[Sequence[Cell]]:
    """Runs of sets with the same repetitions; what is said of the last set stands in its row."""
    rows: list[Sequence[Cell]] = []
    for (load, reps), same in groupby(entry, lambda s: (s.load, s.reps)):
        run = list(same)
        last = run[-1]
        rows.append(
            (
                last.as_written,
                None if last.implement is None else int(last.implement),
                len(run),
                reps,
                None if load is None else float(load.value),
                None if last.effort is None else float(last.effort.value),
                f"{last.pain.words} {last.pain.score}" if last.pain else None,
                last.technique,
                last.note or None,
            )
        )
    return rows


def _workbook(sheets: list[tuple[str, list[Sequence[Cell]]]]) -> bytes:
    numbers = range(1, len(sheets) + 1)
    parts = {
        "[Content_Types].xml": f'<Types xmlns="{_PACKAGE}/content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{_SHEET}.sheet.main+xml"/>'
        f'<Override PartName="/xl/styles.xml" ContentType="{_SHEET}.styles+xml"/>'
        + "".join(
            f'<Override PartName="/xl/worksheets/sheet{n}.xml" ContentType="{_SHEET}.worksheet+xml"/>' for n in numbers
        )
        + "</Types>",
        "_rels/.rels": _relations([("officeDocument", "xl/workbook.xml")]),
        "xl/workbook.xml": f'<workbook xmlns="{_MAIN}" xmlns:r="{_DOCUMENT}"><sheets>'
        + "".join(
            f'<sheet name="{escape(name)}" sheetId="{n}" r:id="rId{n}"/>'
            for n, (name, _) in zip(numbers, sheets, strict=True)
        )
        + "</sheets></workbook>",
        "xl/_rels/workbook.xml.rels": _relations(
            [*(("worksheet", f"worksheets/sheet{n}.xml") for n in numbers), ("styles", "styles.xml")]
        ),
        "xl/styles.xml": _STYLES,
    }
    parts |= {f"xl/worksheets/sheet{n}.xml": _sheet(rows) for n, (_, rows) in zip(numbers, sheets, strict=True)}
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, content in parts.items():
            archive.writestr(zipfile.ZipInfo(name, _FIXED), _DECLARATION + content)
    return out.getvalue()


# Cell style 0 is plain, 1 a date (number format 14).
_STYLES = (
    f'<styleSheet xmlns="{_MAIN}"><fonts count="1"><font><sz val="11"/></font></fonts>'
    '<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill>'
    '</fills><borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>'
    '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs><cellXfs count="2">'
    '<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>'
    '<xf numFmtId="14" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/></cellXfs></styleSheet>'
)


def _relations(targets: list[tuple[str, str]]) -> str:
    return (
        f'<Relationships xmlns="{_PACKAGE}/relationships">'
        + "".join(
            f'<Relationship Id="rId{n}" Type="{_DOCUMENT}/{kind}" Target="{target}"/>'
            for n, (kind, target) in enumerate(targets, start=1)
        )
        + "</Relationships>"
    )


def _sheet(rows: list[Sequence[Cell]]) -> str:
    out = [f'<worksheet xmlns="{_MAIN}"><sheetData>']
    for number, row in enumerate(rows, start=1):
        cells = "".join(_cell(f"{chr(ord('A') + place)}{number}", cell) for place, cell in enumerate(row))
        if cells:
            out.append(f'<row r="{number}">{cells}</row>')
    out.append("</sheetData></worksheet>")
    return "".join(out)


def _cell(reference: str, cell: Cell) -> str:
    match cell:
        case None:
            return ""
        case date():
            return f'<c r="{reference}" s="1"><v>{(cell - _DAY_ZERO).days}</v></c>'
        case str():
            return f'<c r="{reference}" t="inlineStr"><is><t>{escape(cell)}</t></is></c>'
        case _:
            return f'<c r="{reference}"><v>{cell:g}</v></c>'
