"""How the reader does on the handwritten files: exact sets, sets that are wrong, and what it asks or refuses.

python -m tests.handwritten.judge [--write] [NUMBER ...]
"""

import json
import subprocess
import sys
from collections import Counter
from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

from msgspec import Struct

from steelyard.catalogue import catalogue
from steelyard.catalogue.matching import looks_like_exercise
from steelyard.engine.exercises import folded_name
from steelyard.exchange.found import FoundSet, Reading
from steelyard.exchange.grid import FileRefused
from steelyard.exchange.opening import open_file
from steelyard.exchange.reading import read_grids

FOLDER = Path(__file__).parent
EVIDENCE = FOLDER.parents[1] / "docs" / "evidence" / "handwritten_logs.md"
# Loads that were worked out from a percentage are compared to the gram only.
NEAREST = Decimal("0.001")
TODAY = date(2026, 11, 25)
# As answers.json says of the one file that has weeks and days only: Monday, Wednesday, Friday.
WEEKS_START, WEEKDAYS_ANSWERED = date(2025, 3, 3), (0, 2, 4)
Key = tuple[str, str, str, str, str]


class Outcome(Struct, frozen=True, kw_only=True):
    """What became of one file."""

    file: str
    sets: int
    exact: int
    wrong: tuple[Key, ...]
    missing: tuple[Key, ...]
    questions: tuple[str, ...]
    problems: tuple[str, ...]

    @property
    def is_silent(self) -> bool:
        """Whether the file would be taken in as it was read."""
        return not self.questions and not self.problems

    @property
    def verdict(self) -> str:
        """In a word."""
        if not self.wrong and not self.missing:
            return "exact" if self.is_silent else "exact, and more said than needed"
        return "SILENT WRONG" if self.is_silent else "stopped by a question or a problem"


def files() -> list[Path]:
    """Every handwritten file."""
    return sorted(p for p in FOLDER.glob("[0-9][0-9]_*") if not p.name.endswith(".truth.json"))


def truth_of(path: Path) -> dict[str, Any]:
    """What a careful human reads in a file."""
    found: dict[str, Any] = json.loads(path.with_name(f"{path.stem}.truth.json").read_text(encoding="utf-8"))
    return found


def answers_of(path: Path) -> dict[str, str]:
    """What the writer of the file would answer; only to what cannot be known from it."""
    known: dict[str, dict[str, str]] = json.loads((FOLDER / "answers.json").read_text(encoding="utf-8"))
    return known.get(path.name, {})


def read(path: Path) -> Reading | FileRefused:
    """The file as the product reads it."""
    try:
        opened = open_file(path)
    except FileRefused as refused:
        return refused
    return read_grids(
        opened,
        lifter=truth_of(path)["lifter"],
        answers=answers_of(path),
        is_exercise=lambda text: looks_like_exercise(text, catalogue()),
        today=TODAY,
    )


def judge(path: Path) -> Outcome:
    """Compare what is read with what is true, set by set, whatever their order."""
    truth = truth_of(path)
    wanted = Counter(_true_key(item, truth["lifter"]) for item in truth["sets"])
    reading = read(path)
    if isinstance(reading, FileRefused):
        return Outcome(file=path.name, sets=wanted.total(), exact=0, wrong=(), missing=tuple(wanted.elements()),
                       questions=(), problems=(reading.problem.problem,))  # fmt: skip
    found = Counter(_read_key(item, truth["lifter"]) for item in reading.sets)
    return Outcome(
        file=path.name,
        sets=wanted.total(),
        exact=(wanted & found).total(),
        wrong=tuple((found - wanted).elements()),
        missing=tuple((wanted - found).elements()),
        questions=tuple(q.key for q in reading.questions),
        problems=tuple(f"row {p.row} {p.column}: {p.value!r} {p.problem}" for p in reading.problems),
    )


def _true_key(item: dict[str, Any], default: str | None) -> Key:
    load = str(item["load"] or "").replace("+", "")
    value, _, unit = load.rpartition(" ")
    if load.startswith("mark"):
        value, unit = load.split()[1], "mark"
    return (
        folded_name(item["lifter"] or default or ""),
        str(item["date"]) if item["date"] else _week_and_day(item),
        folded_name(item["as_written"]),
        f"{_number(value)} {unit}" if load else "",
        _counts(item["reps"], item["seconds"], item["metres"]),
    )


def _week_and_day(item: dict[str, Any]) -> str:
    """The date that the answer about the first week gives a set of which only week and day are known."""
    weekday = WEEKDAYS_ANSWERED[item["day"] - 1]
    return (WEEKS_START + timedelta(weeks=item["week"] - 1, days=weekday)).isoformat()


def _read_key(item: FoundSet, default: str | None) -> Key:
    body = item.body
    load = "" if body.load is None or not body.load.value else f"{_number(body.load.value)} {body.load.unit}"
    return (
        folded_name(item.lifter or default or ""),
        body.on.isoformat(),
        folded_name(body.as_written),
        load,
        _counts(body.reps, body.seconds, body.metres),
    )


def _counts(*counts: object) -> str:
    return "/".join("" if c is None else f"{_number(c)}" for c in counts)


def _number(value: object) -> str:
    if not str(value):
        return ""
    return f"{Decimal(str(value)).quantize(NEAREST).normalize():f}"


def table(outcomes: Iterable[Outcome]) -> list[str]:
    """The outcomes as lines of Markdown."""
    lines = [
        "| file | sets | read exactly | read wrongly | questions | problems | verdict |",
        "|---|---|---|---|---|---|---|",
    ]
    return lines + [
        f"| {o.file} | {o.sets} | {o.exact} | {len(o.wrong)} | {len(o.questions)} | {len(o.problems)} | {o.verdict} |"
        for o in outcomes
    ]


def main(arguments: list[str]) -> None:
    """Judge all files, or those whose numbers are given, with the differences of each."""
    chosen = [a for a in arguments if a.isdigit()]
    outcomes = [judge(p) for p in files() if not chosen or p.name[:2] in chosen]
    for outcome in outcomes:
        if chosen:
            print(outcome.file)
            for name in ("wrong", "missing", "questions", "problems"):
                for item in getattr(outcome, name):
                    print(f"  {name}: {item}")
    lines = table(outcomes)
    total = sum(o.sets for o in outcomes)
    exact = sum(o.exact for o in outcomes)
    silent = sum(o.verdict == "SILENT WRONG" for o in outcomes)
    lines += ["", f"{exact} of {total} sets read exactly; {silent} of {len(outcomes)} files silently wrong."]
    print("\n".join(lines))
    if "--write" in arguments:
        commit = subprocess.run(["git", "rev-parse", "--short", "HEAD"], capture_output=True, text=True, check=True)
        head = ["# Handwritten logs", "", "<!-- Written by python -m tests.handwritten.judge --write. -->", "",
                f"{datetime.now(UTC).date().isoformat()}, commit {commit.stdout.strip()}", ""]  # fmt: skip
        EVIDENCE.write_text("\n".join([*head, *lines, ""]), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
