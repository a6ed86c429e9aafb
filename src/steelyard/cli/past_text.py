"""Sets that were done, as text."""

from steelyard.exchange.set_export import SetLine

HANDLE = 8


def set_text(done: SetLine) -> str:
    """One set with the end of its id, by which it can be amended."""
    return (
        f"{done.exercise:<22} {count_text(done):>6} {load_text(done):<12} {details(done)}".rstrip()
        + f"   {handle(done)}"
    )


def handle(done: SetLine) -> str:
    """The end of a set's id."""
    return done.id[-HANDLE:]


def count_text(done: SetLine) -> str:
    """Repetitions, seconds or metres."""
    if done.missed is not None or done.reps == 0:
        return "missed"
    if done.seconds is not None:
        return f"{done.seconds} s"
    return f"{done.metres:g} m" if done.metres is not None else f"{done.reps} ×"


def load_text(done: SetLine) -> str:
    """The load as it was typed."""
    return done.load_typed


def details(done: SetLine) -> str:
    """Everything else that was said."""
    words = [
        done.kind or "",
        f"RIR {done.rir:g}" if done.rir is not None else "",
        done.side or "",
        done.implement or "",
    ]
    words += [f"tempo {done.tempo}" if done.tempo else "", "+".join(map(str, done.cluster))]
    words += [f"pain: {done.pain}" if done.pain else "", f"technique {done.technique}" if done.technique else ""]
    words += [done.phase or "", f"missed: {done.missed}" if done.missed else "", done.note]
    return ", ".join(w for w in words if w)
