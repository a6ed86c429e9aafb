"""kill -9 at random moments, and what the log holds afterwards."""

import subprocess
import time
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from .batches import Batch, batch_of, hold_against
from .starting import WRITER, refusal_at_start, start

KILLS_A_LOG = 5
START_SHARE = 0.15
LONGEST_START_S = 0.8
MOST_BATCHES = 10


@dataclass
class Killed:
    """What a series of kills has shown; batches by log and mark."""

    kills: int = 0
    before_any_batch: int = 0
    acknowledged: int = 0
    kept_unacknowledged: set[str] = field(default_factory=set)
    lost: set[str] = field(default_factory=set)
    half_applied: set[str] = field(default_factory=set)
    unsound: set[str] = field(default_factory=set)


@dataclass
class _Log:
    """One log that outlives several kills: what was acknowledged, and what may have been written besides."""

    folder: Path
    is_import: bool
    following: int = 1
    acknowledged: set[str] = field(default_factory=set)
    in_flight: set[str] = field(default_factory=set)

    def note(self, lines: list[str]) -> None:
        """Take down what a killed writer had said; the batch after its last one may be there or not."""
        self.acknowledged.update(lines)
        last = batch_of(lines[-1]).number if lines else self.following - 1
        self.in_flight.add(Batch(last + 1, self.is_import).mark)
        self.following = last + 2


def kill_many(kills: int, seed: int, folder: Path, is_import: bool, wrongly: str | None = None) -> Killed:
    """Start a writer and kill it, so many times, looking at the log after each; a new log after every five."""
    chance, killed = Random(seed), Killed()
    log = _Log(folder, is_import)
    for kill in range(kills):
        if kill % KILLS_A_LOG == 0:
            log = _Log(folder / f"{seed}-{kill}", is_import)
            log.folder.mkdir(parents=True)
        lines = _said_until_killed(log, chance, ["--wrongly", wrongly] if wrongly else [])
        log.note(lines)
        killed.kills += 1
        killed.acknowledged += len(lines)
        killed.before_any_batch += not lines
        killed.unsound.update(refusal_at_start(log.folder))
        _look(log, killed)
    return killed


def _said_until_killed(log: _Log, chance: Random, options: list[str]) -> list[str]:
    """Run a writer and kill it while it starts, or at a random moment after one of its acknowledgements."""
    command = [*WRITER, str(log.folder), "--first", str(log.following), "--import-every", str(int(log.is_import))]
    awaited = 0 if chance.random() < START_SHARE else chance.randint(2, MOST_BATCHES)
    share = chance.random()
    with start([*command, *options], subprocess.PIPE) as writer:
        assert writer.stdout is not None and writer.stderr is not None
        lines, longest = [], LONGEST_START_S
        for _ in range(awaited):
            since = time.perf_counter()
            lines.append(writer.stdout.readline())
            longest = 2 * (time.perf_counter() - since)
        time.sleep(share * longest)
        writer.kill()
        lines += writer.stdout.readlines()
        said = writer.stderr.read().decode()
    assert writer.returncode == -9, f"the writer ended by itself ({writer.returncode}): {said}"
    return [line.decode().strip() for line in lines]


def _look(log: _Log, killed: Killed) -> None:
    """Read the log, which the product has just opened, with SQLite alone."""
    name = log.folder.name
    found = hold_against(log.folder / "log.sqlite3", log.acknowledged)
    nobodys = found.unacknowledged - log.in_flight
    wrong = [*found.unsound, *(f"nobody wrote {mark}" for mark in nobodys)]
    killed.unsound |= {f"{name}: {what}" for what in wrong}
    killed.lost |= {f"{name}: {mark}" for mark in found.lost}
    killed.half_applied |= {f"{name}: {mark}" for mark in found.half_applied}
    killed.kept_unacknowledged |= {f"{name}: {mark}" for mark in found.unacknowledged}
