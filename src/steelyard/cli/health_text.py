"""Screening, pain and what is noted, as text."""

from steelyard.catalogue import catalogue
from steelyard.services.noting import NoteKept
from steelyard.services.screening import ClearanceShown, Screened
from steelyard.services.standing import PainShown, RestrictionShown, Standing
from steelyard.wording.code_words import code_word
from steelyard.wording.message import spoken, tell
from steelyard.wording.quantity import Voice

from .paragraph import INDENT, quiet, strong, wrapped
from .past_text import HANDLE


def screened_text(answer: Screened, _voice: Voice) -> str:
    """The answers, what they close, what opens it."""
    out = [strong(f"{answer.lifter}, {answer.date}")]
    out += [f"{INDENT}{question_key(key):<22} {answer_word(text)}" for key, text in answer.answers.items()]
    if answer.attested_by:
        out.append(wrapped(tell("{name} vouches that nothing stands against training.", name=answer.attested_by)))
    out += [wrapped(_cleared(given)) for given in answer.clearances]
    if answer.gates:
        out.append(strong(tell("What it means")))
        out += [wrapped(f"{gate.text} {quiet(f'({gate.source})')}") for gate in answer.gates]
    else:
        out.append(wrapped(tell("Nothing that was said stands against training.")))
    if answer.opens:
        out.append(wrapped(answer.opens))
    if answer.questions:
        out.append(strong(tell("Not asked yet")))
        out += [wrapped(f"{q.asks} {quiet('--' + q.key.replace('_', '-'))}") for q in answer.questions]
    if answer.ids:
        ends = ", ".join(entry_id[-HANDLE:] for entry_id in answer.ids)
        out.append(quiet(INDENT + tell("kept under {ids}", ids=ends)))
    return "\n".join([*out, strong(tell("Mind")), *(wrapped(caution) for caution in answer.cautions)])


def note_text(answer: NoteKept, _voice: Voice) -> str:
    """What was kept, and what must be said at once."""
    ends = ", ".join(entry_id[-HANDLE:] for entry_id in answer.ids)
    said = tell("{name}, {date}: {kept} kept.", name=answer.lifter, date=answer.date, kept=answer.kept)
    out = [f"{said}   {quiet(ends)}"]
    out += [wrapped(strong(closed.text)) for closed in answer.closes]
    if answer.exercises:
        out.append(wrapped(tell("It bears on: {names}.", names=", ".join(answer.exercises))))
    out += [wrapped(remark) for remark in answer.remarks]
    return "\n".join([*out, *standing_lines(answer.standing)])


def standing_lines(standing: Standing) -> list[str]:
    """What stands about a lifter's health."""
    out = [f"{INDENT}{tell('pain'):<13} {_pain(pain)}" for pain in standing.pain]
    out += [f"{INDENT}{tell('restricted'):<13} {_restriction(item)}" for item in standing.restrictions]
    if standing.has_fever:
        out.append(f"{INDENT}{tell('fever'):<13} {tell('not over yet')}")
    if standing.blood_pressure:
        out.append(f"{INDENT}{tell('blood pressure'):<13} {standing.blood_pressure}")
    return out


def question_key(key: str) -> str:
    """What a question is about, in two words."""
    words = {
        "active": tell("used to exercise"),
        "disease": tell("known disease"),
        "symptoms": tell("signs or symptoms"),
        "pregnant": tell("pregnant"),
        "gave_birth": tell("gave birth"),
        "birth_on": tell("birth on"),
        "surgery": tell("surgery"),
        "surgery_on": tell("surgery on"),
        "heart_event": tell("heart event"),
        "heart_event_on": tell("heart event on"),
        "form_on": tell("form done on"),
        "form_outcome": tell("its outcome"),
        "supervised_by": tell("supervised by"),
        "technique_signed_by": tell("technique signed by"),
    }
    return words[key]


def answer_word(text: str) -> str:
    """An answer in words; days and names as they are."""
    return {"yes": tell("yes"), "no": tell("no"), "unknown": tell("don't know")}.get(text, text)


def _cleared(given: ClearanceShown) -> str:
    words = [
        tell(
            "Cleared by {name} on {day} for {what}",
            name=given.by,
            day=given.on,
            what=code_word("condition", given.condition, spoken()),
        )
    ]
    words += [tell("until {day}", day=given.until)] if given.until else []
    words += [given.limits] if given.limits else []
    words += [tell("at least {count} in reserve", count=given.least_rir)] if given.least_rir is not None else []
    words += [tell("at most {load}", load=given.most_load)] if given.most_load else []
    return ", ".join(words) + "."


def _pain(pain: PainShown) -> str:
    side = {"left": tell("left"), "right": tell("right"), "both": tell("both")}.get(pain.side or "", "")
    words = [f"{side} {pain.part}".strip()]
    words += [tell("{score} of 10", score=pain.score)] if pain.score is not None else []
    words += [tell("since {day}", day=pain.onset)] if pain.onset else []
    words += [tell("with {what}", what=pain.provokes)] if pain.provokes else []
    words += [tell("guided by {name}", name=pain.guided_by)] if pain.guided_by else []
    return ", ".join(words)


def _restricted(code: str) -> str:
    """What is restricted: an exercise, a pattern, a joint, or everything."""
    if code == "everything":
        return tell("everything")
    known = catalogue()
    if code in known and spoken() != "en":
        return known[code].name[spoken()]
    return code_word("joint", code_word("pattern", code, spoken()), spoken())


def _restriction(item: RestrictionShown) -> str:
    effects = {
        "leave-out": tell("left out"),
        "no-rise": tell("no rise"),
        "at-most": tell("at most {load}", load=item.load),
        "least-rir": tell("at least {count} in reserve", count=item.rir),
    }
    words = [f"{_restricted(item.what)}: {effects[item.effect]}", tell("by {name}: {why}", name=item.by, why=item.why)]
    words += [tell("until {day}", day=item.until)] if item.until else []
    if item.review:
        words.append(
            tell("to be looked at since {day}", day=item.review)
            if item.is_review_due
            else tell("to be looked at on {day}", day=item.review)
        )
    return ", ".join(words)
