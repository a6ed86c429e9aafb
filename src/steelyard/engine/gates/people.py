"""Gates of special groups: youth, from sixty-five, pregnancy, after a birth, an operation or a heart event."""

from collections.abc import Iterator
from datetime import date
from typing import Literal

from ..closed import Closed
from ..gate_reasons import (
    AfterClearance,
    ClearanceFirst,
    ClinicianLimits,
    OlderEntry,
    PregnancyHolds,
    YouthTechnique,
    YouthUnsupervised,
)
from ..health import ClearanceBody, Condition
from .facts import ADULT, OLDER, Facts, months_after

Event = Literal["birth", "surgery", "heart-event"]
# The question of each event, the field of its day, and how long it asks for clearance; a heart event always does.
EVENTS: dict[Event, tuple[str, str, int | None]] = {
    "birth": ("gave_birth", "birth_on", 12),
    "surgery": ("surgery", "surgery_on", 12),
    "heart-event": ("heart_event", "heart_event_on", None),
}
CONDITIONS: tuple[Condition, ...] = (
    *("disease", "symptoms", "pregnancy", "birth", "surgery", "heart-event", "stop-sign", "fever", "blood-pressure"),
    "pain",
)


def youth(facts: Facts) -> Iterator[Closed]:
    """Under eighteen: a named adult who supervises, and low repetitions only with a sign-off of technique."""
    if facts.youngest_age is None or facts.youngest_age >= ADULT:
        return
    if not facts.latest("supervised_by"):
        yield Closed(reason=YouthUnsupervised(), no_rise=True)
    if not facts.latest("technique_signed_by"):
        least = facts.policy.youth_least_repetitions
        yield Closed(reason=YouthTechnique(least_repetitions=least), least_count=least, is_light_start=True)


def older(facts: Facts) -> Iterator[Closed]:
    """From sixty-five: an entry phase first."""
    if not is_older(facts) or facts.training_weeks >= facts.policy.entry_training_weeks:
        return
    floor = facts.policy.moderate_rir
    reason = OlderEntry(least_rir=floor, training_weeks=facts.policy.entry_training_weeks)
    yield Closed(reason=reason, least_rir=floor, is_light_start=True)


def is_older(facts: Facts) -> bool:
    """Whether the lifter turns sixty-five this year or did before."""
    return facts.youngest_age is not None and facts.youngest_age + 1 >= OLDER


def pregnancy(facts: Facts) -> Iterator[Closed]:
    """Pregnant, or not known: nothing rises by itself; moderate effort until it is cleared."""
    said, since = facts.answer("pregnant")
    if said in {None, "no"}:
        return
    # A clearance of an earlier pregnancy says nothing of this one.
    cleared = facts.clearances("pregnancy", since=since and months_after(since, -9))
    if cleared:
        yield Closed(reason=PregnancyHolds(cleared_by=cleared[-1].by), no_rise=True)
    else:
        floor = facts.policy.moderate_rir
        yield Closed(reason=PregnancyHolds(least_rir=floor), no_rise=True, least_rir=floor)


def after_events(facts: Facts) -> Iterator[Closed]:
    """After a birth, an operation, a heart event: clearance first, then some weeks of moderate effort."""
    for event, (question, day_field, months) in EVENTS.items():
        said, asked_on = facts.answer(question)
        happened = facts.day_of(day_field)
        since = happened or asked_on
        if said in {None, "no"} or since is None or since > facts.on:
            continue
        cleared = cleared_after(facts, event)
        if not cleared:
            if months is None or facts.on < months_after(since, months):
                yield Closed(reason=ClearanceFirst(condition=event, since=happened), stops=True)
            continue
        weeks, first = facts.policy.after_clearance_training_weeks, cleared[0]
        if facts.training_weeks_since(first.on) < weeks:
            floor = facts.policy.moderate_rir
            reason = AfterClearance(condition=event, by=first.by, on=first.on, least_rir=floor, training_weeks=weeks)
            yield Closed(reason=reason, least_rir=floor, is_light_start=True)


def cleared_after(facts: Facts, event: Event) -> list[ClearanceBody]:
    """Clearances in force of an event, given on or after its day; where none is known, the day of the answer."""
    question, day_field, _ = EVENTS[event]
    since = facts.day_of(day_field) or facts.answer(question)[1]
    return facts.clearances(
        event, since=since, months=facts.policy.clearance_months if event == "heart-event" else None
    )


def new_starts(facts: Facts) -> tuple[date, ...]:
    """Days on which training was first cleared after each event: what was lifted before is no reference any more."""
    found = set()
    for event, (question, day_field, _) in EVENTS.items():
        told = [b for b in facts.screenings if getattr(b, question) in {"yes", "unknown"}]
        days: set[date] = {getattr(b, day_field) for b in told} - {None}
        cleared = [b.on for _, b in facts.log.clearances if b.condition == event and b.on <= facts.on]
        for since in days or {b.on for b in told[:1]}:
            found |= set([day for day in cleared if day >= since][:1])
    return tuple(sorted(found))


def clinician_limits(facts: Facts) -> Iterator[Closed]:
    """The limits of the newest clearance in force of each condition."""
    for condition in CONDITIONS:
        cleared = facts.clearances(condition)
        if not cleared or not (cleared[-1].limits or cleared[-1].least_rir or cleared[-1].most_load is not None):
            continue
        given = cleared[-1]
        reason = ClinicianLimits(
            by=given.by, limits=given.limits, least_rir=given.least_rir, most_load=given.most_load, until=given.until
        )
        yield Closed(reason=reason, least_rir=given.least_rir or 0, most_load=given.most_load)
