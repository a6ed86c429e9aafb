"""Hold many generated logs against the page: python -m tests.oracle.run 20000 --write."""

import argparse
import subprocess
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from datetime import UTC, datetime
from pathlib import Path
from time import monotonic

from steelyard.catalogue import catalogue
from steelyard.engine.planning import plan_session
from steelyard.engine.reasons import code_of

from .codes import GATES
from .generated_logs import generated_case
from .limits_oracle import violations
from .line_reading import Violation

PROCESSES = 2
REPOSITORY = Path(__file__).resolve().parents[2]
EVIDENCE = REPOSITORY / "docs" / "evidence" / "limits.md"
EXCEPTIONS = ("pause-served", "smallest-jump", "smallest-jump-refused", "limit-overruled", "no-load-under-limit")
Tally = tuple[Counter[str], list[tuple[int, Violation]]]


def hold(seed: int) -> Tally:
    """One generated log's counts and breaches."""
    case, counts = generated_case(seed), Counter[str]()
    try:
        sheet = plan_session(case.log, catalogue(), case.equipment, case.request)
    except Exception as raised:  # whatever the engine raises is a finding of its own
        counts["violation crash"] += 1
        return counts, [(seed, Violation("", "crash", repr(raised)))]
    for line in sheet.lines:
        counts[f"course {line.course}"] += 1
        counts.update(
            f"reason {code}"
            for code in {code_of(r) for r in line.reasons}
            if code in EXCEPTIONS or code in GATES or "limit" in code
        )
    found = violations(sheet, case.log, catalogue(), case.equipment, case.request)
    counts.update(f"violation {v.rule}" for v in found)
    return counts, [(seed, v) for v in found]


def commit() -> str:
    """The short name of the commit, and whether the sources differ from it."""

    def git(*words: str) -> str:
        return subprocess.run(
            ("git", *words), cwd=REPOSITORY, check=True, capture_output=True, text=True
        ).stdout.strip()

    changed = git("status", "--short", "--", "src/steelyard/engine", "tests/oracle", "docs/reference/limits.md")
    return git("rev-parse", "--short", "HEAD") + (" and uncommitted changes" if changed else "")


def report(made_from: str, many: int, earliest: int, total: Counter[str], breaches: int, seconds: float) -> str:
    """The page of evidence."""

    def table(prefix: str) -> list[str]:
        names = sorted(name for name in total if name.startswith(prefix))
        return [f"| {name.removeprefix(prefix)} | {total[name]} |" for name in names]

    lines = sum(n for name, n in total.items() if name.startswith("course "))
    return "\n".join(
        [
            "# The limits against an independent oracle",
            "",
            "Written by `python -m tests.oracle.run "
            f"{many} --write`. Each generated log (seeds {earliest} to {earliest + many - 1}) is planned once by the",
            "engine, and every line of the sheet is held against `docs/reference/limits.md` and `gates.md` by",
            "`tests/oracle/`, which reads the log by those pages alone. That the oracle can fail is shown there.",
            "",
            f"* day: {datetime.now(UTC).date().isoformat()}",
            f"* commit: {made_from}",
            f"* logs: {many}",
            f"* lines: {lines}",
            f"* violations: {breaches}",
            f"* seconds ({PROCESSES} processes, at low priority beside other work): {seconds:.0f}",
            "",
            "| course of the line | lines |",
            "|---|---|",
            *table("course "),
            "",
            "| limit, gate or exception named on the line | lines |",
            "|---|---|",
            *table("reason "),
            *(["", "| violation | lines |", "|---|---|", *table("violation ")] if breaches else []),
            "",
        ]
    )


def main() -> int:
    """Print the counts, and up to five examples of each kind of breach; write the page of evidence if asked to."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("many", type=int, nargs="?", default=1000)
    asked.add_argument("earliest", type=int, nargs="?", default=0)
    asked.add_argument("--write", action="store_true", help=f"write {EVIDENCE.relative_to(REPOSITORY)}")
    given = asked.parse_args()
    many, earliest = given.many, given.earliest
    total, shown = Counter[str](), Counter[str]()
    made_from, began = commit(), monotonic()
    with ProcessPoolExecutor(PROCESSES) as pool:
        for counts, found in pool.map(hold, range(earliest, earliest + many), chunksize=50):
            total += counts
            for seed, violation in found:
                shown[violation.rule] += 1
                if shown[violation.rule] <= 5:
                    print(f"seed {seed} {violation.exercise}: {violation.rule}: {violation.said}")
    for name, count in sorted(total.items()):
        print(f"{count:8d}  {name}")
    if given.write:
        EVIDENCE.parent.mkdir(exist_ok=True)
        EVIDENCE.write_text(report(made_from, many, earliest, total, shown.total(), monotonic() - began), "utf-8")
    return 1 if shown else 0


if __name__ == "__main__":
    raise SystemExit(main())
