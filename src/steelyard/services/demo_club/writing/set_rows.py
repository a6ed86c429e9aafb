"""A set a row: once in pounds, once from a German spreadsheet."""

import csv
import io
from collections.abc import Sequence

from steelyard.engine.log import SetBody


def pounds_csv(entries: list[list[SetBody]]) -> bytes:
    """Month first, an empty row between sessions, effort as RPE, a byte order mark."""
    rows: list[Sequence[object]] = [("Date", "Exercise", "Set", "Weight (lb)", "Reps", "RPE", "Notes")]
    before = entries[0][0].on
    for entry in entries:
        if entry[0].on != before:
            rows.append(("",) * 7)
        before = entry[0].on
        for number, done in enumerate(entry, start=1):
            on = f"{done.on.month}/{done.on.day}/{done.on.year}"
            rpe = "" if done.effort is None else f"{done.effort.value:f}"
            rows.append((on, done.as_written, number, _load(done), done.reps, rpe, done.note))
    return b"\xef\xbb\xbf" + _text(rows, ",", "\r\n").encode()


def german_csv(entries: list[list[SetBody]]) -> bytes:
    """Semicolons, decimal commas, Windows-1252; the day stands on the first row of a session only."""
    rows: list[Sequence[object]] = [
        ("Datum", "Übung", "Gerät", "Satz", "Gewicht (kg)", "Wdh.", "RIR", "Schmerz", "Technik", "Bemerkung")
    ]
    shown = None
    for entry in entries:
        for number, done in enumerate(entry, start=1):
            on = "" if done.on == shown else f"{done.on:%d.%m.%Y}"
            shown = done.on
            pain = f"{done.pain.words} {done.pain.score}" if done.pain else ""
            technique = {"rough": "unsauber"}.get(done.technique or "", "")
            effort = "" if done.effort is None else f"{done.effort.value:f}"
            load = _load(done).replace(".", ",")
            rows.append(
                (on, done.as_written, done.implement or "", number, load, done.reps, effort, pain, technique, done.note)
            )
    return _text(rows, ";", "\r\n").encode("cp1252")


def _load(done: SetBody) -> str:
    return "" if done.load is None else f"{done.load.value:f}"


def _text(rows: list[Sequence[object]], separator: str, ending: str) -> str:
    out = io.StringIO()
    csv.writer(out, delimiter=separator, lineterminator=ending).writerows(rows)
    return out.getvalue()
