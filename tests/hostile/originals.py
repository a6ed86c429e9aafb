"""A few honest files of several shapes, which must open as they are: the hostile ones are made from them."""

import io
import json
from datetime import UTC, date, datetime, timedelta
from functools import cache

import openpyxl
from msgspec import Struct

from .workbooks_by_hand import OdsCell, ods, xls

HEADER = ("date", "exercise", "load", "reps", "rir", "note")
EXERCISES = ("squat", "bench press", "Kreuzheben", "Rudern über Kopf", "pull-up")
LINES = 60


class Original(Struct, frozen=True):
    """An honest file: its suffix, its bytes, and how many rows it has on all sheets together."""

    suffix: str
    content: bytes
    rows: int


def _sets() -> list[tuple[date, str, float, int, int, str]]:
    first = date(2026, 1, 5)
    notes = ("", "felt easy", 'wide grip, "paused"', "ging gut; Knie zwickt", "5½ – schön")
    return [
        (first + timedelta(days=n // 5), EXERCISES[n % 5], 60 + n % 7 * 2.5, 8 - n % 3, n % 4, notes[n % 5])
        for n in range(LINES)
    ]


def _quoted(cell: object, separator: str) -> str:
    text = str(cell)
    return '"' + text.replace('"', '""') + '"' if separator in text or '"' in text else text


def _separated(separator: str, end: str) -> str:
    rows = [HEADER, *_sets()]
    return "".join(separator.join(_quoted(cell, separator) for cell in row) + end for row in rows)


def _fixed() -> str:
    rows = [
        HEADER[:5],
        *((f"{on:%d.%m.%Y}", name, str(load), str(reps), str(rir)) for on, name, load, reps, rir, _ in _sets()),
    ]
    widths = [max(len(row[n]) for row in rows) for n in range(5)]
    return "\n".join("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) for row in rows)


def _free_lines() -> str:
    return "\n".join(f"{on:%a %d.%m.} {name} {reps}x{load:g}kg, RIR {rir}" for on, name, load, reps, rir, _ in _sets())


def _objects() -> list[dict[str, object]]:
    return [dict(zip(HEADER, (found[0].isoformat(), *found[1:]), strict=True)) for found in _sets()]


def _xlsx() -> bytes:
    book = openpyxl.Workbook()
    book.properties.created = book.properties.modified = datetime(2026, 1, 5, tzinfo=UTC).replace(tzinfo=None)
    sheet = book.active
    assert sheet is not None
    sheet.title = "Log"
    sheet.append(HEADER)
    for row in _sets():
        sheet.append(row)
    sheet["H2"] = "=C2*D2"
    sheet.merge_cells("A70:C70")
    sheet["A70"] = "end of the block"
    hidden = book.create_sheet("Old")
    hidden.sheet_state = "hidden"
    hidden.append(("date", "body mass"))
    hidden.append((date(2026, 1, 5), 82.5))
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


SETS = len(_sets())


@cache
def originals() -> dict[str, Original]:
    """All of them by name."""
    commas, semicolons, tabs = _separated(",", "\n"), _separated(";", "\r\n"), _separated("\t", "\n")
    table: list[list[OdsCell]] = [list(HEADER)]
    table += [[on, name, load, float(reps), float(rir), note or None] for on, name, load, reps, rir, note in _sets()]
    old_table = [[cell.isoformat() if isinstance(cell, date) else cell or "" for cell in row] for row in table]
    lines = "".join(json.dumps(found, ensure_ascii=False) + "\n" for found in _objects())
    return {
        "commas": Original("csv", commas.encode(), LINES + 1),
        "semicolons": Original("csv", semicolons.encode("cp1252"), LINES + 1),
        "tabs": Original("tsv", b"\xff\xfe" + tabs.encode("utf-16-le"), LINES + 1),
        "columns": Original("txt", _fixed().encode(), LINES + 1),
        "free lines": Original("txt", _free_lines().encode(), LINES),
        "json lines": Original("jsonl", lines.encode(), LINES + 1),
        "json list": Original("json", json.dumps(_objects(), indent=1).encode(), LINES + 1),
        "xlsx": Original("xlsx", _xlsx(), LINES + 4),
        "ods": Original("ods", ods({"Log": table}), LINES + 1),
        "xls": Original("xls", xls("Log", old_table), LINES + 1),
    }
