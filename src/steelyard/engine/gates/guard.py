"""Every closed gate of a session and of one exercise."""

from collections.abc import Callable, Iterator, Sequence

from ..closed import Closed, Guard
from ..exercises import Exercise
from ..reasons import AloneNotAsked, AnyReason, OlderDefaults, ScreeningAttested
from .episodes import pain
from .facts import Facts
from .people import after_events, clinician_limits, is_older, older, pregnancy, youth
from .restrictions import alone, restrictions
from .screened import QUESTIONS, screened
from .today import blood_pressure, fever, stop_signs

# The order in which they are said: what is most urgent first.
SESSION: tuple[Callable[[Facts], Iterator[Closed]], ...] = (
    stop_signs,
    blood_pressure,
    fever,
    screened,
    after_events,
    pregnancy,
    youth,
    older,
    clinician_limits,
)
EXERCISE: tuple[Callable[[Facts, Exercise], Iterator[Closed]], ...] = (pain, restrictions, alone)


def session_gates(facts: Facts) -> Guard:
    """What is closed for every line of a session."""
    return Guard(tuple(closed for gate in SESSION for closed in gate(facts)))


def guard_of(facts: Facts, session: Guard, exercise: Exercise) -> Guard:
    """What is closed for one exercise, with what is closed for all."""
    return Guard((*session.closed, *(closed for gate in EXERCISE for closed in gate(facts, exercise))))


def asked(facts: Facts, exercises: Sequence[Exercise]) -> tuple[AnyReason, ...]:
    """What is said or asked of a session beside its gates."""
    out: list[AnyReason] = []
    attests = [body for _, body in facts.log.attests if body.on <= facts.on]
    if attests and any(facts.answer(question)[0] is None for question in QUESTIONS):
        out.append(ScreeningAttested(by=attests[-1].by, on=attests[-1].on))
    if facts.alone in {None, "unknown"} and any(exercise.pins for exercise in exercises):
        out.append(AloneNotAsked())
    if is_older(facts):
        out.append(OlderDefaults())
    return tuple(out)
