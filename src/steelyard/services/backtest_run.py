"""The work of a backtest, a lifter at a time in several processes; finished lifters can be kept and taken up again."""

import signal
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from hashlib import sha256
from pathlib import Path
from typing import TypeVar

import msgspec
import numpy as np
from msgspec import Struct

from steelyard.engine.arrays import Floats
from steelyard.engine.backtest.fitting import fit_lifter
from steelyard.engine.backtest.models import LineKey
from steelyard.engine.backtest.population import Crowd, LifterFit
from steelyard.engine.backtest.replaying import Foreseen, foresee
from steelyard.engine.backtest.tallying import Tallied, tally
from steelyard.engine.backtest.trials import LifterTrials
from steelyard.engine.strength.relations import Relation
from steelyard.wording.message import tell
from steelyard.wording.outside_errors import tell_system_error

from .backtest_models import MODELS, Known, follower_of
from .refusal import Refused

# Of results that were kept: with another version of rules or scores they are worked out anew.
VERSION = "2"
# The usual ways to run in several processes do not pay for so few.
FEW = 4
Told = Callable[[int, int], None]
Given = TypeVar("Given")
Got = TypeVar("Got")


class Work(Struct, frozen=True, kw_only=True):
    """How a backtest is run."""

    equation: str
    from_session: int
    seed: int
    processes: int
    unfinished: Path | None


class Kept(Struct, frozen=True):
    """One finished lifter, by place; sums of every model by name."""

    lifter: int
    models: dict[str, Tallied]


class Replayed(Struct, frozen=True):
    """A lifter's trials, and how the exercises among them hang together."""

    trials: LifterTrials
    relations: dict[LineKey, Relation]


class _Task(Struct, frozen=True):
    trials: LifterTrials
    known: Known
    work: Work


def run(lifters: Sequence[Replayed], scored: Sequence[int], work: Work, progress: Told) -> list[dict[str, Tallied]]:
    """Sums of every model for each scored lifter, in their order; the settings of each come from all the others."""
    keeper = _Keeper(work.unfinished, _key(lifters, work))
    done = {k.lifter: k.models for k in keeper.found()}
    left = [place for place in scored if place not in done]
    steps = len(lifters) + len(scored)
    with Pool(work.processes, len(left)) as pool:
        fits = _fitted(lifters, work, pool, lambda n: progress(n, steps)) if left else []
        crowd = Crowd(fits)
        tasks = {place: _Task(lifters[place].trials, _known(lifters, crowd, place, work), work) for place in left}
        progress(len(lifters) + len(done), steps)
        for place, models in pool.each(_replay, tasks):
            done[place] = models
            keeper.keep(Kept(place, models))
            progress(len(lifters) + len(done), steps)
    keeper.finish()
    return [done[place] for place in scored]


def foreseen_by(
    model: str, lifters: Sequence[Replayed], scored: Sequence[int], work: Work
) -> Iterator[tuple[LifterTrials, Foreseen]]:
    """All that one model foresaw, lifter by lifter."""
    crowd = Crowd([fit_lifter(lifter.trials, work.equation) for lifter in lifters])
    for place in scored:
        trials = lifters[place].trials
        yield trials, _foreseen(trials, model, _known(lifters, crowd, place, work), work)


def _known(lifters: Sequence[Replayed], crowd: Crowd, place: int, work: Work) -> Known:
    return Known(crowd.without(place), lifters[place].relations, work.equation)


def _replay(task: _Task) -> dict[str, Tallied]:
    found: dict[str, Tallied] = {}
    chance: Floats | None = None
    for model in MODELS:
        foreseen = _foreseen(task.trials, model, task.known, task.work)
        if chance is None:
            chance = _chance(task.trials.name, task.work.seed, len(foreseen.sets))
        found[model] = tally(foreseen, chance)
    return found


def _foreseen(trials: LifterTrials, model: str, known: Known, work: Work) -> Foreseen:
    follower, equation = follower_of(model, known)
    return foresee(trials, follower, work.equation, work.from_session, equation)


def _chance(name: str, seed: int, count: int) -> Floats:
    """The same numbers for every model, and for a lifter whoever else is there."""
    told = int.from_bytes(sha256(name.encode()).digest()[:8])
    return np.random.default_rng([seed, told]).random(count)


def _fit(task: tuple[LifterTrials, str]) -> LifterFit:
    return fit_lifter(*task)


def _fitted(lifters: Sequence[Replayed], work: Work, pool: "Pool", told: Callable[[int], None]) -> list[LifterFit]:
    found: dict[int, LifterFit] = {}
    for place, fit in pool.each(_fit, {i: (lifter.trials, work.equation) for i, lifter in enumerate(lifters)}):
        found[place] = fit
        told(len(found))
    return [found[place] for place in range(len(lifters))]


class Pool:
    """Several processes, or this one where the work is small; interrupted, they end without a word of their own."""

    def __init__(self, processes: int, tasks: int) -> None:
        self._pool = ProcessPoolExecutor(processes, initializer=_quiet) if processes > 1 and tasks >= FEW else None

    def __enter__(self) -> "Pool":
        return self

    def __exit__(self, *unused: object) -> None:
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)

    def each(self, work: Callable[[Given], Got], tasks: Mapping[int, Given]) -> Iterator[tuple[int, Got]]:
        """What became of each task, as it is finished."""
        if self._pool is None:
            yield from ((place, work(task)) for place, task in tasks.items())
            return
        places: dict[Future[Got], int] = {self._pool.submit(work, task): place for place, task in tasks.items()}
        for future in as_completed(places):
            yield places[future], future.result()


def _quiet() -> None:
    """The process that was interrupted tells the others."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _key(lifters: Sequence[Replayed], work: Work) -> str:
    """What a kept result depends on."""
    told = msgspec.json.encode(
        (VERSION, work.equation, work.from_session, work.seed, MODELS, [x.trials for x in lifters]), order="sorted"
    )
    return sha256(told).hexdigest()


class _Keeper:
    """Finished lifters in a file, a line each, under a first line that says what they were worked out from."""

    def __init__(self, path: Path | None, key: str) -> None:
        self._path, self._key = path, key

    def found(self) -> list[Kept]:
        """What an earlier run of the same work has left; a line that was cut off is left out."""
        if self._path is None:
            return []
        try:
            lines = self._path.read_bytes().splitlines(keepends=True) if self._path.exists() else []
            kept = list(self._kept(lines))
            self._path.write_bytes(b"".join([self._key.encode() + b"\n", *(_line(k) for k in kept)]))
        except OSError as refused:
            raise self._refused(refused) from refused
        return kept

    def keep(self, kept: Kept) -> None:
        """One more."""
        if self._path is not None:
            try:
                with self._path.open("ab") as file:
                    file.write(_line(kept))
            except OSError as refused:
                raise self._refused(refused) from refused

    def finish(self) -> None:
        """All is done: the file is not needed any more."""
        if self._path is not None:
            self._path.unlink(missing_ok=True)

    def _kept(self, lines: list[bytes]) -> Iterator[Kept]:
        if lines and not _is_ours(lines[0]):
            raise Refused(
                tell("{file} holds something else", file=self._path), tell("Name a new file with --unfinished")
            )
        if not lines or lines[0].decode().strip() != self._key:
            return
        for line in lines[1:]:
            if line.endswith(b"\n"):
                yield msgspec.json.decode(line, type=Kept)

    def _refused(self, error: OSError) -> Refused:
        return Refused(tell("cannot write {path}: {reason}", path=self._path, reason=tell_system_error(error)))


def _is_ours(line: bytes) -> bool:
    return len(line) == 65 and set(line.strip()) <= set(b"0123456789abcdef")


def _line(kept: Kept) -> bytes:
    return msgspec.json.encode(kept) + b"\n"
