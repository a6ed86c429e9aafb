"""Mutants of the engine's core that the tests let live, each with its explanation: python -m benchmarks.mutation.

It runs mutmut (settings in pyproject.toml) on a clone of the commit, so that nothing here is touched, and writes
docs/evidence/mutation.md. Explanations stand in benchmarks/mutants_explained.toml by the changed line, old and new.
"""

import os
import subprocess
import sys
import tomllib
from collections import Counter
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

REPOSITORY = Path(__file__).resolve().parents[1]
EVIDENCE = REPOSITORY / "docs" / "evidence" / "mutation.md"
EXPLAINED = Path(__file__).with_name("mutants_explained.toml")
KILLED = {"killed", "timeout"}
NOT_YET = "not explained yet"


class Mutant(NamedTuple):
    """One mutant: its module, what became of it, and how the line was changed."""

    name: str
    module: str
    outcome: str
    was: str
    became: str


def run_in(folder: Path, *words: str) -> str:
    """What a command prints; randomness of property tests is fixed, so that a mutant's fate repeats."""
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"} | {"CI": "1"}
    done = subprocess.run(words, cwd=folder, env=environment, capture_output=True, text=True, check=False)
    if done.returncode:
        raise SystemExit(f"{' '.join(words)} ended with {done.returncode}:\n{done.stdout[-2000:]}{done.stderr[-2000:]}")
    return done.stdout


def mutants(folder: Path) -> list[Mutant]:
    """Every mutant of a finished run, with the change of those that lived."""
    found = []
    for line in run_in(folder, sys.executable, "-m", "mutmut", "results", "--all", "true").splitlines():
        name, _, outcome = (part.strip() for part in line.partition(":"))
        if not outcome:
            continue
        was, became = ("", "") if outcome in KILLED else change(folder, name)
        found.append(Mutant(name, name.split(".x")[0].rpartition(".")[2], outcome, was, became))
    return found


def change(folder: Path, name: str) -> tuple[str, str]:
    """The lines that a mutant took out and put in."""
    shown = run_in(folder, sys.executable, "-m", "mutmut", "show", name).splitlines()
    changed = [line for line in shown if line[:1] in {"-", "+"} and line[:3] not in {"---", "+++"}]
    was = " ".join(line[1:].strip() for line in changed if line.startswith("-"))
    became = " ".join(line[1:].strip() for line in changed if line.startswith("+"))
    return was, became


def explanation(mutant: Mutant, explained: list[dict[str, str]]) -> str:
    """Why a mutant may live, or that nobody has said so yet."""
    for given in explained:
        if given["was"] in mutant.was and given["became"] in mutant.became:
            return given["why"]
    return NOT_YET


def report(found: list[Mutant], explained: list[dict[str, str]], commit: str) -> str:
    """The page of evidence."""
    lines = [
        "# Mutants of the engine's core",
        "",
        "Written by `python -m benchmarks.mutation` (mutmut 3). A mutant is the code with one small change; it is",
        "killed if a test fails on it. Explanations of those that lived stand in `benchmarks/mutants_explained.toml`.",
        "",
        f"* day: {datetime.now(UTC).date().isoformat()}",
        f"* commit: {commit}",
        "",
        "| module | mutants | killed | lived | score |",
        "|---|---|---|---|---|",
    ]
    for module in [*sorted({m.module for m in found}), "together"]:
        here = [m for m in found if module in {m.module, "together"}]
        killed = sum(m.outcome in KILLED for m in here)
        lines.append(f"| {module} | {len(here)} | {killed} | {len(here) - killed} | {100 * killed / len(here):.1f} % |")
    lines += ["", "## Those that lived", "", "| module | was | became | why |", "|---|---|---|---|"]
    for mutant in found:
        if mutant.outcome not in KILLED:
            was, became = (text.replace("|", "\\|") for text in (mutant.was, mutant.became))
            lines.append(f"| {mutant.module} | `{was}` | `{became}` | {explanation(mutant, explained)} |")
    return "\n".join([*lines, ""])


def main() -> int:
    """Run mutmut on the commit and write what came of it."""
    explained = tomllib.loads(EXPLAINED.read_text("utf-8"))["mutant"]
    commit = run_in(REPOSITORY, "git", "rev-parse", "--short", "HEAD").strip()
    with TemporaryDirectory() as scratch:
        folder = Path(scratch) / "clone"
        run_in(REPOSITORY, "git", "clone", "--quiet", str(REPOSITORY), str(folder))
        (folder / "pyproject.toml").write_bytes((REPOSITORY / "pyproject.toml").read_bytes())  # settings as they stand
        run_in(folder, sys.executable, "-m", "mutmut", "run", "--max-children", "2")
        found = mutants(folder)
    EVIDENCE.write_text(report(found, explained, commit), "utf-8")
    outcomes = Counter(m.outcome for m in found)
    print(f"{len(found)} mutants: {dict(outcomes)}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
