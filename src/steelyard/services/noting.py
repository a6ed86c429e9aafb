"""One line about a lifter's health, kept; what stops training is answered at once."""

from datetime import date

from msgspec import Struct

from steelyard.engine.body import Body
from steelyard.engine.fold import TrainingLog, versions_of
from steelyard.engine.health import EpisodeBody
from steelyard.engine.log import CheckInBody, TombstoneBody
from steelyard.engine.quantities import QuantityRefused, Unit
from steelyard.engine.reasons import AnyReason
from steelyard.exchange import cells
from steelyard.exchange.cells import CellRefused
from steelyard.exchange.note_line import (
    FeverNoted,
    Lifted,
    Noted,
    PainNoted,
    PressureNoted,
    Restricted,
    SignNoted,
    Withdrawn,
    WordsNoted,
    read_note,
)
from steelyard.store import queries
from steelyard.wording.message import tell, tell_refused
from steelyard.wording.quantity import Voice

from .closed_gates import closed_for
from .lifters import Lifter, find_lifter, log_of
from .own_exercises import catalogue_of
from .pain_notes import AboutPain, closed_by_pain, pain_body, pain_remarks
from .refusal import Refused
from .restriction_notes import AboutRestriction, lifted_bodies, restriction_bodies
from .screening import read_pressure
from .scribe import Scribe
from .sheets import ReasonSaid, said
from .standing import Standing, standing_of

SHORTEST_ID = 6
WITHDRAWABLE = frozenset({"check-in", "pain-episode", "restriction", "screening", "attest", "clearance"})


class Note(Struct, frozen=True, kw_only=True):
    """A line with what stands beside it; `is_words` keeps it as plain words, whatever it begins with."""

    line: str
    is_words: bool = False
    about_pain: AboutPain = AboutPain()
    about_restriction: AboutRestriction = AboutRestriction()


class NoteKept(Struct, frozen=True, kw_only=True):
    """What was kept, what it closes, for which of the lifter's exercises, and what stands now."""

    lifter: str
    date: str
    kept: str
    ids: tuple[str, ...]
    closes: tuple[ReasonSaid, ...]
    exercises: tuple[str, ...]
    remarks: tuple[str, ...]
    standing: Standing


class _Kept(Struct, frozen=True):
    """What a line meant and what was written for it."""

    noted: Noted
    bodies: tuple[Body, ...]
    ids: tuple[str, ...]


def note(name: str | None, wanted: Note, voice: Voice, scribe: Scribe, on: date | None = None) -> NoteKept:
    """Keep one line about a lifter."""
    lifter, day = find_lifter(name), on or scribe.today()
    log = log_of(lifter)
    before = closed_for(log, day)
    try:
        noted = _read(wanted, voice.unit)
        bodies = _bodies(noted, log, day, wanted, scribe)
    except CellRefused as refused:
        hint = tell("To keep only the words: add --words")
        raise Refused(refused.problem, f"{refused.remedy[:1].upper()}{refused.remedy[1:]}. {hint}") from refused
    except QuantityRefused as refused:
        raise Refused(tell_refused(refused)) from refused
    replaces = _withdrawn(lifter, noted) if isinstance(noted, Withdrawn) else ()
    entries = [scribe.entry(lifter.person, body, replaces=replaces) for body in bodies]
    scribe.write(entries)
    kept = _Kept(noted, tuple(bodies), tuple(entry.id for entry in entries))
    return _answer(lifter, kept, day, before, voice)


def _read(wanted: Note, unit: Unit) -> Noted:
    line = cells.text(wanted.line)
    return WordsNoted(words=line) if wanted.is_words else read_note(line, unit)


def _bodies(noted: Noted, log: TrainingLog, on: date, wanted: Note, scribe: Scribe) -> list[Body]:
    if isinstance(noted, PainNoted):
        return [pain_body(noted, log, on, wanted.about_pain, scribe)]
    if isinstance(noted, Restricted):
        return [*restriction_bodies(noted, log, on, wanted.about_restriction, scribe)]
    if isinstance(noted, Lifted):
        return [*lifted_bodies(noted, log, on, wanted.about_restriction)]
    if isinstance(noted, Withdrawn):
        return [TombstoneBody(why=wanted.about_restriction.why or "withdrawn")]
    return [_check_in(noted, on)]


def _check_in(noted: SignNoted | FeverNoted | PressureNoted | WordsNoted, on: date) -> CheckInBody:
    match noted:
        case SignNoted():
            return CheckInBody(on=on, signs=noted.signs)
        case FeverNoted():
            return CheckInBody(on=on, fever=noted.is_there)
        case PressureNoted():
            return CheckInBody(on=on, blood_pressure=read_pressure(noted.text))
        case WordsNoted():
            return CheckInBody(on=on, note=noted.words)


def _withdrawn(lifter: Lifter, noted: Withdrawn) -> tuple[str, ...]:
    """Every version of the one entry of health that ends so."""
    if len(noted.handle) < SHORTEST_ID:
        raise Refused(
            tell("{handle!r} is too short", handle=noted.handle),
            tell("Give the last {least} or more characters of it", least=SHORTEST_ID),
        )
    entries = queries.entries_of(lifter.person)
    found = [e.id for e in entries if e.kind in WITHDRAWABLE and e.id.endswith(noted.handle)]
    if len(found) != 1:
        raise Refused(
            tell("no note of {name} has an id that ends in {handle!r}", name=lifter.name, handle=noted.handle),
            tell("Give it as `note` and `screen` showed it"),
        )
    return versions_of(entries, found[0])


def _answer(lifter: Lifter, kept: _Kept, on: date, before: tuple[AnyReason, ...], voice: Voice) -> NoteKept:
    log = log_of(lifter)
    reasons = tuple(reason for reason in closed_for(log, on) if reason not in before)
    codes: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    first = kept.bodies[0]
    if isinstance(kept.noted, PainNoted) and isinstance(first, EpisodeBody):
        of_pain, codes = closed_by_pain(log, on, first.episode)
        reasons, remarks = (*reasons, *of_pain), tuple(pain_remarks(kept.noted, first))
    known = catalogue_of(log)
    return NoteKept(
        lifter=lifter.name,
        date=on.isoformat(),
        kept=_words_of(kept.noted),
        ids=kept.ids,
        closes=tuple(said(reason, voice) for reason in reasons),
        exercises=tuple(known[code].name[voice.language] for code in codes),
        remarks=remarks,
        standing=standing_of(log, on),
    )


def _words_of(noted: Noted) -> str:
    """What was kept, in two words."""
    if isinstance(noted, PainNoted) and noted.is_closed:
        return tell("the end of a pain")
    if isinstance(noted, FeverNoted) and not noted.is_there:
        return tell("no fever any more")
    return {
        PainNoted: tell("pain"),
        Restricted: tell("a restriction"),
        Lifted: tell("a restriction lifted"),
        SignNoted: tell("a sign to stop at"),
        Withdrawn: tell("a withdrawal"),
        FeverNoted: tell("fever"),
        PressureNoted: tell("blood pressure"),
        WordsNoted: tell("a note"),
    }[type(noted)]
