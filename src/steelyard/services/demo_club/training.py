"""How the invented lifters train: a tiny simulation of strength, good and bad days, and each one's own habits.

Scatter is set to what open training data show: a session's estimated 1RM scatters by about 3 % (supervised log of 289
people, Gschneidner, Carlson, Steele & Fisher 2024, own computation); repetitions follow Epley's line (1985). Rates of
progress and everything else: our invention.
"""

import random
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from typing import Literal

from msgspec import Struct, structs

from steelyard.catalogue import catalogue
from steelyard.engine.effort import Effort
from steelyard.engine.equipment import Equipment, loads_for
from steelyard.engine.log import Missed, Pain, SetBody, Technique
from steelyard.engine.quantities import KG_PER_LB, Load, Unit, plain

DAY_SCATTER = 0.022
SET_SCATTER = 0.015
FATIGUE_A_SET = 0.35
Habit = Literal["steady", "every-session", "hasty"]
Amount = int | float


class Lift(Struct, kw_only=True):
    """A lift as its lifter does it: true strength now (with the body mass that is lifted), the line, its way up.

    For what is held or carried, `one_rm` is the most seconds or metres and the range is in them.
    """

    one_rm: float
    load: str = ""
    low: int
    high: int
    sets: int = 3
    step: str = "2.5"
    rise: float = 0.003
    machine: str | None = None
    side: Literal["each"] | None = None
    reps: int = 0
    bad_days: int = 0


class Change(Struct, frozen=True):
    """From a training week on, some of a lift is otherwise."""

    training_week: int
    code: str
    becomes: dict[str, Amount | str]
    note: str = ""


class Ache(Struct, frozen=True):
    """Pain at one lift in one training week; what it stopped is missed at its last set and left out until the next."""

    training_week: int
    code: str
    score: int
    words: str
    is_stopped: bool = False


class Dip(Struct, frozen=True):
    """Strength lost by a training week, and in how many it is back."""

    training_week: int
    depth: float
    back_in: int


class Course(Struct, frozen=True, kw_only=True):
    """What one lifter trains, when, and what comes between."""

    starts: date
    training_weeks: int
    weekdays: tuple[int, ...]
    # The rotation of sessions, and from which training week on it holds.
    days: tuple[tuple[int, tuple[tuple[str, ...], ...]], ...]
    lifts: dict[str, Lift]
    unit: Unit
    equipment: Equipment
    body_mass: float
    habit: Habit = "steady"
    off: frozenset[int] = frozenset()
    deloads: frozenset[int] = frozenset()
    skipped: float = 0.05
    changes: tuple[Change, ...] = ()
    aches: tuple[Ache, ...] = ()
    dips: tuple[Dip, ...] = ()
    attempts: tuple[tuple[int, str, str], ...] = ()  # training week, lift, load of a single
    effort: Literal["rir", "rpe"] = "rir"
    effort_asked: float = 0.7
    rough: float = 0.03
    words: dict[str, str]


def train(course: Course, rng: random.Random) -> list[SetBody]:
    """Every set of a course, in order; names as written are still to come."""
    lifter = _Lifter(course, rng)
    return [done for week in range(course.training_weeks) for done in lifter.train(week)]


class _Lifter:
    """One invented lifter while the weeks go by."""

    def __init__(self, course: Course, rng: random.Random) -> None:
        self.course = course
        self.rng = rng
        self.lifts = {code: structs.replace(lift) for code, lift in course.lifts.items()}
        self.loads = {code: _loads(code, lift, course) for code, lift in course.lifts.items()}
        self.sessions = 0
        self.notes: dict[str, str] = {}
        self.attempts = list(course.attempts)
        self.stopped: set[str] = set()

    def train(self, week: int) -> Iterator[SetBody]:
        """The sets of one training week."""
        self._change(week)
        self.stopped.clear()
        days = [days for start, days in self.course.days if start <= week][-1]
        for weekday in self.course.weekdays:
            if week in self.course.off or self.rng.random() < self.course.skipped:
                continue
            on = self.course.starts + timedelta(days=7 * week + weekday)
            form = self.rng.gauss(1, DAY_SCATTER)
            codes = [code for code in days[self.sessions % len(days)] if code not in self.stopped]
            done = [s for code in codes for s in self._lift(code, on, week, form)]
            if form < 1 - 1.6 * DAY_SCATTER and not done[0].note:
                done[0] = structs.replace(done[0], note=self.course.words["tired"])
            yield from done
            self.sessions += 1

    def _change(self, week: int) -> None:
        for lift in self.lifts.values():
            lift.one_rm *= 1 + lift.rise
        for change in self.course.changes:
            if change.training_week != week:
                continue
            lift = self.lifts[change.code]
            for name, value in change.becomes.items():
                setattr(lift, name, value)
            lift.reps = 0
            if change.note:
                self.notes[change.code] = change.note

    def _lift(self, code: str, on: date, week: int, form: float) -> list[SetBody]:
        lift = self.lifts[code]
        is_deload = week in self.course.deloads
        load = self._load_today(code, is_deload)
        goal = min(max(lift.reps + 1, lift.low), lift.high)
        if catalogue()[code].measure != "reps":
            goal = min(max(lift.reps + 5, lift.low), lift.high)
        count = max(1, lift.sets // 2) if is_deload else lift.sets
        done, possible = [], 0.0
        for number in range(count):
            possible = self._possible(code, load, week, form, number)
            spare = 0 if self.course.habit == "hasty" else self.rng.choice((0, 1, 1, 2))
            done.append(self._amount(code, min(goal, int(possible) - spare), lift.low))
        sets = [self._set(code, on, load, amount) for amount in done]
        sets[-1] = self._remarked(sets[-1], code, week, possible - done[-1])
        opening = (self._opening_note(code, is_deload), sets[0].note)
        sets[0] = structs.replace(sets[0], note="; ".join(text for text in opening if text))
        if not is_deload and sets[-1].pain is None:
            self._carry_on(code, min(done), goal, possible - done[-1])
        return sets + self._attempts(code, on, week, form)

    def _load_today(self, code: str, is_deload: bool) -> Decimal | None:
        if not self.lifts[code].load:
            return None
        usual = Decimal(self.lifts[code].load)
        return max((x for x in self.loads[code] if x <= usual * Decimal("0.9")), default=usual) if is_deload else usual

    def _possible(self, code: str, load: Decimal | None, week: int, form: float, number: int) -> float:
        """Repetitions (seconds, metres) that this set could have had."""
        exercise = catalogue()[code]
        strength = self.lifts[code].one_rm * form * self.rng.gauss(1, SET_SCATTER)
        for dip in self.course.dips:
            if week >= dip.training_week:
                strength *= 1 - dip.depth * max(0.0, 1 - (week - dip.training_week) / dip.back_in)
        if exercise.measure != "reps":
            return strength * (1 - 0.06 * number)
        lifted = float(load or 0) + float(exercise.body_mass_share) * self.course.body_mass
        return 30 * (strength / lifted - 1) - FATIGUE_A_SET * number

    def _amount(self, code: str, wanted: int, low: int) -> int:
        if catalogue()[code].measure == "reps":
            return max(1, wanted)
        return max(5 * (low // 10), 5 * (wanted // 5))

    def _set(self, code: str, on: date, load: Decimal | None, amount: int) -> SetBody:
        measure = catalogue()[code].measure
        return SetBody(
            on=on,
            exercise=code,
            load=Load(load, self._unit(code)) if load else None,
            reps=amount if measure == "reps" else None,
            seconds=amount if measure == "seconds" else None,
            metres=Decimal(amount) if measure == "metres" else None,
            implement=self.lifts[code].machine,
            side=self.lifts[code].side,
        )

    def _unit(self, code: str) -> Unit:
        return "mark" if self.lifts[code].step == "mark" else self.course.unit

    def _remarked(self, last: SetBody, code: str, week: int, left: float) -> SetBody:
        """What is said of the last set: effort, pain, technique, a word."""
        ache = next((a for a in self.course.aches if a.training_week == week and a.code == code), None)
        if ache is not None:
            pain = Pain(ache.score, ache.words)
            if ache.is_stopped:
                self.stopped.add(code)
                return structs.replace(last, reps=0, missed="pain", pain=pain, note="missed: pain")
            return structs.replace(last, pain=pain)
        effort = self._effort(left) if last.reps and self.rng.random() < self.course.effort_asked else None
        is_rough = self.rng.random() < self.course.rough
        technique: Technique | None = "rough" if is_rough else None
        note = self.course.words["rough"] if is_rough else ""
        if not note and self.rng.random() < 0.02:
            note = self.rng.choice(self.course.words["remarks"].split("|"))
        return structs.replace(last, effort=effort, technique=technique, note=note)

    def _effort(self, left: float) -> Effort:
        """Reserve as it is felt: about right, seldom exact."""
        felt = max(0, min(5, round(left + self.rng.gauss(0, 0.7))))
        if self.course.effort == "rir":
            return Effort(Decimal(felt))
        half = Decimal("0.5") if felt in {1, 2} and self.rng.random() < 0.3 else Decimal(0)
        return Effort(max(Decimal(6), 10 - felt + half), "rpe")

    def _opening_note(self, code: str, is_deload: bool) -> str:
        return self.course.words["deload"] if is_deload else self.notes.pop(code, "")

    def _attempts(self, code: str, on: date, week: int, form: float) -> list[SetBody]:
        """Singles after the work sets; a missed one says why."""
        out = []
        for attempt in [a for a in self.attempts if a[:2] == (week, code)]:
            self.attempts.remove(attempt)
            load = attempt[2]
            is_up = self._possible(code, Decimal(load), week, form, 0) >= 0
            missed: Missed | None = None if is_up else "strength"
            note = "" if is_up else "missed: strength"
            out.append(structs.replace(self._set(code, on, Decimal(load), int(is_up)), missed=missed, note=note))
        return out

    def _carry_on(self, code: str, weakest: int, goal: int, left: float) -> None:
        """How this lifter goes on after a session; much left in reserve makes the next step a longer one."""
        lift = self.lifts[code]
        lift.bad_days = lift.bad_days + 1 if weakest < lift.low else 0
        above = self._above(code)
        if above is not None and weakest >= self._enough(lift, above, goal, left):
            lift.load, lift.reps = str(above), 0
        elif lift.load and lift.bad_days >= (3 if self.course.habit == "hasty" else 2):
            below = [x for x in self.loads[code] if x <= Decimal(lift.load) * Decimal("0.92")]
            lift.load, lift.reps, lift.bad_days = str(below[-1] if below else lift.load), 0, 0
        else:
            lift.reps = weakest + (1 if left >= 4.5 else 0)

    def _enough(self, lift: Lift, above: Decimal, goal: int, left: float) -> int:
        """The repetitions on every set after which this lifter takes the next load."""
        if self.course.habit == "hasty":
            return lift.low
        is_near = left >= 4 or above <= Decimal(lift.load) * Decimal("1.07")
        return goal if self.course.habit == "every-session" and is_near else lift.high

    def _above(self, code: str) -> Decimal | None:
        lift = self.lifts[code]
        if not lift.load:
            return None
        step = Decimal(1) if lift.step == "mark" else Decimal(lift.step)
        return next((x for x in self.loads[code] if x >= Decimal(lift.load) + step), None)


def _loads(code: str, lift: Lift, course: Course) -> tuple[Decimal, ...]:
    """What can be made for a lift where the lifter trains, in the lifter's own unit."""
    if lift.step == "mark":
        return tuple(Decimal(n) for n in range(1, 21))
    made = loads_for(catalogue()[code], course.equipment).magnitudes
    typed = tuple(plain(m / KG_PER_LB if course.unit == "lb" else m) for m in made)
    if catalogue()[code].implement != "body-mass":
        return typed
    return tuple(m for m in typed if m % Decimal(lift.step) == 0)
