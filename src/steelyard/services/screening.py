"""Screening before training: what to ask; keeping answers, a coach's word, a clinician's clearance; what they mean."""

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Literal, get_args

from msgspec import Struct, structs

from steelyard.engine.fold import TrainingLog
from steelyard.engine.gate_reasons import ScreeningClosed
from steelyard.engine.gates.facts import ADULT
from steelyard.engine.gates.screened import screened
from steelyard.engine.health import Answer, AttestBody, ClearanceBody, Condition, ScreeningBody
from steelyard.engine.log import CheckInBody, Entry
from steelyard.engine.quantities import Load, QuantityRefused
from steelyard.engine.reasons import code_of
from steelyard.exchange import cells
from steelyard.exchange.cells import CellRefused
from steelyard.wording.message import tell, tell_refused
from steelyard.wording.quantity import Voice

from .closed_gates import closed_for, facts_of
from .lifters import Lifter, find_lifter, log_of
from .refusal import Refused
from .screening_words import opening_words, question_words, safety_words
from .scribe import Scribe
from .sheets import ReasonSaid
from .sheets import said as said_of

State = Literal["not-asked", "open", "light-start", "disease-first", "symptoms-first", "moderate-only", "stop"]
SPECIAL = ("pregnant", "gave_birth", "surgery", "heart_event")
DAY_OF = {"birth_on": "gave_birth", "surgery_on": "surgery", "heart_event_on": "heart_event"}


class ScreeningState(Struct, frozen=True, kw_only=True):
    """Where screening stands: never asked, open, or the row of the table that closes something; and since when."""

    code: State
    on: str | None = None


class QuestionShown(Struct, frozen=True, kw_only=True):
    """A question that may still matter: its key is the option that answers it."""

    key: str
    asks: str
    form: Literal["answer", "day", "name"]


class ClearanceShown(Struct, frozen=True, kw_only=True):
    """What a clinician cleared."""

    on: str
    by: str
    condition: str
    until: str | None
    is_for_vigorous: bool
    limits: str
    least_rir: int | None
    most_load: str


class Screened(Struct, frozen=True, kw_only=True):
    """The answers as they stand, the gates that they close with what opens each, and what may still be asked."""

    lifter: str
    date: str
    state: ScreeningState
    answers: dict[str, str]
    attested_by: str
    clearances: tuple[ClearanceShown, ...]
    gates: tuple[ReasonSaid, ...]
    opens: str
    questions: tuple[QuestionShown, ...]
    cautions: tuple[str, ...]
    entries_added: int
    ids: tuple[str, ...]


class Cleared(Struct, frozen=True, kw_only=True):
    """A clearance as it is given in."""

    by: str
    condition: Condition
    until: date | None = None
    is_for_vigorous: bool = False
    limits: str = ""
    least_rir: int | None = None
    most_load: Load | None = None


def show_screening(name: str | None, voice: Voice, scribe: Scribe, on: date | None = None) -> Screened:
    """Where screening stands for a lifter."""
    return _screened(find_lifter(name), on or scribe.today(), [], voice)


def next_question(name: str | None, said: Mapping[str, str], scribe: Scribe) -> QuestionShown | None:
    """The next question that can matter after what was said; None when there is none left."""
    log = log_of(find_lifter(name))
    return next((_question(key) for key in _asked(said, _birth_year(log), scribe.today()) if key not in said), None)


def keep_answers(
    name: str | None, said: Mapping[str, str], by: str, voice: Voice, scribe: Scribe, on: date | None = None
) -> Screened:
    """Keep answers (by question, as text); what was answered before and is not said again stays as it was."""
    lifter, day = find_lifter(name), on or scribe.today()
    body = _body(said, by or scribe.author, day)
    entries = []
    if body != ScreeningBody(on=body.on, by=body.by):
        entries.append(scribe.entry(lifter.person, body))
    if said.get("blood_pressure"):
        pressure = read_pressure(said["blood_pressure"])
        entries.append(scribe.entry(lifter.person, CheckInBody(on=day, blood_pressure=pressure)))
    if entries:
        scribe.write(entries)
    return _screened(lifter, day, entries, voice)


def attest(name: str | None, by: str, words: str, voice: Voice, scribe: Scribe, on: date | None = None) -> Screened:
    """Keep a coach's word that nothing stands against training."""
    lifter, day = find_lifter(name), on or scribe.today()
    body = AttestBody(on=day, by=_text("by", by), words=_text("words", words, may_be_empty=True))
    entries = [scribe.entry(lifter.person, body)]
    scribe.write(entries)
    return _screened(lifter, day, entries, voice)


def clear(name: str | None, cleared: Cleared, voice: Voice, scribe: Scribe, on: date | None = None) -> Screened:
    """Keep what a named clinician cleared, until when and within which limits."""
    lifter, day = find_lifter(name), on or scribe.today()
    if cleared.until is not None and cleared.until <= day:
        raise Refused(tell("a clearance ends after it begins"), tell("Give a later day with --until"))
    try:
        body = ClearanceBody(
            on=day,
            by=_text("cleared-by", cleared.by),
            condition=cleared.condition,
            until=cleared.until,
            is_for_vigorous=cleared.is_for_vigorous,
            limits=_text("limits", cleared.limits, may_be_empty=True),
            least_rir=cleared.least_rir,
            most_load=cleared.most_load,
        )
    except QuantityRefused as refused:
        raise Refused(tell_refused(refused)) from refused
    entries = [scribe.entry(lifter.person, body)]
    scribe.write(entries)
    return _screened(lifter, day, entries, voice)


def screening_state(log: TrainingLog, on: date) -> ScreeningState:
    """Where screening stands on a day: the row that still closes something, else how it came to be open."""
    facts = facts_of(log, on)
    codes = {code_of(c.reason): c.reason for c in screened(facts)}
    if "screening-not-asked" in codes:
        return ScreeningState(code="not-asked")
    latest = max([b.on for b in facts.screenings] + [b.on for _, b in log.attests if b.on <= on])
    rows = [reason.row for reason in codes.values() if isinstance(reason, ScreeningClosed)]
    return ScreeningState(code=rows[0] if rows else "open", on=latest.isoformat())


def answers_on(log: TrainingLog, on: date) -> ScreeningBody:
    """The newest answer to each question on a day."""
    known = ScreeningBody(on=on, by="")
    for body in facts_of(log, on).screenings:
        said = {n: getattr(body, n) for n in body.__struct_fields__ if getattr(body, n) not in {None, ""}}
        known = structs.replace(known, **said)
    return known


def read_pressure(text: str) -> tuple[int, int]:
    """Blood pressure (mmHg) as people write it, such as 120/80."""
    upper, _, lower = text.replace(" ", "").partition("/")
    if not (upper.isdigit() and lower.isdigit()):
        raise Refused(tell("{text!r} is no blood pressure", text=text), tell("Write it as 120/80"))
    try:
        CheckInBody(on=date.min, blood_pressure=(int(upper), int(lower)))
    except QuantityRefused as refused:
        raise Refused(tell_refused(refused)) from refused
    return int(upper), int(lower)


def _asked(said: Mapping[str, str], birth_year: int | None, today: date) -> Iterator[str]:
    """Keys in the order of asking; each only where its answer can change something."""
    yield from ("symptoms", "disease", "active")
    if not any(key in said for key in SPECIAL):
        yield "special"
    if said.get("special") == "yes" or any(key in said for key in SPECIAL):
        for key in SPECIAL:
            yield key
            yield from (day for day, of in DAY_OF.items() if of == key and said.get(key) == "yes")
    if birth_year is not None and today.year - birth_year <= ADULT:
        yield "supervised_by"
        yield "technique_signed_by"


def _question(key: str) -> QuestionShown:
    form: Literal["answer", "day", "name"] = "answer"
    if key in DAY_OF:
        form = "day"
    elif key.endswith("_by"):
        form = "name"
    return QuestionShown(key=key, asks=question_words(key), form=form)


def _body(said: Mapping[str, str], by: str, on: date) -> ScreeningBody:
    values: dict[str, object] = {}
    if said.get("special") in {"no", "unknown"}:
        values.update(dict.fromkeys(SPECIAL, _answer("special", said["special"])))
    for key, text in said.items():
        if key in DAY_OF or key == "form_on":
            if text and text.casefold() != "unknown":
                values[key] = _past_day(key, text, on)
                if key in DAY_OF and DAY_OF[key] not in said:
                    values[DAY_OF[key]] = "yes"
        elif key in {"form_outcome", "supervised_by", "technique_signed_by"}:
            values[key] = _text(key, text, may_be_empty=True)
        elif key not in {"special", "blood_pressure"}:
            values[key] = _answer(key, text)
    return ScreeningBody(on=on, by=_text("by", by), **values)  # type: ignore[arg-type] # each checked above


def _answer(key: str, text: str) -> Answer:
    words: dict[str, Answer] = {"y": "yes", "ja": "yes", "j": "yes", "n": "no", "nein": "no", "?": "unknown"}
    words |= {answer: answer for answer in get_args(Answer)} | {"weiß nicht": "unknown", "weiss nicht": "unknown"}
    answer = words.get(text.strip().casefold())
    if answer is None:
        raise Refused(
            tell("{text!r} is no answer to {key}", text=text, key=key.replace("_", "-")),
            tell("Answer yes, no or unknown"),
        )
    return answer


def _past_day(key: str, text: str, on: date) -> date:
    try:
        day = cells.day(text)
    except CellRefused as refused:
        raise Refused(tell("{text!r} {problem}", text=text, problem=refused.problem), refused.remedy) from refused
    if day > on:
        raise Refused(tell("{text} is still to come", text=text), tell("Give the day on which it was"))
    return day


def _text(key: str, text: str, *, may_be_empty: bool = False) -> str:
    try:
        written = " ".join(cells.text(text).split())
    except CellRefused as refused:
        raise Refused(tell("--{key} {problem}", key=key, problem=refused.problem), refused.remedy) from refused
    if not written and not may_be_empty:
        raise Refused(tell("--{key} says nothing", key=key), tell("Give a name"))
    return written


def _birth_year(log: TrainingLog) -> int | None:
    return log.lifter.birth_year if log.lifter is not None else None


def _screened(lifter: Lifter, on: date, added: list[Entry], voice: Voice) -> Screened:
    log = log_of(lifter)
    facts, known, state = facts_of(log, on), answers_on(log, on), screening_state(log, on)
    said = {n: str(getattr(known, n)) for n in known.__struct_fields__ if n not in {"on", "by"}}
    answers = {n: text for n, text in said.items() if text not in {"None", ""}}
    cleared = [body for condition in get_args(Condition) for body in facts.clearances(condition)]
    attests = [body.by for _, body in log.attests if body.on <= on]
    return Screened(
        lifter=lifter.name,
        date=on.isoformat(),
        state=state,
        answers=answers,
        attested_by=attests[-1] if attests else "",
        clearances=tuple(_clearance_shown(c) for c in cleared),
        gates=tuple(said_of(reason, voice) for reason in closed_for(log, on)),
        opens=opening_words(state.code, lifter.name),
        questions=tuple(_question(key) for key in _asked(answers, _birth_year(log), on) if key not in answers),
        cautions=tuple(safety_words()),
        entries_added=len(added),
        ids=tuple(entry.id for entry in added),
    )


def _clearance_shown(body: ClearanceBody) -> ClearanceShown:
    load = f"{body.most_load.value} {body.most_load.unit}" if body.most_load is not None else ""
    return ClearanceShown(
        on=body.on.isoformat(),
        by=body.by,
        condition=body.condition,
        until=body.until.isoformat() if body.until is not None else None,
        is_for_vigorous=body.is_for_vigorous,
        limits=body.limits,
        least_rir=body.least_rir,
        most_load=load,
    )
