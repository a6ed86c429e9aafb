"""From entries to sessions and exposures: who did which exercise when, with which work sets, in which phase."""

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Literal

from msgspec import Struct

from .exercises import Catalogue, Exercise
from .fold import LoggedSet, TrainingLog
from .log import CheckInBody, Pain, SetBody, Technique
from .policy import Policy

Phase = Literal["normal", "deload", "return", "rehab", "taper", "test"]
LineKey = tuple[str, str]

RETURN_FROM_DAYS = 14
BASELINE_FROM_DAYS = 63
REPEAT_FROM_DAYS = 7


class WorkSet(Struct, frozen=True):
    """One work set: added load and total load moved (kg, exact), repetitions or seconds or metres, reserve."""

    id: str
    added: Decimal
    total: Decimal
    count: int
    rir: Decimal | None
    technique: Technique | None
    is_miss: bool = False
    is_mark: bool = False


class Exposure(Struct, frozen=True, kw_only=True):
    """One exercise in one session; its line is at the heaviest load that at least half of the work sets reached."""

    on: date
    session: int
    work: tuple[WorkSet, ...]
    line_load: Decimal
    line_total: Decimal
    missed: bool
    is_cut_short: bool
    pain: Pain | None
    technique: Technique | None
    marked_phase: Phase | None
    is_ramp: bool
    is_body_mass_assumed: bool

    @property
    def line_sets(self) -> tuple[WorkSet, ...]:
        """The work sets at the line's load or lighter."""
        return tuple(s for s in self.work if s.added <= self.line_load)

    @property
    def counts(self) -> tuple[int, ...]:
        """Repetitions (seconds, metres) of the line's sets, most first."""
        return tuple(sorted((s.count for s in self.line_sets), reverse=True))

    @property
    def lowest_rir(self) -> Decimal | None:
        """The least reserve that was reported."""
        return min((s.rir for s in self.work if s.rir is not None), default=None)

    @property
    def evidence(self) -> tuple[str, ...]:
        """Ids of the entries behind it."""
        return tuple(s.id for s in self.work)


class SessionDone(Struct, frozen=True, order=True):
    """One session: its day and which lines were trained, in a fixed order."""

    on: date
    number: int
    keys: tuple[LineKey, ...]


class History(Struct, frozen=True, kw_only=True):
    """Everything a lifter did, by session and by line."""

    sessions: tuple[SessionDone, ...]
    lines: dict[LineKey, tuple[Exposure, ...]]


class BodyMass:
    """Body mass by day: the latest known on or before it, else the next known, else a light guess.

    As known then, what was entered for a later day is never used: the guess holds until the first entry.
    """

    def __init__(
        self, check_ins: Iterable[CheckInBody], assumed_kg: Decimal, *, is_as_known_then: bool = False
    ) -> None:
        entered = [(c.on, c.body_mass.magnitude) for c in check_ins if c.body_mass is not None]
        known = sorted(dict(entered).items())  # what was entered later for a day corrects what was before
        self._days = [day for day, _ in known]
        self._masses = [mass for _, mass in known]
        self.assumed_kg = assumed_kg
        self.is_assumed = not known
        self._is_as_known_then = is_as_known_then

    def on_or_assumed(self) -> Decimal:
        """The latest body mass there is, else the guess (kg)."""
        return self.assumed_kg if self.is_assumed else self._masses[-1]

    def on(self, day: date) -> Decimal:
        """Body mass (kg)."""
        latest = bisect_right(self._days, day) - 1
        if self.is_assumed or (latest < 0 and self._is_as_known_then):
            return self.assumed_kg
        return self._masses[max(latest, 0)]


def total_load(exercise: Exercise, added: Decimal, body_mass_kg: Decimal) -> Decimal:
    """What is really moved (kg): the added load and the share of body mass that is lifted with it."""
    return added + exercise.body_mass_share * body_mass_kg


def read_history(
    log: TrainingLog,
    catalogue: Catalogue,
    policy: Policy,
    on: date,
    only: LineKey | None = None,
    *,
    is_as_known_then: bool = False,
) -> History:
    """Sessions and exposures up to and including a day; as known then, no body mass of a later day is used."""
    body_mass = BodyMass(log.check_ins, policy.assumed_body_mass_kg, is_as_known_then=is_as_known_then)
    grouped: dict[tuple[date, int, LineKey], list[LoggedSet]] = defaultdict(list)
    for logged in log.sets:
        body = logged.body
        key = (body.exercise, body.implement or "")
        if body.on <= on and body.exercise in catalogue and (only is None or only == key):
            grouped[body.on, body.session, key].append(logged)
    lines: dict[LineKey, list[Exposure]] = defaultdict(list)
    keys_of: dict[tuple[date, int], list[LineKey]] = defaultdict(list)
    for (day, number, key), sets in grouped.items():
        exposure = _exposure(day, number, catalogue[key[0]], sets, body_mass, policy)
        if exposure is not None:
            lines[key].append(exposure)
            keys_of[day, number].append(key)
    sessions = sorted(SessionDone(day, n, tuple(sorted(keys))) for (day, n), keys in keys_of.items())
    return History(
        sessions=tuple(sessions),
        lines={key: tuple(sorted(found, key=lambda e: (e.on, e.session))) for key, found in lines.items()},
    )


def _exposure(
    day: date, number: int, exercise: Exercise, sets: list[LoggedSet], body_mass: BodyMass, policy: Policy
) -> Exposure | None:
    done = [s for s in sets if s.body.missed != "not-done"]
    counted = [(s, _work_set(s, exercise, body_mass)) for s in done]
    work, is_ramp = _work_sets(counted, policy.ramp_below)
    if not work:
        return None
    work.sort(key=lambda w: (-w.total, -w.count, w.id))
    at_line = work[(len(work) + 1) // 2 - 1]
    pains = [s.body.pain for s in done if s.body.pain is not None]
    pains += [Pain(None, s.body.note) for s in done if s.body.missed == "pain" and s.body.pain is None]
    phases = [s.body.phase for s in done if s.body.phase is not None]
    return Exposure(
        on=day,
        session=number,
        work=tuple(work),
        line_load=at_line.added,
        line_total=at_line.total,
        missed=any(_is_strength_miss(s.body) for s in done),
        is_cut_short=any(s.body.missed is not None or s.body.reps == 0 for s in done),
        pain=min(pains, key=lambda p: (p.score is not None, -(p.score or 0), p.words), default=None),
        technique=_worst(s.body for s in done),
        marked_phase=min(phases) if phases else None,
        is_ramp=is_ramp,
        is_body_mass_assumed=exercise.body_mass_share > 0 and body_mass.is_assumed,
    )


def _work_set(logged: LoggedSet, exercise: Exercise, body_mass: BodyMass) -> WorkSet:
    body = logged.body
    added = body.load.magnitude if body.load is not None else Decimal(0)
    if exercise.measure == "reps":
        count = body.reps or 0
    elif exercise.measure == "seconds":
        count = body.seconds or body.reps or 0
    else:
        count = int(body.metres or body.reps or 0)
    total = total_load(exercise, added, body_mass.on(body.on))
    # A set that ended in a miss left nothing, whatever was said of it.
    is_miss = body.missed is not None or _is_strength_miss(body)
    rir = Decimal(0) if is_miss else body.effort.rir if body.effort is not None else None
    is_mark = body.load is not None and body.load.unit == "mark"
    return WorkSet(logged.id, added, total, count, rir, body.technique, _is_strength_miss(body), is_mark)


def _work_sets(counted: list[tuple[LoggedSet, WorkSet]], ramp_below: Decimal) -> tuple[list[WorkSet], bool]:
    """The work sets, and whether only a ramp was done (then its heaviest set stands for the line)."""
    marked = [w for s, w in counted if s.body.kind in {"work", "top", "back-off"}]
    unmarked = [w for s, w in counted if s.body.kind is None]
    ramp = [w for s, w in counted if s.body.kind == "ramp" and w.count > 0]
    heaviest = max((w.total for w in (*marked, *unmarked, *ramp)), default=Decimal(0))
    work = marked + [w for w in unmarked if w.total >= heaviest * ramp_below]
    if work:
        return work, False
    return ([max(ramp, key=lambda w: (w.total, w.count, w.id))] if ramp else []), bool(ramp)


def _is_strength_miss(body: SetBody) -> bool:
    if body.kind in {"warm-up", "ramp"}:
        return False
    return body.missed in {"strength", "unsaid"} or (body.reps == 0 and body.missed is None)


def _worst(bodies: Iterable[SetBody]) -> Technique | None:
    """The worst technique noted; a lift missed because technique gave way is one that broke."""
    order: tuple[Technique, ...] = ("broke", "rough", "good")
    seen = {"broke" if b.missed == "technique" else b.technique for b in bodies}
    return next((t for t in order if t in seen), None)
