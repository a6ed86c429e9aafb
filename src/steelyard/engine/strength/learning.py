"""What a session tells of strength: each set as a likelihood along one direction of the state."""

from collections.abc import Sequence
from math import log, sqrt
from statistics import median_low

import numpy as np
from msgspec import Struct

from steelyard.engine.backtest.sessions import attempts_level
from steelyard.engine.backtest.strengths import ln_one_rm
from steelyard.engine.backtest.trials import LONGEST, ExerciseEntry, Trial, TrialSession
from steelyard.engine.curve import Curve

from .posterior import (
    BIAS,
    DAY,
    ENTRY,
    HABIT,
    LEVELS,
    STEEPNESS,
    STEEPNESS_LEAST,
    STEEPNESS_MOST,
    TIRING,
    Posterior,
)
from .relations import LineKey
from .updates import at_least, measured, one_sided

# Where the level of an exercise is known to about this share (ln), the curve is read half-way between what was expected
# and what was done.
KNOWN = 0.15
# A reserve that is told by most; what is said beyond or below it counts by `reserve_slope` more or less.
USUAL_RESERVE = 2.0
FEWEST, MOST = 0.5, 45.0
# Of the middle between made and missed attempts, beside how far they lie apart (our judgement).
ATTEMPT_NOISE = 0.015
# A made single lifts a whole repetition: its noise (ln) is that of the load alone (our judgement).
SINGLE_NOISE = 0.012
# Work sets of one session differ by less than this (ln), a slip of the pen by more; of two nobody knows which it is.
ALIKE, LEAST_ALIKE = 0.5, 3


class Aim(Struct, frozen=True):
    """A weighted sum of places in the state, and the value (ln kg) that a set says it has, with its noise."""

    places: list[int]
    weights: list[float]
    target: float
    spread: float


def learn_session(posterior: Posterior, session: TrialSession) -> None:
    """See a session; its sets in a fixed order, whatever order they were written in."""
    posterior.pass_time(session.on.toordinal())
    for entry in session.entries:
        posterior.begin_entry(entry.key)
        if all(trial.evidence == "attempt" for trial in entry.trials):
            _learn_attempts(posterior, entry)
        else:
            posterior.is_unseen = False
            for trial in telling(entry):
                learn_set(posterior, entry.key, trial)
        posterior.end_entry(entry.key)
    posterior.end_session(session.on.toordinal())


def _learn_attempts(posterior: Posterior, entry: ExerciseEntry) -> None:
    """Singles of a meet or a test, which are chosen near what is possible: one value for all of them."""
    level = attempts_level(entry)
    places, weights = direction(posterior, entry.key, 1)
    spread = sqrt(ATTEMPT_NOISE**2 + level.spread**2)
    measured(posterior, entry.key, places, weights, level.middle, spread)


def telling(entry: ExerciseEntry) -> list[Trial]:
    """The sets that tell something, in a fixed order.

    Sets that were stopped were stopped for the same reason, so that the best of them tells as much as all. A set far
    from the others of its session is a slip of the pen.
    """
    sets = _alike(entry.trials)
    told = [t for t in sets if t.evidence != "bound" or t.told_up_to == LONGEST]
    stopped = [t for t in sets if t.evidence == "bound" and t.told_up_to < LONGEST and t.possible > 0]
    best = max(stopped, key=lambda t: (_plain(t), -t.order), default=None)
    return [*sorted(told, key=_canonical), *([best] if best is not None else [])]


def _alike(trials: Sequence[Trial]) -> list[Trial]:
    """Of three sets or more those near the middle one's load; the others are slips."""
    if len(trials) < LEAST_ALIKE:
        return list(trials)
    middle = log(median_low(t.load_kg for t in trials))
    return [t for t in trials if abs(log(t.load_kg) - middle) <= ALIKE]


def _plain(trial: Trial) -> float:
    return ln_one_rm(trial.load_kg, trial.possible, "epley")


def _canonical(trial: Trial) -> tuple[int, float, int, int]:
    rank = {"to-failure": 0, "missed": 0, "bound": 0, "reserve": 1, "attempt": 2}[trial.evidence]
    return rank, trial.load_kg, trial.order, trial.reps


def direction(posterior: Posterior, key: LineKey, order: int) -> tuple[list[int], list[float]]:
    """Places and weights of today's ln 1RM in a set of that order."""
    place = posterior.place_of(key)
    loadings = posterior.relations[key].loadings
    places = [p for p, weight in zip(LEVELS, loadings, strict=True) if weight]
    weights = [weight for weight in loadings if weight]
    return [*places, place, DAY, ENTRY, TIRING], [*weights, 1.0, 1.0, 1.0, float(order - 1)]


def learn_set(posterior: Posterior, key: LineKey, trial: Trial) -> None:
    """One set."""
    if trial.evidence == "attempt" or trial.possible == 0:
        places, weights = direction(posterior, key, trial.order)
        side = 1.0 if trial.possible else -1.0
        one_sided(posterior, places, weights, log(trial.load_kg), side, SINGLE_NOISE)
        return
    aim = _aim(posterior, key, trial)
    tell = at_least if trial.evidence == "bound" and trial.told_up_to < LONGEST else measured
    tell(posterior, key, aim.places, aim.weights, aim.target, aim.spread)


def _aim(posterior: Posterior, key: LineKey, trial: Trial) -> Aim:
    """Where a set of some repetitions says that strength and steepness lie."""
    places, weights = direction(posterior, key, trial.order)
    s, curve = posterior.settings, posterior.relations[key].curve
    own, done = posterior.place_of(key) + 1, trial.possible + 0.5
    steepness = _steepness(posterior, own)
    read_at = _read_at(posterior, curve, (places, weights), own, log(trial.load_kg), steepness, done)
    ratio, slope = curve.ratio(read_at), steepness * curve.slope(read_at)
    places, weights = [*places, STEEPNESS, own], [*weights, -ratio, -ratio]
    posterior.note_reading(key, curve.ratio(done))
    target = log(trial.load_kg) + steepness * (curve.ratio(done) - ratio)
    variance = (s.set_noise + s.set_noise_longer * done) ** 2 + 1 / 12
    if trial.evidence == "reserve":
        reserve = float(trial.possible - trial.reps)
        # The lifter's bias is one number for all reserves. Were it to grow with them, it would be read off how reserves
        # vary from set to set, and that is mostly noise: who says four has often misjudged upwards.
        places, weights = [*places, BIAS], [*weights, -slope]
        target += slope * s.reserve_slope * (reserve - USUAL_RESERVE)
        variance += (s.reserve_noise + s.reserve_noise_further * reserve) ** 2
    elif trial.evidence == "bound" and trial.told_up_to < LONGEST:
        places, weights = [*places, HABIT], [*weights, -slope]
        variance += s.habit_noise**2
    return Aim(places, weights, target, slope * sqrt(variance))


def _steepness(posterior: Posterior, own: int) -> float:
    believed = float(posterior.weights @ (posterior.means[:, STEEPNESS] + posterior.means[:, own]))
    return min(max(believed, STEEPNESS_LEAST), STEEPNESS_MOST)


def _read_at(
    posterior: Posterior,
    curve: Curve,
    level: tuple[list[int], list[float]],
    own: int,
    load: float,
    steepness: float,
    done: float,
) -> float:
    """The repetitions at which the curve is read.

    Near what was expected of somebody well known, near what was done by somebody new. Were it always read at what was
    done, the noise of that count would pass for steepness: everybody would come out flatter than they are.
    """
    places, weights = level
    believed = posterior.weights
    expected = curve.repetitions_at(
        (float(believed @ (posterior.means[:, places] @ np.array(weights))) - load) / steepness
    )
    expected = min(max(expected, FEWEST), MOST)
    lasting = [(p, w) for p, w in zip(places, weights, strict=True) if p not in {DAY, ENTRY}]
    ratio = curve.ratio(expected)
    lasting += [(STEEPNESS, -ratio), (own, -ratio)]
    doubt = float(believed @ posterior.along([p for p, _ in lasting], [w for _, w in lasting])[1])
    return min(max((expected * KNOWN**2 + done * doubt) / (KNOWN**2 + doubt), FEWEST), MOST)
