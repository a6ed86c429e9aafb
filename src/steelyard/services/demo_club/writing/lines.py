"""A line each: notes typed on a telephone, and JSON lines out of some other program."""

import json
import random
from datetime import date
from itertools import groupby

from steelyard.engine.log import SetBody
from steelyard.engine.quantities import Load

_ASIDES = ("garage was cold, long warm-up", "neighbour came by", "windows open", "no time for more")
BodyMasses = tuple[tuple[date, Load], ...]


def notes_text(entries: list[list[SetBody]], masses: BodyMasses, rng: random.Random) -> bytes:
    """A line with the day, a line an exercise, body mass now and then, words between."""
    out = []
    weighed = dict(masses)
    for on, session in groupby(entries, lambda e: e[0].on):
        out.append(f"{on:%a} {on.day} {on:%B %Y}")
        if on in weighed:
            out.append(f"body mass {weighed[on].value:f}kg")
        out += [_line(entry) for entry in session]
        if rng.random() < 0.15:
            out.append(rng.choice(_ASIDES))
        out.append("")
    return "\n".join(out).encode()


def _line(entry: list[SetBody]) -> str:
    first, last = entry[0], entry[-1]
    if first.exercise == "pull-up" and first.load is not None:
        line = f"{first.as_written} " + ", ".join(f"BW+{first.load.value:f} x {s.reps}" for s in entry)
    else:
        load = f" @ {first.load.value:f}kg" if first.load is not None else ""
        line = f"{first.as_written} {_counts(entry)}{load}"
    line += " each" if first.side == "each" else ""
    line += f" rir {last.effort.value:f}" if last.effort else ""
    return f"{line} ({last.note})" if last.note else line


def _counts(entry: list[SetBody]) -> str:
    """`3x8`, or `8,8,7` where the sets differ; seconds and metres with their letter."""
    mark = "s" if entry[0].seconds is not None else "m" if entry[0].metres is not None else ""
    counts = [str(next(n for n in (s.reps, s.seconds, s.metres) if n is not None)) for s in entry]
    if len(set(counts)) == 1:
        return f"{len(counts)}x{counts[0]}{mark}"
    return ("/" if mark else ",").join(counts) + mark


def json_lines(entries: list[list[SetBody]], masses: BodyMasses, lifter: str) -> bytes:
    """An object a set, in the order of its keys; what was not said is left out."""
    weighed = dict(masses)
    out = []
    for entry in entries:
        if (mass := weighed.pop(entry[0].on, None)) is not None:
            out.append(
                json.dumps({"lifter": lifter, "date": entry[0].on.isoformat(), "body_mass_kg": float(mass.value)})
            )
        for number, done in enumerate(entry, start=1):
            out.append(json.dumps(_keys(done, lifter, number), ensure_ascii=False))
    return ("\n".join(out) + "\n").encode()


def _keys(done: SetBody, lifter: str, number: int) -> dict[str, object]:
    keys: dict[str, object] = {
        "lifter": lifter,
        "date": done.on.isoformat(),
        "exercise": done.as_written,
        "set": number,
    }
    if done.implement is not None:
        keys["machine"] = done.implement
    if done.load is not None:
        keys["load"] = f"mark {done.load.value:f}" if done.load.unit == "mark" else f"{done.load.value:f} kg"
    if done.reps is not None:
        keys["reps"] = done.reps
    if done.seconds is not None:
        keys["seconds"] = done.seconds
    if done.effort is not None:
        keys["rir"] = int(done.effort.value)
    if done.technique is not None:
        keys["technique"] = done.technique
    if done.note:
        keys["note"] = done.note
    return keys
