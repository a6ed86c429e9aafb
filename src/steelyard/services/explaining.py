"""Why a line is as it is: the reasons of a sheet as it was shown, or of the coming one."""

from datetime import date

from msgspec import Struct

from steelyard.engine.exercises import Catalogue
from steelyard.engine.log import SheetBody
from steelyard.engine.planning import NothingToPlan, Request, plan_session
from steelyard.engine.sheet import Sheet
from steelyard.wording.message import tell
from steelyard.wording.quantity import Voice

from .gear import place_at
from .lifters import find_lifter, log_of
from .own_exercises import catalogue_of
from .past import exercise_named
from .refusal import Refused
from .scribe import Scribe
from .sheets import LineShown, ReasonSaid, line_shown, said


class BasisShown(Struct, frozen=True, kw_only=True):
    """What a decision was made from."""

    log_revision: str
    policy: str
    catalogue: str
    engine: str


class Why(Struct, frozen=True, kw_only=True):
    """The lines asked about, with everything behind them."""

    lifter: str
    date: str
    was_shown: bool
    lines: tuple[LineShown, ...]
    cautions: tuple[ReasonSaid, ...]
    basis: BasisShown | None
    as_said: tuple[str, ...] = ()


def why(name: str | None, exercise: str | None, on: date | None, voice: Voice, scribe: Scribe) -> Why:
    """The reasons of the sheet shown for a day (the latest one without a day), else of the one that would be made."""
    lifter = find_lifter(name)
    log = log_of(lifter)
    known = catalogue_of(log)
    shown = [body for _, body in log.sheets if on is None or body.sheet.on == on]
    old = [body for body in log.old_sheets if on is not None and body.sheet.on == on]
    if not shown and old:
        words = tuple(sentence for line in old[-1].said for sentence in line)
        return Why(lifter=lifter.name, date=str(on), was_shown=True, lines=(), cautions=(), basis=None, as_said=words)
    sheet = _latest(shown) if shown else None
    if sheet is None:
        _, gear = place_at(None, log.lifter.place if log.lifter is not None else "")
        wanted = (exercise_named(exercise, known).code,) if exercise is not None else ()
        request = Request(
            on=on or scribe.today(),
            exercises=wanted,
            alone=gear.alone if gear is not None else None,
            safeties=gear.safeties if gear is not None else None,
        )
        try:
            sheet = plan_session(log, known, gear.equipment if gear is not None else None, request)
        except NothingToPlan as refused:
            raise Refused(
                tell("nothing is logged for {name}", name=lifter.name), tell("Log or import sets first")
            ) from refused
    return _answer(lifter.name, sheet, exercise, voice, known, was_shown=bool(shown))


def _latest(shown: list[SheetBody]) -> Sheet:
    return max(shown, key=lambda body: body.sheet.on).sheet


def _answer(lifter: str, sheet: Sheet, exercise: str | None, voice: Voice, known: Catalogue, *, was_shown: bool) -> Why:
    wanted = exercise_named(exercise, known) if exercise is not None else None
    lines = [d for d in sheet.lines if wanted is None or d.exercise == wanted.code]
    if not lines:
        names = ", ".join(known[d.exercise].name[voice.language] for d in sheet.lines)
        raise Refused(
            tell("the sheet of {on} has no line for {exercise!r}", on=sheet.on, exercise=exercise),
            tell("It has: {names}", names=names),
        )
    return Why(
        lifter=lifter,
        date=sheet.on.isoformat(),
        was_shown=was_shown,
        lines=tuple(line_shown(d, known[d.exercise], voice) for d in lines),
        cautions=tuple(said(r, voice) for r in sheet.cautions),
        basis=BasisShown(
            log_revision=sheet.basis.log_revision,
            policy=sheet.basis.policy,
            catalogue=sheet.basis.catalogue,
            engine=sheet.basis.engine,
        ),
    )
