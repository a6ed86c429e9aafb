"""What a generated log says of health: mostly a coach's word; every fourth anything that closes or opens a gate."""

from datetime import date, timedelta
from random import Random
from typing import Any, get_args

import msgspec
from tests.builders import ATTESTED

from steelyard.engine.fold import LoggedSet, TrainingLog
from steelyard.engine.health import (
    Answer,
    AttestBody,
    ClearanceBody,
    Condition,
    Effect,
    EpisodeBody,
    Nature,
    RestrictionBody,
    ScreeningBody,
    Sign,
)
from steelyard.engine.log import CheckInBody, LifterBody
from steelyard.engine.planning import Request
from steelyard.engine.quantities import kg

from .health_words import HARMLESS_WORDS, PARTS, SIGN_WORDS

ANSWERS: tuple[Answer, ...] = get_args(Answer)
KINDLY: tuple[Answer | None, ...] = ("no", "no", "no", "no", "yes", "unknown", None)


def with_health(seed: int, log: TrainingLog, request: Request, *, always: bool) -> tuple[TrainingLog, Request]:
    """The log with what is said of health, and the request with what is said of the place."""
    chance = Random(f"health {seed}")
    if chance.random() < 0.75 and not always:
        return msgspec.structs.replace(log, attests=ATTESTED), request
    codes = tuple({s.body.exercise for s in log.sets}) or request.exercises
    kinds: list[dict[str, Any]] = []
    for part in (_screened, _cleared, _pains, _restricted, _said):
        if chance.random() < 0.5:
            kinds.append(part(chance, request.on, codes))
    found: dict[str, Any] = {name: value for kind in kinds for name, value in kind.items()}
    if chance.random() < 0.6:
        found["attests"] = (("attest", AttestBody(on=an_earlier_day(chance, request.on), by="coach")),)
    if chance.random() < 0.3:
        year = request.on.year - chance.choice((15, 17, 18, 19, 40, 64, 65, 70))
        found["lifter"] = LifterBody(name="somebody", birth_year=year)
    found["check_ins"] = (*log.check_ins, *found.pop("check_ins", ()))
    if log.sets and chance.random() < 0.4:
        found["sets"] = _noted(chance, log.sets)
    place = {name: chance.choice((*ANSWERS, None)) for name in ("alone", "safeties")}
    return msgspec.structs.replace(log, **found), msgspec.structs.replace(request, **place)


def an_earlier_day(chance: Random, on: date) -> date:
    """A day up to two weeks, months or years before, now and then one after."""
    return on - timedelta(chance.choice((-3, 0, 0, 1, 2, 3, 5, 8, 13, 20, 41, 60, 100, 200, 300, 364, 366, 400)))


def _by_day(bodies: list[Any]) -> tuple[tuple[str, Any], ...]:
    """With ids, as the fold leaves them."""
    return tuple((f"health-{n}", body) for n, body in enumerate(sorted(bodies, key=lambda b: b.on)))


def _screened(chance: Random, on: date, _codes: tuple[str, ...]) -> dict[str, Any]:
    return {"screenings": _by_day([a_screening(chance, on) for _ in range(chance.randint(1, 3))])}


def a_screening(chance: Random, on: date) -> ScreeningBody:
    """Some answers, mostly good ones."""
    event = chance.choice(("birth", "surgery", "heart_event"))
    question = "gave_birth" if event == "birth" else event
    said = chance.choice((*[None] * 6, "no", "yes", "unknown"))
    happened = an_earlier_day(chance, on) if said == "yes" else None
    event_said: dict[str, Any] = {question: said, f"{event}_on": happened}
    return ScreeningBody(
        on=an_earlier_day(chance, on),
        by="coach",
        active=chance.choice(("yes", "yes", "no", "unknown", None)),
        disease=chance.choice(KINDLY),
        symptoms=chance.choice((*KINDLY[:4], *KINDLY)),
        pregnant=chance.choice((*[None] * 6, "no", "no", "yes", "unknown")),
        supervised_by=chance.choice(("", "a coach")),
        technique_signed_by=chance.choice(("", "", "a coach")),
        **event_said,
    )


def _cleared(chance: Random, on: date, _codes: tuple[str, ...]) -> dict[str, Any]:
    return {"clearances": _by_day([a_clearance(chance, on) for _ in range(chance.randint(1, 6))])}


def a_clearance(chance: Random, on: date) -> ClearanceBody:
    """A clearance of anything."""
    conditions: tuple[Condition, ...] = get_args(Condition)
    return ClearanceBody(
        on=an_earlier_day(chance, on),
        by="a clinician",
        condition=chance.choice(conditions),
        until=chance.choice((None, None, on, on + timedelta(30))),
        is_for_vigorous=chance.random() < 0.5,
        limits=chance.choice(("", "", "no overhead work")),
        least_rir=chance.choice((None, None, 0, 3, 5)),
        most_load=chance.choice((None, None, None, kg(20), kg(60))),
    )


def _pains(chance: Random, on: date, codes: tuple[str, ...]) -> dict[str, Any]:
    bodies = []
    for number in range(chance.randint(1, 2)):
        first = a_word_on_pain(chance, on, codes, f"pain {number}")
        height, day = chance.randint(0, 3), first.on
        for step in range(chance.randint(1, 3)):
            bodies.append(
                msgspec.structs.replace(
                    first,
                    on=day - timedelta(7 * (2 - step)),
                    score=chance.choice((None, height + step, height + step, 2, 6)),
                    next_morning=chance.choice((None, None, None, "settled", "worse")),
                    signs=chance.choice((*[()] * 9, ("swollen",))),
                    status=chance.choice(("open", "open", "open", "open", "closed")),
                )
            )
    return {"episodes": _by_day(bodies)}


def a_word_on_pain(chance: Random, on: date, codes: tuple[str, ...], episode: str = "another pain") -> EpisodeBody:
    """One word on one pain."""
    natures: tuple[Nature, ...] = get_args(Nature)
    return EpisodeBody(
        episode=episode,
        on=on - timedelta(chance.choice((0, 2, 15, 30))),
        part=chance.choice(tuple(PARTS)),
        nature=chance.choice(natures),
        guided_by=chance.choice(("", "a physio")),
        score=chance.choice((None, 0, 1, 2, 3, 4, 5, 6)),
        exercises=chance.choice(((), (), codes[:1])),
        note=chance.choice((*[""] * 12, *HARMLESS_WORDS[:2], "dark urine since yesterday")),
    )


def _restricted(chance: Random, on: date, codes: tuple[str, ...]) -> dict[str, Any]:
    many = range(chance.randint(1, 3))
    bodies = [a_restriction(chance, on, codes, f"restriction {chance.randint(0, number)}") for number in many]
    return {"restrictions": _by_day(bodies)}


def a_restriction(chance: Random, on: date, codes: tuple[str, ...], restriction: str = "another") -> RestrictionBody:
    """A restriction of something."""
    effects: tuple[Effect, ...] = get_args(Effect)
    name = chance.choice(("exercise", "exercise", "pattern", "joint", "", ""))
    named = {"exercise": chance.choice(codes), "pattern": "squat", "joint": "shoulder"}
    return RestrictionBody(
        restriction=restriction,
        on=an_earlier_day(chance, on),
        effect=chance.choice(effects),
        load=chance.choice((None, kg(20), kg(50))),
        rir=chance.choice((None, 1, 3, 5)),
        by="coach",
        why="to be safe",
        review=chance.choice((None, on - timedelta(3), on + timedelta(3))),
        until=chance.choice((None, None, on, on + timedelta(1))),
        status=chance.choice(("open", "open", "open", "lifted")),
        **({name: named[name]} if name else {}),
    )


def _said(chance: Random, on: date, _codes: tuple[str, ...]) -> dict[str, Any]:
    signs: tuple[Sign, ...] = get_args(Sign)
    bodies = []
    for _ in range(chance.randint(1, 4)):
        pressure = (chance.randint(100, 190), chance.randint(60, 115))
        bodies.append(
            CheckInBody(
                on=an_earlier_day(chance, on),
                note=chance.choice(("", *HARMLESS_WORDS, *HARMLESS_WORDS, *HARMLESS_WORDS, *sorted(SIGN_WORDS)[:1])),
                fever=chance.choice((*[None] * 12, True, False, False)),
                signs=(chance.choice(signs),) if chance.random() < 0.03 else (),
                blood_pressure=pressure if chance.random() < 0.15 and pressure[0] > pressure[1] else None,
            )
        )
    return {"check_ins": tuple(bodies)}


def _noted(chance: Random, sets: tuple[LoggedSet, ...]) -> tuple[LoggedSet, ...]:
    """One set of the log with words beside it."""
    place = chance.randrange(len(sets))
    words = chance.choice((*HARMLESS_WORDS * 4, *sorted(SIGN_WORDS)))
    body = msgspec.structs.replace(sets[place].body, note=words)
    return (*sets[:place], LoggedSet(sets[place].id, body), *sets[place + 1 :])
