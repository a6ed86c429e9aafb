"""One more set: a stronger one never lowers today's level, and no set makes its exercise's interval wider."""

import copy
import random
from collections.abc import Sequence
from math import log, sqrt

from msgspec import structs

from steelyard.engine.backtest.trials import LONGEST, ExerciseEntry, LifterTrials, Trial, TrialSession
from steelyard.engine.history import LineKey
from steelyard.engine.strength.learning import learn_session, learn_set, telling
from steelyard.engine.strength.outlook import level_of
from steelyard.engine.strength.posterior import LEVELS, Posterior
from steelyard.engine.strength.settings import DEFAULTS, StrengthSettings

from .learners import ONE_CELL, beginning
from .tally import Tally

# One cell, and nothing left to learn but strength: the same curve, the same way to tell a reserve and to tire for all.
KNOWN_WAYS = structs.replace(
    ONE_CELL, steepness_spread=1e-9, own_steepness_spread=1e-9, reserve_bias_spread=1e-9, tiring_spread=1e-9
)
LAWFUL = "a stronger set, {what}, never lowers today's level (by 0.1 %): one cell, ways known, no slip"
LOWERED = "a stronger set, {what}, lowered today's level (ln): {under}"
NARROWER = "a set, {what}, never widens its exercise's interval: one cell, no slip"
WIDENED = "a set, {what}, widened its exercise's interval (share): {under}"
UNDER: dict[str, StrengthSettings] = {"ways known": KNOWN_WAYS, "one cell": ONE_CELL, "mixture": DEFAULTS}
ROUNDING = 1e-9
# The more repetitions, the noisier their count: close to where a set is held for a slip, one more may tell less.
LITTLE = 1e-3


def one_more(lifter: LifterTrials, chance: random.Random, tally: Tally, names: Sequence[str] = tuple(UNDER)) -> None:
    """The sets of the last session, one by one, each also as a stronger one; `names`: under what."""
    seed = chance.randrange(2**32)
    whose = "simulated" if lifter.name.endswith("simulated") else "generated"
    for name in names:
        under = f"{name}, {whose}"
        posterior = beginning(UNDER[name])
        for session in lifter.sessions[:-1]:
            learn_session(posterior, session)
        last = lifter.sessions[-1]
        posterior.pass_time(last.on.toordinal())
        same = random.Random(seed)
        for entry in last.entries:
            if all(trial.evidence == "attempt" for trial in entry.trials):
                _attempts(posterior, structs.replace(last, entries=(entry,)), same, (under, lifter.name), tally)
                continue
            posterior.begin_entry(entry.key)
            for trial in telling(entry):
                _one(posterior, entry.key, trial, stronger(trial, same), (under, lifter.name), tally)
            posterior.end_entry(entry.key)


def _one(posterior: Posterior, key: LineKey, trial: Trial, better: Trial, under: tuple[str, str], tally: Tally) -> None:
    """Learn a set, and beside it what the stronger one would have told."""
    spread = _spread(posterior, key)
    was_odd, other = key in posterior.odd, copy.deepcopy(posterior)
    learn_set(posterior, key, trial)
    learn_set(other, key, better)
    is_slip = was_odd or key in posterior.odd
    _widening(_spread(posterior, key) / spread - 1, told_by(trial), is_slip, under, tally)
    if not is_slip and key not in other.odd:
        _lowering(log(level_of(posterior, key).kg / level_of(other, key).kg), told_by(trial), under, tally)


def _attempts(
    posterior: Posterior, session: TrialSession, chance: random.Random, under: tuple[str, str], tally: Tally
) -> None:
    """Singles are learned all together: learn them, and beside it what a stronger one among them would have told."""
    entry, other = session.entries[0], copy.deepcopy(posterior)
    place = chance.randrange(len(entry.trials))
    better = [stronger(t, chance) if n == place else t for n, t in enumerate(entry.trials)]
    was_odd = entry.key in posterior.odd
    learn_session(posterior, session)
    learn_session(other, structs.replace(session, entries=(ExerciseEntry(entry.key, tuple(better)),)))
    if not was_odd and entry.key not in posterior.odd and entry.key not in other.odd:
        excess = log(level_of(posterior, entry.key).kg / level_of(other, entry.key).kg)
        _lowering(excess, "of singles", under, tally)


def _spread(posterior: Posterior, key: LineKey) -> float:
    """Of the level (ln), over all cells: what is learned, without the doubt that no set can take away."""
    places = [*LEVELS, posterior.place_of(key)]
    mean, variance, _ = posterior.along(places, [*posterior.relations[key].loadings, 1.0])
    weights = posterior.weights
    return sqrt(float(weights @ (variance + (mean - weights @ mean) ** 2)))


def _widening(excess: float, what: str, is_slip: bool, under: tuple[str, str], tally: Tally) -> None:
    name, where = under[0].partition(",")[0], under[1]
    if is_slip:
        tally.measure(WIDENED.format(what="perhaps a slip", under=under[0]), excess, where)
    elif name == "one cell" and what != "stopped":
        tally.hold(NARROWER.format(what=what), excess, where, ROUNDING)
    else:
        tally.measure(WIDENED.format(what=what, under=under[0]), excess, where)


def _lowering(excess: float, what: str, under: tuple[str, str], tally: Tally) -> None:
    name, where = under[0].partition(",")[0], under[1]
    if name == "ways known" and what != "stopped":
        tally.hold(LAWFUL.format(what=what), excess, where, LITTLE)
    else:
        tally.measure(LOWERED.format(what=what, under=under[0]), excess, where)


def told_by(trial: Trial) -> str:
    """How a set tells."""
    if trial.evidence == "bound" and trial.told_up_to < LONGEST:
        return "stopped"
    if trial.evidence == "reserve":
        return "with a reserve"
    return "a single beside other sets, or not once lifted" if _is_single(trial) else "to its end"


def _is_single(trial: Trial) -> bool:
    return trial.evidence == "attempt" or not trial.possible


def stronger(trial: Trial, chance: random.Random) -> Trial:
    """The same with a little more load, or with one repetition more where that tells more."""
    most = 1 if trial.evidence == "attempt" else LONGEST
    if trial.possible >= most or chance.random() < 0.5:
        return structs.replace(trial, load_kg=trial.load_kg * chance.choice((1.005, 1.02, 1.05)))
    is_stopped = told_by(trial) == "stopped"
    told_up_to = trial.told_up_to + 1 if is_stopped else trial.told_up_to
    return structs.replace(trial, reps=trial.reps + 1, possible=trial.possible + 1, told_up_to=told_up_to)
