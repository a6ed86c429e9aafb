"""Sheets as answers: everything that is shown or handed to scripts."""

from decimal import Decimal

from msgspec import Struct

from steelyard.engine.exercises import Exercise
from steelyard.engine.quantities import Load
from steelyard.engine.reasons import AnyReason, code_of
from steelyard.engine.sheet import Considered, Decision, PlannedSet, Sheet
from steelyard.wording.message import tell
from steelyard.wording.quantity import Voice
from steelyard.wording.say import say


class ReasonSaid(Struct, frozen=True, kw_only=True):
    """A reason with its sentence."""

    code: str
    role: str
    text: str
    source: str
    evidence: tuple[str, ...] = ()


class ConsideredSaid(Struct, frozen=True, kw_only=True):
    """A lever that was not taken, with the sentence that says why."""

    lever: str
    code: str
    text: str


class SetShown(Struct, frozen=True, kw_only=True):
    """One set to do."""

    kind: str
    reps: int | None
    load_kg: float | None
    rest_s: int | None
    target_rir: int | None
    load_text: str = ""
    load_mark: float | None = None
    seconds: int | None = None
    metres: float | None = None
    per_side: bool = False
    plates_per_side: tuple[str, ...] = ()


class DoneShown(Struct, frozen=True, kw_only=True):
    """One set as it was done."""

    count: int
    load_kg: float | None
    load_text: str
    rir: float | None


class PreviousShown(Struct, frozen=True, kw_only=True):
    """The latest session of the exercise."""

    date: str
    sets: tuple[DoneShown, ...]


class LineShown(Struct, frozen=True, kw_only=True):
    """One line of a sheet."""

    exercise: str
    exercise_code: str
    implement: str | None
    is_load_added: bool
    course: str
    lever: str | None
    sets: tuple[SetShown, ...]
    previous: PreviousShown | None
    limit_kg: float | None
    steps_kg: tuple[float, ...]
    reasons: tuple[ReasonSaid, ...]
    considered: tuple[ConsideredSaid, ...]


def said(reason: AnyReason, voice: Voice) -> ReasonSaid:
    """A reason with its sentence in the voice asked for."""
    return ReasonSaid(
        code=code_of(reason),
        role=reason.role,
        text=say(reason, voice),
        source=tell(reason.source),
        evidence=reason.evidence,
    )


def line_shown(decision: Decision, exercise: Exercise, voice: Voice) -> LineShown:
    """A decision for showing."""
    previous = None
    if decision.previous is not None:
        done = tuple(
            DoneShown(
                count=s.count,
                load_kg=_kg(s.load),
                load_text=_load_text(s.load, exercise, voice),
                rir=float(s.rir) if s.rir is not None else None,
            )
            for s in decision.previous.sets
        )
        previous = PreviousShown(date=decision.previous.on.isoformat(), sets=done)
    return LineShown(
        exercise=exercise.name[voice.language],
        exercise_code=exercise.code,
        implement=decision.implement,
        is_load_added=exercise.body_mass_share > 0,
        course=decision.course,
        lever=decision.lever,
        sets=tuple(_set_shown(s, exercise, voice) for s in decision.sets),
        previous=previous,
        limit_kg=_kg(decision.limit_load),
        steps_kg=tuple(float(m.magnitude) for m in decision.steps_around),
        reasons=tuple(said(r, voice) for r in decision.reasons),
        considered=tuple(
            ConsideredSaid(lever=c.lever, code=code_of(c.reason), text=say(c.reason, voice))
            for c in decision.considered
        ),
    )


def _considered(considered: Considered, voice: Voice) -> ConsideredSaid:
    reason = considered.reason
    return ConsideredSaid(lever=considered.lever, code=code_of(reason), text=say(reason, voice))


def sentences(sheet: Sheet, voice: Voice) -> tuple[tuple[str, ...], ...]:
    """Every sentence of a sheet, line by line, then those of the whole: kept beside it as they were said."""
    lines = tuple(tuple(say(r, voice) for r in line.reasons) for line in sheet.lines)
    return (*lines, tuple(say(r, voice) for r in sheet.cautions))


def _set_shown(planned: PlannedSet, exercise: Exercise, voice: Voice) -> SetShown:
    is_mark = planned.load is not None and planned.load.unit == "mark"
    return SetShown(
        kind=planned.kind,
        reps=planned.reps,
        load_kg=_kg(planned.load),
        rest_s=planned.rest_interval_s,
        target_rir=planned.target_rir,
        load_text=_load_text(planned.load, exercise, voice),
        load_mark=float(planned.load.value) if planned.load is not None and is_mark else None,
        seconds=planned.seconds,
        metres=_float(planned.metres),
        per_side=planned.per_side,
        plates_per_side=tuple(
            voice.number(p.value) + ("" if p.unit == "kg" else " lb") for p in planned.plates_per_side
        ),
    )


def _load_text(load: Load | None, exercise: Exercise, voice: Voice) -> str:
    """A load as it is said; where it comes on top of body mass, with its sign."""
    if load is None:
        return ""
    return voice.added(load) if exercise.body_mass_share > 0 else voice.load(load)


def _kg(load: Load | None) -> float | None:
    return float(load.magnitude) if load is not None and load.unit != "mark" else None


def _float(value: Decimal | None) -> float | None:
    return float(value) if value is not None else None


def _plate(plate: Load, voice: Voice) -> str:
    """A plate by what is printed on it."""
    return voice.number(plate.value) if plate.unit == voice.unit else f"{voice.number(plate.value)} {plate.unit}"
