"""One session: which lines it has, each line's decision, what must be said of the whole."""

from datetime import date
from hashlib import sha256

from msgspec import Struct, structs

from .closed import Guard
from .deload import allot_sets
from .equipment import ASSUMED, Equipment
from .exercises import Catalogue
from .fold import TrainingLog
from .gates import Facts, asked, guard_of, new_starts, read_facts, session_gates
from .guarded import under_guard
from .health import Answer
from .history import REPEAT_FROM_DAYS, BodyMass, History, LineKey, read_history
from .line import Line, read_line
from .log import encode_canonical
from .marks import in_marks, is_in_marks
from .phases import UNUSUAL, Absences, deload_sessions, marked_deloads, training_weeks_since_rest
from .policy import Policy, changed
from .prescription import baseline, left_out, prescribe
from .reasons import (
    AnyReason,
    DeloadOffered,
    OwnRotation,
    StopSigns,
    TwoVersions,
    UnloggedDays,
)
from .rotation import next_lines
from .sheet import Basis, Decision, Sheet

ENGINE_VERSION = "2"


class Request(Struct, frozen=True, kw_only=True):
    """What a sheet is asked for: a day, perhaps exercises or a deload, and whether people lift alone at that place."""

    on: date
    exercises: tuple[str, ...] = ()
    is_deload: bool = False
    alone: Answer | None = None
    safeties: Answer | None = None


class NothingToPlan(ValueError):
    """There is no history to follow and no exercise was asked for."""


def policy_on(log: TrainingLog, on: date) -> Policy:
    """The policy in force on a day: the defaults with every change up to it, latest last.

    Since when a lifter trains is known best where it is said of the lifter.
    """
    policy = Policy()
    for change in sorted(log.policy_changes, key=lambda c: c.on):
        if change.on <= on:
            policy = changed(policy, change.changes)
    since = log.lifter.trained_since if log.lifter is not None else None
    return policy if since is None else structs.replace(policy, trained_since=since)


def plan_session(log: TrainingLog, catalogue: Catalogue, equipment: Equipment | None, request: Request) -> Sheet:
    """The sheet of one day; the same log, equipment and request always give the same sheet."""
    policy, gear = policy_on(log, request.on), equipment or ASSUMED
    history = read_history(log, catalogue, policy, request.on)
    keys, cautions = _lines_asked(history, request)
    if not keys:
        raise NothingToPlan("no sets are logged and no exercise was asked for")
    keys = tuple(sorted(keys, key=lambda k: (catalogue.session_order(k[0]), k[1])))
    facts = read_facts(log, history, policy, request.on, request.alone, request.safeties)
    session = session_gates(facts)
    if session.stopping:
        # Nothing that could be read as advice stands on such a sheet: no loads, no offer of a deload.
        decisions = tuple(left_out(key, session.stopping) for key in keys)
        cautions = []
    else:
        guards = {key: guard_of(facts, session, catalogue[key[0]]) for key in keys}
        deloads = deload_sessions(history)
        lines = _read_lines(facts, catalogue, gear, history, deloads, guards)
        body_mass = BodyMass(log.check_ins, policy.assumed_body_mass_kg)
        decisions = _decide(lines, guards, catalogue, gear, policy, body_mass, request)
        cautions += [*_cautions(log, history, deloads, request, policy), *asked(facts, [catalogue[k[0]] for k in keys])]
    return Sheet(
        on=request.on,
        phase="deload" if request.is_deload else "normal",
        lines=decisions,
        cautions=(*session.reasons, *cautions, StopSigns()),
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
    age = (log.lifter.birth_year, log.lifter.trained_since) if log.lifter is not None else None
    health = (age, log.screenings, log.attests, log.clearances, log.episodes, log.restrictions)
    hashed.update(encode_canonical((rest, health)))
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
    facts: Facts,
    catalogue: Catalogue,
    equipment: Equipment,
    history: History,
    deloads: frozenset[tuple[date, int]],
    guards: dict[LineKey, Guard],
) -> dict[LineKey, tuple[Line, ...]]:
    """Each line as its gates read it, and behind a closed gate as it would be read otherwise: with each lower reserve
    down to the coach's own, and with the history before a new start."""
    absences = Absences(history.sessions, facts.log.trained_as_written)
    body_mass = BodyMass(facts.log.check_ins, facts.policy.assumed_body_mass_kg)
    begins, own = new_starts(facts), facts.policy.target_rir
    out = {}
    for key, guard in guards.items():
        if key not in history.lines:
            continue
        careful, overrules = under_guard(facts.log.overrules, facts.policy, guard, facts.on)
        starts = (begins, ()) if begins and guard.is_closed else (begins,)
        out[key] = tuple(
            read_line(
                catalogue[key[0]],
                key,
                history.lines[key],
                on=facts.on,
                absences=absences,
                deloads=deloads,
                equipment=equipment,
                body_mass=body_mass,
                overrules=overrules,
                policy=structs.replace(careful, target_rir=target),
                own_target_rir=own,
                new_starts=new,
            )
            for target in range(careful.target_rir, own - 1, -1)
            for new in starts
        )
    return out


def _decide(
    lines: dict[LineKey, tuple[Line, ...]],
    guards: dict[LineKey, Guard],
    catalogue: Catalogue,
    equipment: Equipment,
    policy: Policy,
    body_mass: BodyMass,
    request: Request,
) -> tuple[Decision, ...]:
    known = [key for key in guards if key in lines]
    kept = allot_sets(tuple(lines[k][0].usual_sets for k in known), policy.deload_set_cut) if known else ()
    deload_sets = dict(zip(known, kept, strict=True)) if request.is_deload else {}
    patterns: set[str] = set()
    out = []
    for key, guard in guards.items():
        exercise = catalogue[key[0]]
        if key in lines:
            is_second = exercise.pattern in patterns
            line, *otherwise = lines[key]
            decision = prescribe(
                line,
                equipment,
                guard=guard,
                otherwise=otherwise,
                deload_sets=deload_sets.get(key),
                is_second_of_pattern=is_second,
            )
            decision = in_marks(decision) if is_in_marks(line.latest) else decision
        else:
            decision = baseline(exercise, key, equipment, body_mass, policy, guard)
        out.append(decision)
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
    return out
