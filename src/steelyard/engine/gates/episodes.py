"""The gate of pain: each episode by its newest word.

The published zones (0-2, 3-5, 6 and more; Thomeé 1997, Silbernagel et al. 2007) were made for the pain of a known
tendon or kneecap under guidance. They hold only there; elsewhere three and more stops what provokes it. That a number
is five or less says nothing of safety in general.
"""

from collections.abc import Iterator

from msgspec import Struct

from ..closed import Closed
from ..exercises import Exercise
from ..gate_reasons import EpisodeHold, EpisodeReduce, EpisodeStop
from ..health import EpisodeBody
from ..parts import joints_of
from ..policy import Policy
from .facts import Facts

STOP_FROM = 3
GUIDED_STOP_FROM = 6
WEEK_DAYS = 7
RISING_WEEKS = 3
# A setting makes a gate stricter only: however little is taken off after misses, a pain takes off so much.
LEAST_CUT = Policy().ease_after_misses


class Episode(Struct, frozen=True):
    """One pain up to a day: its words, oldest first, with the ids of their entries."""

    words: tuple[EpisodeBody, ...]
    entries: tuple[str, ...]

    @property
    def newest(self) -> EpisodeBody:
        """The word that holds."""
        return self.words[-1]

    @property
    def score(self) -> int | None:
        """The newest number that was said."""
        return next((w.score for w in reversed(self.words) if w.score is not None), None)

    @property
    def is_guided(self) -> bool:
        """Whether it is a known tendon or kneecap pain under guidance."""
        return self.newest.nature in {"tendon", "kneecap"} and bool(self.newest.guided_by.strip())

    def provoked_by(self, exercise: Exercise) -> bool:
        """Whether an exercise provokes it: those that are named, else all that load the part; unknown parts: all."""
        if self.newest.exercises:
            return exercise.code in self.newest.exercises or exercise.parent in self.newest.exercises
        joints = joints_of(self.newest.part)
        return not joints or any(loading.joint in joints for loading in exercise.joints)


def pain(facts: Facts, exercise: Exercise) -> Iterator[Closed]:
    """What the open episodes close of one exercise."""
    for episode in episodes(facts):
        newest = episode.newest
        is_cleared = any(c.episode in {"", newest.episode} for c in facts.clearances("pain", since=newest.on))
        if newest.status == "open" and not is_cleared and episode.provoked_by(exercise):
            closed = _by_zone(facts, episode)
            if closed is not None:
                yield closed


def episodes(facts: Facts) -> tuple[Episode, ...]:
    """Every episode up to the day."""
    grouped: dict[str, list[tuple[str, EpisodeBody]]] = {}
    for entry, body in facts.log.episodes:
        if body.on <= facts.on:
            grouped.setdefault(body.episode, []).append((entry, body))
    return tuple(Episode(tuple(b for _, b in told), tuple(i for i, _ in told)) for told in grouped.values())


def _by_zone(facts: Facts, episode: Episode) -> Closed | None:
    """Stop, less, the same, or nothing."""
    newest, score = episode.newest, episode.score
    stop_from = GUIDED_STOP_FROM if episode.is_guided else STOP_FROM
    if newest.signs or score is None or score >= stop_from:
        return Closed(
            reason=EpisodeStop(
                part=newest.part,
                side=newest.side,
                score=score,
                signs=newest.signs,
                on=newest.on,
                evidence=episode.entries[-1:],
            ),
            stops=True,
        )
    rising = _rising(episode)
    cut = max(facts.policy.ease_after_misses, LEAST_CUT)
    if newest.next_morning == "worse" or rising:
        reason = EpisodeReduce(
            part=newest.part,
            side=newest.side,
            scores=rising or (score,),
            is_worse_next_morning=newest.next_morning == "worse",
            cut=cut,
            on=newest.on,
            evidence=episode.entries[-RISING_WEEKS:],
        )
        return Closed(reason=reason, no_rise=True, reduces_from=newest.on, cut=cut)
    if score == 0 or (episode.is_guided and score < STOP_FROM):
        return None
    hold = EpisodeHold(
        part=newest.part,
        side=newest.side,
        score=score,
        guided_by=newest.guided_by if episode.is_guided else "",
        on=newest.on,
        evidence=episode.entries[-1:],
    )
    return Closed(reason=hold, no_rise=True)


def _rising(episode: Episode) -> tuple[int, ...]:
    """The worst number of each of the three latest weeks, where it rose from each to the next."""
    worst: dict[int, int] = {}
    for word in episode.words:
        if word.score is not None:
            week = (episode.newest.on - word.on).days // WEEK_DAYS
            worst[week] = max(worst.get(week, 0), word.score)
    weeks = [worst.get(week) for week in range(RISING_WEEKS - 1, -1, -1)]
    scores = tuple(score for score in weeks if score is not None)
    is_rising = len(scores) == RISING_WEEKS and scores[0] < scores[1] < scores[2]
    return scores if is_rising else ()
