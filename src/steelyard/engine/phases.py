"""Which sessions were normal training and which were not: deloads, returns after a layoff, new starts."""

from bisect import bisect_left
from collections.abc import Iterable
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise
from statistics import median
from typing import Literal

from msgspec import Struct

from .history import (
    BASELINE_FROM_DAYS,
    REPEAT_FROM_DAYS,
    RETURN_FROM_DAYS,
    Exposure,
    History,
    LineKey,
    SessionDone,
)
from .log import TrainedAsWrittenBody
from .yardstick import Yardstick

# A return is over once this share of the level before the layoff is back, or after six weeks: our judgement, no source.
BACK_AT = 0.97
# How many of a line's own gaps say what is usual for it.
GAPS_READ = 8
# A stretch under two weeks is an absence only if it is so much longer than usual: our judgement, no source.
UNUSUAL = 1.5
RETURN_LASTS = timedelta(days=42)
# An unmarked session counts as a deload when its shared lines lost this share of sets and half of them lost load.
DELOAD_SETS = Decimal("0.7")
DELOAD_LOAD = Decimal("0.97")


class Phased(Struct, frozen=True):
    """An exposure with its phase, the number of the new start it belongs to, and that of the return it lies in or 0."""

    exposure: Exposure
    phase: Literal["normal", "deload", "return", "rehab", "taper", "test"]
    epoch: int
    spell: int = 0


class Absences:
    """Days off between sessions, less the days on which somebody says they trained as written."""

    def __init__(self, sessions: Iterable[SessionDone], confirmed: Iterable[TrainedAsWrittenBody]) -> None:
        self._days = sorted({s.on for s in sessions})
        self._confirmed = sorted((c.earliest, c.until) for c in confirmed)

    def before(self, on: date, since: date) -> int:
        """The longest stretch of days without any session that ended after `since` and by `on`."""
        days = self._days[bisect_left(self._days, since) : bisect_left(self._days, on)]
        ends = [*days[1:], on]
        return max((self._length(a, b) for a, b in zip(days, ends, strict=True)), default=0)

    def usual(self, on: date) -> float:
        """The lifter's usual days from one training day to the next, lately; 0 where nothing says."""
        days = self._days[: bisect_left(self._days, on)][-GAPS_READ - 1 :]
        gaps = [(b - a).days for a, b in pairwise(days)]
        return median(gaps) if gaps else 0

    def own(self, earlier: date, on: date) -> int:
        """Days between two sessions of one exercise, unless they are confirmed as trained."""
        return self._length(earlier, on)

    def _length(self, earlier: date, on: date) -> int:
        """The longest stretch of days between two days that no confirmed training lies in."""
        longest, cursor = 0, earlier
        for begins, until in self._confirmed:
            if begins < on and until > cursor:
                longest = max(longest, (begins - cursor).days)
                cursor = max(cursor, until - timedelta(days=1))
        return max(longest, (on - cursor).days)


def days_off(exposures: tuple[Exposure, ...], on: date, absences: Absences) -> int:
    """Days that count as a layoff before training a line on a day.

    All training counts; a line that others went on without counts from two weeks, if that is unusual for it.
    """
    earlier = [e.on for e in exposures if e.on <= on]
    if not earlier or earlier[-1] == on:
        return 0
    general = absences.before(on, earlier[-1])
    if general < RETURN_FROM_DAYS and general <= UNUSUAL * absences.usual(on):
        general = 0  # whoever trains once a week is not away for a week
    own = absences.own(earlier[-1], on)
    gaps = [(b - a).days for a, b in pairwise(earlier[-GAPS_READ - 1 :])]
    usual = median(gaps) if gaps else 0
    is_own = own >= BASELINE_FROM_DAYS or (own >= RETURN_FROM_DAYS and own > 2 * usual)
    return max(general, own) if is_own else general


def deload_sessions(history: History) -> frozenset[tuple[date, int]]:
    """Sessions that nobody marked but that look like a deload: clearly fewer sets, and lighter, on the same lines."""
    latest: dict[LineKey, Exposure] = {}
    found = set()
    by_day = {(e.on, e.session, key): e for key, line in history.lines.items() for e in line}
    for session in history.sessions:
        now = {key: by_day[session.on, session.number, key] for key in session.keys}
        shared = [key for key in now if key in latest and not now[key].is_ramp]
        is_other = any(e.marked_phase is not None or e.is_cut_short for e in now.values())
        if not is_other and shared and _is_lighter([(latest[key], now[key]) for key in shared]):
            found.add((session.on, session.number))
        else:
            latest.update({key: e for key, e in now.items() if e.marked_phase not in {"deload", "taper"}})
    return frozenset(found)


def marked_deloads(history: History) -> frozenset[tuple[date, int]]:
    """Sessions that somebody marked as a deload or a taper."""
    marked = (e for line in history.lines.values() for e in line if e.marked_phase in {"deload", "taper"})
    return frozenset((e.on, e.session) for e in marked)


def _is_lighter(pairs: list[tuple[Exposure, Exposure]]) -> bool:
    before = sum(len(a.work) for a, _ in pairs)
    after = sum(len(b.work) for _, b in pairs)
    lighter = sum(b.line_total <= a.line_total * DELOAD_LOAD for a, b in pairs)
    heavier = any(b.line_total > a.line_total for a, b in pairs)
    close = all((b.on - a.on).days < RETURN_FROM_DAYS for a, b in pairs)
    return close and not heavier and after <= before * DELOAD_SETS and lighter * 2 >= len(pairs)


def phased(
    exposures: tuple[Exposure, ...],
    yardstick: Yardstick,
    absences: Absences,
    deloads: frozenset[tuple[date, int]],
    new_starts: tuple[date, ...] = (),
) -> tuple[Phased, ...]:
    """Each exposure of one line with its phase, oldest first; a day of a new start divides like a long layoff."""
    out: list[Phased] = []
    epoch, spell, back_from, goal = 0, 0, None, 0.0
    best = 0.0
    for place, exposure in enumerate(exposures):
        off = days_off(exposures[max(0, place - GAPS_READ - 1) : place], exposure.on, absences)
        level = best_equivalent((exposure,), yardstick) or 0.0
        if off >= BASELINE_FROM_DAYS or (place and begins_anew(exposures[place - 1].on, exposure.on, new_starts)):
            epoch, back_from, best = epoch + 1, None, 0.0
        elif off >= RETURN_FROM_DAYS and best:
            back_from, goal, spell = exposure.on, best, spell + 1
        if back_from and (level >= BACK_AT * goal or exposure.on - back_from > RETURN_LASTS):
            back_from = None
        if exposure.marked_phase not in {None, "normal"}:
            phase = exposure.marked_phase
        elif (exposure.on, exposure.session) in deloads:
            phase = "deload"
        else:
            phase = "return" if back_from else "normal"  # on the way back nothing is normal, even if it is marked so
        if phase == "normal":
            best = max(best, level)
        out.append(Phased(exposure, phase, epoch, spell if back_from else 0))
    return tuple(out)


def begins_anew(earlier: date, on: date, new_starts: tuple[date, ...]) -> bool:
    """Whether a new start lies between two days of one line."""
    return any(earlier < day <= on for day in new_starts)


def best_equivalent(exposures: Iterable[Exposure], yardstick: Yardstick) -> float | None:
    """The best equivalent 1RM (kg) among work sets whose technique held; among all where none did."""
    sets = [s for e in exposures for s in e.work]
    sound = [s for s in sets if s.technique != "broke"] or sets
    found = [yardstick.equivalent(s.total, s.count, s.rir) for s in sound]
    return max((level for level in found if level is not None), default=None)


def training_weeks_since_rest(sessions: tuple[SessionDone, ...], deloads: frozenset[tuple[date, int]], on: date) -> int:
    """Whole training weeks up to a day since the latest deload session or week without training."""
    begins, following = on, on
    for session in reversed(sessions):
        if (session.on, session.number) in deloads or (following - session.on).days > REPEAT_FROM_DAYS:
            break
        begins = following = session.on
    return (on - begins).days // 7
