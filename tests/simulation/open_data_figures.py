"""The figures of the open data, measured on logs as they were measured on the data.

Every function is pure over what a log holds; none looks at the simulated truth, and none knows how a log was made.
Where the data's own description leaves the measure open, the reading taken is said beside it.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from itertools import pairwise
from math import log, sqrt
from typing import NamedTuple, TypeVar

import numpy as np

from steelyard.engine.log import CheckInBody, SetBody
from steelyard.engine.simulation.values import Simulated

FEWEST_SESSIONS = 10  # the data's runs were counted in series of ten or more sessions; lines are drawn in the same
FEWEST_MEETS = 6  # a curve of three constants and three meets more; the data's own bound is not known
DAYS_IN_YEAR = 365
Figures = dict[str, float]
Person = TypeVar("Person")


class Trial(NamedTuple):
    """The set of one session in one exercise."""

    on: date
    load_kg: float
    reps: int

    @property
    def one_rm_kg(self) -> float:
        """The 1RM (kg) by load x (1 + repetitions / 30); Epley's form, from memory."""
        return self.load_kg * (1 + self.reps / 30)


Series = tuple[Trial, ...]


def series_of(sets: Iterable[SetBody]) -> list[Series]:
    """By exercise, the first working set of each session in order of time, where it has a load and repetitions."""
    found: dict[str, dict[tuple[date, int], Trial]] = defaultdict(dict)
    for done in sets:
        if done.load is None or not done.reps or done.kind in ("warm-up", "ramp"):
            continue
        trial = Trial(done.on, float(done.load.magnitude), done.reps)
        found[done.exercise].setdefault((done.on, done.session), trial)
    return [tuple(trials[when] for when in sorted(trials)) for trials in found.values()]


def same_load_changes(series: Iterable[Series]) -> list[tuple[int, int]]:
    """Of two sessions that follow each other at the same load: days between, and the change of repetitions."""
    return [
        ((after.on - before.on).days, after.reps - before.reps)
        for trials in series
        for before, after in pairwise(trials)
        if after.load_kg == before.load_kg
    ]


def load_rises(series: Iterable[Series]) -> list[float]:
    """Each rise of load from one session to the next, as a share of the load before."""
    return [
        after.load_kg / before.load_kg - 1
        for trials in series
        for before, after in pairwise(trials)
        if after.load_kg > before.load_kg > 0
    ]


def line(trials: Series) -> tuple[float, float]:
    """Of the straight line through ln 1RM over time: its rise a week, and the scatter around it (divided by n - 2)."""
    weeks = [(t.on - trials[0].on).days / 7 for t in trials]
    return _scatter_around(weeks, [log(t.one_rm_kg) for t in trials], degree=1)


def longest_without_best(trials: Series) -> int:
    """The longest run of sessions one after the other whose 1RM did not pass the best before them."""
    best, run, longest = 0.0, 0, 0
    for trial in trials:
        if trial.one_rm_kg > best:
            best, run = trial.one_rm_kg, 0
        else:
            run += 1
            longest = max(longest, run)
    return longest


def training_figures(lifters: Iterable[Simulated]) -> Figures:
    """Noise and progress of sets to failure, in repetitions and per cent, over all series of all lifters."""
    return figures_of_series([series_of(lifter.sets) for lifter in lifters])


def figures_of_series(by_lifter: Iterable[Sequence[Series]]) -> Figures:
    """The same from the series of each lifter."""
    series = [trials for of_lifter in by_lifter for trials in of_lifter]
    repeats = same_load_changes(series)
    changes = [change for _, change in repeats]
    rises = [100 * rise for rise in load_rises(series)]
    long = [trials for trials in series if len(trials) >= FEWEST_SESSIONS]
    gains, scatters = zip(*(line(trials) for trials in long), strict=True)
    runs = np.array([longest_without_best(trials) for trials in long])
    days_off = {
        f"change after {least}-{most} days": _mean([c for days, c in repeats if least <= days < most])
        for least, most in ((3, 7), (7, 12), (12, 21))
    }
    return {
        "repetitions uncertain": _deviation(changes) / sqrt(2),
        **_spread("scatter", [100 * s for s in scatters]),
        **_spread("gain a week", [100 * g for g in gains]),
        "upward": 100 * _mean([g > 0 for g in gains]),
        "runs of four": 100 * float((runs >= 4).mean()),
        "runs of six": 100 * float((runs >= 6).mean()),
        **_spread("load rise", rises),
        "load rise 90th": float(np.percentile(rises, 90)) if rises else np.nan,
        "same-load change": _mean(changes),
        "same-load change SD": _deviation(changes),
        **days_off,
        "flat to 12 days": days_off["change after 7-12 days"] - days_off["change after 3-7 days"],
        "change beyond 21 days": _mean([c for days, c in repeats if days >= 21]),
        "same-load repeats": len(repeats),
    }


class Legs(NamedTuple):
    """One beginner's tested 1RM (kg) by training week, one leg trained with one set, the other with three.

    Week 0 is the test before any training; `after_one_kg` the same tests after a single session.
    """

    one_set_kg: dict[int, float]
    three_sets_kg: dict[int, float]
    after_one_kg: tuple[float, float]


def beginner_figures(people: Sequence[Legs]) -> Figures:
    """Mean gains (per cent of the first test) by week and sets and of one session, and how the legs' gains agree."""
    weeks = [week for week in people[0].one_set_kg if week]
    one = {week: [100 * (p.one_set_kg[week] / p.one_set_kg[0] - 1) for p in people] for week in weeks}
    three = {week: [100 * (p.three_sets_kg[week] / p.three_sets_kg[0] - 1) for p in people] for week in weeks}
    after_one = [
        100 * (now / first - 1)
        for p in people
        for first, now in zip((p.one_set_kg[0], p.three_sets_kg[0]), p.after_one_kg, strict=True)
    ]
    last = weeks[-1]
    return {
        **{f"one set, week {week}": _mean(one[week]) for week in weeks},
        **{f"three sets, week {week}": _mean(three[week]) for week in weeks},
        "after one session": _mean(after_one),
        "legs agree": float(np.corrcoef(one[last], three[last])[0, 1]),
    }


class Meet(NamedTuple):
    """The best good attempt of each lift (kg) at one meet, and the body mass there (kg; nan if never said)."""

    on: date
    squat_kg: float
    bench_kg: float
    deadlift_kg: float
    body_mass_kg: float

    @property
    def total_kg(self) -> float:
        """The sum that is ranked (kg)."""
        return self.squat_kg + self.bench_kg + self.deadlift_kg


SQUAT, BENCH, DEADLIFT = "squat", "bench-press", "deadlift"


def meets_of(lifter: Simulated) -> list[Meet]:
    """The meets with a total, in order of time; a lift without a good attempt gives none."""
    best: dict[date, dict[str, float]] = defaultdict(dict)
    for attempt in lifter.sets:
        if attempt.load is not None and attempt.reps and attempt.missed is None:
            lifts = best[attempt.on]
            lifts[attempt.exercise] = max(lifts.get(attempt.exercise, 0.0), float(attempt.load.magnitude))
    return [
        Meet(on, lifts[SQUAT], lifts[BENCH], lifts[DEADLIFT], _body_mass_kg(lifter.check_ins, on))
        for on, lifts in sorted(best.items())
        if {SQUAT, BENCH, DEADLIFT} <= lifts.keys()
    ]


def yearly_changes(meets: Sequence[Meet], year: int) -> float | None:
    """Change (per cent) of the best total from this year of competing (0 the first) to the next, if both have one."""
    totals: dict[int, float] = defaultdict(float)
    for meet in meets:
        competing = (meet.on - meets[0].on).days // DAYS_IN_YEAR
        totals[competing] = max(totals[competing], meet.total_kg)
    return 100 * (totals[year + 1] / totals[year] - 1) if year in totals and year + 1 in totals else None


def meet_figures(lifters: Iterable[Simulated]) -> Figures:
    """Of lifters (one sex) with two meets or more: yearly change, ratios, scatter around own curves, exponents."""
    return figures_of_meets([meets_of(lifter) for lifter in lifters])


def figures_of_meets(by_lifter: Iterable[Sequence[Meet]]) -> Figures:
    """The same from the meets of each lifter."""
    competing = [meets for meets in by_lifter if len(meets) >= 2]
    changes = [[c for m in competing if (c := yearly_changes(m, year)) is not None] for year in range(3)]
    bests = [max(meets, key=lambda meet: meet.total_kg) for meets in competing]
    bench = [m.bench_kg / m.squat_kg for m in bests]
    deadlift = [m.deadlift_kg / m.squat_kg for m in bests]
    long = [meets for meets in competing if len(meets) >= FEWEST_MEETS]
    below, above = _exponents_by_half(bests)
    return {
        **{f"change to year {year + 2}": _median(changes[year]) for year in range(3)},
        "down in year 2": 100 * _mean([c < 0 for c in changes[0]]),
        "bench/squat": _mean(bench),
        "bench/squat SD": _deviation(bench),
        "deadlift/squat": _mean(deadlift),
        "deadlift/squat SD": _deviation(deadlift),
        "bench/squat within": _within([[m.bench_kg / m.squat_kg for m in meets] for meets in long]),
        "squat scatter": _median([_around_curve(meets, lambda m: m.squat_kg) for meets in long]),
        "bench scatter": _median([_around_curve(meets, lambda m: m.bench_kg) for meets in long]),
        "deadlift scatter": _median([_around_curve(meets, lambda m: m.deadlift_kg) for meets in long]),
        "total scatter": _median([_around_curve(meets, lambda m: m.total_kg) for meets in long]),
        "exponent": _exponent(bests),
        "exponent bend": below - above,
        "lifters": len(competing),
        "lifters with a curve": len(long),
    }


def sampling_errors(
    figures: Callable[[Sequence[Person]], Figures], people: Sequence[Person], groups: int = 12
) -> Figures:
    """The standard error of each figure, from how it moves when one of these groups of people is left out.

    Delete-a-group jackknife: the root of (groups - 1) / groups times the squares around the mean, from memory.
    """
    without = [figures([p for k, p in enumerate(people) if k % groups != left_out]) for left_out in range(groups)]
    return {name: (groups - 1) / sqrt(groups) * _deviation([of[name] for of in without]) for name in without[0]}


def _scatter_around(times: Sequence[float], logs: Sequence[float], degree: int) -> tuple[float, float]:
    """The slope in the middle of the time, and the root of the squared rest over (n - constants)."""
    middle = float(np.mean(times))
    design = np.vander(np.array(times) - middle, degree + 1, increasing=True)
    values = np.array(logs)
    constants = np.linalg.lstsq(design, values)[0]
    rest = values - design @ constants
    return float(constants[1]), sqrt(float(rest @ rest) / (len(values) - degree - 1))


def _around_curve(meets: Sequence[Meet], lift: Callable[[Meet], float]) -> float:
    """Scatter (per cent) around the lifter's own parabola of ln kg over years: the reading taken of a smooth curve."""
    years = [(m.on - meets[0].on).days / DAYS_IN_YEAR for m in meets]
    return 100 * _scatter_around(years, [log(lift(m)) for m in meets], degree=2)[1]


def _within(ratios: Sequence[Sequence[float]]) -> float:
    """The SD within a lifter: the root of the lifters' mean variance."""
    return sqrt(_mean([float(np.var(of, ddof=1)) for of in ratios])) if ratios else np.nan


def _exponent(bests: Sequence[Meet]) -> float:
    """The slope of ln total on ln body mass."""
    known = [m for m in bests if m.body_mass_kg > 0]
    masses = [log(m.body_mass_kg) for m in known]
    return float(np.polyfit(masses, [log(m.total_kg) for m in known], 1)[0]) if len(known) > 2 else np.nan


def _exponents_by_half(bests: Sequence[Meet]) -> tuple[float, float]:
    """The same slope among the lifters below the median body mass, and among the others."""
    median = _median([m.body_mass_kg for m in bests])
    return (
        _exponent([m for m in bests if m.body_mass_kg < median]),
        _exponent([m for m in bests if m.body_mass_kg >= median]),
    )


def _body_mass_kg(check_ins: Iterable[CheckInBody], on: date) -> float:
    """The last body mass said up to this day."""
    said = [(c.on, float(c.body_mass.magnitude)) for c in check_ins if c.body_mass is not None and c.on <= on]
    return max(said)[1] if said else np.nan


def _spread(name: str, values: Sequence[float]) -> Figures:
    lower, median, upper = np.percentile(values, [25, 50, 75]) if values else [np.nan] * 3
    return {name: float(median), f"{name} 25th": float(lower), f"{name} 75th": float(upper)}


def _mean(values: Sequence[float]) -> float:
    return float(np.mean(values)) if values else np.nan


def _median(values: Sequence[float]) -> float:
    return float(np.median(values)) if values else np.nan


def _deviation(values: Sequence[float]) -> float:
    return float(np.std(values, ddof=1)) if len(values) > 1 else np.nan
