"""Kill and cut the power many times, and print what was seen: python -m tests.durability.run --images 1000 --kills 100.

With --write the counts also go into docs/evidence/durability.md.
"""

import argparse
import os
import platform
import sqlite3
import subprocess
import tempfile
from concurrent.futures import ProcessPoolExecutor
from datetime import UTC, datetime
from pathlib import Path

from .killing import Killed, kill_many
from .power_cut import PowerCuts, cut_power
from .starting import REPOSITORY
from .tracing import missing_tracer, record

EVIDENCE = REPOSITORY / "docs" / "evidence" / "durability.md"
BATCHES, IMPORT_EVERY = 300, 8
LEVELS = ("FULL", "NORMAL", "OFF")


def main() -> int:
    """0 where nothing acknowledged was lost and the control with NORMAL has seen losses."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--images", type=int, default=1000)
    parser.add_argument("--kills", type=int, default=100)
    parser.add_argument("--seed", type=int, default=2026)
    parser.add_argument("--write", action="store_true")
    asked = parser.parse_args()
    reason = missing_tracer()
    if reason is not None:
        raise SystemExit(reason)
    with tempfile.TemporaryDirectory() as folder, ProcessPoolExecutor(2) as pool:
        place = Path(folder)
        halves = (asked.kills // 2, asked.kills - asked.kills // 2)
        kills = {
            name: pool.submit(kill_many, many, asked.seed, place / name, name == "import")
            for name, many in zip(("log", "import"), halves, strict=True)
        }
        cuts = {level: pool.submit(_cuts_at, level, place, asked.images, asked.seed) for level in LEVELS}
        killed = {name: future.result() for name, future in kills.items()}
        cut = {level: future.result() for level, future in cuts.items()}
    text = _report(killed, cut, asked.seed)
    print(text)
    if asked.write:
        EVIDENCE.parent.mkdir(parents=True, exist_ok=True)
        EVIDENCE.write_text(text + "\n", encoding="utf-8")
    return 0 if _holds(killed, cut) else 1


def _cuts_at(level: str, place: Path, images: int, seed: int) -> PowerCuts:
    return cut_power(record(place / level, BATCHES, IMPORT_EVERY, level), images, seed)


def _holds(killed: dict[str, Killed], cut: dict[str, PowerCuts]) -> bool:
    full = cut["FULL"]
    is_kept = not any(k.lost or k.half_applied or k.unsound for k in killed.values())
    return is_kept and not (full.with_loss or full.with_half_applied or full.unsound) and cut["NORMAL"].with_loss > 0


def _report(killed: dict[str, Killed], cut: dict[str, PowerCuts], seed: int) -> str:
    lines = [
        "# Durability, measured",
        "",
        f"Written by `python -m tests.durability.run --write` on {datetime.now(UTC):%Y-%m-%d} at commit {_commit()},",
        f"seed {seed}, {platform.system()}, Python {platform.python_version()}, SQLite {sqlite3.sqlite_version},",
        f"{os.cpu_count()} cores.",
        "",
        "## kill -9 of a process that keeps batches",
        "",
        "| batches by | kills | before any batch | acknowledged | kept unacknowledged | lost | half kept | unsound |",
        "|---|---|---|---|---|---|---|---|",
        *(
            f"| {name} | {k.kills} | {k.before_any_batch} | {k.acknowledged} | {len(k.kept_unacknowledged)} "
            f"| {len(k.lost)} | {len(k.half_applied)} | {len(k.unsound)} |"
            for name, k in killed.items()
        ),
        "",
        "A batch is a line (1-5 sets) or a file (20-60 sets). The batch under way at a kill may be kept or not.",
        "",
        "## Power cut",
        "",
        f"A traced run of {BATCHES} batches for each level; an image is what was synced and any part of the rest, torn",
        "at 512 bytes. Files are taken to appear and vanish at once. The product uses FULL; NORMAL and OFF are",
        "controls, which show that a loss and a damaged file are seen.",
        "",
        "| synchronous | images | in the first start | in a checkpoint | with a loss | with half a batch | unsound |",
        "|---|---|---|---|---|---|---|",
        *(
            f"| {level} | {c.images} | {c.during_start} | {c.during_checkpoint} | {c.with_loss} "
            f"| {c.with_half_applied} | {len(c.unsound)} |"
            for level, c in cut.items()
        ),
    ]
    wrong = [f"- kill, {n}: {what}" for n, k in killed.items() for what in sorted(k.lost | k.half_applied | k.unsound)]
    wrong += [f"- power cut, FULL: {what}" for what in cut["FULL"].unsound]
    return "\n".join([*lines, *(["", "What went wrong:", "", *wrong] if wrong else [])])


def _commit() -> str:
    """The commit that was tested, and whether files differ from it."""
    asked = ["git", "describe", "--always", "--dirty", "--exclude=*"]
    return subprocess.run(asked, cwd=REPOSITORY, capture_output=True, text=True, check=True).stdout.strip()


if __name__ == "__main__":
    raise SystemExit(main())
