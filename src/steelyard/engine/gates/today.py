"""Gates of the day: stop signs, fever, blood pressure."""

from collections.abc import Iterator
from datetime import date, timedelta

from msgspec import Struct

from ..closed import Closed
from ..fold import TrainingLog
from ..gate_reasons import BloodPressureHigh, FeverStops, StopSignSaid
from ..health import Sign
from ..log import CheckInBody, Pain
from ..signs import signs_in
from .facts import Facts

# A body part alone, where somebody writes down pain, says that this part hurts.
HURTS = "{} pain"


class SignSaid(Struct, frozen=True):
    """Stop signs of one entry: the day, what was said, the words, and the entry where it is known."""

    on: date
    signs: tuple[Sign, ...]
    words: str = ""
    entry: str = ""


def stop_signs(facts: Facts) -> Iterator[Closed]:
    """Any stop sign stops every session until a clearance of it, given on that day or later."""
    cleared = facts.clearances("stop-sign")
    latest = max((c.on for c in cleared), default=date.min)
    standing = [said for said in said_signs(facts.log) if latest < said.on <= facts.on]
    if not standing:
        return
    newest = max(standing, key=lambda said: said.on)
    reason = StopSignSaid(
        signs=tuple(dict.fromkeys(sign for said in standing for sign in said.signs)),
        on=newest.on,
        words=newest.words,
        is_pregnant=facts.answer("pregnant")[0] in {"yes", "unknown"},
        evidence=tuple(said.entry for said in standing if said.entry),
    )
    yield Closed(reason=reason, stops=True)


def said_signs(log: TrainingLog) -> Iterator[SignSaid]:
    """Stop signs ticked in check-ins, and those in the words of check-ins, sets and pains."""
    for check_in in log.check_ins:
        signs = (*check_in.signs, *signs_in(check_in.note))
        if signs:
            yield SignSaid(check_in.on, tuple(dict.fromkeys(signs)), check_in.note)
    for logged in log.sets:
        body = logged.body
        if body.note or body.pain is not None:
            words = "; ".join(filter(None, (body.note, body.pain.words if body.pain is not None else "")))
            signs = (*signs_in(body.note), *_of_pain(body.pain))
            if signs:
                yield SignSaid(body.on, tuple(dict.fromkeys(signs)), words, logged.id)
    for entry, episode in log.episodes:
        signs = signs_in(f"{episode.note}. {episode.provokes}. {HURTS.format(episode.part)}")
        if signs:
            yield SignSaid(episode.on, signs, episode.note or episode.part, entry)


def _of_pain(pain: Pain | None) -> tuple[Sign, ...]:
    return () if pain is None or not pain.words else signs_in(HURTS.format(pain.words))


def fever(facts: Facts) -> Iterator[Closed]:
    """No training from a fever to the first check-in without it that is some days later."""
    said = [c for c in _by_day(facts) if c.fever is not None]
    ill = [c.on for c in said if c.fever]
    if not ill or facts.clearances("fever", since=ill[-1]):
        return
    opens_from = ill[-1] + timedelta(days=facts.policy.fever_wait_days)
    if not any(c.on >= opens_from and not c.fever for c in said):
        yield Closed(reason=FeverStops(on=ill[-1], opens_from=opens_from), stops=True)


def blood_pressure(facts: Facts) -> Iterator[Closed]:
    """The newest reading above the bounds: no session, or moderate effort and a word with the clinician first."""
    readings = [(c.on, c.blood_pressure) for c in _by_day(facts) if c.blood_pressure is not None]
    if not readings:
        return
    (on, (upper, lower)), policy = readings[-1], facts.policy
    is_stop = upper > policy.pressure_stop_upper or lower > policy.pressure_stop_lower
    is_high = upper > policy.pressure_ask_upper or lower > policy.pressure_ask_lower
    if not (is_stop or is_high) or facts.clearances("blood-pressure", since=on):
        return
    floor = 0 if is_stop else policy.moderate_rir
    reason = BloodPressureHigh(upper=upper, lower=lower, on=on, is_stop=is_stop, least_rir=floor)
    yield Closed(reason=reason, stops=is_stop, no_rise=not is_stop, least_rir=floor)


def _by_day(facts: Facts) -> list[CheckInBody]:
    """Check-ins up to the day, by day and then by order of entry."""
    return sorted((c for c in facts.log.check_ins if c.on <= facts.on), key=lambda c: c.on)
