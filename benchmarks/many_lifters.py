"""A backtest of 300 simulated lifters with 13,000 sessions: how long, how much memory, and that a stopped one goes on.

`python -m benchmarks.many_lifters [--write]` prints a table; with --write it becomes docs/evidence/backtest_speed.md,
with date and commit. The peer is the import of the same file in the same run.
"""

import csv
import json
import os
import signal
import subprocess
import sys
import tempfile
import threading
import time
from datetime import UTC, date, datetime
from pathlib import Path

import numpy as np

from steelyard.engine.simulation.simulate import BodyName, simulate
from steelyard.engine.simulation.values import Kind

from .cold import ROOT, STEELYARD

LIFTERS, SESSIONS = 300, 13_000
KINDS: tuple[Kind, ...] = ("trained", "machine-study", "novice", "body-mass", "irregular")
BODIES: tuple[BodyName, ...] = ("by-dose", "by-drift")
BEGINS = date(2025, 1, 6)
# Asked often enough that a peak of a second is seen.
EVERY_S = 0.1


def write_squad(path: Path) -> tuple[int, int]:
    """A file of all lifters; how many sessions and sets it holds."""
    sessions = sets = 0
    with path.open("w", encoding="utf-8", newline="") as file:
        rows = csv.writer(file)
        rows.writerow(("lifter", "date", "session", "exercise", "kg", "reps", "RIR", "body mass kg"))
        for number in range(LIFTERS):
            rng = np.random.default_rng([5, number])
            left = (SESSIONS - sessions) // (LIFTERS - number)
            kind, body_name = KINDS[number % len(KINDS)], BODIES[number % 2]
            found = simulate(kind, rng, name="", begins=BEGINS, weeks=104, body=body_name, slip_rate=0.0)
            days = sorted({body.on for body in found.sets})[:left]
            masses = {c.on: c.body_mass for c in found.check_ins}
            for body in found.sets:
                if body.on in set(days):
                    mass = masses.get(body.on)
                    rows.writerow((
                        f"Lifter {number:03}", body.on, body.session, body.exercise.replace("-", " "),
                        body.load.value if body.load else 0, body.reps,
                        body.effort.rir if body.effort else "", mass.value if mass else "",
                    ))  # fmt: skip
                    sets += 1
            sessions += len(days)
    return sessions, sets


class Run:
    """One process and all its children: seconds, and the highest sum of their memory (MB, shared parts once each)."""

    def __init__(self, command: list[str], folder: Path, stop_when: Path | None = None) -> None:
        env = {**os.environ, "STEELYARD_DATA": str(folder), "PYTHONPATH": str(ROOT / "src")}
        begins = time.perf_counter()
        self.peak_mb = 0.0
        process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=env, text=True)
        watcher = threading.Thread(target=self._watch, args=(process, stop_when))
        watcher.start()
        self.out, self.err = process.communicate()
        watcher.join()
        self.code = process.returncode
        self.seconds = time.perf_counter() - begins

    def _watch(self, process: "subprocess.Popen[str]", stop_when: Path | None) -> None:
        while process.poll() is None:
            self.peak_mb = max(self.peak_mb, sum(_memory_mb(pid) for pid in _family(process.pid)))
            if stop_when is not None and stop_when.exists() and stop_when.read_bytes().count(b"\n") > LIFTERS // 3:
                process.send_signal(signal.SIGINT)
                return
            time.sleep(EVERY_S)


def _family(pid: int) -> list[int]:
    try:
        children = Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="ascii").split()
    except OSError:
        return []
    return [pid, *(p for child in children for p in _family(int(child)))]


def _memory_mb(pid: int) -> float:
    """Proportional set size: a page that several processes share counts once in all."""
    try:
        lines = Path(f"/proc/{pid}/smaps_rollup").read_text(encoding="ascii").splitlines()
    except OSError:
        return 0.0
    return next((int(line.split()[1]) / 1024 for line in lines if line.startswith("Pss:")), 0.0)


def report() -> list[str]:
    """The lines of the report."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        squad, kept = place / "squad.csv", place / "kept"
        sessions, sets = write_squad(squad)
        answers = [
            word
            for kind in ("tenfold", "tenth", "far-above", "many-repetitions")
            for word in ("--answer", f"{kind}=keep")
        ]
        asked = [*STEELYARD, "backtest", str(squad), "--json", *answers]
        whole = Run(asked, place / "log")
        assert whole.code == 0, whole.out + whole.err
        alone = Run([*asked, "--processes", "1"], place / "log")
        stopped = Run([*asked, "--unfinished", str(kept)], place / "log", stop_when=kept)
        done = kept.read_bytes().count(b"\n") - 1
        resumed = Run([*asked, "--unfinished", str(kept)], place / "log")
        peer = Run([*STEELYARD, "import", str(squad), "--dry-run", "--json", *answers], place / "log")
        found = json.loads(whole.out)
        same = [json.loads(r.out) == found for r in (alone, resumed)]
        return [
            f"{LIFTERS} simulated lifters, {sessions:,} sessions, {sets:,} sets in one CSV file of "
            f"{squad.stat().st_size / 1e6:.1f} MB; {found['sets']:,} sets scored by {len(found['models'])} models, "
            f"{found['bounds']:,} as bounds. {os.cpu_count()} processors. Memory: all processes together.",
            "",
            "| run | s | MB | beside `import --dry-run` of the same file |",
            "| --- | ---: | ---: | ---: |",
            *(
                f"| {name} | {run.seconds:.1f} | {run.peak_mb:.0f} | {run.seconds / peer.seconds:.2f} |"
                for name, run in (
                    ("backtest, two processes", whole),
                    ("backtest, one process", alone),
                    (f"interrupted after {done} lifters (exit {stopped.code})", stopped),
                    ("the same command again: resumed", resumed),
                    ("import --dry-run", peer),
                )
            ),
            "",
            f"Same answer with one process: {same[0]}. Same answer after the interruption: {same[1]}.",
            f"What the interrupted run said: {stopped.err.strip().splitlines()[-1] if stopped.err.strip() else ''}",
        ]


def main() -> None:
    """Print the report; keep it with --write."""
    commit = subprocess.run(
        ["git", "describe", "--always", "--dirty"], capture_output=True, text=True, check=True
    ).stdout
    lines = report()
    print("\n".join(lines))
    if "--write" in sys.argv:
        head = [
            "# Backtest of 300 lifters",
            "",
            f"`python -m benchmarks.many_lifters --write`, {datetime.now(UTC):%Y-%m-%d}, commit {commit.strip()}.",
            "",
        ]
        (ROOT / "docs/evidence/backtest_speed.md").write_text("\n".join([*head, *lines]) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
