"""A plain reading of docs/reference/gates.md: what is closed, and what is left; it shares no rule with the engine."""

import calendar
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from steelyard.engine.exercises import Exercise
from steelyard.engine.fold import TrainingLog
from steelyard.engine.health import ClearanceBody, EpisodeBody, RestrictionBody
from steelyard.engine.planning import Request

from .health_words import PARTS, SIGN_WORDS

HELD_RESERVE = 2
GAP_DAYS = 63
EVENTS = (
    ("birth", "gave_birth", "birth_on"),
    ("surgery", "surgery", "surgery_on"),
    ("heart-event", "heart_event", "heart_event_on"),
)
CONDITIONS = (
    "disease",
    "symptoms",
    "pregnancy",
    "birth",
    "surgery",
    "heart-event",
    "stop-sign",
    "fever",
    "blood-pressure",
    "pain",
)


@dataclass(frozen=True)
class Shut:
    """One closed gate by its code."""

    code: str
    stop: bool = False
    no_rise: bool = False
    reserve: int = 0
    repetitions: int = 0
    load: Fraction | None = None
    less_from: date | None = None
    light: bool = False

    @property
    def counts(self) -> bool:
        """Whether it leaves less than everything."""
        numbers = self.reserve or self.repetitions or self.load is not None or self.less_from
        return bool(self.stop or self.no_rise or numbers)


class GateReading:
    """The closed gates of a log on the day that is asked for."""

    def __init__(self, log: TrainingLog, request: Request) -> None:
        self.log, self.request, self.on = log, request, request.on
        self.days = sorted({s.body.on for s in log.sets if s.body.on < self.on and s.body.missed != "not-done"})
        self.asked = [b for _, b in log.screenings if b.on <= self.on]
        self.session = [shut for part in self._session_parts() for shut in part]

    def of(self, exercise: Exercise) -> list[Shut]:
        """Every gate that is closed for an exercise."""
        return [*self.session, *self._pain(exercise), *self._restrictions(exercise), *self._alone(exercise)]

    def new_start(self, earlier: date, later: date) -> bool:
        """Whether the first clearance after an event lies between two days of an exercise."""
        return any(earlier < day <= later for day in self._first_clearances())

    def _session_parts(self) -> Iterator[Iterator[Shut]]:
        yield self._signs()
        yield self._pressure()
        yield self._fever()
        yield self._screening()
        yield self._events()
        yield self._groups()
        yield self._limits()

    # What is read

    def newest(self, question: str) -> tuple[str | None, date | None]:
        """The newest answer and its day."""
        said = [(getattr(b, question), b.on) for b in self.asked if getattr(b, question) is not None]
        return said[-1] if said else (None, None)

    def newest_day(self, name: str) -> date | None:
        """The newest day given for an event."""
        said = [getattr(b, name) for b in self.asked if getattr(b, name) is not None]
        return said[-1] if said else None

    def cleared(self, condition: str, since: date = date.min, months: int = 0) -> list[ClearanceBody]:
        """Clearances in force."""
        return [
            c
            for _, c in self.log.clearances
            if c.condition == condition
            and max(since, date.min) <= c.on <= self.on
            and (c.until is None or self.on < c.until)
            and (not months or self.on < later_by(c.on, months))
        ]

    @property
    def weeks(self) -> int:
        """Training weeks."""
        begins = None
        for day in reversed(self.days):
            if begins is None and (self.on - day).days >= GAP_DAYS:
                return 0
            if begins is not None and (begins - day).days >= GAP_DAYS:
                break
            begins = day
        return (self.on - begins).days // 7 if begins else 0

    # Gates of the session

    def _signs(self) -> Iterator[Shut]:
        days = [c.on for c in self.log.check_ins if c.signs or c.note in SIGN_WORDS]
        days += [s.body.on for s in self.log.sets if s.body.note in SIGN_WORDS]
        days += [b.on for _, b in self.log.episodes if b.note in SIGN_WORDS]
        cleared = max((c.on for c in self.cleared("stop-sign")), default=date.min)
        if any(cleared < day <= self.on for day in days):
            yield Shut("stop-sign-said", stop=True)

    def _pressure(self) -> Iterator[Shut]:
        read = [(c.on, c.blood_pressure) for c in self.log.check_ins if c.blood_pressure and c.on <= self.on]
        if not read:
            return
        on, (upper, lower) = sorted(read, key=lambda pair: pair[0])[-1]
        if self.cleared("blood-pressure", on):
            return
        if upper > 180 or lower > 110:
            yield Shut("blood-pressure-high", stop=True)
        elif upper > 160 or lower > 100:
            yield Shut("blood-pressure-high", no_rise=True, reserve=4)

    def _fever(self) -> Iterator[Shut]:
        said = [(c.on, c.fever) for c in self.log.check_ins if c.fever is not None and c.on <= self.on]
        ill = max((on for on, fever in said if fever), default=None)
        if ill is None or self.cleared("fever", ill):
            return
        if not any(not fever and (on - ill).days >= 2 for on, fever in said):
            yield Shut("fever-stops", stop=True)

    def _screening(self) -> Iterator[Shut]:
        active, disease, symptoms = (self.newest(q)[0] for q in ("active", "disease", "symptoms"))
        if None in (active, disease, symptoms):
            if {disease, symptoms} & {"yes", "unknown"}:
                active, disease, symptoms = (a or "unknown" for a in (active, disease, symptoms))
            elif any(b.on <= self.on for _, b in self.log.attests):
                active, disease, symptoms = active or "yes", disease or "no", symptoms or "no"
            else:
                yield Shut("screening-not-asked", no_rise=True)
                return
        if symptoms != "no":
            cleared = self.cleared("symptoms", self.newest("symptoms")[1] or date.min, 12)
            if not cleared:
                yield Shut("screening-closed", stop=True, light=True)
                return
            if not cleared[-1].is_for_vigorous:
                yield Shut("screening-closed", reserve=4, light=True)
        yield from self._without_symptoms(active == "yes", disease != "no")

    def _without_symptoms(self, active: bool, disease: bool) -> Iterator[Shut]:
        cleared = self.cleared("disease", months=12)
        vigorous = any(c.is_for_vigorous for c in cleared)
        if disease and not active and not cleared:
            yield Shut("screening-closed", stop=True, light=True)
        elif disease and not vigorous:
            yield Shut("screening-closed", no_rise=not cleared, reserve=4, light=True)
        elif not active and self.weeks < 4:
            yield Shut("screening-closed", reserve=4, light=True)

    def _events(self) -> Iterator[Shut]:
        for condition, question, day_name in EVENTS:
            said, asked_on = self.newest(question)
            since = self.newest_day(day_name) or asked_on
            if said in {None, "no"} or since is None or since > self.on:
                continue
            cleared = self.cleared(condition, since, 12 if condition == "heart-event" else 0)
            if not cleared and (condition == "heart-event" or self.on < later_by(since, 12)):
                yield Shut("clearance-first", stop=True)
            if cleared:
                begun = [day for day in self.days if day >= cleared[0].on]
                if not begun or (self.on - begun[0]).days < 42:
                    yield Shut("after-clearance", reserve=4, light=True)

    def _first_clearances(self) -> set[date]:
        found = set()
        for condition, question, day_name in EVENTS:
            told = [b for b in self.asked if getattr(b, question) in {"yes", "unknown"}]
            days = {getattr(b, day_name) for b in told if getattr(b, day_name)} or {b.on for b in told[:1]}
            given = sorted(c.on for _, c in self.log.clearances if c.condition == condition and c.on <= self.on)
            found |= {next(on for on in given if on >= day) for day in days if given and given[-1] >= day}
        return found

    def _groups(self) -> Iterator[Shut]:
        said, on = self.newest("pregnant")
        if said in {"yes", "unknown"} and on is not None:
            cleared = self.cleared("pregnancy", later_by(on, -9))
            yield Shut("pregnancy-holds", no_rise=True, reserve=0 if cleared else 4)
        if self.log.lifter is None or self.log.lifter.birth_year is None:
            return
        age = self.on.year - self.log.lifter.birth_year
        if age <= 18 and not any(b.supervised_by for b in self.asked):
            yield Shut("youth-unsupervised", no_rise=True)
        if age <= 18 and not any(b.technique_signed_by for b in self.asked):
            yield Shut("youth-technique", repetitions=6, light=True)
        if age >= 65 and self.weeks < 4:
            yield Shut("older-entry", reserve=4, light=True)

    def _limits(self) -> Iterator[Shut]:
        for condition in CONDITIONS:
            cleared = self.cleared(condition)
            if cleared and (cleared[-1].limits or cleared[-1].least_rir or cleared[-1].most_load):
                load = cleared[-1].most_load
                most = None if load is None else Fraction(load.magnitude)
                yield Shut("clinician-limits", reserve=cleared[-1].least_rir or 0, load=most)

    # Gates of one exercise

    def _pain(self, exercise: Exercise) -> Iterator[Shut]:
        told: dict[str, list[EpisodeBody]] = {}
        for _, body in self.log.episodes:
            if body.on <= self.on:
                told.setdefault(body.episode, []).append(body)
        for words in told.values():
            last = words[-1]
            cleared = [c for c in self.cleared("pain", last.on) if c.episode in {"", last.episode}]
            parts = PARTS[last.part]
            is_meant = {exercise.code, exercise.parent} & set(last.exercises) if last.exercises else True
            if not last.exercises and parts:
                is_meant = bool(parts & {j.joint for j in exercise.joints})
            if last.status == "open" and not cleared and is_meant:
                yield from _zone(words)

    def _restrictions(self, exercise: Exercise) -> Iterator[Shut]:
        newest: dict[str, RestrictionBody] = {b.restriction: b for _, b in self.log.restrictions if b.on <= self.on}
        joints = {j.joint for j in exercise.joints}
        for body in newest.values():
            names_none = not (body.exercise or body.pattern or body.joint)
            named = body.exercise in {exercise.code, exercise.parent} if body.exercise else False
            is_meant = names_none or named or body.pattern == exercise.pattern or body.joint in joints
            if body.status == "open" and is_meant and (body.until is None or self.on < body.until):
                yield _restricted(body)

    def _alone(self, exercise: Exercise) -> Iterator[Shut]:
        if self.request.alone == "yes" and self.request.safeties != "yes" and exercise.pins:
            yield Shut("alone-under-the-bar", reserve=3)


def _zone(words: list[EpisodeBody]) -> Iterator[Shut]:
    last = words[-1]
    heights = [w.score for w in words if w.score is not None]
    guided = bool(last.nature in {"tendon", "kneecap"} and last.guided_by)
    if last.signs or not heights or heights[-1] >= (6 if guided else 3):
        yield Shut("pain-episode-stop", stop=True)
        return
    weeks = [
        max((w.score for w in words if w.score is not None and (last.on - w.on).days // 7 == week), default=None)
        for week in (2, 1, 0)
    ]
    first, second, third = weeks
    rises = first is not None and second is not None and third is not None and first < second < third
    if last.next_morning == "worse" or rises:
        yield Shut("pain-episode-reduce", no_rise=True, less_from=last.on)
    elif heights[-1] >= (3 if guided else 1):
        yield Shut("pain-episode-hold", no_rise=True)


def _restricted(body: RestrictionBody) -> Shut:
    if body.effect == "leave-out":
        return Shut("restricted", stop=True)
    if body.effect == "at-most" and body.load is not None:
        return Shut("restricted", load=Fraction(body.load.magnitude))
    if body.effect == "least-rir":
        return Shut("restricted", reserve=4 if body.rir is None else body.rir)
    return Shut("restricted", no_rise=True)


def later_by(day: date, months: int) -> date:
    """The same day so many months later, or the last of a shorter month."""
    year, month = day.year, day.month
    for _ in range(abs(months)):
        month += 1 if months > 0 else -1
        year, month = (year + 1, 1) if month > 12 else (year - 1, 12) if month < 1 else (year, month)
    return date(year, month, 1) + timedelta(days=min(day.day, calendar.monthrange(year, month)[1]) - 1)
