"""Hold many generated logs against the page: python -m tests.oracle.run 20000."""

import sys
from collections import Counter
from concurrent.futures import ProcessPoolExecutor

from steelyard.catalogue import catalogue
from steelyard.engine.planning import plan_session
from steelyard.engine.reasons import code_of

from .generated_logs import generated_case
from .limits_oracle import Violation, violations

PROCESSES = 2
EXCEPTIONS = ("smallest-jump", "smallest-jump-refused", "limit-overruled", "no-load-under-limit")
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
            f"reason {code}" for code in {code_of(r) for r in line.reasons} if code in EXCEPTIONS or "limit" in code
        )
    found = violations(sheet, case.log, catalogue(), case.equipment, case.request)
    counts.update(f"violation {v.rule}" for v in found)
    return counts, [(seed, v) for v in found]


def main() -> int:
    """Print the counts, and up to five examples of each kind of breach."""
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    earliest = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    total, shown = Counter[str](), Counter[str]()
    with ProcessPoolExecutor(PROCESSES) as pool:
        for counts, found in pool.map(hold, range(earliest, earliest + many), chunksize=50):
            total += counts
            for seed, violation in found:
                shown[violation.rule] += 1
                if shown[violation.rule] <= 5:
                    print(f"seed {seed} {violation.exercise}: {violation.rule}: {violation.said}")
    for name, count in sorted(total.items()):
        print(f"{count:8d}  {name}")
    return 1 if shown else 0


if __name__ == "__main__":
    raise SystemExit(main())
