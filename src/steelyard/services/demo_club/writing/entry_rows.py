"""An exercise a row: once with all sets in one cell, once with a column a set and the header on row six."""

import csv
import io
from collections.abc import Sequence
from itertools import groupby

from steelyard.engine.log import SetBody

from .names import remark


def set_cells_csv(entries: list[list[SetBody]]) -> bytes:
    """`3x8@60kg` in one cell, `2x8@60kg, 1x7@60kg` where the sets differ; effort of the last set."""
    rows: list[Sequence[object]] = [("Date", "Exercise", "Sets", "RIR", "Comment")]
    for entry in entries:
        rir = next((f"{s.effort.value:f}" for s in entry if s.effort), "")
        rows.append((entry[0].on.isoformat(), entry[0].as_written, _cell(entry), rir, remark(entry)))
    return _text(rows)


def _cell(entry: list[SetBody]) -> str:
    parts = []
    for reps, same in groupby(entry, lambda s: s.reps):
        parts.append(f"{len(list(same))}x{reps}@{_written(entry[0], 'kg')}")
    return ", ".join(parts)


def column_a_set_csv(entries: list[list[SetBody]]) -> bytes:
    """A title, remarks and the unit above the header on row six; day first; four columns for up to four sets."""
    rows: list[Sequence[object]] = [
        ("Tomas Veldkamp", *[""] * 8),
        ("Training log 2026", *[""] * 8),
        ("All loads in kg", *[""] * 8),
        ("",) * 9,
        ("Belt on the last sets of squat and deadlift only", *[""] * 8),
        ("Date", "Exercise", "Load", "Set 1", "Set 2", "Set 3", "Set 4", "RIR last set", "Remarks"),
    ]
    for entry in entries:
        reps = [str(s.reps) for s in entry] + [""] * (4 - len(entry))
        rir = next((f"{s.effort.value:f}" for s in entry if s.effort), "")
        rows.append((f"{entry[0].on:%d/%m/%Y}", entry[0].as_written, _written(entry[0]), *reps, rir, remark(entry)))
    return _text(rows)


def _written(done: SetBody, unit: str = "") -> str:
    """A load as it is written beside repetitions; what hangs on the body after BW."""
    is_hung = done.exercise in {"pull-up", "chin-up"}
    if done.load is None:
        return "BW" if is_hung else ""
    return f"{'BW+' if is_hung else ''}{done.load.value:f}{unit}"


def _text(rows: list[Sequence[object]]) -> bytes:
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(rows)
    return out.getvalue().encode()
