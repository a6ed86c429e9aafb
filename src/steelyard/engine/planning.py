"""One session: which lines it has, each line's decision, what must be said of the whole."""

from collections.abc import Sequence
from datetime import date
from hashlib import sha256

from msgspec import Struct

from .deload import allot_sets
from .equipment import ASSUMED, Equipment
from .exercises import Catalogue
from .fold import TrainingLog
from .history import REPEAT_FROM_DAYS, BodyMass, History, LineKey, read_history
from .line import Line, read_line
from .log import encode_canonical
from .phases import UNUSUAL, Absences, deload_sessions, marked_deloads, training_weeks_since_rest
from .policy import Policy, changed
from .prescription import baseline, prescribe
from .reasons import (
    AnyReason,
    DeloadOffered,
    OwnRotation,
    ScreeningNotAsked,
    StopSigns,
    TwoVersions,
    UnloggedDays,
)
from .rotation import next_lines
from .sheet import Basis, Decision, Sheet

ENGINE_VERSION = "1"


class Request(Struct, frozen=True, kw_only=True):
    """What a sheet is asked for: a day, and perhaps certain exercises or a deload."""

    on: date
    exercises: tuple[str, ...] = ()
    is_deload: bool = False


class NothingToPlan(ValueError):
    """There is no history to follow and no exercise was asked for."""


def policy_on(log: TrainingLog, on: date) -> Policy:
    """The policy in force on a day: the defaults with every change up to it, latest last."""
    policy = Policy()
    for change in sorted(log.policy_changes, key=lambda c: c.on):
        if change.on <= on:
            policy = changed(policy, change.changes)
    return policy


def plan_session(log: TrainingLog, catalogue: Catalogue, equipment: Equipment | None, request: Request) -> Sheet:
    """The sheet of one day; the same log, equipment and request always give the same sheet."""
    policy, gear = policy_on(log, request.on), equipment or ASSUMED
    history = read_history(log, catalogue, policy, request.on)
    keys, cautions = _lines_asked(history, request)
    if not keys:
        raise NothingToPlan("no sets are logged and no exercise was asked for")
    keys = tuple(sorted(keys, key=lambda k: (catalogue.session_order(k[0]), k[1])))
    deloads = deload_sessions(history)
    lines = _read_lines(log, catalogue, gear, policy, history, deloads, keys, request.on)
    decisions = _decide(
        lines, keys, catalogue, gear, policy, BodyMass(log.check_ins, policy.assumed_body_mass_kg), request
    )
    cautions += _cautions(log, history, deloads, request, policy)
    return Sheet(
        on=request.on,
        phase="deload" if request.is_deload else "normal",
        lines=decisions,
        cautions=tuple(cautions),
        basis=Basis(
            log_revision=revision(log, gear, request),
            policy=sha256(encode_canonical(policy)).hexdigest()[:12],
            catalogue=catalogue.version,
            engine=ENGINE_VERSION,
            on=request.on,
        ),
    )


def revision(log: TrainingLog, equipment: Equipment, request: Request) -> str:
    """A short hash of everything but sheets that a sheet is made from."""
    hashed = sha256()
    for logged in log.sets:
        hashed.update(logged.id.encode())
    rest = (log.check_ins, log.overrules, log.policy_changes, log.trained_as_written, log.disputes, equipment, request)
    hashed.update(encode_canonical(rest))
    return hashed.hexdigest()[:16]


def _lines_asked(history: History, request: Request) -> tuple[tuple[LineKey, ...], list[AnyReason]]:
    if request.exercises:
        return tuple(dict.fromkeys(_own_key(history, code) for code in request.exercises)), []
    session, keys = next_lines(history)
    return keys, [OwnRotation(last_done=session.on)] if session is not None else []


def _own_key(history: History, code: str) -> LineKey:
    """The exercise on the implement it was done with last."""
    done = [(line[-1].on, key) for key, line in history.lines.items() if key[0] == code]
    return max(done)[1] if done else (code, "")


def _read_lines(
    log: TrainingLog,
    catalogue: Catalogue,
    equipment: Equipment,
    policy: Policy,
    history: History,
    deloads: frozenset[tuple[date, int]],
    keys: Sequence[LineKey],
    on: date,
) -> dict[LineKey, Line]:
    absences = Absences(history.sessions, log.trained_as_written)
    body_mass = BodyMass(log.check_ins, policy.assumed_body_mass_kg)
    return {
        key: read_line(
            catalogue[key[0]],
            key,
            history.lines[key],
            on=on,
            absences=absences,
            deloads=deloads,
            equipment=equipment,
            body_mass=body_mass,
            overrules=log.overrules,
            policy=policy,
        )
        for key in keys
        if key in history.lines
    }


def _decide(
    lines: dict[LineKey, Line],
    keys: Sequence[LineKey],
    catalogue: Catalogue,
    equipment: Equipment,
    policy: Policy,
    body_mass: BodyMass,
    request: Request,
) -> tuple[Decision, ...]:
    known = [key for key in keys if key in lines]
    kept = allot_sets(tuple(lines[k].usual_sets for k in known), policy.deload_set_cut) if known else ()
    deload_sets = dict(zip(known, kept, strict=True)) if request.is_deload else {}
    patterns: set[str] = set()
    out = []
    for key in keys:
        exercise = catalogue[key[0]]
        if key in lines:
            is_second = exercise.pattern in patterns
            out.append(
                prescribe(lines[key], equipment, deload_sets=deload_sets.get(key), is_second_of_pattern=is_second)
            )
        else:
            out.append(baseline(exercise, key, equipment, body_mass, policy))
        patterns.add(exercise.pattern)
    return tuple(out)


def _cautions(
    log: TrainingLog,
    history: History,
    deloads: frozenset[tuple[date, int]],
    request: Request,
    policy: Policy,
) -> list[AnyReason]:
    out: list[AnyReason] = []
    weeks = training_weeks_since_rest(history.sessions, deloads | marked_deloads(history), request.on)
    if weeks >= policy.deload_after_training_weeks and not request.is_deload:
        out.append(DeloadOffered(training_weeks=weeks))
    if history.sessions:
        latest = history.sessions[-1].on
        absences = Absences(history.sessions, log.trained_as_written)
        days = absences.own(latest, request.on)
        if days >= REPEAT_FROM_DAYS and days > UNUSUAL * absences.usual(request.on):
            out.append(UnloggedDays(days=days, latest=latest))
    if log.disputes:
        out.append(TwoVersions(evidence=tuple(i for d in log.disputes for i in d.versions)))
    return [*out, ScreeningNotAsked(), StopSigns()]
