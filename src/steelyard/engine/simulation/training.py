"""Runs a habit on a body, day by day, and keeps the log and the truth beside it."""

from datetime import date, timedelta

from numpy.random import Generator

from steelyard.engine.log import Technique

from .diary import Diary
from .exercises import exercise_of
from .habits import Habit, Line, LineState
from .load_repetitions import broken_repetitions
from .meets import compete
from .pen import SLIP_RATE, Pen
from .physiology import Physiology
from .rotas import habit_of
from .values import Kind, Simulated

_GUESS_SD = 0.08  # of a 1RM that is guessed for the first load (our judgement)
_DELOAD_SHARE = 0.075  # a deload is 5 to 10 % lighter, with half the sets (common practice, no source)
_LAYOFF_DAYS = 14  # from here a lifter comes back lighter (common practice, no source)


def train(
    kind: Kind, body: Physiology, rng: Generator, *, name: str, begins: date, weeks: int, slip_rate: float = SLIP_RATE
) -> Simulated:
    """What someone of this kind does with this body in so many weeks, and what they write down."""
    diary = Diary(body, Pen(rng.spawn(1)[0], 0.0 if kind == "competitor" else slip_rate))
    if kind == "competitor":
        compete(body, diary, rng, begins=begins, weeks=weeks)
    else:
        _Training(habit_of(kind, rng), body, diary, rng).run(begins, weeks)
    return diary.close(name, kind)


class _Training:
    """One lifter's weeks in the gym."""

    def __init__(self, habit: Habit, body: Physiology, diary: Diary, rng: Generator) -> None:
        self._habit = habit
        self._body = body
        self._diary = diary
        self._rng = rng
        self._lines: dict[Line, LineState] = {}
        self._away_until: date | None = None
        self._latest: date | None = None
        self._weighed: date | None = None
        self._returning = 0

    def run(self, begins: date, weeks: int) -> None:
        """Every planned day in turn; one that is missed is gone."""
        habit = self._habit
        for week in range(weeks):
            self._events(begins + timedelta(7 * week))
            is_deload = habit.deload_weeks is not None and week % habit.deload_weeks == habit.deload_weeks - 1
            for place, weekday in enumerate(habit.weekdays[: len(habit.days)]):
                on = begins + timedelta(7 * week + weekday)
                is_away = self._away_until is not None and on < self._away_until
                if self._rng.random() < habit.attends and not is_away:
                    self._session(on, habit.days[place], is_deload)

    def _events(self, on: date) -> None:
        """Whether something interrupts the training this week."""
        if self._rng.random() >= self._habit.events_a_year / 52.0:
            return
        what = ("illness", "travel", "injury", "life")[int(self._rng.choice(4, p=[0.4, 0.3, 0.12, 0.18]))]
        most = {"illness": 12, "travel": 21, "injury": 42, "life": 120}[what]
        days = int(self._rng.integers(most // 3, most))
        self._body.interrupt(what, days)
        self._away_until = on + timedelta(days)

    def _session(self, on: date, lines: tuple[Line, ...], is_deload: bool) -> None:
        self._body.begin_day(on)
        if self._weighed is None or (on - self._weighed).days >= self._habit.weighs_in_days:
            self._diary.weigh(on)
            self._weighed = on
        self._come_back(on)
        for line in lines:
            self._do(on, line, is_deload)
        self._returning = max(0, self._returning - 1)

    def _come_back(self, on: date) -> None:
        """After a layoff everything is lighter, and the log says so."""
        days_off = 0 if self._latest is None else (on - self._latest).days
        if days_off >= _LAYOFF_DAYS and not self._habit.is_to_failure:
            for state in self._lines.values():
                state.drop(0.1 if days_off < 28 else 0.2)
            self._returning = 2
        self._latest = on

    def _do(self, on: date, line: Line, is_deload: bool) -> None:
        """All sets of one line, and what the lifter takes from them."""
        state = self._lines.get(line)
        if state is None or (state.exercise == line.easier and state.is_at_top):
            state = self._begin(line, state)
            if state is None:
                return
            self._lines[line] = state
        added_kg = state.lighter_kg(_DELOAD_SHARE) if is_deload else state.added_kg
        done, felt = [], 0.0
        sets = max(1, line.sets // 2) if is_deload else line.sets
        for number in range(sets):
            is_last = number == sets - 1
            is_open = is_last and not is_deload and not self._returning and self._rng.random() < self._habit.opens_last
            reps, felt = self._one_set(on, state, added_kg, is_deload, is_last, is_open)
            done.append(reps)
            # What was left beyond the aim is known now, not felt.
            felt = float(reps - state.aim) if is_open else felt
        if not is_deload and not self._returning:
            state.learn(done, felt, self._rng, self._habit.is_to_failure)

    def _one_set(
        self, on: date, state: LineState, added_kg: float, is_deload: bool, is_last: bool, is_open: bool
    ) -> tuple[int, float]:
        """One set; repetitions done and the reserve that was felt."""
        body, rng, habit, exercise = self._body, self._rng, self._habit, state.exercise
        total_kg = added_kg + exercise_of(exercise).body_mass_share * body.body_mass_kg()
        possible = body.possible(exercise, total_kg)
        done, felt = (possible, 0.0) if is_open or habit.is_to_failure else self._stop(state, possible)
        says = is_last and rng.random() < habit.says_reserve
        phase = "deload" if is_deload else "return" if self._returning else None
        self._diary.write(
            on,
            exercise,
            added_kg,
            done,
            possible,
            felt if says else None,
            kind="work",
            phase=phase,
            missed="strength" if done == 0 else None,
            technique=_technique(possible - done, rng) if rng.random() < habit.says_technique else None,
        )
        body.lift(exercise, total_kg, max(done, 1), float(possible - done), state.line.rest_interval_s)
        return done, felt

    def _stop(self, state: LineState, possible: int) -> tuple[int, float]:
        """Repetitions after which a lifter stops who keeps a reserve, and the reserve felt then."""
        done = min(state.aim, possible)
        felt = self._body.felt_reserve(state.exercise, done, possible)
        short = state.line.reserve - felt
        if short >= 1.0 and done > 1:
            done = max(1, done - round(short))
            felt = self._body.felt_reserve(state.exercise, done, possible)
        return done, felt

    def _begin(self, line: Line, before: LineState | None) -> LineState | None:
        """Begin a line, or its easier exercise where the body is too heavy for it, or go on as before: all tried."""
        body = self._body
        for exercise in filter(None, (line.exercise, "" if before else line.easier)):
            share = exercise_of(exercise).body_mass_share
            if not share or body.possible(exercise, share * body.body_mass_kg()) >= line.lowest:
                return LineState(line, exercise, self._first_load_kg(line, exercise))
        return before

    def _first_load_kg(self, line: Line, code: str) -> float:
        """A guess from what such people lift, rounded to a step."""
        exercise = exercise_of(code)
        guess_kg = self._body.one_rm_kg(code) * (1.0 + self._rng.normal(0.0, _GUESS_SD))
        aim = (line.lowest if line.reserve else line.highest - 1) + line.reserve + 0.5
        share = next(s / 100 for s in range(100, 9, -1) if broken_repetitions(s / 100, exercise.endurance) >= aim)
        added_kg = guess_kg * share - exercise.body_mass_share * self._body.body_mass_kg()
        return max(0.0, round(added_kg / exercise.step_kg) * exercise.step_kg)


def _technique(reserve: int, rng: Generator) -> Technique:
    """How the set looked: rougher near failure (our judgement)."""
    roughness = rng.random() + 0.1 * min(reserve, 4)
    return "broke" if roughness < 0.06 else "rough" if roughness < 0.35 else "good"
