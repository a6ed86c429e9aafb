"""The gates of single exercises, read off docs/reference/gates.md by somebody who has not seen the engine's."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from fractions import Fraction

from steelyard.engine.exercises import Catalogue, Exercise
from steelyard.engine.fold import TrainingLog
from steelyard.engine.health import EpisodeBody, RestrictionBody
from steelyard.engine.log import SetBody
from steelyard.engine.planning import Request

from .gate_closed import Closed
from .gate_law import SessionLaw
from .gate_past import Past
from .gate_words import PLAIN_PARTS, WIDEST_PARTS


class Law:
    """What is closed for each exercise on the day that is asked for."""

    def __init__(self, log: TrainingLog, catalogue: Catalogue, request: Request) -> None:
        self.log, self.catalogue, self.request, self.on = log, catalogue, request, request.on
        self.past = Past(log, catalogue, request.on)
        self.session = SessionLaw(log, self.past, request.on)

    def of(self, code: str) -> tuple[Closed, ...]:
        """Every closed gate that bears on an exercise."""
        exercise = self.catalogue[code]
        own = (*self._pains(exercise), *self._restrictions(exercise), *self._alone(exercise), *self._own_pain(exercise))
        return (*self.session.closed, *own)

    def _family(self, exercise: Exercise) -> set[str]:
        """Its code, and those it was made after, one after the other."""
        family = {exercise.code}
        while exercise.parent and exercise.parent not in family:
            family.add(exercise.parent)
            if exercise.parent not in self.catalogue:
                break
            exercise = self.catalogue[exercise.parent]
        return family

    def _pains(self, exercise: Exercise) -> Iterator[Closed]:
        told: dict[str, list[EpisodeBody]] = {}
        for _, body in self.log.episodes:
            if body.on <= self.on:
                told.setdefault(body.episode, []).append(body)
        for name, words in told.items():
            newest = words[-1]
            if newest.status == "closed" or not self._pain_bears(newest, exercise, WIDEST_PARTS):
                continue
            if any(c.episode in {"", name} for c in self.session.in_force("pain", newest.on)):
                continue
            sure = self._pain_bears(newest, exercise, PLAIN_PARTS)
            yield from (gate if sure else replace(gate, sure=False) for gate in _zone(words, self.on))

    def _pain_bears(self, word: EpisodeBody, exercise: Exercise, known: dict[str, set[str]]) -> bool:
        if word.exercises:
            return bool(self._family(exercise) & set(word.exercises))
        parts = known.get(word.part)
        return parts is None or bool(parts & {j.joint for j in exercise.joints})

    def _restrictions(self, exercise: Exercise) -> Iterator[Closed]:
        newest: dict[str, RestrictionBody] = {b.restriction: b for _, b in self.log.restrictions if b.on <= self.on}
        for body in newest.values():
            if body.status == "lifted" or (body.until is not None and body.until <= self.on):
                continue
            is_pattern = body.pattern is not None and body.pattern == exercise.pattern
            is_joint = body.joint in {j.joint for j in exercise.joints}
            is_all = not (body.exercise or body.pattern or body.joint)
            if body.exercise == exercise.code or is_pattern or is_joint or is_all:
                yield _as_it_says(body)
            elif body.exercise in self._family(exercise):
                # Of those made after an exercise the page speaks where it speaks of pain only.
                yield replace(_as_it_says(body), sure=False)

    def _alone(self, exercise: Exercise) -> Iterator[Closed]:
        alone, safeties = self.request.alone, self.request.safeties
        if exercise.pins and safeties != "yes" and alone in {"yes", "unknown"}:
            # "Not known" counts as the stricter answer only in the table of screening, by the page's letter.
            yield Closed("alone-under-the-bar", reserve=self.session.setting("alone_rir", 3), sure=alone == "yes")

    def _own_pain(self, exercise: Exercise) -> Iterator[Closed]:
        """Pain of three and more, or of unknown height, until two sessions at two or less."""
        sessions: dict[tuple[date, int], list[SetBody]] = {}
        for body in (s.body for s in self.log.sets):
            if body.exercise == exercise.code and body.on <= self.on and body.missed != "not-done":
                sessions.setdefault((body.on, body.session), []).append(body)
        hurts = [any(_hurts(body) for body in bodies) for _, bodies in sorted(sessions.items())]
        if True in hurts[-1:]:
            yield Closed("pain-stop", stop=True)
        elif True in hurts[-2:]:
            # The page says "left out until two sessions" and "held before two quiet sessions": either is taken.
            yield Closed("pain-stop", stop=True, sure=False)


def _hurts(body: SetBody) -> bool:
    return body.pain is not None and (body.pain.score is None or body.pain.score >= 3)


def _zone(words: list[EpisodeBody], on: date) -> Iterator[Closed]:
    newest = words[-1]
    is_guided = newest.nature in {"tendon", "kneecap"} and bool(newest.guided_by.strip())
    height = next((w.score for w in reversed(words) if w.score is not None), None)
    # Thomeé 1997 and Silbernagel et al. 2007, from memory; without guidance our rule is stricter than the zones.
    if newest.signs or height is None or height >= (6 if is_guided else 3):
        yield Closed("pain-episode-stop", stop=True)
        return
    rises = {_rose(words, newest.on), _rose(words, on)}
    if newest.next_morning == "worse" or rises == {True}:
        yield Closed("pain-episode-reduce", no_rise=True, eased_since=newest.on)
    elif height >= (3 if is_guided else 1):
        yield Closed("pain-episode-hold", no_rise=True, sure=True not in rises)
    if True in rises:
        yield Closed("pain-episode-reduce", no_rise=True, eased_since=newest.on, sure=False)


def _rose(words: list[EpisodeBody], until: date) -> bool:
    """Whether the worst of each of the three weeks up to a day rose from each to the next."""
    worst = [
        max((w.score for w in words if w.score is not None and (until - w.on).days // 7 == week), default=None)
        for week in (2, 1, 0)
    ]
    oldest, middle, latest = worst
    return oldest is not None and middle is not None and latest is not None and oldest < middle < latest


def _as_it_says(body: RestrictionBody) -> Closed:
    if body.effect == "leave-out":
        return Closed("restricted", stop=True)
    if body.effect == "no-rise":
        return Closed("restricted", no_rise=True)
    if body.effect == "at-most":
        most = None if body.load is None else Fraction(body.load.magnitude)
        return Closed("restricted", most=most, sure=most is not None)
    return Closed("restricted", reserve=body.rir or 0, sure=body.rir is not None)
