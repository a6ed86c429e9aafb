"""Which gates of the whole lifter are closed on a day, before any exercise is looked at."""

from datetime import date

from steelyard.engine.fold import TrainingLog
from steelyard.engine.gates import session_gates
from steelyard.engine.gates.facts import Facts
from steelyard.engine.planning import policy_on
from steelyard.engine.reasons import AnyReason


def facts_of(log: TrainingLog, on: date) -> Facts:
    """What these gates read."""
    days = tuple(sorted({s.body.on for s in log.sets if s.body.on < on}))
    return Facts(log=log, on=on, policy=policy_on(log, on), days=days)


def closed_for(log: TrainingLog, on: date) -> tuple[AnyReason, ...]:
    """Why each is closed, the most urgent first, each reason once."""
    return session_gates(facts_of(log, on)).reasons
