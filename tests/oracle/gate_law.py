"""The gates of the whole session, read off docs/reference/gates.md by somebody who has not seen the engine's."""

import calendar
from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction
from typing import get_args

from steelyard.engine.fold import TrainingLog
from steelyard.engine.health import ClearanceBody, Condition, ScreeningBody

from .gate_closed import Closed
from .gate_past import Past
from .gate_words import STOPPING

# What happened, the question that asks for it, the answer that dates it.
EVENTS = (
    ("birth", "gave_birth", "birth_on"),
    ("surgery", "surgery", "surgery_on"),
    ("heart-event", "heart_event", "heart_event_on"),
)
NOT_NO = {"yes", "unknown"}


def months_later(day: date, months: int) -> date:
    """The same day so many months later, or the last day of a shorter month."""
    count = day.year * 12 + day.month - 1 + months
    year, month = divmod(count, 12)
    return date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))


class SessionLaw:
    """What is closed for the whole session on one day."""

    def __init__(self, log: TrainingLog, past: Past, on: date) -> None:
        self.log, self.past, self.on = log, past, on
        self.screenings: list[ScreeningBody] = [b for _, b in log.screenings if b.on <= on]
        self.closed = (
            *self._signs(),
            *self._pressure(),
            *self._fever(),
            *self._screening(),
            *self._events(),
            *self._pregnancy(),
            *self._youth(),
            *self._older(),
            *self._limits(),
        )

    def setting(self, name: str, default: int) -> int:
        """A setting of the coach on that day, else the default, which is the least careful value."""
        told = sorted((c for c in self.log.policy_changes if c.on <= self.on and name in c.changes), key=lambda c: c.on)
        return int(told[-1].changes[name]) if told else default

    @property
    def moderate(self) -> int:
        """Repetitions in reserve that stand for moderate effort."""
        return self.setting("moderate_rir", 4)

    # What was answered, what was cleared

    def answer(self, question: str) -> str | None:
        """The newest answer by day; a screening that did not ask leaves the earlier one alone."""
        return next((a for b in reversed(self.screenings) if (a := getattr(b, question)) is not None), None)

    def answered_on(self, question: str) -> date:
        """The day of that answer."""
        return next(b.on for b in reversed(self.screenings) if getattr(b, question) is not None)

    def in_force(self, condition: str, since: date = date.min) -> list[ClearanceBody]:
        """Clearances of a condition in force today and given on a day or later."""
        told = [c for _, c in self.log.clearances if c.condition == condition and since <= c.on <= self.on]
        return [c for c in told if c.until is None or self.on < c.until]

    def in_force_for_a_year(self, condition: str, since: date = date.min) -> list[ClearanceBody]:
        """The same, no more than twelve months old, or what is set."""
        return [
            c
            for c in self.in_force(condition, since)
            if self.on < months_later(c.on, self.setting("clearance_months", 12))
        ]

    @property
    def is_attested(self) -> bool:
        """Whether a coach gave their word."""
        return any(b.on <= self.on for _, b in self.log.attests)

    # Gates

    def _signs(self) -> Iterator[Closed]:
        days = [c.on for c in self.log.check_ins if c.signs or c.note in STOPPING]
        for body in (s.body for s in self.log.sets):
            if body.note in STOPPING or (body.pain is not None and body.pain.words in STOPPING):
                days.append(body.on)
        days += [b.on for _, b in self.log.episodes if b.note in STOPPING or b.provokes in STOPPING]
        said = [day for day in days if day <= self.on]
        if said and not self.in_force("stop-sign", max(said)):
            yield Closed("stop-sign-said", stop=True)

    def _pressure(self) -> Iterator[Closed]:
        read = [(c.on, c.blood_pressure) for c in self.log.check_ins if c.blood_pressure and c.on <= self.on]
        if not read:
            return
        newest = max(on for on, _ in read)
        if self.in_force("blood-pressure", newest):
            return
        # Of two readings on one day the later entry is the newest; a higher one beside it may close as well.
        same_day = [pressure for on, pressure in read if on == newest]
        for pressure, sure in ((same_day[-1], True), *((p, False) for p in same_day[:-1])):
            upper, lower = pressure
            # AHA 2007 (Williams et al., Circulation 116:572-584), from memory.
            if upper > self.setting("pressure_stop_upper", 180) or lower > self.setting("pressure_stop_lower", 110):
                yield Closed("blood-pressure-high", stop=True, sure=sure)
            elif upper > self.setting("pressure_ask_upper", 160) or lower > self.setting("pressure_ask_lower", 100):
                yield Closed("blood-pressure-high", no_rise=True, reserve=self.moderate, sure=sure)

    def _fever(self) -> Iterator[Closed]:
        told = [c for c in self.log.check_ins if c.fever is not None and c.on <= self.on]
        ill = [c.on for c in told if c.fever]
        if not ill or self.in_force("fever", max(ill)):
            return
        if not any(c.fever is False and c.on - max(ill) >= timedelta(self.setting("fever_wait_days", 2)) for c in told):
            yield Closed("fever-stops", stop=True)

    def _screening(self) -> Iterator[Closed]:
        answers = {q: self.answer(q) for q in ("active", "disease", "symptoms")}
        if None in answers.values():
            if {answers["disease"], answers["symptoms"]} & NOT_NO:
                answers = {q: a or "unknown" for q, a in answers.items()}
            elif self.is_attested:
                answers = {q: a or ("yes" if q == "active" else "no") for q, a in answers.items()}
            else:
                yield Closed("screening-not-asked", no_rise=True)
                return
        yield from self._row(answers["active"] == "yes", answers["disease"] != "no", answers["symptoms"] != "no")

    def _row(self, active: bool, disease: bool, symptoms: bool) -> Iterator[Closed]:
        """The table; where an answer is not known the caller gives the stricter one."""
        if symptoms:
            given = self.in_force_for_a_year("symptoms", self.answered_on_or_first("symptoms"))
            if not given:
                yield Closed("screening-closed", stop=True)
                return
            yield from self._moderate(given)
        if disease:
            given = self.in_force_for_a_year("disease")
            if not given and not active:
                yield Closed("screening-closed", stop=True)
                return
            if not given:
                yield Closed("screening-closed", no_rise=True, reserve=self.moderate)
                return
            yield from self._moderate(given)
        if not active and self.past.training_weeks < self.setting("entry_training_weeks", 4):
            yield Closed("screening-closed", reserve=self.moderate, light=True)

    def answered_on_or_first(self, question: str) -> date:
        """The day of an answer; of one never asked, the day since which it counts as not known."""
        return self.answered_on(question) if self.answer(question) is not None else date.min

    def _moderate(self, given: list[ClearanceBody]) -> Iterator[Closed]:
        """A clearance that is not for vigorous effort; where only an older one is, the page can be read either way."""
        if not any(c.is_for_vigorous for c in given):
            yield Closed("screening-closed", reserve=self.moderate)
        elif not all(c.is_for_vigorous for c in given):
            yield Closed("screening-closed", reserve=self.moderate, sure=False)

    def event_day(self, question: str, dated: str) -> tuple[date, bool]:
        """The day of an event, and whether it is sure: an undated newest answer may mean another event."""
        answer = next(b for b in reversed(self.screenings) if getattr(b, question) is not None)
        own = getattr(answer, dated)
        known = next((d for b in reversed(self.screenings) if (d := getattr(b, dated)) is not None), None)
        return (own or known or answer.on), own is not None or known is None

    def _events(self) -> Iterator[Closed]:
        for condition, question, dated in EVENTS:
            if self.answer(question) not in NOT_NO:
                continue
            day, sure = self.event_day(question, dated)
            sure = sure and day <= self.on
            is_heart = condition == "heart-event"
            given = self.in_force_for_a_year(condition, day) if is_heart else self.in_force(condition, day)
            if given:
                trained = [d for d in self.past.days if d >= given[0].on]
                if not trained or (self.on - trained[0]).days < 7 * self.setting("after_clearance_training_weeks", 6):
                    yield Closed("after-clearance", reserve=self.moderate, light=True, sure=sure)
            elif is_heart or self.on < months_later(day, 12):
                yield Closed("clearance-first", stop=True, sure=sure)
            if not sure:  # the other reading, so that no code of it is held against the sheet
                yield Closed("clearance-first", stop=True, sure=False)
                yield Closed("after-clearance", reserve=self.moderate, light=True, sure=False)

    def is_before_every_clearance(self, day: date) -> bool:
        """Whether a day lies before the first clearance of every event that was said."""
        told = [self.in_force(c, self.event_day(q, d)[0]) for c, q, d in EVENTS if self.answer(q) in NOT_NO]
        return all(not given or day < given[0].on for given in told)

    def _pregnancy(self) -> Iterator[Closed]:
        if self.answer("pregnant") in NOT_NO:
            given = self.in_force("pregnancy", months_later(self.answered_on("pregnant"), -9))
            yield Closed("pregnancy-holds", no_rise=True, reserve=0 if given else self.moderate)

    @property
    def years(self) -> int | None:
        """Years that the lifter turns in the year of the day asked for."""
        born = self.log.lifter.birth_year if self.log.lifter is not None else None
        return None if born is None else self.on.year - born

    def _youth(self) -> Iterator[Closed]:
        if self.years is None or self.years > 18:  # who turns 18 this year may still be 17
            return
        if not any(b.supervised_by.strip() for b in self.screenings):
            yield Closed("youth-unsupervised", no_rise=True)
        if not any(b.technique_signed_by.strip() for b in self.screenings):
            yield Closed("youth-technique", repetitions=self.setting("youth_least_repetitions", 6), light=True)

    def _older(self) -> Iterator[Closed]:
        if (
            self.years is not None
            and self.years >= 65
            and self.past.training_weeks < self.setting("entry_training_weeks", 4)
        ):
            yield Closed("older-entry", reserve=self.moderate, light=True)

    def _limits(self) -> Iterator[Closed]:
        for condition in get_args(Condition):
            given = self.in_force(condition)
            # Of pains each has clearances of its own: which is the newest can be read two ways.
            sure = condition != "pain" or len(given) == 1
            for place, body in enumerate(reversed(given)):
                if body.limits or body.least_rir or body.most_load is not None:
                    most = None if body.most_load is None else Fraction(body.most_load.magnitude)
                    is_newest = place == 0
                    if is_newest or not sure:
                        yield Closed("clinician-limits", reserve=body.least_rir or 0, most=most, sure=sure)
