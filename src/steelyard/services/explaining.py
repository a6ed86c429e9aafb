"""Why a line is as it is: the reasons of a sheet as it was shown, or of the coming one."""

from datetime import date

from msgspec import Struct

from steelyard.catalogue import catalogue
from steelyard.engine.log import SheetBody
from steelyard.engine.planning import NothingToPlan, Request, plan_session
from steelyard.engine.sheet import Sheet
from steelyard.wording.quantity import Voice

from .gear import equipment_at
from .lifters import find_lifter, log_of
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
    shown = [body for _, body in log.sheets if on is None or body.sheet.on == on]
    old = [body for body in log.old_sheets if on is not None and body.sheet.on == on]
    if not shown and old:
        words = tuple(sentence for line in old[-1].said for sentence in line)
        return Why(lifter=lifter.name, date=str(on), was_shown=True, lines=(), cautions=(), basis=None, as_said=words)
    sheet = _latest(shown) if shown else None
    if sheet is None:
        _, equipment = equipment_at(None)
        wanted = (exercise_named(exercise).code,) if exercise is not None else ()
        try:
            sheet = plan_session(log, catalogue(), equipment, Request(on=on or scribe.today(), exercises=wanted))
        except NothingToPlan as refused:
            raise Refused(f"nothing is logged for {lifter.name}", "Log or import sets first") from refused
    return _answer(lifter.name, sheet, bool(shown), exercise, voice)


def _latest(shown: list[SheetBody]) -> Sheet:
    return max(shown, key=lambda body: body.sheet.on).sheet


def _answer(lifter: str, sheet: Sheet, was_shown: bool, exercise: str | None, voice: Voice) -> Why:
    wanted = exercise_named(exercise) if exercise is not None else None
    lines = [d for d in sheet.lines if wanted is None or d.exercise == wanted.code]
    if not lines:
        there = ", ".join(catalogue()[d.exercise].name["en"] for d in sheet.lines)
        raise Refused(f"the sheet of {sheet.on} has no line for {exercise!r}", f"It has: {there}")
    return Why(
        lifter=lifter,
        date=sheet.on.isoformat(),
        was_shown=was_shown,
        lines=tuple(line_shown(d, voice) for d in lines),
        cautions=tuple(said(r, voice) for r in sheet.cautions),
        basis=BasisShown(
            log_revision=sheet.basis.log_revision,
            policy=sheet.basis.policy,
            catalogue=sheet.basis.catalogue,
            engine=sheet.basis.engine,
        ),
    )
