"""What the check cases of the gates are made of: who would rise today, what was answered, what a sheet says."""

from datetime import date, timedelta
from fractions import Fraction

from tests.builders import sets_of, training_log

from steelyard.catalogue import catalogue
from steelyard.engine.body import Body
from steelyard.engine.health import Answer, AttestBody, ClearanceBody, Condition, ScreeningBody
from steelyard.engine.planning import Request, plan_session
from steelyard.engine.reasons import code_of
from steelyard.engine.sheet import Decision, Sheet

ON = date(2026, 6, 1)
COACH, DOCTOR = "a coach", "a clinician"
OK = AttestBody(on=ON, by=COACH)
# Two weeks of training that would rise today: every set reached, three in reserve.
RISING = tuple(
    body
    for day, reps in (("05-18", 6), ("05-21", 6), ("05-25", 7), ("05-28", 7))
    for body in sets_of(f"2026-{day}", "squat", 100, reps, reps, reps, rir=3)
)
# The same for longer than an entry phase lasts.
RISING_LONG = (
    *(body for n in range(8) for body in sets_of(ON - timedelta(70 - 7 * n), "squat", 100, 6, 6, 6, rir=3)),
    *RISING,
)


def sheet(*bodies: Body, on: date = ON, exercise: str = "squat", alone: Answer = "no") -> Sheet:
    """The sheet of a log, where somebody else is there."""
    return plan_session(training_log(*bodies), catalogue(), None, Request(on=on, exercises=(exercise,), alone=alone))


def line(*bodies: Body, on: date = ON, exercise: str = "squat", alone: Answer = "no") -> Decision:
    """Its only line."""
    (only,) = sheet(*bodies, on=on, exercise=exercise, alone=alone).lines
    return only


def said(made: Sheet) -> set[str]:
    """The codes of everything that a sheet says."""
    reasons = [*made.cautions, *(r for decision in made.lines for r in decision.reasons)]
    return {code_of(reason) for reason in reasons}


def codes(decision: Decision) -> set[str]:
    """The codes of a line."""
    return {code_of(reason) for reason in decision.reasons}


def least_rir(decision: Decision) -> int:
    """The least reserve that a line's work and ramp sets ask for."""
    return min(s.target_rir or 0 for s in decision.sets if s.kind != "warm-up")


def heaviest(decision: Decision) -> Fraction:
    """The heaviest added load of a line (kg)."""
    return max(Fraction(s.load.magnitude) for s in decision.sets if s.load is not None)


def most_reps(decision: Decision) -> int:
    """The most repetitions of a work or ramp set."""
    return max(s.reps or 0 for s in decision.sets if s.kind != "warm-up")


def is_held(decision: Decision) -> bool:
    """Whether it asks for something, but for no more than 100 kg x 7, the latest line of the logs above."""
    return bool(decision.sets) and heaviest(decision) <= 100 and most_reps(decision) <= 7 and decision.course != "rise"


def is_nothing(made: Sheet) -> bool:
    """A stopped session: no set, no load, and nothing beside the reasons and the stop signs."""
    return all(not d.sets and d.limit_load is None and not d.steps_around and d.course == "stop" for d in made.lines)


def answered(
    active: Answer, disease: Answer, symptoms: Answer, on: date = ON, pregnant: Answer | None = None
) -> ScreeningBody:
    """A screening with all three answers."""
    return ScreeningBody(on=on, by=COACH, active=active, disease=disease, symptoms=symptoms, pregnant=pregnant)


def cleared(condition: Condition, on: date = ON, *, vigorous: bool = False) -> ClearanceBody:
    """A clinician's word."""
    return ClearanceBody(on=on, by=DOCTOR, condition=condition, is_for_vigorous=vigorous)
