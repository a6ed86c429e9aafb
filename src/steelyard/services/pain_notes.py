"""Pain as an episode: the first word on it, every following one, the last."""

from collections.abc import Iterator
from datetime import date

from msgspec import Struct, structs

from steelyard.engine.exercises import Catalogue, folded_name
from steelyard.engine.fold import TrainingLog
from steelyard.engine.gates.episodes import pain
from steelyard.engine.health import EpisodeBody, Nature
from steelyard.engine.parts import joints_of
from steelyard.engine.reasons import AnyReason
from steelyard.exchange.note_line import PainNoted
from steelyard.wording.message import tell

from .closed_gates import facts_of
from .own_exercises import catalogue_of
from .refusal import Refused
from .scribe import Scribe, new_id
from .standing import open_episodes


class AboutPain(Struct, frozen=True, kw_only=True):
    """What stands beside the line."""

    by: str = ""
    provoked_by: tuple[str, ...] = ()
    nature: Nature | None = None
    guided_by: str = ""
    since: date | None = None
    note: str = ""


def pain_body(noted: PainNoted, log: TrainingLog, on: date, about: AboutPain, scribe: Scribe) -> EpisodeBody:
    """The next word on the open pain of that part, or the first on a new one."""
    known = _open_there(noted, log, on)
    if known is None and noted.is_closed:
        raise Refused(tell("no pain of {part!r} is open", part=noted.part), tell("See `steelyard lifter show`"))
    body = known or EpisodeBody(episode=new_id(scribe.now()), on=on, part=noted.part, onset=on)
    exercises, words = _provoked_by(about.provoked_by, catalogue_of(log))
    return structs.replace(
        body,
        on=on,
        by=about.by or scribe.author,
        side=noted.side or body.side,
        onset=about.since or body.onset,
        score=noted.score,
        next_morning=noted.next_morning,
        # Without a number of its own a word leaves the last one standing, and what was said beside it.
        signs=noted.signs if noted.signs or noted.score is not None else body.signs,
        status="closed" if noted.is_closed else "open",
        exercises=exercises or body.exercises,
        provokes=words or body.provokes,
        nature=about.nature or body.nature,
        guided_by=about.guided_by or body.guided_by,
        note=about.note,
    )


def closed_by_pain(log: TrainingLog, on: date, episode: str) -> tuple[tuple[AnyReason, ...], tuple[str, ...]]:
    """Why one episode closes something, and the codes of this lifter's exercises for which it does."""
    facts, known = facts_of(log, on), catalogue_of(log)
    entries = {entry for entry, body in log.episodes if body.episode == episode}
    done = {s.body.exercise for s in log.sets}
    reasons: dict[AnyReason, None] = {}
    codes = []
    for exercise in known.exercises:
        closed = [c.reason for c in pain(facts, exercise) if entries & set(c.reason.evidence)]
        reasons.update(dict.fromkeys(closed))
        if closed and exercise.code in done:
            codes.append(exercise.code)
    return tuple(reasons), tuple(codes)


def pain_remarks(noted: PainNoted, body: EpisodeBody) -> Iterator[str]:
    """What a person should know beside the gates."""
    if noted.is_closed:
        return
    if not joints_of(body.part) and not body.exercises:
        yield tell(
            "Which exercises load {part!r} is not known here, so all count as loading it; name them with "
            "--provoked-by EXERCISE.",
            part=body.part,
        )
    if body.signs:
        yield tell("New, sharp or swollen: let a clinician look at it.")
    if body.nature != "other" and not body.guided_by:
        yield tell("The zones for tendon and kneecap pain hold only under guidance: say whose with --guided-by.")
    if noted.next_morning is None:
        yield tell("Say how it is on the next morning: next-morning settled, or next-morning worse.")


def _open_there(noted: PainNoted, log: TrainingLog, on: date) -> EpisodeBody | None:
    """The open pain of that part; one without a side is the same as one whose side is said later."""
    there = [e for e in open_episodes(log, on) if folded_name(e.part) == folded_name(noted.part)]
    there = [e for e in there if None in {noted.side, e.side} or e.side == noted.side]
    if len(there) > 1:
        raise Refused(tell("more than one pain there is open"), tell("Say left, right or both"))
    return there[0] if there else None


def _provoked_by(names: tuple[str, ...], known: Catalogue) -> tuple[tuple[str, ...], str]:
    """Codes of the exercises that were named, and all words as they were typed."""
    found = [known.named(name) for name in names]
    return tuple(e.code for e in found if e is not None), ", ".join(names)
