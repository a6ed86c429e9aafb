"""Log what was lifted, from one line as people write it."""

from collections.abc import Iterator
from datetime import date
from difflib import get_close_matches

from msgspec import Struct, structs

from steelyard.catalogue import catalogue
from steelyard.engine.exercises import Catalogue
from steelyard.engine.fold import LoggedSet
from steelyard.engine.gates import is_stop
from steelyard.engine.log import CheckInBody, Entry, SetBody
from steelyard.engine.reasons import PainStop
from steelyard.exchange.cells import CellRefused
from steelyard.exchange.set_export import SetLine, set_line
from steelyard.exchange.set_line import read_line
from steelyard.wording.message import tell, tell_either
from steelyard.wording.quantity import Voice
from steelyard.wording.say import say

from .lifters import Lifter, all_lifters, find_lifter, folded, log_of, new_lifter
from .next_session import is_deload_on
from .own_exercises import catalogue_of
from .refusal import Refused
from .scribe import Scribe


class Logged(Struct, frozen=True, kw_only=True):
    """What was kept."""

    lifter: str
    date: str
    sets: tuple[SetLine, ...] = ()
    body_mass_kg: float | None = None
    entries_added: int
    lifters_added: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


def log_line(
    line: str, name: str | None, on: date | None, voice: Voice, scribe: Scribe, *, is_new: bool = False
) -> Logged:
    """Keep the sets of a typed line; a lifter who is named and not known yet is taken in.

    A name that looks like a known one is refused unless it is said to be somebody new.
    """
    known = _known_to(name)
    try:
        typed = read_line(line, known, on or scribe.today(), voice.unit)
    except CellRefused as refused:
        raise Refused(refused.problem, refused.remedy[:1].upper() + refused.remedy[1:]) from refused
    lifter, entries = _lifter(name, is_new, scribe)
    added = tuple(lifter.name for _ in entries)
    if typed.check_in is not None:
        entries.append(scribe.entry(lifter.person, typed.check_in))
        scribe.write(entries)
        return _of_check_in(lifter, typed.check_in, added)
    bodies = _in_phase(lifter, typed.sets)
    logged = []
    for body in bodies:
        entry = scribe.entry(lifter.person, body)
        entries.append(entry)
        logged.append(LoggedSet(entry.id, body))
    scribe.write(entries)
    lines = tuple(set_line(lifter.name, s, known) for s in logged)
    return Logged(
        lifter=lifter.name,
        date=lines[0].date,
        sets=lines,
        entries_added=len(logged),
        lifters_added=added,
        cautions=tuple(_cautions(bodies, voice)),
    )


def _known_to(name: str | None) -> Catalogue:
    """The exercises that this lifter has, own ones included; whoever is not known yet has none of their own."""
    lifters = all_lifters()
    meant = [x for x in lifters if name is not None and folded(x.name) == folded(name)]
    meant = meant or (lifters if name is None and len(lifters) == 1 else [])
    return catalogue_of(log_of(meant[0])) if meant else catalogue()


def _lifter(name: str | None, is_new: bool, scribe: Scribe) -> tuple[Lifter, list[Entry]]:
    lifters = all_lifters()
    if name is None or any(folded(x.name) == folded(name) for x in lifters):
        return find_lifter(name), []
    near = [x.name for x in lifters if _is_near(folded(name), folded(x.name))]
    if near and not is_new:
        raise Refused(
            tell("there is no lifter {name!r}", name=name),
            tell("Did you mean {names}? Somebody else: add --new", names=tell_either(near)),
        )
    lifter, entry = new_lifter(name, scribe)
    return lifter, [entry]


def _is_near(typed: str, known: str) -> bool:
    """Whether a name looks like a slip or a part of a known one."""
    if not typed:
        return False
    return known.startswith(typed) or typed in known.split() or bool(get_close_matches(typed, [known], cutoff=0.8))


def _in_phase(lifter: Lifter, sets: tuple[SetBody, ...]) -> tuple[SetBody, ...]:
    """Sets done on the day of a deload sheet belong to the deload."""
    if is_deload_on(log_of(lifter), sets[0].on):
        return tuple(structs.replace(s, phase="deload") for s in sets)
    return sets


def _cautions(bodies: tuple[SetBody, ...], voice: Voice) -> Iterator[str]:
    """What must be said at once: pain that stops an exercise."""
    for body in bodies:
        if body.pain is not None and is_stop(body.pain):
            yield say(PainStop(score=body.pain.score, words=body.pain.words), voice)


def _of_check_in(lifter: Lifter, body: CheckInBody, added: tuple[str, ...]) -> Logged:
    mass = float(body.body_mass.magnitude) if body.body_mass is not None else None
    return Logged(lifter=lifter.name, date=body.on.isoformat(), body_mass_kg=mass, entries_added=1, lifters_added=added)
