"""What stands about a lifter's health on a day: open pain, restrictions, clearances, fever, the latest readings."""

from datetime import date

from msgspec import Struct

from steelyard.engine.fold import TrainingLog
from steelyard.engine.health import EpisodeBody, RestrictionBody


class PainShown(Struct, frozen=True, kw_only=True):
    """A pain as it was said last."""

    episode: str
    part: str
    side: str | None
    score: int | None
    next_morning: str | None
    signs: tuple[str, ...]
    provokes: str
    nature: str
    guided_by: str
    onset: str | None
    on: str


class RestrictionShown(Struct, frozen=True, kw_only=True):
    """What somebody restricts."""

    restriction: str
    what: str
    effect: str
    load: str
    rir: int | None
    by: str
    why: str
    on: str
    until: str | None
    review: str | None
    is_review_due: bool


class Standing(Struct, frozen=True, kw_only=True):
    """What stands."""

    pain: tuple[PainShown, ...]
    restrictions: tuple[RestrictionShown, ...]
    has_fever: bool
    signs: tuple[str, ...]
    blood_pressure: str


def standing_of(log: TrainingLog, on: date) -> Standing:
    """What stands on a day."""
    days = sorted((c for c in log.check_ins if c.on <= on), key=lambda c: c.on)
    fevers = [c.fever for c in days if c.fever is not None]
    pressures = [c.blood_pressure for c in days if c.blood_pressure is not None]
    return Standing(
        pain=tuple(_pain_shown(body, _score(log, on, body)) for body in open_episodes(log, on)),
        restrictions=tuple(_restriction_shown(body, on) for body in open_restrictions(log, on)),
        has_fever=bool(fevers) and fevers[-1],
        signs=tuple(dict.fromkeys(sign for c in days if c.on == on for sign in c.signs)),
        blood_pressure=f"{pressures[-1][0]}/{pressures[-1][1]}" if pressures else "",
    )


def open_episodes(log: TrainingLog, on: date) -> list[EpisodeBody]:
    """The newest word of each pain that is open on a day."""
    newest = {body.episode: body for _, body in log.episodes if body.on <= on}
    return [body for body in newest.values() if body.status == "open"]


def open_restrictions(log: TrainingLog, on: date) -> list[RestrictionBody]:
    """The newest word of each restriction that holds on a day."""
    newest = {body.restriction: body for _, body in log.restrictions if body.on <= on}
    return [b for b in newest.values() if b.status == "open" and (b.until is None or on < b.until)]


def _score(log: TrainingLog, on: date, newest: EpisodeBody) -> int | None:
    """The newest number that was said of a pain."""
    scores = [b.score for _, b in log.episodes if b.episode == newest.episode and b.on <= on and b.score is not None]
    return scores[-1] if scores else None


def _pain_shown(body: EpisodeBody, score: int | None) -> PainShown:
    return PainShown(
        episode=body.episode,
        part=body.part,
        side=body.side,
        score=score,
        next_morning=body.next_morning,
        signs=body.signs,
        provokes=body.provokes,
        nature=body.nature,
        guided_by=body.guided_by,
        onset=body.onset.isoformat() if body.onset is not None else None,
        on=body.on.isoformat(),
    )


def _restriction_shown(body: RestrictionBody, on: date) -> RestrictionShown:
    return RestrictionShown(
        restriction=body.restriction,
        what=body.exercise or body.pattern or body.joint or "everything",
        effect=body.effect,
        load=f"{body.load.value} {body.load.unit}" if body.load is not None else "",
        rir=body.rir,
        by=body.by,
        why=body.why,
        on=body.on.isoformat(),
        until=body.until.isoformat() if body.until is not None else None,
        review=body.review.isoformat() if body.review is not None else None,
        is_review_due=body.review is not None and body.review <= on,
    )
