"""Logs of lifters who do what each sheet says, more or less: the limits then meet their own doing."""

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from random import Random

from tests.builders import ATTESTED

from steelyard.catalogue import catalogue
from steelyard.engine.effort import Effort
from steelyard.engine.fold import LoggedSet, TrainingLog
from steelyard.engine.log import Missed, PolicyBody, SetBody
from steelyard.engine.planning import Request, plan_session
from steelyard.engine.quantities import kg
from steelyard.engine.sheet import PlannedSet, Sheet

from .generated_logs import FIRST_DAY, HOME, POUNDS, Case
from .tempers import USUAL_KG

FORMS = (-2, -1, 0, 0, 0, 0, 0, 0, 0, 1, 2)


def followed_sheets(seed: int, *, sessions: int = 40) -> Iterator[tuple[Case, Sheet]]:
    """Session after session, what was asked and the sheet; the lifter then does it with good and bad form."""
    chance = Random(seed)
    exercises = chance.sample(catalogue().exercises, chance.randint(1, 3))
    place = chance.choice((None, None, HOME, POUNDS))
    day, sets = FIRST_DAY, []
    for exercise in exercises:
        has_history = chance.random() < 0.8
        for _ in range(chance.randint(1, 4) if has_history else 0):
            count = chance.choice((5, 8, 10))
            sets.append(
                SetBody(
                    on=day,
                    exercise=exercise.code,
                    load=kg(USUAL_KG[exercise.implement]),
                    reps=count if exercise.measure == "reps" else None,
                    seconds=3 * count if exercise.measure == "seconds" else None,
                    metres=Decimal(3 * count) if exercise.measure == "metres" else None,
                )
            )
    since = {"trained_since": FIRST_DAY.isoformat()} if chance.random() < 0.4 else {}
    says_effort, form_swings = chance.random() < 0.5, chance.choice((0.2, 1.0))
    for _ in range(sessions):
        day += timedelta(chance.randint(8, 40) if chance.random() < 0.05 else chance.choice((2, 2, 3, 3, 4)))
        log = TrainingLog(
            sets=tuple(LoggedSet(f"set-{n:05d}", body) for n, body in enumerate(sets)),
            policy_changes=(PolicyBody(on=FIRST_DAY, changes=since),),
            attests=ATTESTED,
        )
        request = Request(on=day, exercises=tuple(e.code for e in exercises), is_deload=chance.random() < 0.05)
        sheet = plan_session(log, catalogue(), place, request)
        yield Case(seed, log, place, request), sheet
        for line in sheet.lines:
            form = chance.choice(FORMS) if chance.random() < form_swings else 0
            sets += [_done(chance, request, line.exercise, planned, form, says_effort) for planned in line.sets]


def _done(
    chance: Random, request: Request, exercise: str, planned: PlannedSet, form: int, says_effort: bool
) -> SetBody:
    """One planned set as it went."""
    missed: Missed | None = "strength" if form < 0 and chance.random() < 0.3 else None
    reserve = max((planned.target_rir or 2) + form, 0)
    scale = 1 if planned.reps is not None else 5
    count = int(planned.reps or planned.seconds or planned.metres or 1)
    done = max(count + scale * form, 1) if planned.kind != "warm-up" else count
    return SetBody(
        on=request.on,
        exercise=exercise,
        kind=planned.kind,
        phase="deload" if request.is_deload else None,
        load=planned.load,
        reps=done if planned.reps is not None else None,
        seconds=done if planned.seconds is not None else None,
        metres=Decimal(done) if planned.metres is not None else None,
        effort=Effort(Decimal(min(reserve, 5))) if says_effort and planned.kind != "warm-up" else None,
        missed=missed if planned.kind == "work" else None,
    )
