"""What was done: the latest sessions, set by set, with the versions that disagree; and all sets for giving away."""

from collections.abc import Iterator
from itertools import groupby

from msgspec import Struct

from steelyard.engine.exercises import Catalogue, Exercise
from steelyard.engine.fold import LoggedSet, TrainingLog
from steelyard.exchange.cells import CellRefused
from steelyard.exchange.cells import exercise as read_exercise
from steelyard.exchange.set_export import SetLine, csv_lines, json_lines, set_line
from steelyard.wording.message import tell

from .lifters import Lifter, all_lifters, find_lifter, log_of
from .own_exercises import catalogue_of
from .refusal import Refused


class SessionShown(Struct, frozen=True, kw_only=True):
    """One session."""

    date: str
    session: int
    sets: tuple[SetLine, ...]


class Past(Struct, frozen=True, kw_only=True):
    """The latest sessions of a lifter, newest last."""

    lifter: str
    sessions: tuple[SessionShown, ...]
    sessions_in_all: int
    two_versions: tuple[tuple[str, ...], ...] = ()
    unread: tuple[str, ...] = ()


def past(name: str | None, exercise: str | None, last: int) -> Past:
    """The last sessions, of one exercise if it is named."""
    lifter = find_lifter(name)
    log = log_of(lifter)
    known = catalogue_of(log)
    wanted = exercise_named(exercise, known) if exercise is not None else None
    sets = [s for s in log.sets if wanted is None or s.body.exercise == wanted.code]
    days = [list(group) for _, group in groupby(sets, key=lambda s: (s.body.on, s.body.session))]
    return Past(
        lifter=lifter.name,
        sessions=tuple(_session(lifter, day, known) for day in days[-last:]),
        sessions_in_all=len(days),
        two_versions=tuple(d.versions for d in log.disputes),
        unread=log.unread,
    )


def export_lines(name: str | None, form: str) -> Iterator[str]:
    """Every set of a lifter, or of everybody where JSON lines are asked for without a name."""
    lifters = [find_lifter(name)] if name is not None or form == "csv" else all_lifters()
    if not lifters:
        raise Refused(tell("the log holds nobody yet"), tell("Import a file or log a set first"))
    for lifter in lifters:
        log: TrainingLog = log_of(lifter)
        known = catalogue_of(log)
        if form == "csv":
            yield from csv_lines(lifter.name, log.sets, known)
        else:
            yield from json_lines(set_line(lifter.name, s, known) for s in log.sets)


def _session(lifter: Lifter, sets: list[LoggedSet], known: Catalogue) -> SessionShown:
    lines = tuple(set_line(lifter.name, s, known) for s in sets)
    return SessionShown(date=lines[0].date, session=lines[0].session, sets=lines)


def exercise_named(name: str, known: Catalogue) -> Exercise:
    """The exercise of that name; refuses an unknown one with near names."""
    try:
        return read_exercise(name, known)
    except CellRefused as refused:
        raise Refused(f"{name!r} {refused.problem}", refused.remedy) from refused
