"""The second simulated body: strength walks at random, with a drift that dies out with the log of training time.

It answers as the first body does and shares no equation with it. There are no muscles or patterns here: a person gains,
loses and has good days as a whole, and each lift goes a little way of its own.
"""

from datetime import date
from math import exp, inf, log1p, sqrt

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from steelyard.engine.simulation.person_by_drift import PersonByDrift

FloatArray = NDArray[np.float64]

# --- growth and layoffs ---
LASTS_DAYS = 4.0  # what a session sets off goes on for so long; our judgement
EARLY_WEEKS = 2.0  # from about here on training time counts by its log; our judgement, with the figures below
SHARED = 0.3  # share of the drift that any training gives to every lift; our judgement
# Three sets against one, and getting used to a lift: leg press +9 % after one session, +30 / 44 / 53 / 57 % at weeks 2,
# 5, 9, 12 with one set, +34 / 49 / 61 / 65 % with three (Hammarstrom et al. 2020, J Physiol 598:543-565).
DOSE_POWER = 0.58
LEARNT = 0.165  # ln that getting used to a lift gives in all
LEARNT_HALF = 6.5  # sessions after which half of it is there
KEPT_DAYS = 10.0  # nothing is lost in these: a load's repetitions hold from 3 to 12 days off (public training log)
# Then strength nears its floor: 6 % in 5 weeks lies between the 9 % that kayakers lost (García-Pallarés et al. 2010)
# and the little of most others (Mujika and Padilla 2001).
FORGETS_DAYS = 60.0
REGAINS_DAYS = 14.0  # what ten weeks took was back in five (Halonen et al. 2024)
SETBACK = {"illness": 0.2, "travel": 0.0, "life": 0.0, "injury": 0.4}  # share of the floor at once; our judgement

# --- one day and one set ---
FORM_DAILY = 0.5  # correlation of the form of one day and the next; our judgement
# Repetitions = 1 + REACH ((1 - p) / 0.3) ** roundness * 0.3 / (p + BREADTH) at p of the 1RM: within the intervals of
# the means at 65-90 % in Nuzzo et al. 2024 (Sports Med 54:303-321) once the part of a repetition is taken off.
REACH, BREADTH, ROUND_AT = 128.0, 2.0, 0.3
SCATTER = 0.063  # share of the repetitions after the first, times Student's t: 0.7-1.1 (Mitter et al. 2022)
SCATTER_FREEDOM = 4
SCATTER_MOST = 5.0  # no set is further off than so many times SCATTER; our judgement
FULL_SET = 5  # repetitions from which a set counts in full as training; our judgement
WEAR = 0.17  # share of strength gone right after ten repetitions to failure; our judgement
WEAR_NEAR = 2.0  # half of it, so many repetitions before failure; our judgement
# What is gone halves in so many seconds, then slower: of ten or twelve repetitions a minute's rest costs about four,
# three minutes' about two; from memory of trials of rest intervals.
RECOVERS_S = 60.0
SPILLS = 0.2  # the part that every other lift feels; our judgement
CARRIES = 0.05  # the part left for the days after; our judgement, so that nothing shows from the third day
MOST_TIRED = 0.6  # share of strength that can be gone; our judgement

# --- reserve and body mass ---
FELT = 0.70  # felt share of the true reserve: 0.95 too low on average (Halperin et al. 2022), at three or four left
FELT_SD = 0.25  # of its ln, set by set: SD 2.9 with ten left (Zourdos et al. 2021)
LONG_SET = 12  # repetitions; longer sets are felt worse (Halperin et al. 2022)
LONG_BLUR = 0.1  # by so much a repetition: half the reserve is felt in sets of 16 (Zourdos et al. 2021)
MASS_SD, MASS_DAYS = 0.02, 200.0  # body mass wanders by so much (ln) over so many days; our judgement
MASS_DAY_SD = 0.005  # and by so much from day to day; our judgement


class BodyByDrift:
    """A body of one person; it draws from the generator it was made with. Asking changes nothing but what is felt."""

    def __init__(self, person: PersonByDrift, rng: Generator) -> None:
        many = len(person.lifts)
        self._person = person
        self._rng = rng
        self._index = {lift.exercise: i for i, lift in enumerate(person.lifts)}
        self._clock = np.full(many, person.clock_weeks)  # weeks of training by lift, and of any lift
        self._shared_clock = person.clock_weeks
        self._sessions = np.full(many, person.kind.sessions)
        self._walk = np.zeros(many)  # ln, by lift and of the person
        self._shared_walk = 0.0
        self._hard_sets = np.zeros(many)  # of the lift's last session
        self._since = np.full(many, inf)  # days since the lift's last session
        self._off_days = -inf  # days since any session; who never trained has nothing to lose
        self._idle_days = 0  # announced days on which nobody trains unseen either
        self._lost = 0.0  # ln, by layoffs and events
        self._form = 0.0  # ln, of this day and of each lift on it
        self._lift_form = np.zeros(many)
        self._wear = np.zeros(many)  # share of strength that is gone now, by lift
        self._today = 0.0  # all wear of today's sets
        self._carried = 0.0
        self._slow_mass = self._day_mass = 0.0  # ln
        self._scatter = 0.0
        self._on: date | None = None

    def begin_day(self, on: date) -> None:
        """Pass the time since the last day, and draw the form of this one; days never go back (ValueError)."""
        days = 0 if self._on is None else (on - self._on).days
        if days < 0:
            raise ValueError(f"{on} is before {self._on}")
        if days > 0 or self._on is None:
            self._train(days)
            self._draw_day(days)
            self._carried = (self._carried + CARRIES * self._today) / (1 + days) ** 2
            self._today = 0.0
            self._wear[:] = 0.0
            self._on = on

    def one_rm_kg(self, exercise: str) -> float:
        """True 1RM (total load in kg) today, rested and without the day's form; KeyError for an unknown exercise."""
        i = self._index[exercise]
        person = self._person
        begun = _late(person.clock_weeks)
        drift = SHARED * (_late(self._shared_clock) - begun) + (1 - SHARED) * (_late(float(self._clock[i])) - begun)
        learnt = LEARNT * (_used_to(int(self._sessions[i])) - _used_to(person.kind.sessions))
        walked = self._shared_walk + float(self._walk[i])
        lift = person.lifts[i]
        return lift.one_rm_kg * exp(person.drift * lift.gain * drift + learnt + walked - self._lost)

    def body_mass_kg(self) -> float:
        """Body mass today (kg)."""
        return self._person.mass_kg * exp(self._slow_mass + self._day_mass)

    def possible(self, exercise: str, total_kg: float) -> int:
        """Repetitions to failure that this load allows now, after what was done today; 0 is a miss."""
        i = self._index[exercise]
        own = float(self._wear[i])
        tired = min(own + SPILLS * (float(self._wear.sum()) - own) + self._carried, MOST_TIRED)
        today_kg = self.one_rm_kg(exercise) * exp(self._form + float(self._lift_form[i])) * (1 - tired)
        share = max(total_kg, 0.0) / today_kg
        if share > 1:
            return 0
        rounded = ROUND_AT * ((1 - share) / ROUND_AT) ** self._person.roundness
        further = REACH * self._person.stamina * self._person.lifts[i].stamina * rounded / (share + BREADTH)
        return 1 + int(further * exp(SCATTER * self._person.unsteady * self._scatter))

    def lift(self, exercise: str, total_kg: float, repetitions: int, to_failure: float, rest_interval_s: int) -> None:
        """Do a set that ended so many repetitions before failure, and rest: it tires today, and trains."""
        i = self._index[exercise]
        near = 1 / (1 + max(to_failure, 0.0) / WEAR_NEAR)
        hit = WEAR * near * sqrt(max(repetitions, 1) / 10)
        self._wear[i] += hit
        self._wear /= 1 + rest_interval_s / RECOVERS_S
        self._today += hit
        if self._since[i] > 0:
            self._since[i] = 0.0
            self._hard_sets[i] = 0.0
            self._sessions[i] += 1
        self._hard_sets[i] += near * min(repetitions / FULL_SET, 1.0)
        self._off_days = 0.0
        self._draw_scatter()

    def felt_reserve(self, exercise: str, done: int, possible: int) -> float:
        """The reserve (repetitions) that this person would report, wrong as people are."""
        del exercise  # what is felt differs between people and lengths of a set here, not between lifts
        blur = 1 + LONG_BLUR * max(possible - LONG_SET, 0)
        share = FELT / blur * self._person.feel * exp(FELT_SD * self._rng.standard_normal())
        return max(possible - done, 0) * share

    def interrupt(self, what: str, days: int) -> None:
        """An event of SETBACK begins (KeyError for another); the days without training follow by themselves."""
        self._idle_days += days
        self._lost += SETBACK[what] * max(self._person.floor - self._lost, 0.0)

    def _train(self, days: int) -> None:
        """Let what was trained take effect over these days, and forget what was not."""
        if self._person.kind.unseen:
            idle = min(days, self._idle_days)
            self._forget(0, idle)
            self._gain_by(np.full(len(self._clock), float(days - idle)), float(days - idle))
        else:
            lasted = np.clip(LASTS_DAYS - self._since, 0, days)
            self._since += days
            self._gain_by(lasted * self._hard_sets**DOSE_POWER, float(lasted.max()))
            self._forget(self._off_days, days)
            self._off_days += days
        self._idle_days = max(self._idle_days - days, 0)

    def _gain_by(self, lift_days: FloatArray, shared_days: float) -> None:
        """Move each lift's clock and the shared one; strength walks by the root of the log of time, and regains."""
        kind = self._person.kind
        before = np.log1p(self._clock / EARLY_WEEKS)
        self._clock += lift_days / 7
        steps = self._rng.standard_normal(len(before) + 1)
        self._walk += kind.lift_walk_sd * np.sqrt(np.log1p(self._clock / EARLY_WEEKS) - before) * steps[1:]
        passed = _late(self._shared_clock + shared_days / 7) - _late(self._shared_clock)
        self._shared_walk += kind.walk_sd * sqrt(passed) * float(steps[0])
        self._shared_clock += shared_days / 7
        self._lost *= exp(-shared_days / REGAINS_DAYS)

    def _forget(self, off_days: float, days: int) -> None:
        """Fall towards the floor for as many of these days as come after those that cost nothing."""
        forgotten = max(off_days + days - KEPT_DAYS, 0.0) - max(off_days - KEPT_DAYS, 0.0)
        floor_ = self._person.floor
        self._lost = floor_ - (floor_ - self._lost) * exp(-forgotten / FORGETS_DAYS)

    def _draw_day(self, days: int) -> None:
        """Form goes with the day before, the more the closer they are; body mass wanders around the person's own."""
        kind = self._person.kind
        draws = self._rng.standard_normal(len(self._lift_form) + 3)
        stays = FORM_DAILY**days if self._on is not None else 0.0
        new = sqrt(1 - stays * stays) * self._person.unsteady
        self._form = stays * self._form + new * kind.form_sd * float(draws[0])
        self._lift_form = stays * self._lift_form + new * kind.lift_form_sd * draws[3:]
        stays = exp(-days / MASS_DAYS) if self._on is not None else 0.0
        self._slow_mass = stays * self._slow_mass + sqrt(1 - stays * stays) * MASS_SD * float(draws[1])
        self._day_mass = MASS_DAY_SD * float(draws[2])
        self._draw_scatter()

    def _draw_scatter(self) -> None:
        """The chance of the next set: now and then far off, as a set of a log is."""
        drawn = float(self._rng.standard_t(SCATTER_FREEDOM))
        self._scatter = min(max(drawn, -SCATTER_MOST), SCATTER_MOST)


def _late(weeks: float) -> float:
    """Training time as the drift and the walk count it: the longer it has been, the slower it goes."""
    return log1p(weeks / EARLY_WEEKS)


def _used_to(sessions: int) -> float:
    """Share of the getting used to a lift that so many sessions of it have brought: slow, quick, slow."""
    return sessions**2 / (sessions**2 + LEARNT_HALF**2)
