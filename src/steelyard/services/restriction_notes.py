"""Restrictions: what somebody leaves out or holds down, with who and why; and lifting them."""

from collections.abc import Iterator
from datetime import date

from msgspec import Struct, structs

from steelyard.engine.exercises import Catalogue
from steelyard.engine.fold import TrainingLog
from steelyard.engine.health import RestrictionBody
from steelyard.engine.parts import joints_of
from steelyard.exchange import cells
from steelyard.exchange.note_line import Lifted, Restricted
from steelyard.wording.message import tell

from .own_exercises import catalogue_of
from .refusal import Refused
from .scribe import Scribe, new_id
from .standing import open_restrictions

EVERYTHING = frozenset({"everything", "all", "alles"})
Target = tuple[str | None, str | None, str | None]


class AboutRestriction(Struct, frozen=True, kw_only=True):
    """What stands beside the line."""

    by: str = ""
    why: str = ""
    until: date | None = None
    review: date | None = None


def restriction_bodies(
    noted: Restricted, log: TrainingLog, on: date, about: AboutRestriction, scribe: Scribe
) -> list[RestrictionBody]:
    """A restriction of one exercise, pattern or of everything; of each joint where a word names several."""
    by, why = _who_and_why(about)
    for day, option in ((about.until, "--until"), (about.review, "--review")):
        if day is not None and day <= on:
            raise Refused(
                tell("a restriction ends, and is looked at, after it begins"),
                tell("Give a later day with {option}", option=option),
            )
    return [
        RestrictionBody(
            restriction=new_id(scribe.now()),
            on=on,
            exercise=exercise,
            pattern=pattern,
            joint=joint,
            effect=noted.effect,
            load=noted.load,
            rir=noted.rir,
            by=by,
            why=why,
            until=about.until,
            review=about.review,
        )
        for exercise, pattern, joint in _targets(noted.what, catalogue_of(log))
    ]


def lifted_bodies(noted: Lifted, log: TrainingLog, on: date, about: AboutRestriction) -> Iterator[RestrictionBody]:
    """Every open restriction of that, lifted."""
    by, why = _who_and_why(about)
    targets = _targets(noted.what, catalogue_of(log))
    found = [r for r in open_restrictions(log, on) if (r.exercise, r.pattern, r.joint) in targets]
    if not found:
        raise Refused(
            tell("nothing restricts {what!r}", what=noted.what), tell("See what does with `steelyard lifter show`")
        )
    yield from (structs.replace(r, on=on, by=by, why=why, status="lifted") for r in found)


def _who_and_why(about: AboutRestriction) -> tuple[str, str]:
    by, why = cells.text(about.by), cells.text(about.why)
    if not by or not why:
        raise Refused(
            tell("a restriction says who and why"), tell("Give --by and --why, or keep only the words with --words")
        )
    return by, why


def _targets(what: str, known: Catalogue) -> list[Target]:
    """Exercise, pattern or joints by their words; nothing named means everything. Refuses unknown ones."""
    if what.casefold() in EVERYTHING:
        return [(None, None, None)]
    # A pattern is often called as its best known exercise is, such as the squat: then the exercise is meant.
    exercise = known.named(what)
    if exercise is not None:
        return [(exercise.code, None, None)]
    pattern = "-".join(what.casefold().split())
    if pattern in {e.pattern for e in known.exercises}:
        return [(None, pattern, None)]
    joints = joints_of(what)
    if not joints:
        cells.exercise(what, known)  # refuses, with names that are near
    return [(None, None, joint) for joint in sorted(joints)]
