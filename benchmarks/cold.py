"""Cold commands beside a bare import of NumPy and of Django in the same run.

`python -m benchmarks.cold [--write]` prints a table: median of several runs, the ratio to each peer, memory. With
--write it becomes docs/evidence/speed.md, with date and commit.
"""

import csv
import os
import platform
import random
import statistics
import subprocess
import sys
import tempfile
import time
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

ROOT = Path(__file__).parents[1]
RUNS = 7
SETS_IN_TEN_YEARS = 30_000
ROWS_IMPORTED = 10_000
SQUAD = 10
# The least that any program does with such a file: parse it and keep it on the disk.
BARE_LOAD = """
import csv, sqlite3, sys
log = sqlite3.connect(sys.argv[2])
log.execute("PRAGMA journal_mode=WAL")
log.execute("PRAGMA synchronous=FULL")
log.execute("CREATE TABLE row (lifter, day, exercise, kg, reps, rir)")
with log, open(sys.argv[1], newline="") as file:
    log.executemany("INSERT INTO row VALUES (?, ?, ?, ?, ?, ?)", csv.reader(file))
"""
LIFTS = (
    ("Squat", "Bench press", "Barbell row", "Lateral raise", "Dumbbell curl"),
    (
        "Deadlift",
        "Overhead press",
        "Pull-up",
        "Leg press",
        "Lat pulldown",
    ),
)
STEELYARD = [sys.executable, "-c", "from steelyard.cli import main; main()"]


def write_log(path: Path, rows: int, seed: int) -> date:
    """An invented log of so many sets; the day after its last one."""
    rng = random.Random(seed)
    on, session, written = date(2016, 11, 14), 0, 0
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(("date", "exercise", "kg", "reps", "RIR"))
        while True:
            for lift in LIFTS[session % 2]:
                for number in range(4):
                    if written == rows:
                        return on
                    load = 0 if lift == "Pull-up" else 40 + 2.5 * (session // 60)
                    writer.writerow((on, lift, load, rng.randint(7, 10), 2 if number == 3 else ""))
                    written += 1
            on, session = on + timedelta(days=(2, 2, 3)[session % 3]), session + 1


def write_squad(path: Path, lifters: int) -> None:
    """One file with the invented logs of several lifters, each as long as the single one."""
    with path.open("w", encoding="utf-8", newline="") as out:
        writer = csv.writer(out)
        writer.writerow(("lifter", "date", "exercise", "kg", "reps", "RIR"))
        for number in range(lifters):
            one = path.with_suffix(".one")
            write_log(one, ROWS_IMPORTED, seed=100 + number)
            with one.open(encoding="utf-8", newline="") as rows:
                writer.writerows([f"Lifter {number}", *row] for row in list(csv.reader(rows))[1:])
            one.unlink()


def timed(command: list[str], folder: Path) -> tuple[float, float]:
    """Seconds and peak memory (MB) of one process from its start to its end."""
    env = {**os.environ, "STEELYARD_DATA": str(folder), "PYTHONPATH": str(ROOT / "src")}
    begins = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, env=env)
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    assert process.returncode == 0, command
    return time.perf_counter() - begins, usage.ru_maxrss / 1024


def measured(command: list[str], folder: Path, runs: int = RUNS) -> tuple[float, float]:
    """Median seconds and highest memory (MB) of several cold processes."""
    found = [timed(command, folder) for _ in range(runs)]
    return statistics.median(s for s, _ in found), max(m for _, m in found)


def table() -> list[str]:
    """The rows of the table."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        after = write_log(place / "ten-years.csv", SETS_IN_TEN_YEARS, seed=3)
        write_log(place / "import.csv", ROWS_IMPORTED, seed=4)
        old, fresh = place / "old", place / "fresh"
        timed([*STEELYARD, "import", str(place / "ten-years.csv"), "--lifter", "A"], old)
        numpy, _ = measured([sys.executable, "-c", "import numpy"], place)
        django, _ = measured([sys.executable, "-c", "import django; from django.db import models"], place)
        write_squad(place / "squad.csv", SQUAD)
        taking_in = [*STEELYARD, "import", str(place / "import.csv"), "--lifter", "A"]
        rows = {f"import of {ROWS_IMPORTED:,} rows": timed(taking_in, fresh)}
        whole = [*STEELYARD, "import", str(place / "squad.csv")]
        many = f"{SQUAD * ROWS_IMPORTED:,} rows of {SQUAD} lifters"
        rows[f"import of {many}"] = timed(whole, place / "squad")
        rows[f"the same file again ({many})"] = timed(whole, place / "squad")
        bare = [sys.executable, "-c", BARE_LOAD, str(place / "squad.csv"), str(place / "bare.sqlite3")]
        rows[f"csv module into a bare SQLite table ({many})"] = timed(bare, place)
        # A day further each time: a sheet that was shown before would only be read again.
        found = [timed([*STEELYARD, "next", "--on", str(after + timedelta(days=n))], old) for n in range(RUNS)]
        rows[f"next after ten years ({SETS_IN_TEN_YEARS:,} sets)"] = (
            statistics.median(s for s, _ in found),
            max(m for _, m in found),
        )
        rows["next of the same sheet again"] = measured([*STEELYARD, "next", "--on", str(after)], old)
        rows["--help"] = measured([*STEELYARD, "--help"], place)
    head = f"| what | seconds | x import numpy ({numpy:.3f} s) | x import django ({django:.3f} s) | MB |"
    lines = [f"| {name} | {s:.2f} | {s / numpy:.1f} | {s / django:.1f} | {mb:.0f} |" for name, (s, mb) in rows.items()]
    return [head, "|---|---|---|---|---|", *lines]


def main() -> None:
    """Print the table, or write it down."""
    rows = "\n".join(table())
    print(rows)
    if "--write" in sys.argv:
        revision = ["git", "rev-parse", "--short", "HEAD"]
        commit = subprocess.run(revision, cwd=ROOT, capture_output=True, text=True, check=True)
        machine = f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}"
        written = (
            f"# Speed\n\nWritten by `python -m benchmarks.cold --write` on {datetime.now(UTC):%Y-%m-%d}, commit "
            f"{commit.stdout.strip()}, {machine}. Median of {RUNS} cold processes (import: one); ratios "
            f"to bare imports in the same run.\n\n{rows}\n"
        )
        (ROOT / "docs/evidence/speed.md").write_text(written, encoding="utf-8")


if __name__ == "__main__":
    main()
