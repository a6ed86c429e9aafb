"""How strong a lifter is today in each exercise, how sure that is, and where it goes if training goes on as it did."""

from collections.abc import Callable
from datetime import date, timedelta

from msgspec import Struct, structs

from steelyard.engine.backtest.trials import read_trials
from steelyard.engine.exercises import Catalogue
from steelyard.engine.history import BodyMass
from steelyard.engine.planning import policy_on
from steelyard.engine.quantities import Load
from steelyard.engine.strength.outlook import (
    Telling,
    chance_to_complete,
    gain_a_week,
    goal_dates,
    level_of,
    told_cdf,
)
from steelyard.engine.strength.relations import LineKey, relation_of
from steelyard.engine.strength.replay import Strength, strength_on
from steelyard.wording.message import tell
from steelyard.wording.quantity import Language, Voice

from .lifters import find_lifter, log_of
from .own_exercises import catalogue_of
from .past import exercise_named
from .refusal import Refused
from .scribe import Scribe
from .tuning import settings_in_force

# Exercises that were not trained for so long are shown only when asked for.
RECENT = timedelta(weeks=12)
# Session days that a picture looks back over.
LOOKS_BACK = 200
WEEKS_AHEAD = (4, 12, 26)
REPETITIONS = (1, 3, 5, 8, 10, 12)
Told = Callable[[int, int], None]


class CoursePoint(Struct, frozen=True, kw_only=True):
    """The 1RM on one session day (total kg) with its 80 % interval."""

    date: str
    one_rm_kg: float
    low_kg: float
    high_kg: float


class StrengthLine(Struct, frozen=True, kw_only=True):
    """One exercise: 1RM of the total that moves (kg) with its 80 % and 95 % interval, gain a week, what it rests on.

    `course` is what was believed after each session; `back` what is believed of the latest of those days now (where
    one exercise was asked for).

    `body_mass_kg` is the part of that total that is the lifter's own, assumed where none was entered by that day; 0
    where only the load moves.
    """

    exercise: str
    name: str
    implement: str
    one_rm_kg: float
    low80_kg: float
    high80_kg: float
    low95_kg: float
    high95_kg: float
    body_mass_kg: float
    is_body_mass_assumed: bool
    gain_pct_per_week: float
    gain_low_pct: float
    gain_high_pct: float
    sessions: int
    last_session: str
    sets: dict[str, int]
    course: tuple[CoursePoint, ...]
    back: tuple[CoursePoint, ...]


class StrengthShown(Struct, frozen=True, kw_only=True):
    """What `strength` says of a lifter on a day; `left_out` exercises were not trained for twelve weeks."""

    lifter: str
    date: str
    lines: tuple[StrengthLine, ...]
    left_out: int


class LoadAhead(Struct, frozen=True, kw_only=True):
    """The load (added, kg) at which so many repetitions can be done with a chance of a half, and of nine in ten."""

    repetitions: int
    even_kg: float
    safe_kg: float


class LevelAhead(Struct, frozen=True, kw_only=True):
    """The 1RM (total kg) in some weeks, with its 80 % interval."""

    weeks: int
    one_rm_kg: float
    low80_kg: float
    high80_kg: float


class ForecastAsked(Struct, frozen=True, kw_only=True):
    """What `forecast` was asked for; loads as they were typed."""

    name: str | None = None
    exercise: str = ""
    on: date | None = None
    load: Load | None = None
    sets: int = 1
    repetitions: int | None = None
    reserve: int = 0
    goal: Load | None = None


class ForecastShown(Struct, frozen=True, kw_only=True):
    """What `forecast` says; repetitions at the load asked for as the ends of the middle 80 %, chance of the line.

    `likeliest` is the middle of what is to be expected: as often more as fewer.
    """

    lifter: str
    date: str
    line: StrengthLine
    loads: tuple[LoadAhead, ...]
    ahead: tuple[LevelAhead, ...]
    load_kg: float | None = None
    fewest: int | None = None
    likeliest: int | None = None
    most: int | None = None
    chance: float | None = None
    sets: int = 1
    repetitions: int | None = None
    reserve: int = 0
    goal_kg: float | None = None
    goal_earliest: str | None = None
    goal_middle: str | None = None
    goal_latest: str | None = None


class _Known(Struct, frozen=True):
    """A lifter's strength with what is needed to say it."""

    lifter: str
    strength: Strength
    catalogue: Catalogue
    body_mass: Callable[[LineKey], float]
    is_body_mass_assumed: bool
    language: Language


def show_strength(
    name: str | None,
    exercise: str | None,
    on: date | None,
    voice: Voice,
    scribe: Scribe,
    *,
    is_all: bool = False,
    told: Told = lambda done, total: None,
) -> StrengthShown:
    """Every exercise that was trained of late, or one that is named."""
    known = _known(name, on or scribe.today(), voice, told, LOOKS_BACK if exercise is not None else 0)
    keys = list(known.strength.rests)
    if exercise is not None:
        keys = _keys(known, exercise)
    elif not is_all:
        keys = [k for k in keys if known.strength.on - known.strength.rests[k].latest <= RECENT]
    keys.sort(key=lambda k: (known.catalogue.session_order(k[0]), k[1]))
    return StrengthShown(
        lifter=known.lifter,
        date=known.strength.on.isoformat(),
        lines=tuple(_line(known, key) for key in keys),
        left_out=len(known.strength.rests) - len(keys) if exercise is None else 0,
    )


def show_forecast(
    asked: ForecastAsked, voice: Voice, scribe: Scribe, told: Told = lambda done, total: None
) -> ForecastShown:
    """What is to be expected of one exercise."""
    known = _known(asked.name, asked.on or scribe.today(), voice, told)
    key = _keys(known, asked.exercise)[-1]
    posterior = known.strength.posterior
    posterior.begin_entry(key)
    shown = ForecastShown(
        lifter=known.lifter,
        date=known.strength.on.isoformat(),
        line=_line(known, key),
        loads=tuple(_load_ahead(known, key, repetitions) for repetitions in REPETITIONS),
        ahead=tuple(_level_ahead(known, key, weeks) for weeks in WEEKS_AHEAD),
        sets=asked.sets,
        repetitions=asked.repetitions,
        reserve=asked.reserve,
    )
    return _with_goal(known, key, asked, _with_load(known, key, asked, shown))


def _known(name: str | None, on: date, voice: Voice, told: Told, looks_back: int = 0) -> _Known:
    lifter = find_lifter(name)
    log = log_of(lifter)
    catalogue, policy = catalogue_of(log), policy_on(log, on)
    trials = read_trials(lifter.name, log, catalogue, policy)
    settings = settings_in_force()
    strength = strength_on(trials, lambda key: relation_of(key, catalogue), on, settings, told, looks_back=looks_back)
    if not strength.rests:
        raise Refused(
            tell("nothing that {name} has logged up to {day} tells of strength", name=lifter.name, day=on.isoformat()),
            tell("Log sets with a load and repetitions, and what was left in reserve"),
        )
    mass = float(BodyMass(log.check_ins, policy.assumed_body_mass_kg, is_as_known_then=True).on(on))
    shares = {key: float(catalogue[key[0]].body_mass_share) for key in strength.rests}
    is_assumed = not any(c.body_mass is not None and c.on <= on for c in log.check_ins)
    return _Known(lifter.name, strength, catalogue, lambda key: shares[key] * mass, is_assumed, voice.language)


def _keys(known: _Known, exercise: str) -> list[LineKey]:
    """The lines of an exercise, the one trained last at the end."""
    code = exercise_named(exercise, known.catalogue).code
    rests = known.strength.rests
    keys = sorted((key for key in rests if key[0] == code), key=lambda key: rests[key].latest)
    if not keys:
        raise Refused(
            tell("{name} has not trained {exercise} with a load and repetitions", name=known.lifter, exercise=exercise),
            tell("`steelyard strength` shows what was trained"),
        )
    return keys


def _line(known: _Known, key: LineKey) -> StrengthLine:
    strength = known.strength
    level, rests = level_of(strength.posterior, key), strength.rests[key]
    gain, low, high = gain_a_week(strength.posterior, key)
    return StrengthLine(
        exercise=key[0],
        name=known.catalogue[key[0]].name[known.language],
        implement=key[1],
        one_rm_kg=level.kg,
        low80_kg=level.low80_kg,
        high80_kg=level.high80_kg,
        low95_kg=level.low95_kg,
        high95_kg=level.high95_kg,
        body_mass_kg=known.body_mass(key),
        is_body_mass_assumed=known.is_body_mass_assumed and known.body_mass(key) > 0,
        gain_pct_per_week=100 * gain,
        gain_low_pct=100 * low,
        gain_high_pct=100 * high,
        sessions=rests.sessions,
        last_session=rests.latest.isoformat(),
        sets=rests.evidence,
        course=tuple(_point(r.on, r.level.kg, r.level.low80_kg, r.level.high80_kg) for r in strength.course[key]),
        back=tuple(_point(b.on, b.kg, b.low80_kg, b.high80_kg) for b in strength.back.get(key, ())),
    )


def _point(on: date, middle_kg: float, low_kg: float, high_kg: float) -> CoursePoint:
    return CoursePoint(date=on.isoformat(), one_rm_kg=middle_kg, low_kg=low_kg, high_kg=high_kg)


def _load_ahead(known: _Known, key: LineKey, repetitions: int) -> LoadAhead:
    def load_of(chance: float) -> float:
        """The heaviest load (added kg) at which the chance is at least so high."""
        low, high = 0.0, 2 * level_of(known.strength.posterior, key).high95_kg
        while high - low > 0.05:
            middle = (low + high) / 2
            is_likely = chance_to_complete(known.strength.posterior, key, middle, [repetitions]) >= chance
            low, high = (middle, high) if is_likely else (low, middle)
        return low - known.body_mass(key)

    return LoadAhead(repetitions=repetitions, even_kg=load_of(0.5), safe_kg=load_of(0.9))


def _level_ahead(known: _Known, key: LineKey, weeks: int) -> LevelAhead:
    level = level_of(known.strength.posterior, key, float(weeks))
    return LevelAhead(weeks=weeks, one_rm_kg=level.kg, low80_kg=level.low80_kg, high80_kg=level.high80_kg)


def _with_load(known: _Known, key: LineKey, asked: ForecastAsked, shown: ForecastShown) -> ForecastShown:
    if asked.load is None:
        return shown
    total = float(asked.load.magnitude) + known.body_mass(key)
    if total <= 0:
        raise Refused(tell("at such a load nothing is lifted"), tell("Say a load such as 80kg"))
    cdf = told_cdf(known.strength.posterior, key, [total], Telling())[0]
    fewest, likeliest, most = (int((cdf >= share).argmax()) for share in (0.1, 0.5, 0.9))
    chance = None
    if asked.repetitions is not None:
        line = [asked.repetitions + asked.reserve] * asked.sets
        chance = chance_to_complete(known.strength.posterior, key, total, line)
    return structs.replace(
        shown, load_kg=float(asked.load.magnitude), fewest=fewest, likeliest=likeliest, most=most, chance=chance
    )


def _with_goal(known: _Known, key: LineKey, asked: ForecastAsked, shown: ForecastShown) -> ForecastShown:
    if asked.goal is None:
        return shown
    goal = float(asked.goal.magnitude)
    total = goal + known.body_mass(key)
    if total <= 0:
        raise Refused(tell("a goal is more than nothing"), tell("Say a load such as 120kg"))
    found = goal_dates(known.strength.posterior, key, total, known.strength.on)
    earliest, middle, latest = (
        day.isoformat() if day is not None else None for day in (found.earliest, found.middle, found.latest)
    )
    return structs.replace(shown, goal_kg=goal, goal_earliest=earliest, goal_middle=middle, goal_latest=latest)
