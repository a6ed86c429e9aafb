"""Sessions as blocks under each other: a title, a header each time, a total, a comment, an empty row."""

import csv
import io
import random
from collections.abc import Sequence
from itertools import groupby

from steelyard.engine.log import SetBody

_COMMENTS = (
    "Felt fine, no heaviness",
    "Short night, still good",
    "Baby came along",
    "All dry, no pressure",
    "Stopped where it was comfortable",
)


def blocks_csv(entries: list[list[SetBody]], rng: random.Random) -> bytes:
    """A block a session; what is held is written in seconds."""
    rows: list[Sequence[object]] = [("Mara - training after the birth", *[""] * 5), ("",) * 6]
    for on, session in groupby(entries, lambda e: e[0].on):
        done = [s for entry in session for s in entry]
        rows.append((f"{on:%A} {on.day} {on:%B %Y}", *[""] * 5))
        rows.append(("Exercise", "Set", "kg", "Reps", "RIR", "Note"))
        rows += _rows(done)
        rows.append(("Total", "", "", sum(s.reps or 0 for s in done), "", ""))
        if rng.random() < 0.4:
            rows.append((rng.choice(_COMMENTS), *[""] * 5))
        rows.append(("",) * 6)
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(rows)
    return out.getvalue().encode()


def _rows(session: list[SetBody]) -> list[Sequence[object]]:
    rows: list[Sequence[object]] = []
    for _, same in groupby(session, lambda s: s.exercise):
        for number, done in enumerate(same, start=1):
            load = f"{done.load.value:f}" if done.load is not None else ""
            count = f"{done.seconds} s" if done.seconds is not None else done.reps
            effort = "" if done.effort is None else f"{done.effort.value:f}"
            rows.append((done.as_written, number, load, count, effort, done.note))
    return rows
