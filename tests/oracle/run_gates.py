"""Hold many odd logs against the page of gates: python -m tests.oracle.run_gates 20000 --write."""

import argparse
import subprocess
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from datetime import UTC, datetime
from pathlib import Path
from time import monotonic

from .gate_added import an_addition, breaches_of, compared, exercises, sheet_of
from .gate_law_lines import Law
from .gate_logs import gate_case

PROCESSES = 2
ADDITIONS = 2
EXAMPLES = 5
REPOSITORY = Path(__file__).resolve().parents[2]
EVIDENCE = REPOSITORY / "docs" / "evidence" / "gates.md"
Tally = tuple[Counter[str], list[tuple[int, str]]]


def hold(seed: int) -> Tally:
    """One log's counts and breaches: its own sheet, and the sheets with one more entry."""
    counts, found = Counter[str](), list[tuple[int, str]]()
    try:
        case = gate_case(seed)
        sheet = sheet_of(case)
        law = Law(case.log, exercises(), case.request)
        for line in sheet.lines:
            counts[f"course {line.course}"] += 1
            counts.update(f"gate {code}" for code in {c.code for c in law.of(line.exercise) if c.sure})
        breaches = [f"{b.rule} {b.exercise} {b.said}" for b in breaches_of(case, sheet)]
        for nth in range(ADDITIONS):
            addition = an_addition(seed, nth, case)
            outcome = compared(case, addition)
            counts[f"entry {outcome.state}"] += 1
            breaches += [f"bolder {exercise} {said} after {addition.kind}" for exercise, said in outcome.bolder]
            breaches += [f"{b.rule} {b.exercise} {b.said} after {addition.kind}" for b in outcome.breaches]
    except Exception as raised:  # whatever the engine raises is a finding of its own
        breaches = [f"crash {raised!r}"]
    found += [(seed, breach) for breach in breaches]
    counts.update(f"violation {breach.split()[0]}" for breach in breaches)
    return counts, found


def commit() -> str:
    """The short name of the commit, and whether the sources differ from it."""

    def git(*words: str) -> str:
        return subprocess.run(
            ("git", *words), cwd=REPOSITORY, check=True, capture_output=True, text=True
        ).stdout.strip()

    changed = git("status", "--short", "--", "src/steelyard/engine", "tests/oracle", "docs/reference/gates.md")
    return git("rev-parse", "--short", "HEAD") + (" and uncommitted changes" if changed else "")


def report(made_from: str, many: int, earliest: int, total: Counter[str], seconds: float) -> str:
    """The page of evidence."""

    def table(title: str, prefix: str) -> list[str]:
        names = sorted(name for name in total if name.startswith(prefix))
        rows = [f"| {name.removeprefix(prefix)} | {total[name]} |" for name in names]
        return ["", f"| {title} | |", "|---|---|", *rows]

    breaches = sum(n for name, n in total.items() if name.startswith("violation "))
    return "\n".join(
        [
            "# The gates against an independent judge",
            "",
            f"Written by `python -m tests.oracle.run_gates {many} --write`. Each odd log (seeds {earliest} to",
            f"{earliest + many - 1}) is planned once, and every line of the sheet is held against",
            "`docs/reference/gates.md` by a judge in `tests/oracle/` that was written from that page, apart from the",
            f"engine. Then {ADDITIONS} more entries of any kind are put into each log, one at a time: where one opens",
            "no gate by the page, no line behind a closed gate may become bolder (heavier, longer at the same load,",
            "more sets, less in reserve, back after it was left out). That the judge can fail is shown in",
            "`tests/oracle/test_gates_oracle.py`.",
            "",
            f"* day: {datetime.now(UTC).date().isoformat()}",
            f"* commit: {made_from}",
            f"* logs: {many}",
            f"* lines: {sum(n for name, n in total.items() if name.startswith('course '))}",
            f"* violations: {breaches}",
            f"* seconds ({PROCESSES} processes, at low priority beside other work): {seconds:.0f}",
            *table("course of the line", "course "),
            *table("gate closed on the line", "gate "),
            *table("one more entry", "entry "),
            *(table("violation", "violation ") if breaches else []),
            "",
        ]
    )


def main() -> int:
    """Print the counts, and some examples of each kind of breach; write the page of evidence if asked to."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("many", type=int, nargs="?", default=1000)
    asked.add_argument("earliest", type=int, nargs="?", default=0)
    asked.add_argument("--write", action="store_true", help=f"write {EVIDENCE.relative_to(REPOSITORY)}")
    given = asked.parse_args()
    total, shown = Counter[str](), Counter[str]()
    made_from, began = commit(), monotonic()
    with ProcessPoolExecutor(PROCESSES) as pool:
        for counts, found in pool.map(hold, range(given.earliest, given.earliest + given.many), chunksize=50):
            total += counts
            for seed, said in found:
                rule = said.split()[0]
                shown[rule] += 1
                if shown[rule] <= EXAMPLES:
                    print(f"seed {seed}: {said}")
    for name, count in sorted(total.items()):
        print(f"{count:8d}  {name}")
    if given.write:
        EVIDENCE.write_text(report(made_from, given.many, given.earliest, total, monotonic() - began), "utf-8")
    return 1 if shown else 0


if __name__ == "__main__":
    raise SystemExit(main())
