"""What is known of lifters, as text."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from steelyard.engine.quantities import kg
from steelyard.services.erasing import Erasure
from steelyard.services.lifter_shown import LifterShown, MassOnDay, Roster
from steelyard.services.person_file import PersonExported
from steelyard.services.roster import LifterKept
from steelyard.services.screening import ScreeningState
from steelyard.wording.labels import long_date
from steelyard.wording.message import tell, tell_count
from steelyard.wording.quantity import Voice

from .health_text import standing_lines
from .paragraph import INDENT, quiet, strong, wrapped

MASSES_SHOWN, PICTURE_WIDTH = 12, 30


def roster_text(answer: Roster, voice: Voice) -> str:
    """A lifter a line."""
    if not answer.lifters:
        return tell("The log holds nobody yet: `steelyard lifter add NAME`.")
    out = []
    for line in answer.lifters:
        last = long_date(date.fromisoformat(line.last_session), voice.language) if line.last_session else tell("never")
        parts = [
            ", ".join(aim_word(aim) for aim in line.aims),
            ", ".join(day_word(day) for day in line.training_days) or _sessions(line.sessions_per_week),
            line.unit or "",
            tell("last session: {day}", day=last),
            state_words(line.screening),
        ]
        out.append(f"{strong(line.lifter)}\n{INDENT}" + " · ".join(part for part in parts if part))
    return "\n".join(out)


def kept_text(answer: LifterKept, voice: Voice) -> str:
    """What is known after adding or changing."""
    head = tell("{name} is new in this log.", name=strong(answer.lifter)) if answer.is_new else strong(answer.lifter)
    if answer.was != answer.lifter:
        head = tell("{old} is now called {name}.", old=answer.was, name=strong(answer.lifter))
    return "\n".join([head, *_facts(answer, voice)])


def lifter_text(answer: LifterShown, voice: Voice) -> str:
    """One lifter in full."""
    parts = [strong(answer.lifter), *_facts(answer, voice)]
    if answer.first_session and answer.last_session:
        days = [
            long_date(date.fromisoformat(day), voice.language) for day in (answer.first_session, answer.last_session)
        ]
        many = tell_count(
            "{count} session, {last}",
            "{count} sessions, {first} to {last}",
            answer.sessions,
            first=days[0],
            last=days[1],
        )
        parts.append(_row(tell("sessions"), many))
    parts.append(_row(tell("screening"), state_words(answer.screening)))
    parts += standing_lines(answer.standing)
    parts += mass_lines(answer.body_masses, voice)
    return "\n".join(parts)


def mass_lines(masses: tuple[MassOnDay, ...], voice: Voice) -> list[str]:
    """Body mass over time: a day a line, the mark further right the heavier."""
    if not masses:
        return []
    shown = masses[-MASSES_SHOWN:]
    least, most = (edge(m.body_mass_kg for m in shown) for edge in (min, max))
    out = [_row(tell("body mass"), tell("lightest left, heaviest right"))]
    for mass in shown:
        share = (mass.body_mass_kg - least) / (most - least) if most > least else 0.5
        place = round(share * (PICTURE_WIDTH - 1))
        arm = "-" * place + "o" + "-" * (PICTURE_WIDTH - 1 - place)
        said = voice.load(kg(Decimal(str(mass.body_mass_kg))))
        out.append(f"{INDENT}{INDENT}{mass.date}  {said:>10}  {quiet(arm)}")
    if len(masses) > len(shown):
        out.append(quiet(INDENT + INDENT + tell("the latest {shown} of {all}", shown=len(shown), all=len(masses))))
    return out


def exported_text(answer: PersonExported, _voice: Voice) -> str:
    """What was written of a lifter."""
    entries = tell_count("{count} entry", "{count} entries", answer.entries)
    out = [tell("{name}: {entries} in {file}.", name=answer.lifter, entries=entries, file=answer.file)]
    if answer.set_aside:
        out.append(
            tell_count(
                "{count} entry that waits beside the log is in it too.",
                "{count} entries that wait beside the log are in it too.",
                answer.set_aside,
            )
        )
    if answer.sets_file:
        out.append(tell_count("{count} set in {file}.", "{count} sets in {file}.", answer.sets, file=answer.sets_file))
    return "\n".join([*out, tell("Hash of what they hold: {hash}.", hash=answer.hash[:16])])


def erasure_text(answer: Erasure, _voice: Voice) -> str:
    """What was removed, and what is left to do."""
    entries = tell_count("{count} entry", "{count} entries", answer.entries_removed + answer.set_aside_removed)
    out = [tell("{name} is erased: {entries} removed.", name=answer.lifter, entries=entries)]
    if answer.shared_rewritten:
        out.append(
            tell_count(
                "{count} entry of the house named them and does so no more.",
                "{count} entries of the house named them and do so no more.",
                answer.shared_rewritten,
            )
        )
    return "\n".join([*out, *(wrapped(sentence) for sentence in answer.to_do)])


def state_words(state: ScreeningState) -> str:
    """Where screening stands, in words."""
    words = {
        "not-asked": tell("screening not asked"),
        "open": tell("screened, nothing against training"),
        "light-start": tell("screened: a light start"),
        "disease-first": tell("screened: a doctor's word first"),
        "symptoms-first": tell("screened: a doctor's word first"),
        "moderate-only": tell("screened: moderate until a doctor's word"),
        "stop": tell("screened: no training before a doctor's word"),
    }
    return words[state.code] + (f" ({state.on})" if state.on else "")


def aim_word(code: str) -> str:
    """An aim in words."""
    words = {
        "strength": tell("strength"),
        "size": tell("size"),
        "health": tell("health"),
        "sport": tell("a sport"),
        "return": tell("coming back"),
        "meet": tell("a meet"),
    }
    return words[code]


def day_word(code: str) -> str:
    """A day of the week, short."""
    words = {
        "mon": tell("Mon"),
        "tue": tell("Tue"),
        "wed": tell("Wed"),
        "thu": tell("Thu"),
        "fri": tell("Fri"),
        "sat": tell("Sat"),
        "sun": tell("Sun"),
    }
    return words[code]


def _facts(answer: LifterKept | LifterShown, voice: Voice) -> Iterator[str]:
    aims = [aim_word(aim) for aim in answer.aims] + ([answer.aim_words] if answer.aim_words else [])
    days = ", ".join(day_word(day) for day in answer.training_days)
    since = long_date(date.fromisoformat(answer.trained_since), voice.language) if answer.trained_since else ""
    place = answer.place
    if place and not answer.is_place_known:
        place = tell("{place} (nobody said what it can load: `steelyard equipment --place`)", place=place)
    rows = (
        (tell("aims"), ", ".join(aims)),
        (tell("trains on"), ", ".join(part for part in (days, _sessions(answer.sessions_per_week)) if part)),
        (tell("trains at"), place),
        (tell("trains since"), since),
        (tell("born"), str(answer.birth_year or "")),
        (tell("unit"), answer.unit or ""),
    )
    return (_row(word, text) for word, text in rows if text)


def _sessions(count: int | None) -> str:
    return tell_count("{count} session a week", "{count} sessions a week", count) if count is not None else ""


def _row(word: str, text: str) -> str:
    return f"{INDENT}{word:<13} {text}".rstrip()
