"""What a club's own logs say of noise and change; kept only where it foresees lifters better who were left out."""

import os
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal, InvalidOperation

import numpy as np
from msgspec import Struct, structs

from steelyard.engine.fold import fold
from steelyard.engine.log import THE_HOUSE, PolicyBody
from steelyard.engine.strength.settings import DEFAULTS, StrengthSettings
from steelyard.engine.strength.tuning import (
    LEAST_LIFTERS,
    LEAST_SETS,
    TUNED,
    Foreseen,
    foreseen_under,
    tune,
)
from steelyard.store import queries
from steelyard.wording.message import tell

from .backtest_run import Pool, Replayed
from .backtesting import all_replayed
from .refusal import Refused
from .scribe import Scribe

PREFIX = "strength."
Told = Callable[[int, int], None]


class SettingTuned(Struct, frozen=True, kw_only=True):
    """One setting as it was and as the club's logs would have it."""

    name: str
    was: float
    found: float


class Tuning(Struct, frozen=True, kw_only=True):
    """What was found; gain in log score a set on lifters who were left out, with its 95 % interval."""

    lifters: int
    sets: int
    changed: tuple[SettingTuned, ...]
    gain: float
    low: float
    high: float
    is_kept: bool
    is_dry_run: bool


class _Task(Struct, frozen=True):
    lifter: Replayed
    equation: str
    settings: StrengthSettings


def tune_club(scribe: Scribe, *, seed: int, processes: int | None, is_dry_run: bool, progress: Told) -> Tuning:
    """Tune on everybody in the log who says enough, and keep it for the club if it serves those left out."""
    lifters, equation = all_replayed(scribe)
    telling = [x for x in lifters if _ranked(x) >= LEAST_SETS]
    if len(telling) < LEAST_LIFTERS:
        raise Refused(
            tell(
                "this club is too small to learn from: {count} of its lifters told of {sets} sets how much was left",
                count=len(telling),
                sets=LEAST_SETS,
            ),
            tell("With {lifters} such lifters try again; until then the usual settings serve", lifters=LEAST_LIFTERS),
        )
    known: dict[tuple[StrengthSettings, int], Foreseen] = {}
    with Pool(processes or os.cpu_count() or 1, len(telling)) as pool:

        def foresees(settings: StrengthSettings, places: Sequence[int]) -> Mapping[int, Foreseen]:
            missing = {p: _Task(telling[p], equation, settings) for p in places if (settings, p) not in known}
            for place, found in pool.each(_foreseen, missing):
                known[settings, place] = found
            return {p: known[settings, p] for p in places}

        steps = min(5, len(telling)) + 1
        found = tune(len(telling), foresees, np.random.default_rng(seed), lambda done: progress(done, steps))
    if found.is_kept and not is_dry_run:
        values = {f"{PREFIX}{name}": str(value) for name, (_, value) in found.changed.items()}
        scribe.write([scribe.entry(THE_HOUSE, PolicyBody(on=scribe.today(), changes=values))])
    return Tuning(
        lifters=len(telling),
        sets=sum(_ranked(x) for x in telling),
        changed=tuple(SettingTuned(name=n, was=was, found=new) for n, (was, new) in found.changed.items()),
        gain=found.gain,
        low=found.low,
        high=found.high,
        is_kept=found.is_kept,
        is_dry_run=is_dry_run,
    )


def settings_in_force() -> StrengthSettings:
    """The club's settings: the usual ones with what was tuned last; what this version does not know is passed over."""
    changes = [c for c in fold(queries.entries_of(THE_HOUSE)).policy_changes if any(_is_ours(n) for n in c.changes)]
    if not changes:
        return DEFAULTS
    latest = max(enumerate(changes), key=lambda pair: (pair[1].on, pair[0]))[1]
    told = {name.removeprefix(PREFIX): _number(text) for name, text in latest.changes.items() if _is_ours(name)}
    return structs.replace(DEFAULTS, **{name: value for name, value in told.items() if value is not None})


def _is_ours(name: str) -> bool:
    return name.startswith(PREFIX) and name.removeprefix(PREFIX) in TUNED


def _number(text: str) -> float | None:
    try:
        value = float(Decimal(text))
    except InvalidOperation:
        return None
    return value if 0 < value < 100 else None


def _ranked(lifter: Replayed) -> int:
    return sum(t.is_ranked for s in lifter.trials.sessions for e in s.entries for t in e.trials)


def _foreseen(task: _Task) -> Foreseen:
    return foreseen_under(task.lifter.trials, task.lifter.relations.__getitem__, task.equation, task.settings)
