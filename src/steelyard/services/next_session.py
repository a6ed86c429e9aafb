"""What a lifter is to do next: made once, kept as made, and said what changed when the log has moved on."""

from datetime import date, timedelta

from msgspec import Struct

from steelyard.engine.equipment import ASSUMED
from steelyard.engine.exercises import Catalogue
from steelyard.engine.fold import TrainingLog, fold
from steelyard.engine.log import SheetBody, TrainedAsWrittenBody
from steelyard.engine.planning import ENGINE_VERSION, NothingToPlan, Request, plan_session, revision
from steelyard.engine.sheet import Decision, Sheet
from steelyard.exchange.cells import CellRefused
from steelyard.exchange.cells import exercise as read_exercise
from steelyard.store import queries
from steelyard.wording.labels import label
from steelyard.wording.message import tell
from steelyard.wording.quantity import Voice
from steelyard.wording.say import course_word

from .gear import place_at
from .lifters import Lifter, all_lifters, find_lifter, folded, new_lifter
from .own_exercises import catalogue_of
from .refusal import Refused
from .scribe import Scribe
from .sheets import LineShown, ReasonSaid, line_shown, said, sentences

# A first session without any wish: one lift of each large pattern. Common practice, no source.
FIRST_SESSION = ("squat", "bench-press", "barbell-row")


class NextSession(Struct, frozen=True, kw_only=True):
    """The next session of a lifter."""

    lifter: str
    date: str
    phase: str
    place: str
    cautions: tuple[ReasonSaid, ...]
    lines: tuple[LineShown, ...]
    changes: tuple[str, ...] = ()
    sheet: str = ""


class Asked(Struct, frozen=True, kw_only=True):
    """What `next` was asked for."""

    name: str | None = None
    on: date | None = None
    exercises: tuple[str, ...] = ()
    is_deload: bool = False
    is_new: bool = False
    did_train: bool = False
    place: str | None = None


def next_session(asked: Asked, voice: Voice, scribe: Scribe) -> NextSession:
    """The sheet for a day: the one that was shown before if nothing is new, else a new one that takes its place."""
    lifter = _lifter(asked, scribe)
    entries = queries.entries_of(lifter.person)
    log = fold(entries)
    on = asked.on or scribe.today()
    known = catalogue_of(log)
    if asked.did_train:
        log = _confirm_training(lifter, log, on, scribe)
    place, gear = place_at(asked.place, log.lifter.place if log.lifter is not None else "")
    equipment = gear.equipment if gear is not None else None
    request = Request(
        on=on,
        exercises=_exercises(asked, log, known),
        is_deload=asked.is_deload,
        alone=gear.alone if gear is not None else None,
        safeties=gear.safeties if gear is not None else None,
    )
    earlier = [(i, body) for i, body in log.sheets if body.sheet.on == on]
    basis = revision(log, equipment or ASSUMED, request)
    if earlier and _is_same(earlier[-1][1].sheet, basis, known):
        return _answer(lifter, place, known, earlier[-1][1].sheet, voice, earlier[-1][0], ())
    try:
        sheet = plan_session(log, known, equipment, request)
    except NothingToPlan as refused:
        hint = tell(
            'Name exercises: steelyard next {name!r} --exercise squat --exercise "bench press"', name=lifter.name
        )
        raise Refused(tell("nothing is logged for {name}", name=lifter.name), hint) from refused
    entry = scribe.entry(
        lifter.person, SheetBody(sheet=sheet, said=sentences(sheet, voice)), replaces=[i for i, _ in earlier]
    )
    scribe.write([entry])
    changes = what_changed(earlier[-1][1].sheet, sheet, known, voice) if earlier else ()
    return _answer(lifter, place, known, sheet, voice, entry.id, changes)


def _lifter(asked: Asked, scribe: Scribe) -> Lifter:
    if not asked.is_new:
        return find_lifter(asked.name)
    if asked.name is None:
        raise Refused(tell("a new lifter needs a name"), tell("Write: steelyard next NAME --new"))
    if any(folded(x.name) == folded(asked.name) for x in all_lifters()):
        return find_lifter(asked.name)
    lifter, entry = new_lifter(asked.name, scribe)
    scribe.write([entry])
    return lifter


def _exercises(asked: Asked, log: TrainingLog, known: Catalogue) -> tuple[str, ...]:
    try:
        named = tuple(read_exercise(e, known).code for e in asked.exercises)
    except CellRefused as refused:
        raise Refused(f"{', '.join(asked.exercises)}: {refused.problem}", refused.remedy) from refused
    return named or (FIRST_SESSION if not log.sets else ())


def _confirm_training(lifter: Lifter, log: TrainingLog, on: date, scribe: Scribe) -> TrainingLog:
    """Keep that the days since the latest entry were trained as written."""
    days = [s.body.on for s in log.sets if s.body.on < on]
    if not days or (on - max(days)).days < 2:
        raise Refused(tell("there are no days without entries before this one"), tell("Leave --trained out"))
    body = TrainedAsWrittenBody(earliest=max(days) + timedelta(days=1), until=on, by=scribe.author)
    scribe.write([scribe.entry(lifter.person, body)])
    return fold(queries.entries_of(lifter.person))


def _is_same(sheet: Sheet, basis: str, known: Catalogue) -> bool:
    return (
        sheet.basis.log_revision == basis
        and sheet.basis.engine == ENGINE_VERSION
        and sheet.basis.catalogue == known.version
    )


def _answer(
    lifter: Lifter,
    place: str,
    known: Catalogue,
    sheet: Sheet,
    voice: Voice,
    sheet_id: str,
    changes: tuple[str, ...],
) -> NextSession:
    return NextSession(
        lifter=lifter.name,
        date=sheet.on.isoformat(),
        phase=sheet.phase,
        place=place,
        cautions=tuple(said(r, voice) for r in sheet.cautions),
        lines=tuple(line_shown(line, known[line.exercise], voice) for line in sheet.lines),
        changes=changes,
        sheet=sheet_id,
    )


def what_changed(before: Sheet, now: Sheet, known: Catalogue, voice: Voice) -> tuple[str, ...]:
    """In words, how a sheet differs from the one it takes the place of."""
    old = {(d.exercise, d.implement): d for d in before.lines}
    new = {(d.exercise, d.implement): d for d in now.lines}
    out = []
    for key, decision in new.items():
        name = known[key[0]].name[voice.language]
        if key not in old:
            out.append(f"{name}: {_brief(decision, voice)}")
        elif _brief(old[key], voice) != _brief(decision, voice):
            out.append(f"{name}: {_brief(old[key], voice)} -> {_brief(decision, voice)}")
    out += [f"{known[key[0]].name[voice.language]}: -" for key in old if key not in new]
    if not out:
        out.append(label("same-sheet", voice.language))
    return tuple(out)


def _brief(decision: Decision, voice: Voice) -> str:
    work = [s for s in decision.sets if s.kind != "warm-up"]
    if not work or work[-1].load is None:
        return course_word(decision.course, voice)
    count = work[0].reps or work[0].seconds or work[0].metres
    return f"{len(work)} × {count} @ {voice.load(work[-1].load)}"


def is_deload_on(log: TrainingLog, on: date) -> bool:
    """Whether the sheet of that day is a deload."""
    return any(s.sheet.on == on and s.sheet.phase == "deload" for _, s in log.sheets)
