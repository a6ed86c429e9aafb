"""What is known of the lifters, for looking at: all of them in short, one of them in full."""

from datetime import date

from msgspec import Struct

from steelyard.engine.fold import TrainingLog, fold
from steelyard.engine.log import LifterBody
from steelyard.store import queries

from .gear import places
from .lifters import Lifter, all_lifters, find_lifter
from .screening import ScreeningState, screening_state
from .scribe import Scribe
from .standing import Standing, standing_of


class LifterLine(Struct, frozen=True, kw_only=True):
    """A lifter in short."""

    lifter: str
    aims: tuple[str, ...]
    training_days: tuple[str, ...]
    sessions_per_week: int | None
    unit: str | None
    last_session: str | None
    screening: ScreeningState


class Roster(Struct, frozen=True, kw_only=True):
    """Every lifter."""

    lifters: tuple[LifterLine, ...]


class MassOnDay(Struct, frozen=True, kw_only=True):
    """Body mass as it was said on a day."""

    date: str
    body_mass_kg: float


class LifterShown(Struct, frozen=True, kw_only=True):
    """All that is known of a lifter but the sets."""

    lifter: str
    unit: str | None
    birth_year: int | None
    trained_since: str | None
    training_days: tuple[str, ...]
    sessions_per_week: int | None
    place: str
    is_place_known: bool
    aims: tuple[str, ...]
    aim_words: str
    sessions: int
    first_session: str | None
    last_session: str | None
    body_masses: tuple[MassOnDay, ...]
    screening: ScreeningState
    standing: Standing


def roster(scribe: Scribe) -> Roster:
    """Every lifter in short, by name."""
    return Roster(lifters=tuple(_line(lifter, scribe.today()) for lifter in all_lifters()))


def show_lifter(name: str | None, scribe: Scribe) -> LifterShown:
    """One lifter in full."""
    lifter = find_lifter(name)
    log, today = fold(queries.entries_of(lifter.person)), scribe.today()
    body = log.lifter or LifterBody(name=lifter.name)
    days = _session_days(log)
    return LifterShown(
        lifter=body.name,
        unit=body.unit,
        birth_year=body.birth_year,
        trained_since=body.trained_since.isoformat() if body.trained_since is not None else None,
        training_days=body.training_days,
        sessions_per_week=body.sessions_per_week,
        place=body.place,
        is_place_known=body.place in places(),
        aims=body.aims,
        aim_words=body.aim_words,
        sessions=len(days),
        first_session=days[0].isoformat() if days else None,
        last_session=days[-1].isoformat() if days else None,
        body_masses=tuple(_masses(log)),
        screening=screening_state(log, today),
        standing=standing_of(log, today),
    )


def _line(lifter: Lifter, today: date) -> LifterLine:
    log = fold(queries.entries_of(lifter.person))
    body = log.lifter or LifterBody(name=lifter.name)
    days = _session_days(log)
    return LifterLine(
        lifter=body.name,
        aims=body.aims,
        training_days=body.training_days,
        sessions_per_week=body.sessions_per_week,
        unit=body.unit,
        last_session=days[-1].isoformat() if days else None,
        screening=screening_state(log, today),
    )


def _session_days(log: TrainingLog) -> list[date]:
    """The day of each session, oldest first."""
    return [on for on, _ in sorted({(s.body.on, s.body.session) for s in log.sets})]


def _masses(log: TrainingLog) -> list[MassOnDay]:
    """The latest word of each day, oldest first."""
    by_day = {c.on: c.body_mass for c in log.check_ins if c.body_mass is not None and c.body_mass.unit != "mark"}
    return [MassOnDay(date=on.isoformat(), body_mass_kg=float(mass.magnitude)) for on, mass in sorted(by_day.items())]
