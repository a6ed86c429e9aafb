"""Sets that were done, as text."""

from steelyard.catalogue import catalogue
from steelyard.exchange.set_export import SetLine
from steelyard.wording.code_words import code_word
from steelyard.wording.message import spoken, tell

HANDLE = 8


def set_text(done: SetLine) -> str:
    """One set with the end of its id, by which it can be amended."""
    return (
        f"{exercise_text(done):<22} {count_text(done):>6} {load_text(done):<12} {details(done)}".rstrip()
        + f"   {handle(done)}"
    )


def exercise_text(done: SetLine) -> str:
    """The exercise in the language spoken; one's own goes by the name it was given."""
    known = catalogue()
    return known[done.exercise_code].name[spoken()] if done.exercise_code in known else done.exercise


def handle(done: SetLine) -> str:
    """The end of a set's id."""
    return done.id[-HANDLE:]


def count_text(done: SetLine) -> str:
    """Repetitions, seconds or metres."""
    if done.missed is not None or done.reps == 0:
        return tell("missed")
    if done.seconds is not None:
        return f"{done.seconds} s"
    return f"{_marked(f'{done.metres:g}')} m" if done.metres is not None else f"{done.reps} ×"


def load_text(done: SetLine) -> str:
    """The load as it was typed."""
    value, _, unit = done.load_typed.partition(" ")
    return f"{_marked(value)} {code_word('unit', unit, spoken())}".strip()


def details(done: SetLine) -> str:
    """Everything else that was said."""
    words = [
        _word("kind", done.kind),
        f"RIR {_marked(f'{done.rir:g}')}" if done.rir is not None else "",
        _word("side", done.side),
        done.implement or "",
    ]
    words += [tell("tempo {tempo}", tempo=done.tempo) if done.tempo else "", "+".join(map(str, done.cluster))]
    words.append(tell("pain: {pain}", pain=done.pain) if done.pain else "")
    words.append(tell("technique {word}", word=_word("technique", done.technique)) if done.technique else "")
    words.append(_word("phase", done.phase))
    words.append(tell("missed: {word}", word=_word("missed", done.missed)) if done.missed else "")
    return ", ".join(w for w in (*words, done.note) if w)


def _word(kind: str, code: str | None) -> str:
    return "" if code is None else code_word(kind, code, spoken())


def _marked(number: str) -> str:
    """A number with the decimal mark of the language spoken."""
    return number.replace(".", ",") if spoken() == "de" else number
