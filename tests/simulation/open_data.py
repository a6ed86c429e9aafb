"""Hold the simulated lifters against the open data: python -m tests.simulation.open_data --write."""

import argparse
import subprocess
import sys
from collections.abc import Sequence

from .comparison import CHANCE, REPOSITORY, Study, agrees, differing, page, table
from .named_differences import NAMED
from .studies import BODIES, PLANS, study

EVIDENCE = REPOSITORY / "docs" / "evidence" / "simulated_lifters.md"
HELD_OUT = 1_000_000  # the page shows people that nobody looked at while the bodies' constants were chosen


def unnamed(studies: Sequence[Study], errors: float = 0) -> list[str]:
    """Differences beyond so many sampling errors that no name stands for."""
    return [
        f"{s.name}, {body}: {figure.key}"
        for s in studies
        for body in s.by_body
        for figure in differing(s, body, errors)
        if (s.name, body, figure.key) not in NAMED
    ]


def gone(studies: Sequence[Study]) -> list[str]:
    """Differences that are named and do not occur any more."""
    return [
        f"{s.name}, {body}: {figure.key} is named and agrees"
        for s in studies
        for body, measured_here in s.by_body.items()
        for figure in s.published
        if (s.name, body, figure.key) in NAMED and agrees(figure, measured_here)
    ]


def commit() -> str:
    """The short name of the commit, and whether the sources differ from it."""

    def git(*words: str) -> str:
        return subprocess.run(
            ("git", *words), cwd=REPOSITORY, check=True, capture_output=True, text=True
        ).stdout.strip()

    changed = git("status", "--short", "--", "src/steelyard/engine/simulation", "tests/simulation")
    return git("rev-parse", "--short", "HEAD") + (" and uncommitted changes" if changed else "")


def main() -> int:
    """Print the tables; write the page of evidence if asked to."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--share", type=float, default=1, help="this share of the people of each study")
    asked.add_argument("--only", help="studies whose name holds this")
    asked.add_argument("--body", choices=BODIES, help="only this body")
    asked.add_argument("--first", type=int, help="the number of the first person drawn")
    asked.add_argument("--write", action="store_true", help=f"write {EVIDENCE.relative_to(REPOSITORY)}")
    given = asked.parse_args()
    if given.write and (given.share != 1 or given.only or given.body or given.first is not None):
        asked.error("the page of evidence is written from all studies on both bodies with all their people")
    first = given.first if given.first is not None else HELD_OUT if given.write else 0
    made_from = commit()
    studies = []
    for plan in PLANS:
        if not given.only or given.only in plan.name:
            people = max(24, round(given.share * plan.people))
            studies.append(study(plan, [given.body] if given.body else BODIES, people, first))
            sys.stdout.write("\n".join(["", plan.name, *table(studies[-1]), ""]))
            sys.stdout.flush()
    if given.write:
        EVIDENCE.write_text(page(studies, NAMED, made_from), "utf-8")
    wrong = unnamed(studies, CHANCE) + gone(studies)
    sys.stdout.write(
        "\n".join([f"differences beyond chance and not named, or named and gone: {len(wrong)}", *wrong, ""])
    )
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())
