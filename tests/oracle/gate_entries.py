"""Entries of every kind about health, as odd as people and hurry make them, out of a seeded chance."""

from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from random import Random
from typing import Any, get_args

from steelyard.engine.body import Body
from steelyard.engine.health import (
    Answer,
    AttestBody,
    ClearanceBody,
    Condition,
    Effect,
    EpisodeBody,
    Nature,
    PainSign,
    RestrictionBody,
    ScreeningBody,
    Sign,
)
from steelyard.engine.log import CheckInBody, LifterBody, OverruleBody, PolicyBody
from steelyard.engine.quantities import kg, lb

from .gate_words import HARMLESS, PLAIN_PARTS, STOPPING, UNKNOWN_PARTS

ANSWERS: tuple[Answer, ...] = get_args(Answer)
SORTED_STOPPING = tuple(sorted(STOPPING))
# A few whole years are left out on purpose: whether a year ends with its day or before it is not worth a quarrel.
DAYS_AGO = (-4, -1, 0, 0, 1, 1, 2, 2, 3, 5, 6, 8, 13, 15, 20, 27, 29, 40, 44, 61, 95, 150, 220, 330, 390, 420, 800)
Maker = Callable[[Random, date, tuple[str, ...]], Body]


def a_day(chance: Random, on: date) -> date:
    """A day before the one asked for, now and then after it."""
    return on - timedelta(chance.choice(DAYS_AGO))


def perhaps(chance: Random, share: float, value: Any, otherwise: Any = None) -> Any:
    """The value with a chance of so much."""
    return value if chance.random() < share else otherwise


def words(chance: Random, signs: float = 0.04) -> str:
    """Free text: mostly nothing or something innocent, with a chance of so much a stop sign."""
    if chance.random() < signs:
        return chance.choice(SORTED_STOPPING)
    return chance.choice(HARMLESS) if chance.random() < 0.6 else ""


def a_screening(chance: Random, on: date, _codes: tuple[str, ...]) -> ScreeningBody:
    """Any answers, also some, also none."""
    event = chance.choice(("birth", "surgery", "heart_event"))
    asked = "gave_birth" if event == "birth" else event
    said = chance.choice(("no", "no", "yes", "unknown", None, None, None, None))
    happened: dict[str, Any] = {asked: said, f"{event}_on": a_day(chance, on) if said == "yes" else None}
    return ScreeningBody(
        on=a_day(chance, on),
        by="coach",
        active=chance.choice(("yes", "yes", "yes", "no", "unknown", None)),
        disease=chance.choice(("no", "no", "no", "no", "yes", "unknown", None)),
        symptoms=chance.choice(("no", "no", "no", "no", "no", "yes", "unknown", None)),
        pregnant=chance.choice(("no", "no", "yes", "unknown", *[None] * 8)),
        form_on=perhaps(chance, 0.1, on),
        form_outcome=perhaps(chance, 0.1, "nothing found", ""),
        supervised_by=chance.choice(("", "", "A. Adult", "A. Adult")),
        technique_signed_by=chance.choice(("", "", "A. Coach")),
        **perhaps(chance, 0.3, happened, {}),
    )


def an_attest(chance: Random, on: date, _codes: tuple[str, ...]) -> AttestBody:
    """A coach's word."""
    return AttestBody(on=a_day(chance, on), by="coach", words=perhaps(chance, 0.3, "all fine", ""))


def a_clearance(chance: Random, on: date, _codes: tuple[str, ...]) -> ClearanceBody:
    """A clearance of anything: old, in force, run out, for a day to come, with or without limits."""
    conditions: tuple[Condition, ...] = get_args(Condition)
    return ClearanceBody(
        on=a_day(chance, on),
        by="a clinician",
        condition=chance.choice(conditions),
        until=chance.choice((None, None, None, a_day(chance, on), on, on + timedelta(1), on + timedelta(60))),
        is_for_vigorous=chance.random() < 0.5,
        limits=perhaps(chance, 0.15, "nothing overhead", ""),
        least_rir=perhaps(chance, 0.15, chance.randint(0, 5)),
        most_load=perhaps(chance, 0.12, chance.choice((kg(10), kg(40), kg("62.5"), lb(95)))),
        episode=perhaps(chance, 0.3, f"pain {chance.randint(0, 2)}", ""),
    )


def a_pain(chance: Random, on: date, codes: tuple[str, ...]) -> EpisodeBody:
    """One word on one of three pains."""
    signs: tuple[PainSign, ...] = get_args(PainSign)
    natures: tuple[Nature, ...] = get_args(Nature)
    return EpisodeBody(
        episode=f"pain {chance.randint(0, 2)}",
        on=on - timedelta(chance.choice((-2, 0, 0, 1, 3, 6, 7, 8, 13, 14, 15, 21, 40))),
        part=chance.choice((*PLAIN_PARTS, *UNKNOWN_PARTS)),
        nature=chance.choice(natures),
        guided_by=chance.choice(("", "", "a physio")),
        score=chance.choice((None, 0, 0, 1, 1, 2, 2, 3, 4, 5, 6, 8)),
        next_morning=chance.choice((None, None, "settled", "worse")),
        signs=perhaps(chance, 0.12, (chance.choice(signs),), ()),
        status=chance.choice(("open", "open", "open", "closed")),
        exercises=perhaps(chance, 0.5, tuple(chance.sample(codes, 1)), ()),
        note=perhaps(chance, 0.3, words(chance), ""),
        provokes=perhaps(chance, 0.1, words(chance), ""),
    )


def a_restriction(chance: Random, on: date, codes: tuple[str, ...]) -> RestrictionBody:
    """One word on one of three restrictions, of an exercise, a pattern, a joint, several of them, or everything."""
    effects: tuple[Effect, ...] = get_args(Effect)
    return RestrictionBody(
        restriction=f"restriction {chance.randint(0, 2)}",
        on=a_day(chance, on),
        exercise=perhaps(chance, 0.5, chance.choice(codes)),
        pattern=perhaps(chance, 0.2, chance.choice(("squat", "horizontal-push", "hinge"))),
        joint=perhaps(chance, 0.2, chance.choice(("shoulder", "knee", "lower-spine"))),
        effect=chance.choice(effects),
        load=perhaps(chance, 0.8, chance.choice((kg(15), kg(50), kg("72.5"), lb(135)))),
        rir=perhaps(chance, 0.8, chance.randint(0, 5)),
        by="coach",
        why="to be safe",
        review=perhaps(chance, 0.4, a_day(chance, on)),
        until=perhaps(chance, 0.4, a_day(chance, on)),
        status=chance.choice(("open", "open", "open", "lifted")),
    )


def a_check_in(chance: Random, on: date, _codes: tuple[str, ...]) -> CheckInBody:
    """A word on a day, with or without fever, signs, blood pressure."""
    signs: tuple[Sign, ...] = get_args(Sign)
    pressures = ((120, 80), (120, 80), (150, 112), (160, 100), (165, 95), (150, 102), (180, 110), (182, 100), (181, 90))
    return CheckInBody(
        on=a_day(chance, on),
        note=words(chance),
        fever=chance.choice((*[None] * 6, *[False] * 6, True)),
        signs=perhaps(chance, 0.04, (chance.choice(signs),), ()),
        blood_pressure=perhaps(chance, 0.2, chance.choice(pressures)),
    )


def a_lifter(chance: Random, on: date, _codes: tuple[str, ...]) -> LifterBody:
    """A lifter of any age, who began to train at any time."""
    age = chance.choice((None, 9, 15, 17, 18, 19, 40, 64, 65, 66, 80, 140, -3))
    return LifterBody(
        name="somebody",
        birth_year=None if age is None else on.year - age,
        trained_since=perhaps(chance, 0.4, a_day(chance, on)),
    )


def an_overruling(chance: Random, on: date, codes: tuple[str, ...]) -> OverruleBody:
    """A coach in a hurry."""
    return OverruleBody(
        on=on - timedelta(chance.randint(0, 3)),
        until=on + timedelta(chance.randint(1, 20)),
        exercise=chance.choice(codes),
        limit=chance.choice(("weekly-limit", "step-limit", "twelve-week-limit")),
        ceiling=chance.choice((None, None, Decimal("0.01"), Decimal("0.5"))),
        by="coach",
        why="in a hurry",
    )


def a_gate_setting(chance: Random, on: date, _codes: tuple[str, ...]) -> PolicyBody:
    """A setting that gates read, somewhere within its bounds."""
    drawn = {
        "moderate_rir": ("4", "5"),
        "entry_training_weeks": ("4", "9"),
        "after_clearance_training_weeks": ("6", "10"),
        "clearance_months": ("12", "2"),
        "fever_wait_days": ("2", "6"),
        "pressure_stop_upper": ("180", "150"),
        "pressure_ask_lower": ("100", "90"),
        "alone_rir": ("3", "5"),
        "youth_least_repetitions": ("6", "10"),
    }
    name = chance.choice(tuple(drawn))
    return PolicyBody(on=a_day(chance, on), changes={name: chance.choice(drawn[name])})


HEALTH: tuple[Maker, ...] = (
    a_screening,
    an_attest,
    a_clearance,
    a_pain,
    a_restriction,
    a_check_in,
    a_lifter,
    an_overruling,
)
