"""Hold the importer against many generated files: python -m tests.messy.run 2000 --write."""

import argparse
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

from .answering import true_answer
from .generate import messy_file
from .judge import Verdict, judge
from .recipe import SHAPES
from .report import REPOSITORY, page, summary
from .target import importer

PROCESSES = 2
EVIDENCE = REPOSITORY / "docs" / "evidence" / "messy_logs.md"


def hold(seed: int, only: str | None = None) -> tuple[dict[str, str], Verdict]:
    """How the importer does with the file of one seed, and how that file was made."""
    file = messy_file(seed, only)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / file.name
        path.write_bytes(file.content)
        return file.made, judge(file, path, importer(file), true_answer)


def verdicts(seeds: Iterable[int], only: str | None) -> Iterator[tuple[dict[str, str], Verdict]]:
    """All verdicts, in the order of the seeds."""
    with ProcessPoolExecutor(PROCESSES) as pool:
        yield from pool.map(partial(hold, only=only), seeds, chunksize=20)


def commit() -> str:
    """The short name of the commit, and whether the sources differ from it."""

    def git(*words: str) -> str:
        return subprocess.run(
            ("git", *words), cwd=REPOSITORY, check=True, capture_output=True, text=True
        ).stdout.strip()

    changed = git("status", "--short", "--", "src/steelyard", "tests/messy")
    return git("rev-parse", "--short", "HEAD") + (" and uncommitted changes" if changed else "")


def show(seed: int, only: str | None) -> None:
    """One file: how it was made, what it leaves open, its beginning if it is text, and the verdict."""
    file = messy_file(seed, only)
    kept = Path(tempfile.gettempdir()) / file.name
    kept.write_bytes(file.content)
    print(kept, file.made, file.open_facts, file.given_lifter, sep="\n")
    print(hold(seed, only)[1])


def main() -> int:
    """Print the counts and examples; write the page of evidence if asked to."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("many", type=int, nargs="?", default=280)
    asked.add_argument("--seed", type=int, default=0, help="the earliest seed")
    asked.add_argument("--only", choices=SHAPES, help="this shape for every seed")
    asked.add_argument("--examples", type=int, default=12, help="so many examples of what went wrong")
    asked.add_argument("--show", type=int, metavar="SEED", help="one file and its verdict")
    asked.add_argument("--write", action="store_true", help=f"write {EVIDENCE.relative_to(REPOSITORY)}")
    given = asked.parse_args()
    if given.show is not None:
        show(given.show, given.only)
        return 0
    seeds = range(given.seed, given.seed + given.many)
    made_from = commit()
    held = list(verdicts(seeds, given.only))
    sys.stdout.write(summary(held, given.examples))
    if given.write:
        words = (
            f"{given.many}"
            + (f" --seed {given.seed}" if given.seed else "")
            + (f" --only {given.only}" if given.only else "")
        )
        EVIDENCE.write_text(page(held, words, made_from), "utf-8")
    outcomes = Counter(v.outcome for _, v in held)
    return 1 if outcomes["SILENT-WRONG"] or outcomes["crash"] else 0


if __name__ == "__main__":
    raise SystemExit(main())
