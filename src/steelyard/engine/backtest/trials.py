"""A log as the ruler sees it: what each set tells of the repetitions that could have been done."""

from collections import Counter
from datetime import date
from decimal import Decimal
from math import floor
from typing import Literal

from msgspec import Struct

from steelyard.engine.exercises import Catalogue
from steelyard.engine.fold import LoggedSet, TrainingLog
from steelyard.engine.history import Exposure, LineKey, WorkSet, read_history
from steelyard.engine.log import SetBody
from steelyard.engine.policy import Policy

# Predictions are of 0 to 60 repetitions; a set of more counts as 60.
LONGEST = 60
# Hackett et al. 2017, J Strength Cond Res 31(8):2162-2168: about one repetition wrong with 0-5 left, more than two
# beyond. A reserve said to be larger only bounds what could have been done.
MOST_RESERVE = Decimal(5)

# to-failure: ended with nothing left. reserve: so many left, as the lifter said. missed: the last one was tried and
# failed. attempt: a single of a meet or a test, made or missed. bound: chosen, not possible; at least so many.
Evidence = Literal["to-failure", "reserve", "missed", "attempt", "bound"]
EVIDENCE: tuple[Evidence, ...] = ("to-failure", "reserve", "missed", "attempt", "bound")


class Trial(Struct, frozen=True):
    """One work set: load (total kg), its order in the session's sets of that exercise, repetitions done.

    Of the repetitions R that could have been done it tells the lesser of R and `told_up_to`, and that was `possible`:
    LONGEST for a set taken to its end, 1 for an attempt (made or not), what was done for one that was stopped before.
    """

    load_kg: float
    order: int
    reps: int
    possible: int
    told_up_to: int
    evidence: Evidence

    @property
    def is_ranked(self) -> bool:
        """Whether models are ranked on it; a bound says too little."""
        return self.evidence != "bound"

    @property
    def is_measure(self) -> bool:
        """Whether a 1RM can be estimated from it; of an attempt, that it was made."""
        return self.possible > 0 and (self.is_ranked or self.told_up_to == LONGEST)


class ExerciseEntry(Struct, frozen=True):
    """One exercise in one session."""

    key: LineKey
    trials: tuple[Trial, ...]


class TrialSession(Struct, frozen=True):
    """One session: its day, its number on that day, what was trained."""

    on: date
    number: int
    entries: tuple[ExerciseEntry, ...]


class LifterTrials(Struct, frozen=True):
    """Everything of one lifter that can be predicted, in order of time, and how many sets cannot by why."""

    name: str
    sessions: tuple[TrialSession, ...]
    passed_over: dict[str, int]


def read_trials(name: str, log: TrainingLog, catalogue: Catalogue, policy: Policy) -> LifterTrials:
    """The trials of a lifter; of a body mass only what was entered by the day of the session."""
    history = read_history(log, catalogue, policy, date.max, is_as_known_then=True)
    written = {logged.id: (place, logged) for place, logged in enumerate(log.sets)}
    passed_over: Counter[str] = Counter()
    entries: dict[tuple[date, int], list[ExerciseEntry]] = {}
    for key, exposures in history.lines.items():
        for exposure in exposures:
            trials = _trials(exposure, written, catalogue[key[0]].measure, passed_over)
            if trials:
                entries.setdefault((exposure.on, exposure.session), []).append(ExerciseEntry(key, trials))
    sessions = [
        TrialSession(on, number, tuple(sorted(entries[on, number], key=lambda e: e.key)))
        for on, number in sorted(entries)
    ]
    return LifterTrials(name, tuple(sessions), dict(passed_over))


def _trials(
    exposure: Exposure, written: dict[str, tuple[int, LoggedSet]], measure: str, passed_over: Counter[str]
) -> tuple[Trial, ...]:
    """The work sets in the order in which they were written down."""
    work = sorted(exposure.work, key=lambda w: written[w.id][0])
    sets = [(w, written[w.id][1].body) for w in work]
    why = [_why_not(w, body, measure) for w, body in sets]
    passed_over.update(w for w in why if w)
    kept = [pair for pair, not_so in zip(sets, why, strict=True) if not not_so]
    is_attempt = all(body.effort is None and (w.count == 0 or (w.count == 1 and not w.is_miss)) for w, body in kept)
    made = [body for w, body in kept if not w.is_miss]
    is_effort_said = bool(made) and all(_reserve(body) is not None for body in made)
    return tuple(
        _trial(w, body, order, is_attempt=is_attempt, is_effort_said=is_effort_said)
        for order, (w, body) in enumerate(kept, start=1)
    )


def _why_not(work: WorkSet, body: SetBody, measure: str) -> str:
    """Why a set says nothing of repetitions at a load; "" where it does."""
    if measure != "reps":
        return "not-repetitions"
    if work.is_mark:
        return "mark"
    if work.total <= 0:
        return "no-load"
    if body.reps is None:
        return "no-count"
    # Stopped for pain or technique before the first repetition: nothing of strength.
    return "" if work.count > 0 or work.is_miss else "nothing-done"


def _reserve(body: SetBody) -> Decimal | None:
    """The reserve that was said, as far as it can be trusted; half a repetition reads as the whole one below."""
    if body.missed is not None or body.effort is None or body.effort.rir > MOST_RESERVE:
        return None
    return body.effort.rir


def _trial(work: WorkSet, body: SetBody, order: int, *, is_attempt: bool, is_effort_said: bool) -> Trial:
    """What a set tells.

    Whether it is ranked must not depend on how it went, or a model would do best that expects what is ranked: so every
    single is an attempt, made or missed, where an exercise had only singles, and other misses are ranked only where
    every set that was made is ranked too.
    """
    reps = min(work.count, LONGEST)
    if is_attempt:
        return Trial(float(work.total), order, reps, reps, 1, "attempt")
    if work.is_miss:
        return Trial(float(work.total), order, reps, reps, LONGEST, "missed" if is_effort_said else "bound")
    said = _reserve(body)
    if said is None:
        return Trial(float(work.total), order, reps, reps, reps, "bound")
    possible = min(reps + floor(said), LONGEST)
    return Trial(float(work.total), order, reps, possible, LONGEST, "to-failure" if said == 0 else "reserve")
