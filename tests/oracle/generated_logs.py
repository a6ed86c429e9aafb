"""Messy training logs out of a seed: good days and bad ones, jumps, misses, pain, gaps, deloads, pounds, overrules."""

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from random import Random

from steelyard.engine.effort import Effort
from steelyard.engine.equipment import Equipment, PlatePair, Steps
from steelyard.engine.fold import LoggedSet, TrainingLog
from steelyard.engine.log import (
    CheckInBody,
    Missed,
    OverruleBody,
    Pain,
    Phase,
    PolicyBody,
    SetBody,
    SetKind,
    Technique,
    TrainedAsWrittenBody,
)
from steelyard.engine.planning import Request
from steelyard.engine.quantities import Load, kg, lb

from .generated_health import with_health
from .tempers import Habit, Temper, drawn_temper

FIRST_DAY = date(2024, 1, 1)
BETWEEN_DAYS = (1, 2, 2, 2, 3, 3, 3, 4, 4, 7)
UNTIL_ASKED_DAYS = (0, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 5, 6, 7, 10, 13, 14, 20, 28, 40, 62, 63, 90)

HOME = Equipment(
    bar=kg(15),
    plates=(PlatePair(kg(20)), PlatePair(kg(10)), PlatePair(kg(5), 2)),
    dumbbells=(Steps(kg(4), kg(4), kg(40)),),
    kettlebells=(Steps(kg(8), kg(8), kg(32)),),
    stack=Steps(kg(10), kg(10), kg(100)),
)
POUNDS = Equipment(
    bar=lb(45),
    plates=tuple(PlatePair(lb(m), 3 if m == 45 else 1) for m in (45, 35, 25, 10, 5)),
    dumbbells=(Steps(lb(5), lb(5), lb(100)),),
    kettlebells=(Steps(lb(10), lb(10), lb(80)),),
    stack=Steps(lb(10), lb(10), lb(200)),
)


@dataclass(frozen=True)
class Case:
    """A log, the place, and what is asked of it."""

    seed: int
    log: TrainingLog
    equipment: Equipment | None
    request: Request


def generated_case(seed: int, *, most_sessions: int = 200, always_health: bool = False) -> Case:
    """The case that a seed stands for; the same seed gives the same case."""
    chance = Random(seed)
    temper = drawn_temper(chance)
    length = chance.choice((0, 1, 2, 3, 5, 8, 12, 20, 30, 45, 60, 90, 130, 200))
    sets: list[LoggedSet] = []
    day, days = FIRST_DAY + timedelta(chance.randint(0, 200)), []
    for _ in range(min(length, most_sessions)):
        sets += _session(chance, temper, day, 1, len(sets))
        if chance.random() < 0.03:
            sets += _session(chance, temper, day, 2, len(sets))
        days.append(day)
        day += timedelta(chance.randint(7, 100) if chance.random() < temper.gap else chance.choice(BETWEEN_DAYS))
    asked = days[-1] if days else day
    asked += timedelta(chance.choice(UNTIL_ASKED_DAYS))
    codes = tuple(habit.exercise.code for habit in temper.habits)
    log = TrainingLog(
        sets=tuple(sets),
        check_ins=_check_ins(chance, days),
        overrules=_overrules(chance, codes, asked),
        policy_changes=_policy_changes(chance, days or [day], asked),
        trained_as_written=_confirmed(chance, days),
    )
    asked_for = codes if not sets or chance.random() < 0.7 else ()
    request = Request(on=asked, exercises=asked_for, is_deload=chance.random() < 0.06)
    log, request = with_health(seed, log, request, always=always_health)
    return Case(seed, log, chance.choice((None, None, None, HOME, HOME, POUNDS)), request)


def _session(chance: Random, temper: Temper, day: date, number: int, known: int) -> list[LoggedSet]:
    chosen = [h for h in temper.habits if chance.random() < temper.keeps_time] or [chance.choice(temper.habits)]
    is_deload = chance.random() < temper.deload
    phase: Phase | None = None
    if is_deload and chance.random() < 0.5:
        phase = "deload"
    elif chance.random() < 0.02:
        phase = chance.choice(("normal", "taper", "return", "rehab", "test"))
    bodies: list[SetBody] = []
    for habit in chosen:
        _drift(chance, temper, habit)
        bodies += _warm_ups(chance, temper, habit, day, number, phase)
        bodies += _work(chance, temper, habit, day, number, phase, is_deload)
    return [LoggedSet(f"set-{known + n:05d}", body) for n, body in enumerate(bodies)]


def _drift(chance: Random, temper: Temper, habit: Habit) -> None:
    if chance.random() < temper.jump:
        habit.load_kg = _stepped(habit, habit.load_kg + abs(habit.load_kg or 10) * chance.uniform(0.05, 0.4))
    elif chance.random() < 0.03:
        habit.load_kg = _stepped(habit, habit.load_kg - abs(habit.load_kg) * chance.uniform(0.05, 0.3))
    elif chance.random() < 0.3:
        habit.count += 1 if habit.exercise.measure == "reps" else 5
        if habit.count > habit.top + 1:
            habit.load_kg += habit.step_kg
            habit.count = max(habit.count - 3, 1)
    if chance.random() < 0.03:
        habit.sets = chance.randint(1, 5)
    if habit.load_kg > 300:
        habit.load_kg /= 2


def _stepped(habit: Habit, load_kg: float) -> float:
    return round(load_kg / habit.step_kg) * habit.step_kg


def _load(temper: Temper, habit: Habit, load_kg: float) -> Load | None:
    """The load as typed: kg to a quarter, or whole pounds; none where only the body is moved."""
    least = 0.0 if habit.exercise.body_mass_share or habit.exercise.measure != "reps" else 1.0
    if habit.exercise.implement == "stack" and habit.exercise.body_mass_share:
        least = -30.0
    load_kg = max(load_kg, least)
    typed = lb(round(load_kg / 0.45359237)) if temper.in_pounds else kg(Decimal(round(load_kg * 4)) / 4)
    return typed if typed.value else None


def _warm_ups(
    chance: Random, temper: Temper, habit: Habit, day: date, number: int, phase: Phase | None
) -> list[SetBody]:
    if habit.exercise.measure != "reps" or habit.load_kg <= 0 or chance.random() > temper.warm_up:
        return []
    kind: SetKind | None = "warm-up" if chance.random() < temper.marks else None
    return [
        SetBody(
            on=day,
            exercise=habit.exercise.code,
            implement=habit.implement,
            session=number,
            kind=kind,
            phase=phase,
            load=_load(temper, habit, habit.load_kg * share),
            reps=5,
        )
        for share in (0.5, chance.choice((0.75, 0.84, 0.85, 0.86)))
    ]


def _work(
    chance: Random, temper: Temper, habit: Habit, day: date, number: int, phase: Phase | None, is_deload: bool
) -> list[SetBody]:
    day_form = chance.choice((-2, -1, 0, 0, 0, 0, 1)) if habit.exercise.measure == "reps" else 0
    share = chance.choice((0.9, 0.95, 1.0)) if is_deload else 1.0
    sets = max(habit.sets // 2, 1) if is_deload else habit.sets
    kind: SetKind | None = chance.choice(("work", "work", "top")) if chance.random() < temper.marks / 2 else None
    if chance.random() < 0.01:
        kind = "ramp"
    bodies = []
    for place in range(sets):
        back_off = 0.9 if kind == "top" and place else 1.0
        named: SetKind | None = "back-off" if kind == "top" and place else kind
        count = max(habit.count + day_form - (place if chance.random() < 0.2 else 0), 1)
        load = _load(temper, habit, habit.load_kg * share * back_off)
        bodies.append(_one(chance, temper, habit, day, number, phase, named, load, count, place == sets - 1))
    return bodies


def _one(
    chance: Random,
    temper: Temper,
    habit: Habit,
    day: date,
    number: int,
    phase: Phase | None,
    kind: SetKind | None,
    load: Load | None,
    count: int,
    is_last: bool,
) -> SetBody:
    missed: Missed | None = None
    if chance.random() < temper.miss:
        missed = chance.choice(("strength", "strength", "technique", "pain", "not-done", "unsaid"))
        count = 0 if missed == "not-done" else chance.choice((0, max(count - 2, 0)))
    technique: Technique | None = chance.choice(("rough", "broke")) if chance.random() < temper.technique else None
    if technique is None and chance.random() < 0.05:
        technique = "good"
    pain = Pain(score=chance.choice((None, 1, 2, 3, 5)), words="knee") if chance.random() < temper.pain else None
    effort = None
    if is_last and chance.random() < temper.effort:
        scale = chance.random()
        effort = Effort(Decimal(chance.randint(0, 5))) if scale < 0.8 else Effort(Decimal(chance.randint(7, 10)), "rpe")
    measure = habit.exercise.measure
    return SetBody(
        on=day,
        exercise=habit.exercise.code,
        implement=habit.implement,
        session=number,
        kind=kind,
        phase=phase,
        load=load,
        reps=count if measure == "reps" else None,
        seconds=count if measure == "seconds" else None,
        metres=Decimal(count) if measure == "metres" else None,
        side="each" if habit.exercise.per_side and chance.random() < 0.5 else None,
        effort=effort,
        missed=missed,
        pain=pain,
        technique=technique,
    )


def _check_ins(chance: Random, days: list[date]) -> tuple[CheckInBody, ...]:
    if chance.random() < 0.4:
        return ()
    mass, out = chance.uniform(50, 110), []
    for day in days:
        if chance.random() < 0.1:
            mass += chance.uniform(-1.5, 1.5)
            out.append(CheckInBody(on=day, body_mass=kg(Decimal(round(mass * 10)) / 10)))
    return tuple(out)


def _overrules(chance: Random, codes: tuple[str, ...], asked: date) -> tuple[OverruleBody, ...]:
    if chance.random() < 0.85:
        return ()
    return tuple(
        OverruleBody(
            on=asked - timedelta(chance.randint(0, 20)),
            until=asked + timedelta(chance.randint(-5, 20)),
            exercise=chance.choice(codes),
            limit=chance.choice(("weekly-limit", "step-limit", "twelve-week-limit")),
            ceiling=chance.choice((None, Decimal("0.01"), Decimal("0.08"), Decimal("0.2"))),
            by="coach",
            why="looked at it",
        )
        for _ in range(chance.randint(1, 2))
    )


def _policy_changes(chance: Random, days: list[date], asked: date) -> tuple[PolicyBody, ...]:
    out = []
    if chance.random() < 0.25:
        since = asked - timedelta(chance.randint(0, 400))
        out.append(PolicyBody(on=days[0], changes={"trained_since": since.isoformat()}))
    if chance.random() < 0.15:
        typed = chance.choice(("0.01", "0.02", "0.05"))
        out.append(PolicyBody(on=chance.choice(days), changes={"weekly_ceiling": typed}))
    if chance.random() < 0.05:
        out.append(PolicyBody(on=asked + timedelta(3), changes={"weekly_ceiling": "0.05"}))
    if chance.random() < 0.05:
        out.append(PolicyBody(on=days[0], changes={"target_rir": chance.choice(("0", "1", "3", "4"))}))
    return tuple(out)


def _confirmed(chance: Random, days: list[date]) -> tuple[TrainedAsWrittenBody, ...]:
    if not days or chance.random() < 0.9:
        return ()
    start = chance.choice(days) + timedelta(chance.randint(1, 10))
    return (TrainedAsWrittenBody(earliest=start, until=start + timedelta(chance.randint(1, 20)), by="coach"),)
