"""One set in a few words: its day, what was written, load, count."""

from steelyard.engine.log import SetBody
from steelyard.wording.message import tell
from steelyard.wording.quantity import Voice


def set_words(body: SetBody, voice: Voice) -> str:
    """A set as a short line, such as `2026-03-02 Squat 60 kg x 8`."""
    count = str(body.reps if body.reps is not None else "")
    if body.seconds is not None:
        count = f"{body.seconds} s"
    elif body.metres is not None:
        count = f"{voice.number(body.metres)} m"
    load = "" if body.load is None else f" {voice.load(body.load)}"
    missed = "" if body.missed is None else f" ({tell('missed')})"
    return f"{body.on.isoformat()} {body.as_written or body.exercise}{load} × {count}{missed}"
