"""A decision and a sheet as values: what to do, what was done, why, and what was not chosen."""

from datetime import date
from decimal import Decimal
from typing import Literal

from msgspec import Struct

from .quantities import Load
from .reasons import AnyReason

Lever = Literal["reps", "sets", "frequency", "density", "load"]
Course = Literal["rise", "hold", "repeat", "ease", "return", "deload", "baseline", "stop"]
PlannedKind = Literal["warm-up", "ramp", "work", "top", "back-off"]


class PlannedSet(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One set to do; a range where a top is given, open-ended where the lifter goes on while it is good."""

    kind: PlannedKind
    load: Load | None = None
    reps: int | None = None
    reps_top: int | None = None
    is_open_ended: bool = False
    seconds: int | None = None
    metres: Decimal | None = None
    per_side: bool = False
    tempo: str | None = None
    pair: str | None = None
    cluster: tuple[int, ...] = ()
    cluster_pause_s: int | None = None
    rest_interval_s: int | None = None
    target_rir: int | None = None
    plates_per_side: tuple[Load, ...] = ()


class DoneSet(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One set as it was lifted, for showing beside the new line."""

    load: Load | None = None
    count: int
    rir: Decimal | None = None


class PreviousLine(Struct, frozen=True, kw_only=True):
    """The latest session of the exercise."""

    on: date
    sets: tuple[DoneSet, ...]


class Considered(Struct, frozen=True, kw_only=True):
    """A lever that was not taken, and why."""

    lever: Lever
    reason: AnyReason


class Decision(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What one line of the sheet asks for, with everything it rests on."""

    exercise: str
    implement: str | None = None
    course: Course
    lever: Lever | None = None
    sets: tuple[PlannedSet, ...]
    previous: PreviousLine | None = None
    limit_load: Load | None = None
    steps_around: tuple[Load, ...] = ()
    reasons: tuple[AnyReason, ...]
    considered: tuple[Considered, ...] = ()


class Basis(Struct, frozen=True, kw_only=True):
    """What a decision was made from; the same basis always gives the same decision."""

    log_revision: str
    policy: str
    catalogue: str
    engine: str
    on: date


class Sheet(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What a lifter is to do in one session."""

    on: date
    phase: Literal["normal", "deload"] = "normal"
    lines: tuple[Decision, ...]
    cautions: tuple[AnyReason, ...] = ()
    basis: Basis
