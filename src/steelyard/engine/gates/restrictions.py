"""Gates that somebody or some place sets for single exercises: restrictions, and lifting alone."""

from collections.abc import Iterator

from ..closed import Closed
from ..exercises import Exercise
from ..gate_reasons import AloneUnderTheBar, Restricted
from ..health import RestrictionBody
from .facts import Facts


def restrictions(facts: Facts, exercise: Exercise) -> Iterator[Closed]:
    """Every open restriction on an exercise, by its newest word; past its review it still holds."""
    newest: dict[str, tuple[str, RestrictionBody]] = {}
    for entry, body in facts.log.restrictions:
        if body.on <= facts.on:
            newest[body.restriction] = (entry, body)
    for entry, body in newest.values():
        is_over = body.status == "lifted" or (body.until is not None and facts.on >= body.until)
        if not is_over and is_meant(body, exercise):
            yield _closed(facts, body, entry)


def is_meant(body: RestrictionBody, exercise: Exercise) -> bool:
    """Whether a restriction bears on an exercise; one that names nothing bears on all."""
    named = (body.exercise, body.pattern, body.joint)
    if not any(named):
        return True
    joints = {loading.joint for loading in exercise.joints}
    is_named = body.exercise is not None and body.exercise in {exercise.code, exercise.parent}
    return is_named or body.pattern == exercise.pattern or body.joint in joints


def _closed(facts: Facts, body: RestrictionBody, entry: str) -> Closed:
    is_due = body.review is not None and facts.on >= body.review
    reason = Restricted(
        effect=body.effect,
        load=body.load,
        rir=body.rir,
        by=body.by,
        why=body.why,
        until=body.until,
        review=body.review,
        is_review_due=is_due,
        evidence=(entry,),
    )
    floor = (facts.policy.moderate_rir if body.rir is None else body.rir) if body.effect == "least-rir" else 0
    # A number that is missing is read as the most careful: no load said means no rise.
    is_held = body.effect == "no-rise" or (body.effect == "at-most" and body.load is None)
    return Closed(
        reason=reason,
        stops=body.effect == "leave-out",
        no_rise=is_held,
        least_rir=floor,
        most_load=body.load if body.effect == "at-most" else None,
    )


def alone(facts: Facts, exercise: Exercise) -> Iterator[Closed]:
    """Alone and no safeties that are known of: more in reserve on lifts that can pin, so never a maximal single."""
    if exercise.pins and facts.alone == "yes" and facts.safeties != "yes":
        floor = facts.policy.alone_rir
        yield Closed(reason=AloneUnderTheBar(least_rir=floor), least_rir=floor)
