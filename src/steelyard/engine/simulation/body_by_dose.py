"""The first simulated body: abilities that grow with hard sets, skill that grows with practice, fatigue that passes."""

from dataclasses import dataclass, replace
from datetime import date
from math import exp, sqrt

from numpy.random import Generator

from .exercises import SIDE_MARK, exercise_of
from .load_repetitions import broken_repetitions
from .person_by_dose import PersonByDose


@dataclass
class _Ability:
    """What changes in one ability."""

    ahead: float
    response: float
    sets_today: float = 0.0
    grown: float = 0.0
    lost: float = 0.0
    days_off: int = 0
    tired: float = 0.0
    worn: float = 0.0
    wear: float = 0.0
    wear_today: float = 0.0


@dataclass
class _Exercise:
    """What changes in one exercise, and what is fixed in it: its ability, 1RM (kg) before any training, endurance."""

    ability: _Ability
    before_kg: float
    learning: float
    endurance: float
    skill: float
    practised: float = 1.0  # what is left to learn after today, as a share of what was before
    drift: float = 0.0
    form: float = 0.0
    sets_today: int = 0
    noise: float = 0.0
    drawn: bool = False


# Growth of one ability in one session of one hard set, untrained (logarithm): fits Hammarstrom et al. 2020 (one set,
# about 31 sessions in 12 weeks). Three sets give 1.4 times as much: the same data. Falls with the square of what is
# left ahead: so does the yearly change of competition lifters (4.2, 2.4, 1.7 %).
GROWTH_PER_SESSION = 0.0038
MORE_SETS = 1.18
FIRST_PRACTICE = 0.095  # share of what is left to learn that a session teaches: +9 % after one session (Hammarstrom)
LATER_SETS = 0.15  # of it, for each further set of the session (our judgement)
DAY_FORM = 0.018  # SD shared by a session; with the exercises' own about 2 to 2.5 %: the data's scatter
EXERCISE_FORM = 0.010
REPETITION_NOISE = 0.35  # SD of one set (repetitions), what is left of the data's 1.06
LIFE_SD, LIFE_DAYS = 0.008, 40.0  # sleep, work, food: a slow sway (our judgement)
# How well the years go beside the training itself, a year: work, children, age. Our judgement, so that about a fifth of
# competition lifters fall behind in their second year (open results: 19 and 16 %).
PACE_SD, PACE_DAYS = 0.042, 500.0
DRIFT_SD, DRIFT_DAYS = 0.034, 250.0  # of an exercise against its ability (within-lifter bench/squat ratio SD 0.034)
# A layoff costs nothing for a week, about 3 % after three weeks (training log: -1.1 repetitions beyond 21 days, +0.5
# otherwise), 8 % after five and 16 % after ten. Our judgement: Garcia-Pallares et al. 2010 found -8.9 % in five weeks
# in kayakers of world class, Mujika & Padilla 2001 less in four.
MOST_LOST, HALF_LOST_DAYS, FREE_DAYS = 0.24, 36.0, 7
REGAINED_PER_SESSION = 0.18  # back within about five weeks of two sessions (Halonen et al. 2024)
# Fatigue (logarithm), our judgement: two minutes after a set to failure about a fifth of the repetitions are missing.
TIRED_PER_SET, TIRED_SECONDS, WORN_PER_SET = 0.09, 130.0, 0.006
WEAR_PER_SET, WEAR_DAYS = 0.0008, 9.0
# Body mass: a slow sway, strength with it (between lifters the exponent is 0.64 and 0.43; 0.6 is our judgement).
MASS_SD, MASS_DAYS, MASS_NOISE, WITH_MASS = 0.015, 150.0, 0.006, 0.6
SIDE_SD = 0.03  # between the two legs of a person (our judgement)
ENDURANCE_SD = 0.1  # of one exercise against the person's others (our judgement)
SIDE_RESPONSE_SD = 0.27  # two legs of one person gain alike: 0.86 to 0.89 (Hammarstrom et al. 2020)


class BodyByDose:
    """A body that grows by the dose of its hard sets; see `physiology`."""

    def __init__(self, person: PersonByDose, rng: Generator) -> None:
        self._person = person
        self._rng = rng
        self._on: date | None = None
        self._abilities: dict[str, _Ability] = {}
        self._exercises: dict[str, _Exercise] = {}
        self._form = 0.0
        self._life = rng.normal(0.0, LIFE_SD)
        self._pace = rng.normal(0.0, PACE_SD * person.gains)
        self._course = 0.0
        self._mass = rng.normal(0.0, MASS_SD)
        self._mass_today = self._mass
        self._ill = 0.0

    def begin_day(self, on: date) -> None:
        """Pass the time since the last day, and draw the form of this one."""
        days = 1 if self._on is None else (on - self._on).days
        if days < 0:
            raise ValueError(f"{on} is before {self._on}: days never go back")
        if days == 0:
            return
        self._on = on
        rng = self._rng
        self._form = rng.normal(0.0, DAY_FORM * self._person.unsteady)
        self._life = _sway(self._life, LIFE_SD, days / LIFE_DAYS, rng)
        self._pace = _sway(self._pace, PACE_SD * self._person.gains, days / PACE_DAYS, rng)
        self._course += self._pace * days / 365.0
        self._mass = _sway(self._mass, MASS_SD, days / MASS_DAYS, rng)
        self._mass_today = self._mass + rng.normal(0.0, MASS_NOISE)
        self._ill *= exp(-days / 7.0)
        for ability in self._abilities.values():
            self._pass_days(ability, days)
        for known in self._exercises.values():
            known.drift = _sway(known.drift, DRIFT_SD, days / DRIFT_DAYS, rng)
            known.form = rng.normal(0.0, EXERCISE_FORM * self._person.unsteady)
            known.sets_today = 0
            known.skill = 1.0 - (1.0 - known.skill) * known.practised
            known.practised = 1.0

    def one_rm_kg(self, exercise: str) -> float:
        """True 1RM (total load in kg) today, rested and without the day's form."""
        return self._level_kg(self._known(exercise))

    def body_mass_kg(self) -> float:
        """Body mass today (kg)."""
        return self._person.body_mass_kg * exp(self._mass_today)

    def possible(self, exercise: str, total_kg: float) -> int:
        """Repetitions to failure that this load allows now; the same until something is lifted."""
        known = self._known(exercise)
        if not known.drawn:
            known.noise = self._rng.normal(0.0, REPETITION_NOISE)
            known.drawn = True
        able_kg = self._level_kg(known) * exp(self._form + known.form - known.ability.tired - known.ability.worn)
        repetitions = broken_repetitions(total_kg / able_kg, known.endurance)
        return max(0, int(repetitions + known.noise * min(1.0, repetitions / 6.0)))

    def lift(self, exercise: str, total_kg: float, repetitions: int, to_failure: float, rest_interval_s: int) -> None:
        """Do a set that ended so many repetitions before failure, and rest: it tires today, and trains."""
        known = self._known(exercise)
        ability = known.ability
        share = total_kg / self._level_kg(known)
        hard = 1.0 / (1.0 + exp((to_failure - 5.0) / 1.2)) * min(1.0, max(0.1, (share - 0.2) / 0.4))
        self._grow(ability, hard)
        practice = FIRST_PRACTICE * self._person.learns * (LATER_SETS if known.sets_today else 1.0)
        known.practised *= max(0.0, 1.0 - practice)
        known.sets_today += 1
        known.drawn = False
        effort = exp(-0.25 * max(0.0, to_failure)) * (0.25 + min(repetitions, 15) / 13.0)
        ability.tired = (ability.tired + TIRED_PER_SET * effort) * exp(-rest_interval_s / TIRED_SECONDS)
        ability.worn += WORN_PER_SET * effort
        ability.wear_today += WEAR_PER_SET * effort

    def felt_reserve(self, exercise: str, done: int, possible: int) -> float:
        """The reserve (repetitions) that this person would report, wrong as people are."""
        left = max(0, possible - done)
        long = min(5, max(0, possible - 12))
        # Too low by 0.95 on average (Halperin et al. 2022), nearly right at 1 to 3 (Refalo et al. 2023: -0.17, SD 1.0),
        # by 2.05, 3.65 and 5.15 at felt 1, 3 and 5 in sets of sixteen (Zourdos et al. 2021).
        short = (0.1 + 0.13 * left + 0.09 * long * left) * self._person.feels_short
        felt = left - min(short, 0.8 * left + 0.2) + self._rng.normal(0.0, 0.4 + 0.2 * left)
        # Our judgement: an easy set is wrongly felt, but nobody takes it for the last one possible.
        return max(0.0, 0.3 * (left - 2.0), felt)

    def interrupt(self, what: str, days: int) -> None:
        """An event of life begins; an illness or an injury also weakens for some days after it."""
        self._ill += {"illness": 0.04, "injury": 0.06}.get(what, 0.0) * min(1.0, days / 7.0)  # our judgement

    def _pass_days(self, ability: _Ability, days: int) -> None:
        """Growth of the last session takes hold, fatigue passes, and a layoff costs."""
        ability.ahead = max(0.0, ability.ahead - ability.grown)
        ability.days_off = days if ability.sets_today else ability.days_off + days
        if ability.sets_today:
            ability.lost *= 1.0 - REGAINED_PER_SESSION
        ability.lost = max(ability.lost, _lost(ability.days_off))
        ability.wear = (ability.wear + ability.wear_today) * exp(-days / WEAR_DAYS)
        ability.grown = ability.sets_today = ability.tired = ability.worn = ability.wear_today = 0.0

    def _grow(self, ability: _Ability, hard: float) -> None:
        """What this set adds to the session's growth."""
        before, after = ability.sets_today, ability.sets_today + hard
        ability.sets_today = after
        part = (exp(-MORE_SETS * before) - exp(-MORE_SETS * after)) / (1.0 - exp(-MORE_SETS))
        ability.grown += GROWTH_PER_SESSION * part * ability.response * ability.ahead**2 / self._person.ceiling

    def _level_kg(self, known: _Exercise) -> float:
        """True 1RM (total load in kg) of an exercise today."""
        ability = known.ability
        grown = self._person.ceiling * (1.0 - ability.ahead)
        sways = self._life + self._course + WITH_MASS * self._mass + known.drift
        down = ability.lost + ability.wear + self._ill
        return known.before_kg * exp(grown + known.learning * known.skill + sways - down)

    def _known(self, exercise: str) -> _Exercise:
        """The exercise, which begins when it is first asked for; one side begins beside the whole."""
        known = self._exercises.get(exercise)
        if known is None:
            code, _, side = exercise.partition(SIDE_MARK)
            known = self._exercises[exercise] = self._side(code, side) if side else self._whole(code)
        return known

    def _whole(self, code: str) -> _Exercise:
        rng, about, person = self._rng, exercise_of(code), self._person
        offset = rng.normal(0.0, about.spread)
        return _Exercise(
            ability=self._ability(about.ability, ""),
            before_kg=person.main_lift_kg[about.ability] * about.ratio * exp(offset),
            learning=about.learning,
            endurance=about.endurance * person.steepness * exp(rng.normal(0.0, ENDURANCE_SD)),
            skill=person.skill,
            drift=rng.normal(0.0, DRIFT_SD),
            form=rng.normal(0.0, EXERCISE_FORM),
        )

    def _side(self, code: str, side: str) -> _Exercise:
        whole, rng = self._known(code), self._rng
        return replace(
            whole,
            ability=self._ability(exercise_of(code).ability, side),
            before_kg=whole.before_kg * exp(rng.normal(0.0, SIDE_SD)),
            drift=rng.normal(0.0, DRIFT_SD),
            form=rng.normal(0.0, EXERCISE_FORM),
        )

    def _ability(self, name: str, side: str) -> _Ability:
        key = f"{name}{SIDE_MARK}{side}"
        if key not in self._abilities:
            apart = self._rng.normal(0.0, SIDE_RESPONSE_SD) if side else 0.0
            self._abilities[key] = _Ability(self._person.untouched[name], self._person.response[name] * exp(apart))
        return self._abilities[key]


def _sway(value: float, sd: float, times: float, rng: Generator) -> float:
    """An Ornstein-Uhlenbeck step over so many time constants."""
    keep = exp(-times)
    return value * keep + sd * sqrt(1.0 - keep * keep) * rng.normal()


def _lost(days_off: int) -> float:
    """What so many days without training cost (logarithm)."""
    beyond = max(0, days_off - FREE_DAYS)
    return MOST_LOST * beyond**2 / (beyond**2 + HALF_LOST_DAYS**2)
