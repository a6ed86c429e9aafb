"""What one writer means, decided from all cells of a file together; what stays open becomes a question."""

from collections import defaultdict
from collections.abc import Sequence
from decimal import Decimal

from msgspec import structs

from steelyard.wording.message import tell

from .findings import Findings
from .found import Choice
from .set_reading import FEW_SETS
from .set_style import Clue, Doubt, SetStyle


def decide(
    style: SetStyle,
    clues: Sequence[Clue],
    doubted: dict[Doubt, tuple[str, ...]],
    column: str,
    findings: Findings,
    *,
    is_unit_said: bool = False,
) -> SetStyle:
    """The style with these doubts settled: `doubted` holds, for each, some cells whose reading depends on it.

    `is_unit_said`: the header or a title says kg or lb, so that a number after @ is a load.
    """
    by_doubt: defaultdict[Doubt, list[Clue]] = defaultdict(list)
    for clue in clues:
        by_doubt[clue.doubt].append(clue)
    changes: dict[str, str | None] = {}
    for doubt, examples in doubted.items():
        shown = by_doubt[doubt]
        found = _DECIDERS[doubt](shown) if doubt in _DECIDERS else None
        if doubt == "at" and is_unit_said:
            found = "load"
        changes[doubt] = found or _ask(doubt, shown, examples, column, findings, "at" in doubted)
    return structs.replace(style, **changes)


def _shows(clues: Sequence[Clue]) -> set[str]:
    return {clue.shows for clue in clues} - {"unsure", "bare"}


def _only(clues: Sequence[Clue]) -> str | None:
    """What the cells show that allow one reading only, if they agree."""
    shown = _shows(clues)
    return shown.pop() if len(shown) == 1 else None


def _pair(clues: Sequence[Clue]) -> str | None:
    """3x8: sets first where the file is sure to write so elsewhere, or where all the first numbers are few."""
    least = min((c.numbers[0] for c in clues if c.shows == "unsure"), default=Decimal(0))
    most = max((c.numbers[0] for c in clues if c.shows == "unsure"), default=Decimal(0))
    match _shows(clues):
        case shown if shown == {"load-first"}:
            return "load-first" if least > FEW_SETS else None
        case shown if shown == {"sets-first"}:
            return "sets-first" if most <= FEW_SETS + 4 else None
        case shown if not shown:
            return "sets-first" if most <= FEW_SETS else None
        case _:
            return None


def _is_absurd_share(clue: Clue) -> bool:
    """Whether so many repetitions at that share of a maximum are out of reach.

    Epley's equation (1985, as every handbook gives it) leaves 30 (100/p - 1) repetitions at p %; twice as many and two
    more are beyond anybody's curve (our judgement).
    """
    share, reps = clue.numbers
    return reps > 60 * (100 / share - 1) + 2


def at_candidates(values: Sequence[Decimal], *, is_absurd: bool = False) -> list[str]:
    """What bare numbers after @ can be, all taken together; `is_absurd`: some cannot be shares of a maximum."""
    out = ["load"]
    if all(40 <= v <= 110 for v in values) and not is_absurd:
        out.append("percent")
    if all(5 <= v <= 10 and v * 2 == int(v * 2) for v in values):
        out.append("rpe")
    if all(v <= 5 for v in values):
        out.append("rir")
    return out


def _at(clues: Sequence[Clue]) -> str | None:
    """`@ 60`: a load where no share can be meant, or where other cells say kg or lb after @."""
    if _shows(clues) == {"load"} or any(_is_absurd_share(c) for c in clues if c.numbers):
        return "load"
    return "load" if at_candidates(_numbers(clues)) == ["load"] else None


def _at_small(clues: Sequence[Clue]) -> str | None:
    """`@ 8`: a load where the numbers are of no scale."""
    return "load" if at_candidates(_numbers(clues)) == ["load"] else None


def _numbers(clues: Sequence[Clue]) -> list[Decimal]:
    return [c.numbers[0] for c in clues if c.numbers]


_DECIDERS = {
    "pair": _pair,
    "three": _only,
    "triple": _only,
    "slash": _only,
    "comma": _only,
    "bracket": _only,
    "at": _at,
    "at_small": _at_small,
}


def _ask(
    doubt: Doubt,
    clues: Sequence[Clue],
    examples: tuple[str, ...],
    column: str,
    findings: Findings,
    is_large_asked: bool,
) -> str | None:
    asks, choices = _question(doubt, clues, examples[0])
    name = "at" if doubt == "at_small" and not is_large_asked else doubt.replace("_", "-")
    return findings.ask(f"{name}:{column}", asks, examples, choices)


def _question(doubt: Doubt, clues: Sequence[Clue], example: str) -> tuple[str, tuple[Choice, ...]]:
    """What is asked of a cell, and what may be answered."""
    if doubt in {"at", "at_small"}:
        return _at_question(clues, example)
    asks, choices = _questions()[doubt]
    return asks.replace("{cell}", example), tuple(Choice(answer, meaning) for answer, meaning in choices)


def _questions() -> dict[str, tuple[str, tuple[tuple[str, str], ...]]]:
    """The question of each doubt, with {cell} for an example, and its answers in the language spoken."""
    return {
        "pair": (
            tell("What does {cell} mean?", cell="{cell}"),
            (
                ("sets-first", tell("sets, then repetitions")),
                ("load-first", tell("a load, then repetitions")),
            ),
        ),
        "triple": (
            tell("After the load, what comes first in {cell}?", cell="{cell}"),
            (
                ("reps-sets", tell("repetitions, then sets")),
                ("sets-reps", tell("sets, then repetitions")),
            ),
        ),
        "three": (
            tell("Where does the load stand in {cell}?", cell="{cell}"),
            (
                ("load-last", tell("last, after sets and repetitions")),
                ("load-first", tell("first")),
            ),
        ),
        "slash": (
            tell("What are the two numbers of {cell}?", cell="{cell}"),
            (
                ("sides", tell("repetitions of the left and the right side")),
                ("sets", tell("repetitions of two sets")),
            ),
        ),
        "comma": (
            tell("What is the comma in the load of {cell}?", cell="{cell}"),
            (
                ("decimal", tell("a decimal mark")),
                ("list", tell("it parts two loads")),
            ),
        ),
        "bare": (
            tell("What is the number {cell}, which stands alone?", cell="{cell}"),
            (
                ("reps", tell("repetitions")),
                ("single", tell("the load of one repetition")),
            ),
        ),
        "range": (
            tell("A range such as {cell} is a plan; what was lifted?", cell="{cell}"),
            (
                ("leave-out", tell("not known: leave these cells out")),
                ("lowest", tell("the lowest number")),
                ("highest", tell("the highest number")),
            ),
        ),
        "percent": (
            tell("{cell} names a share of a maximum and no load; what shall be done?", cell="{cell}"),
            (("leave-out", tell("leave these cells out")),),
        ),
        "spaced": (
            tell("What do the numbers of {cell} mean?", cell="{cell}"),
            (
                ("reps", tell("repetitions, a number for each set")),
                ("load-first", tell("a load, then repetitions")),
            ),
        ),
        "dash": (
            tell("What does the dash in {cell} mean?", cell="{cell}"),
            (
                ("load-first", tell("a load stands before it, repetitions after it")),
                ("leave-out", tell("something else: leave these cells out")),
            ),
        ),
        "two": (
            tell("What does the beginning of {cell} mean?", cell="{cell}"),
            (
                ("each", tell("so much on each side or in each hand, for the sets that follow")),
                ("together", tell("both together are the load of the sets that follow")),
                ("sets", tell("sets or repetitions of their own")),
            ),
        ),
        "bracket": (
            tell("What is the number in brackets in {cell}?", cell="{cell}"),
            (
                ("rir", tell("repetitions in reserve")),
                ("rpe", tell("effort as RPE")),
                ("note", tell("a remark: keep it as a note")),
            ),
        ),
    }


def _at_question(clues: Sequence[Clue], example: str) -> tuple[str, tuple[Choice, ...]]:
    meanings = {
        "load": tell("a load"),
        "percent": tell("percent of a maximum (such cells then say no load and are left out)"),
        "rpe": tell("effort as RPE"),
        "rir": tell("repetitions in reserve"),
    }
    possible = at_candidates(_numbers(clues))
    shown = [m for m in meanings if m in possible] if len(possible) > 1 else list(meanings)
    return tell("What is the number after @ in {cell}?", cell=example), tuple(Choice(m, meanings[m]) for m in shown)
