"""Which rule would have foreseen a lifter's sessions best: their log replayed, nothing stored."""

from collections import Counter
from collections.abc import Callable, Sequence
from datetime import date
from math import exp
from pathlib import Path

import msgspec
import numpy as np
from msgspec import Struct

from steelyard.engine.backtest.noise import lifter_noise
from steelyard.engine.backtest.replaying import Foreseen
from steelyard.engine.backtest.summing import ModelScores, summarise
from steelyard.engine.backtest.tallying import Tallied
from steelyard.engine.backtest.trials import Evidence, LifterTrials, read_trials
from steelyard.engine.formulas import EQUATIONS
from steelyard.engine.planning import policy_on
from steelyard.engine.strength.relations import relation_of
from steelyard.wording.message import tell
from steelyard.wording.outside_errors import tell_system_error
from steelyard.wording.quantity import Voice

from .backtest_models import MODELS, STRENGTH
from .backtest_run import Replayed, Work, foreseen_by, run
from .importing import ImportOptions
from .lifters import all_lifters, find_lifter, folded, log_of
from .logs_in_file import NamedLog, logs_in_file
from .own_exercises import catalogue_of
from .refusal import Refused
from .scribe import Scribe

REFERENCE = "repeat"
Told = Callable[[int, int], None]


class BacktestAsked(Struct, frozen=True, kw_only=True):
    """What `backtest` was asked for; `source` is a file, a lifter, or nothing for everybody in the log."""

    source: str | None = None
    answers: dict[str, str] = {}
    keep_good: bool = False
    equation: str | None = None
    from_session: int = 3
    seed: int = 1
    processes: int = 1
    unfinished: Path | None = None
    predictions: Path | None = None
    model: str = STRENGTH


class LifterBacktest(Struct, frozen=True, kw_only=True):
    """One lifter: how much was scored, how noisy they are, which model foresaw them best.

    `scatter_pct`: of one session's best 1RM; `gain_pct_per_week`: what a week usually brought; None: too little known.
    """

    lifter: str
    sessions: int
    sets: int
    bounds: int
    first_session: str
    last_session: str
    scatter_pct: float | None
    gain_pct_per_week: float | None
    best_model: str
    log_score_over_repeat: float | None


class Backtest(Struct, frozen=True, kw_only=True):
    """What a replay shows; `sets` were ranked, `bounds` not; `intervals_over` says what was drawn for the intervals.

    `others`: so many other lifters gave the rules their settings; with none they are published or usual ones.
    """

    source: str
    sets: int
    sessions: int
    bounds: int
    equation: str
    equation_source: str
    from_session: int
    seed: int
    others: int
    intervals_over: str
    passed_over: dict[str, int]
    lifters: tuple[LifterBacktest, ...]
    models: tuple[ModelScores, ...]
    predictions: str = ""


def backtest(asked: BacktestAsked, voice: Voice, scribe: Scribe, progress: Told = lambda done, total: None) -> Backtest:
    """Replay and score; `progress` hears how far it is."""
    if asked.model not in MODELS:
        raise Refused(
            tell("there is no model {name!r}", name=asked.model),
            tell("Known: {names}", names=", ".join(MODELS)),
        )
    if asked.predictions is not None and asked.predictions.exists():
        raise Refused(tell("{file} exists already", file=asked.predictions), tell("Name a new file"))
    logs, is_scored = _logs(asked, voice, scribe, progress)
    equation = asked.equation or _equation(logs, scribe.today())
    lifters = [_replayed(named, scribe.today()) for named in logs]
    scored = [place for place, named in enumerate(logs) if is_scored(named.name)]
    work = Work(
        equation=equation,
        from_session=asked.from_session,
        seed=asked.seed,
        processes=asked.processes,
        unfinished=asked.unfinished,
    )
    tallied = run(lifters, scored, work, progress)
    if asked.predictions is not None:
        _write_predictions(asked, lifters, scored, work)
    return _answer(asked, [lifters[place].trials for place in scored], tallied, equation, len(lifters) - 1)


def all_replayed(scribe: Scribe) -> tuple[list[Replayed], str]:
    """Everybody in the log, and the equation behind their 1RMs."""
    logs = [NamedLog(lifter.name, log_of(lifter)) for lifter in all_lifters()]
    return [_replayed(named, scribe.today()) for named in logs], _equation(logs, scribe.today())


def _logs(
    asked: BacktestAsked, voice: Voice, scribe: Scribe, progress: Told
) -> tuple[list[NamedLog], Callable[[str], bool]]:
    """All logs that are at hand, and which of them are to be scored."""
    path = Path(asked.source) if asked.source is not None else None
    if path is not None and path.is_file():
        options = ImportOptions(lifter=path.stem, answers=asked.answers, keep_good=asked.keep_good)
        return logs_in_file(path, options, voice, scribe, progress), lambda name: True
    wanted = None if asked.source is None else _lifter_or_file(asked.source)
    logs = [NamedLog(lifter.name, log_of(lifter)) for lifter in all_lifters()]
    if not logs:
        find_lifter(None)  # refuses: nobody is there yet
    return logs, lambda name: wanted is None or folded(name) == folded(wanted)


def _lifter_or_file(source: str) -> str:
    try:
        return find_lifter(source).name
    except Refused as refused:
        raise Refused(tell("{name!r} is neither a file nor a lifter", name=source), refused.remedy) from refused


def _equation(logs: Sequence[NamedLog], today: date) -> str:
    """The equation of the policy where all have the same, else the usual one."""
    chosen = {policy_on(named.log, today).equation for named in logs}
    return chosen.pop() if len(chosen) == 1 else "epley"


def _replayed(named: NamedLog, today: date) -> Replayed:
    catalogue = catalogue_of(named.log)
    trials = read_trials(named.name, named.log, catalogue, policy_on(named.log, today))
    keys = {entry.key for session in trials.sessions for entry in session.entries}
    return Replayed(trials, {key: relation_of(key, catalogue) for key in sorted(keys)})


def _answer(
    asked: BacktestAsked,
    lifters: Sequence[LifterTrials],
    tallied: Sequence[dict[str, Tallied]],
    equation: str,
    others: int,
) -> Backtest:
    chance = np.random.default_rng(asked.seed)
    by_model = {model: [models[model] for models in tallied] for model in MODELS}
    models = summarise(by_model, REFERENCE, chance)
    found = [_lifter(x, t, equation, asked.seed) for x, t in zip(lifters, tallied, strict=True)]
    passed_over: Counter[str] = Counter()
    for lifter in lifters:
        passed_over.update(lifter.passed_over)
    has_intervals = any(m.intervals for m in models)
    return Backtest(
        source=asked.source or "",
        sets=sum(x.sets for x in found),
        sessions=sum(x.sessions for x in found),
        bounds=sum(x.bounds for x in found),
        equation=equation,
        equation_source=EQUATIONS[equation].source,
        from_session=asked.from_session,
        seed=asked.seed,
        others=others,
        intervals_over=("lifters" if len(lifters) > 1 else "months") if has_intervals else "",
        passed_over=dict(passed_over),
        lifters=tuple(found),
        models=tuple(models),
        predictions=str(asked.predictions or ""),
    )


def _lifter(trials: LifterTrials, tallied: dict[str, Tallied], equation: str, seed: int) -> LifterBacktest:
    noise = lifter_noise(trials, equation)
    best = summarise({name: [t] for name, t in tallied.items()}, REFERENCE, np.random.default_rng(seed))[0]
    reference = tallied[REFERENCE]
    return LifterBacktest(
        lifter=trials.name,
        sessions=len(trials.sessions),
        sets=int(sum(kind[0] for month in reference.sets for kind in month)),
        bounds=int(sum(month[0] for month in reference.bounds)),
        first_session=trials.sessions[0].on.isoformat() if trials.sessions else "",
        last_session=trials.sessions[-1].on.isoformat() if trials.sessions else "",
        scatter_pct=noise.scatter_pct,
        gain_pct_per_week=noise.gain_pct_per_week,
        best_model=best.name if best.log_score is not None else "",
        log_score_over_repeat=best.log_score_over_repeat,
    )


class Prediction(Struct, frozen=True, kw_only=True):
    """One line of a file of predictions; loads and 1RMs are of the total that moves, in kg.

    `reps` were done; `possible` is the lesser of what could have been done and `told_up_to`, as `evidence` says.
    """

    lifter: str
    date: str
    exercise: str
    load_kg: float
    reps: int
    possible: int
    told_up_to: int
    evidence: Evidence
    cdf: tuple[float, ...]
    best_kg: float | None
    best_predicted_kg: float


def _write_predictions(asked: BacktestAsked, lifters: Sequence[Replayed], scored: Sequence[int], work: Work) -> None:
    path = asked.predictions or Path()
    try:
        with path.open("xb") as file:
            for lifter, foreseen in foreseen_by(asked.model, lifters, scored, work):
                file.writelines(msgspec.json.encode(p) + b"\n" for p in _predictions(lifter.name, foreseen))
    except OSError as refused:
        raise Refused(tell("cannot write {path}: {reason}", path=path, reason=tell_system_error(refused))) from refused


def _predictions(lifter: str, foreseen: Foreseen) -> list[Prediction]:
    bests = {(b.on, b.session, b.key): b for b in foreseen.bests}
    lines = []
    for found, row in zip(foreseen.sets, foreseen.cdf.tolist(), strict=True):
        best = bests[found.on, found.session, found.key]
        lines.append(
            Prediction(
                lifter=lifter,
                date=found.on.isoformat(),
                exercise=" ".join(part for part in found.key if part),
                load_kg=found.trial.load_kg,
                reps=found.trial.reps,
                possible=found.trial.possible,
                told_up_to=found.trial.told_up_to,
                evidence=found.trial.evidence,
                cdf=tuple(row),
                best_kg=exp(best.actual) if best.actual is not None else None,
                best_predicted_kg=exp(best.foreseen),
            )
        )
    return lines
