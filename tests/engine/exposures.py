"""Exposures in few words, for tests of phases and references only."""

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from steelyard.engine.history import Exposure, History, SessionDone, WorkSet
from steelyard.engine.phases import Absences, Phased

DAY = date(2026, 6, 1)


def ago(days: int) -> date:
    """So many days before the day that is asked for."""
    return DAY - timedelta(days)


def exposure(days_ago: int, load: int | str, *counts: int, rir: int | None = None, **more: Any) -> Exposure:
    """A session so many days ago, all sets at one load (kg)."""
    total = Decimal(load)
    work = tuple(
        WorkSet(
            id=f"set-{days_ago}-{n}",
            added=total,
            total=total,
            count=count,
            rir=None if rir is None else Decimal(rir),
            technique=more.get("technique"),
        )
        for n, count in enumerate(counts)
    )
    plain: dict[str, Any] = {
        "missed": False,
        "is_cut_short": False,
        "pain": None,
        "technique": None,
        "marked_phase": None,
        "is_ramp": False,
        "is_body_mass_assumed": False,
    }
    return Exposure(on=ago(days_ago), session=1, work=work, line_load=total, line_total=total, **{**plain, **more})


def normal(days_ago: int, load: int | str, *counts: int, phase: Any = "normal", epoch: int = 0) -> Phased:
    """An exposure whose phase is known."""
    return Phased(exposure(days_ago, load, *(counts or (5,))), phase, epoch)


def absences(*days_ago: int, confirmed: tuple[Any, ...] = ()) -> Absences:
    """Training days so many days ago, earliest first, and what was confirmed."""
    return Absences([SessionDone(ago(n), 1, (("squat", ""),)) for n in days_ago], confirmed)


def history(**lines: tuple[Exposure, ...]) -> History:
    """A history of lines by exercise code."""
    keys: dict[date, list[tuple[str, str]]] = {}
    for code, line in lines.items():
        for done in line:
            keys.setdefault(done.on, []).append((code, ""))
    sessions = tuple(SessionDone(on, 1, tuple(sorted(found))) for on, found in sorted(keys.items()))
    return History(sessions=sessions, lines={(code, ""): line for code, line in lines.items()})
