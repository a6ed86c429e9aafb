"""What many verdicts come to, as text for the terminal and as the page of evidence."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

from .judge import OUTCOMES, Outcome, Verdict

REPOSITORY = Path(__file__).resolve().parents[2]
Held = Sequence[tuple[dict[str, str], Verdict]]
WORST: tuple[Outcome, ...] = (
    "crash", "SILENT-WRONG", "refused-but-wrong", "question-unanswerable", "refused-with-problem",
)  # fmt: skip


def by_dimension(held: Held) -> dict[str, dict[str, Counter[str]]]:
    """Outcomes by each value of each dimension."""
    found: dict[str, dict[str, Counter[str]]] = defaultdict(lambda: defaultdict(Counter))
    for made, verdict in held:
        for dimension, value in made.items():
            found[dimension][value][verdict.outcome] += 1
    return found


def outcome_lines(held: Held) -> list[str]:
    """How often each outcome came, with shares."""
    counted = Counter(v.outcome for _, v in held)
    return [f"| {o} | {counted[o]} | {counted[o] / len(held):.1%} |" for o in OUTCOMES]


def habit_lines(held: Held) -> list[str]:
    """What does not show in the outcomes: needless questions, guesses, words taken for notes."""
    needless = Counter(n.partition(":")[0] for _, v in held for n in v.needless)
    guessed = Counter(g for _, v in held for g in v.guessed)
    with_notes = sum(1 for _, v in held if v.excess_notes)
    with_lost = sum(1 for _, v in held if v.lost_rows)
    asking = sum(1 for _, v in held if v.needless)
    return [
        f"* needless questions: {needless.total()} in {asking} files {_counts(needless)}",
        f"* right by a guess where a person must ask: {guessed.total()} files {_counts(guessed)}",
        f"* files in which words that are no note came along as a note: {with_notes}",
        f"* files with rows that are in no list at all (no set, passed over or problem): {with_lost}",
    ]


def summary(held: Held, examples: int) -> str:
    """For the terminal: counts, then examples, the worst first."""
    lines = [*outcome_lines(held), *habit_lines(held)]
    for dimension, values in by_dimension(held).items():
        lines.append(f"-- {dimension}")
        for value, counted in sorted(values.items()):
            lines.append(f"   {value:28} " + "  ".join(f"{o} {counted[o]}" for o in OUTCOMES if counted[o]))
    lines += ["", *_examples(held, examples)]
    return "\n".join(lines) + "\n"


def page(held: Held, words: str, made_from: str) -> str:
    """The page of evidence."""
    lines = [
        "# Training logs as people keep them, against a judge that knows the truth",
        "",
        f"Written by `python -m tests.messy.run {words} --write`. Each file is generated from its seed with the",
        "list of sets that it says; the importer reads it by its public steps, its questions are answered truly, and",
        "what it read is compared exactly. That the judge can fail is shown in `tests/messy/test_judge.py`.",
        "",
        f"* day: {datetime.now(UTC).date().isoformat()}",
        f"* commit: {made_from}",
        f"* files: {len(held)}",
        *habit_lines(held),
        "",
        "| outcome | files | share |",
        "|---|---|---|",
        *outcome_lines(held),
        "",
        "SILENT-WRONG: a set missing, extra or different, and nothing was asked or refused. refused-but-wrong: a",
        "problem was named, and a set beside it was wrong. A refused file adds nothing to the log.",
    ]
    for dimension, values in by_dimension(held).items():
        lines += ["", f"## By {dimension}", "", f"| {dimension} | files | exact | after questions | refused | worse |",
                  "|---|---|---|---|---|---|"]  # fmt: skip
        lines += [_row(value, counted) for value, counted in sorted(values.items())]
    return "\n".join([*lines, ""])


def _row(value: str, counted: Counter[str]) -> str:
    good = (counted["exact"], counted["exact-after-questions"], counted["refused-with-problem"])
    total = counted.total()
    return f"| {value} | {total} | {good[0]} | {good[1]} | {good[2]} | {total - sum(good)} |"


def _examples(held: Held, many: int) -> list[str]:
    lines = []
    for outcome in WORST:
        of_it = [(made, v) for made, v in held if v.outcome == outcome]
        for made, verdict in of_it[:many]:
            lines.append(
                f"{outcome} seed {verdict.seed} ({', '.join(f'{k} {v}' for k, v in made.items() if v != '-')})"
            )
            lines += [f"    {said}"[:300] for said in verdict.said[:4]]
            if len(verdict.said) > 4:
                lines.append(f"    ... {len(verdict.said)} in all")
    return lines


def _counts(counted: Counter[str]) -> str:
    return "(" + ", ".join(f"{name} {n}" for name, n in counted.most_common()) + ")" if counted else ""
