"""Answers as text for people."""

from datetime import date
from decimal import Decimal
from itertools import groupby

from steelyard.engine.quantities import kg
from steelyard.services.next_session import NextSession
from steelyard.services.sheets import LineShown, ReasonSaid, SetShown
from steelyard.wording.labels import label, long_date
from steelyard.wording.quantity import Voice
from steelyard.wording.say import course_word, lever_word

from .beam import beam
from .paragraph import INDENT, quiet, strong, wrapped

# Why these levers wait is the same on every line: `why` tells it.
EVERY_LINE = frozenset({"range-not-full", "sets-later", "density-never"})
SAID_FIRST = frozenset({"own-rotation", "deload-offered", "unlogged-days", "two-versions"})


def next_text(answer: NextSession, voice: Voice) -> str:
    """A sheet."""
    language = voice.language
    title = f"{answer.lifter} · {long_date(date.fromisoformat(answer.date), language)}"
    if answer.phase == "deload":
        title += f" · {label('deload', language)}"
    parts = [strong(title)]
    notes = [c for c in answer.cautions if c.code in SAID_FIRST]
    parts += [wrapped(note.text, "") for note in notes]
    if answer.changes:
        parts.append(f"{label('changed', language)}:\n" + "\n".join(f"{INDENT}{c}" for c in answer.changes))
    shared = _shared_cautions(answer)
    parts += [line_text(line, voice, {r.code for r in shared}) for line in answer.lines]
    rest = [c for c in answer.cautions if c not in notes]
    mind = "\n".join(wrapped(c.text) for c in (*shared, *rest))
    parts.append(f"{strong(label('cautions', language))}\n{mind}")
    return "\n\n".join(parts)


def _shared_cautions(answer: NextSession) -> list[ReasonSaid]:
    """Cautions of lines, each said once under the sheet."""
    found: dict[str, ReasonSaid] = {}
    for line in answer.lines:
        found.update((r.code, r) for r in line.reasons if r.role == "caution")
    return list(found.values())


def line_text(line: LineShown, voice: Voice, said_below: set[str]) -> str:
    """One line of a sheet: what to do, the beam, the reasons beside it."""
    out = [head_text(line, voice)]
    out += [wrapped(r.text) for r in _told_once(line) if r.code not in said_below]
    own = [r.text for r in line.reasons if r.code == "own-range"]
    out += [quiet(wrapped(text)) for text in own]
    told = {r.text for r in line.reasons}  # what one of the reasons above refuses needs no second telling
    grouped = groupby((c for c in line.considered if c.text not in told and c.code not in EVERY_LINE), lambda c: c.text)
    refused = "; ".join(f"{', '.join(lever_word(c.lever, voice) for c in same)}: {text}" for text, same in grouped)
    if refused:
        out.append(quiet(wrapped(f"{label('not-now', voice.language)} - {refused}")))
    return "\n".join(out)


def _told_once(line: LineShown) -> list[ReasonSaid]:
    """The reasons that a lifter needs: the first of each kind, and none that only says why more could come."""
    silent = {"own-range"} | ({"pause-served"} if line.course not in {"rise", "return"} else set())
    first: dict[str, ReasonSaid] = {}
    for reason in line.reasons:
        if reason.code not in silent:
            first.setdefault(reason.code, reason)
    return list(first.values())


def head_text(line: LineShown, voice: Voice) -> str:
    """What to do, and the beam."""
    name = f"{line.exercise} ({line.implement})" if line.implement else line.exercise
    word = lever_word(line.lever, voice) if line.lever else course_word(line.course, voice)
    out = [f"{strong(name)}  [{word}]"]
    out += [INDENT + text for text in _sets_text(line.sets, voice)] or [INDENT + label("nothing", voice.language)]
    return "\n".join([*out, *_beam_text(line, voice)])


def _sets_text(sets: tuple[SetShown, ...], voice: Voice) -> list[str]:
    """Work sets first, as one line where they are equal; then warm-up."""
    out = []
    for kind in ("work", "ramp", "warm-up"):
        chosen = [s for s in sets if s.kind == kind]
        if not chosen:
            continue
        if kind == "work":
            first = chosen[0]
            out.append(f"{strong(f'{len(chosen)} × {_count(first)}')} {_load(first, voice)}{_more(first, voice)}")
        else:
            rungs = ", ".join(f"{s.load_text} × {_count(s)}" for s in chosen)
            more = _more(chosen[0], voice) if kind == "ramp" else ""
            out.append(f"{label(kind, voice.language)}: {rungs}{more}")
    return out


def _count(planned: SetShown) -> str:
    if planned.reps is not None:
        return str(planned.reps)
    return f"{planned.seconds} s" if planned.seconds is not None else f"{planned.metres:g} m"


def _load(planned: SetShown, voice: Voice) -> str:
    if not planned.load_kg and not planned.load_mark:
        return f"({planned.load_text})"
    return f"{label('at', voice.language)} {strong(planned.load_text)}"


def _more(planned: SetShown, voice: Voice) -> str:
    """Rest, reserve, plates: what is said after the load."""
    language = voice.language
    out = ""
    if planned.per_side:
        out += f" · {label('each-side', language)}"
    if planned.rest_s is not None:
        out += f" · {label('rest', language)} {planned.rest_s // 60}:{planned.rest_s % 60:02d}"
    if planned.target_rir is not None:
        out += f" · {planned.target_rir} {label('reserve', language)}"
    if planned.plates_per_side and planned.kind == "work":
        out += f" · {' + '.join(planned.plates_per_side)} {label('side', language)}"
    return out


def _beam_text(line: LineShown, voice: Voice) -> list[str]:
    work = [s for s in line.sets if s.kind == "work" and s.load_kg is not None]
    if not work or work[0].load_kg is None or len(line.steps_kg) < 2:
        return []
    today = work[0].load_kg
    loads = [s.load_kg for s in line.previous.sets if s.load_kg is not None] if line.previous else []
    last = max(loads, key=loads.count) if loads else None
    words = [(label("last", voice.language), last), (label("today", voice.language), today)]
    words.append((label("limit", voice.language), line.limit_kg))
    told = ", ".join(f"{word} {_shown(mass, line, voice)}" for word, mass in words if mass is not None)
    return [f"{INDENT}{beam(line.steps_kg, last, today, line.limit_kg)}  {quiet(told)}"]


def _shown(mass_kg: float, line: LineShown, voice: Voice) -> str:
    mass = kg(Decimal(str(mass_kg)))
    return voice.added(mass) if line.is_load_added else voice.load(mass)
