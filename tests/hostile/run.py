"""Give hostile files to a target and print what came of them: python -m tests.hostile.run 2000 [--write].

With --write the counts also go into docs/evidence/hostile_files.md.
"""

import argparse
import os
import platform
import subprocess
import tempfile
from collections import Counter, defaultdict
from concurrent.futures import ProcessPoolExecutor
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

from .make_hostile import ROUND, hostile_file
from .measuring import Measured, apart, measured
from .originals import SETS, originals
from .targets import TARGETS, empty_log

REPOSITORY = Path(__file__).parents[2]
EVIDENCE = REPOSITORY / "docs" / "evidence" / "hostile_files.md"
MOST_SECONDS, MOST_MB = 10.0, 200.0
LANES = 2
# Originals are opened again and again among the hostile files.
ORIGINALS_EVERY = 500
Named = tuple[str, str, Measured]


def main() -> int:
    """0 where every file had a clear answer within the bounds and every original opened whole."""
    parser = argparse.ArgumentParser()
    parser.add_argument("files", type=int)
    parser.add_argument("--target", choices=sorted(TARGETS), default="open")
    parser.add_argument("--seed", type=int, default=2026)
    parser.add_argument("--write", action="store_true")
    asked = parser.parse_args()
    if asked.target == "import":
        empty_log()  # once, before the processes fork that all need it
    with ProcessPoolExecutor(LANES) as pool:
        lanes = [pool.submit(_lane, asked.target, asked.seed, lane, asked.files) for lane in range(LANES)]
        found = [named for lane in lanes for named in lane.result()]
    honest = [named for named in found if named[0] == "original"]
    hostile = [named for named in found if named[0] != "original"]
    wrong = _wrong(honest, hostile)
    text = _report(asked.target, asked.seed, honest, hostile, wrong)
    print(text)
    if asked.write:
        EVIDENCE.write_text(text + "\n", encoding="utf-8")
    return 1 if wrong else 0


def _lane(target: str, seed: int, lane: int, files: int) -> list[Named]:
    """Every so-manyth file, one after the other."""
    found: list[Named] = []
    with tempfile.TemporaryDirectory() as folder:
        for number in range(lane, files, LANES):
            if number % ORIGINALS_EVERY == lane:
                found += _originals(target, Path(folder))
            apart(partial(_write, seed, number, Path(folder)))
            (path,) = Path(folder).iterdir()
            found.append((ROUND[number % len(ROUND)], f"file {number}", measured(TARGETS[target], path)))
            path.unlink()
            left = sorted(file.name for file in Path(folder).iterdir())
            if left:
                raise AssertionError(f"file {number} leaves {left} behind")
    return found


def _write(seed: int, number: int, folder: Path) -> None:
    made = hostile_file(seed, number)
    (folder / f"{number}.{made.suffix}").write_bytes(made.content)


def _originals(target: str, folder: Path) -> list[Named]:
    found: list[Named] = []
    for name, original in originals().items():
        path = folder / f"original.{original.suffix}"
        path.write_bytes(original.content)
        came = measured(TARGETS[target], path)
        path.unlink()
        wanted = original.rows if target == "open" else SETS
        found.append(("original", f"{name}, {wanted} rows", came))
    return found


def _wrong(honest: list[Named], hostile: list[Named]) -> list[str]:
    wrong = [
        f"the original {name} is {came.outcome} with {came.rows} rows: {came.said}"
        for _, name, came in honest
        if came.outcome != "opened" or not name.endswith(f", {came.rows} rows")
    ]
    for kind, name, came in hostile:
        if came.outcome not in {"opened", "refused"}:
            wrong.append(f"{name} ({kind}) {came.outcome}: {came.said}")
        if came.cpu_s > MOST_SECONDS or came.peak_mb > MOST_MB:
            wrong.append(f"{name} ({kind}) takes {came.cpu_s:.1f} s and {came.peak_mb:.0f} MB")
    return wrong


def _report(target: str, seed: int, honest: list[Named], hostile: list[Named], wrong: list[str]) -> str:
    by_kind: defaultdict[str, list[Measured]] = defaultdict(list)
    for kind, _, came in hostile:
        by_kind[kind].append(came)
    outcomes = Counter(came.outcome for _, _, came in hostile)
    is_open = all(came.outcome == "opened" for _, _, came in honest)
    lines = [
        "# Hostile files, measured",
        "",
        f"Written by `python -m tests.hostile.run {len(hostile)} --target {target} --write` on "
        f"{datetime.now(UTC):%Y-%m-%d} at commit {_commit()},",
        f"seed {seed}, {platform.system()}, Python {platform.python_version()}, {os.cpu_count()} cores, "
        f"{LANES} files at a time.",
        "",
        f"{len(hostile)} files: {outcomes['opened']} opened, {outcomes['refused']} refused with a sentence, "
        f"{outcomes['crashed']} crashed, {outcomes['no answer']} gave no answer.",
        f"The {len(originals())} honest files they are made from were opened {len(honest)} times among them, "
        f"{'each time whole' if is_open else 'NOT each time'}.",
        "",
        f"A file may take {MOST_SECONDS:.0f} s of a processor and {MOST_MB:.0f} MB (the larger of the process and its "
        "child, resident, Python itself included).",
        f"The time on the clock depends on what else runs: here {os.getloadavg()[2]:.1f} processes at once on "
        f"{os.cpu_count()} cores.",
        "",
        "| what is hostile | files | opened | refused | most s of a processor | longest s on the clock | most MB |",
        "|---|---|---|---|---|---|---|",
        *(_line(kind, all_came) for kind, all_came in sorted(by_kind.items())),
        _line("all", [came for _, _, came in hostile]),
    ]
    return "\n".join([*lines, *(["", "What went wrong:", "", *(f"- {what}" for what in wrong)] if wrong else [])])


def _line(kind: str, all_came: list[Measured]) -> str:
    outcomes = Counter(came.outcome for came in all_came)
    cpu, seconds, peak = (
        max(column) for column in zip(*((c.cpu_s, c.seconds, c.peak_mb) for c in all_came), strict=True)
    )
    counts = f"{len(all_came)} | {outcomes['opened']} | {outcomes['refused']}"
    return f"| {kind} | {counts} | {cpu:.1f} | {seconds:.1f} | {peak:.0f} |"


def _commit() -> str:
    """The commit that was tested, and whether files differ from it."""
    asked = ["git", "describe", "--always", "--dirty", "--exclude=*"]
    return subprocess.run(asked, cwd=REPOSITORY, capture_output=True, text=True, check=True).stdout.strip()


if __name__ == "__main__":
    raise SystemExit(main())
