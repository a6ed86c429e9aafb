"""A few weeks of training, for tests that need a past."""

from collections.abc import Iterable
from datetime import date, timedelta
from decimal import Decimal

from tests.builders import sets_of

from steelyard.engine.health import AttestBody
from steelyard.engine.log import LifterBody, SetBody
from steelyard.engine.quantities import kg
from steelyard.services.next_session import Asked, NextSession, next_session
from steelyard.services.scribe import Scribe, new_id
from steelyard.services.sheets import LineShown
from steelyard.wording.quantity import Voice

MONDAY = date(2026, 11, 2)


def train(scribe: Scribe, name: str, bodies: Iterable[SetBody], *, is_vouched: bool = True) -> str:
    """Take in a lifter with these sets; the id of the person."""
    person = new_id(scribe.now())
    vouched = AttestBody(on=MONDAY - timedelta(days=60), by="Coach Berg")  # nothing rises before somebody has asked
    vouching = [vouched] if is_vouched else []
    scribe.write([scribe.entry(person, body) for body in (LifterBody(name=name), *vouching, *bodies)])
    return person


def month(exercise: str = "bench-press", load: str = "60", *, rir: int = 3) -> list[SetBody]:
    """Two sessions a week in October 2026, each of three sets of eight; the latest four days before MONDAY."""
    days = [MONDAY - timedelta(days=4 + 7 * week + half) for week in range(4) for half in (3, 0)]
    return [body for on in sorted(days) for body in sets_of(on, exercise, kg(Decimal(load)), 8, 8, 8, rir=rir)]


def ask(scribe: Scribe, voice: Voice | None = None, **asked: object) -> NextSession:
    """What `next` shows for MONDAY unless another day is asked for."""
    return next_session(Asked(**({"on": MONDAY} | asked)), voice or Voice(), scribe)  # type: ignore[arg-type] # by name


def line_of(shown: NextSession, exercise: str = "Bench press") -> LineShown:
    """The line of an exercise."""
    (found,) = [line for line in shown.lines if line.exercise == exercise]
    return found


def codes(line: LineShown) -> list[str]:
    """The codes of its reasons."""
    return [reason.code for reason in line.reasons]
