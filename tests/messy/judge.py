"""The judge: a reader gets a file and true answers to its questions, and what it read is held against the truth."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Literal

from msgspec import Struct, structs

from steelyard.engine.quantities import Load

from .comparing import ReadSet, differences, excess_notes, wrong_sets
from .truth import MessyFile, Topic

ROUNDS = 12

Outcome = Literal[
    "exact", "exact-after-questions", "refused-with-problem", "refused-but-wrong", "question-unanswerable",
    "SILENT-WRONG", "crash",
]  # fmt: skip
OUTCOMES: tuple[Outcome, ...] = (
    "exact", "exact-after-questions", "refused-with-problem", "refused-but-wrong", "question-unanswerable",
    "SILENT-WRONG", "crash",
)  # fmt: skip


class Asked(Struct, frozen=True, kw_only=True):
    """A question of the reader: its key, what it is about, the answers it offers with their meaning."""

    key: str
    topic: Topic
    asks: str
    about: str = ""
    examples: tuple[str, ...] = ()
    choices: tuple[tuple[str, str], ...] = ()


class ReadBack(Struct, frozen=True, kw_only=True):
    """What a reader makes of a file with the answers so far."""

    sets: tuple[ReadSet, ...] = ()
    asked: tuple[Asked, ...] = ()
    problems: tuple[str, ...] = ()
    body_masses: tuple[tuple[date, Load], ...] = ()
    lost_rows: tuple[str, ...] = ()  # rows with content that are in no list at all


Reader = Callable[[Path, Mapping[str, str]], ReadBack]
Answerer = Callable[[Asked, MessyFile], str | None]


class Verdict(Struct, frozen=True, kw_only=True):
    """How one file went: its outcome, what differs or was refused, which questions were needless, what was guessed."""

    seed: int
    outcome: Outcome
    said: tuple[str, ...] = ()
    needless: tuple[str, ...] = ()
    guessed: tuple[str, ...] = ()
    excess_notes: int = 0
    lost_rows: tuple[str, ...] = ()


def judge(file: MessyFile, path: Path, read: Reader, answer: Answerer) -> Verdict:
    """The verdict on one reader and one file that stands at `path`."""
    answers: dict[str, str] = {}
    asked: list[Asked] = []
    for _ in range(ROUNDS):
        try:
            back = read(path, answers)
        except Exception as raised:  # whatever a reader raises is a crash of its own
            return _verdict(file, "crash", asked, (f"{type(raised).__name__}: {raised}",))
        if not back.asked:
            return _judged(file, back, asked)
        for question in back.asked:
            given = answer(question, file)
            if given is None or question.key in answers:
                again = "asked again" if question.key in answers else "no true answer is offered"
                offered = [c[0] for c in question.choices]
                words = f"{question.key}: {question.asks} {offered}: {again}"
                return _verdict(file, "question-unanswerable", [*asked, question], (words,))
            answers[question.key] = given
        asked += back.asked
    return _verdict(file, "question-unanswerable", asked, ("asks without end",))


def _judged(file: MessyFile, back: ReadBack, asked: Sequence[Asked]) -> Verdict:
    return structs.replace(_outcome(file, back, asked), lost_rows=back.lost_rows)


def _outcome(file: MessyFile, back: ReadBack, asked: Sequence[Asked]) -> Verdict:
    if back.problems:
        wrong = tuple(wrong_sets(file, back.sets))
        outcome: Outcome = "refused-but-wrong" if wrong else "refused-with-problem"
        return _verdict(file, outcome, asked, (*wrong, *back.problems))
    said = (*differences(file, back.sets), *_wrong_masses(file, back))
    if said:
        return _verdict(file, "SILENT-WRONG", asked, said)
    spare = excess_notes(file, back.sets)
    return _verdict(file, "exact-after-questions" if asked else "exact", asked, (), spare)


def _verdict(
    file: MessyFile, outcome: Outcome, asked: Sequence[Asked], said: tuple[str, ...], spare: int = 0
) -> Verdict:
    topics = {a.topic for a in asked}
    needless = tuple(f"{a.topic}: {a.key}" for a in asked if not _is_open(a, file))
    must: set[Topic] = {f.topic for f in file.open_facts if f.must_ask}
    is_read = outcome in {"exact", "exact-after-questions"}
    guessed = tuple(t for t in sorted(must) if is_read and t not in topics)
    return Verdict(
        seed=file.seed, outcome=outcome, said=said, needless=needless, guessed=guessed, excess_notes=spare
    )  # fmt: skip


def _wrong_masses(file: MessyFile, back: ReadBack) -> list[str]:
    wrong = [(on, mass) for on, mass in back.body_masses if mass != Load(file.body_masses.get(on, Decimal(0)), "kg")]
    return [f"body mass {mass.value} {mass.unit} read on {on}" for on, mass in wrong]


def _is_open(question: Asked, file: MessyFile) -> bool:
    """Whether a person with the file alone in hand could fairly ask this."""
    for fact in file.open_facts:
        if fact.topic == question.topic and (not fact.about or _same(fact.about, question.about)):
            return True
    return False


def _same(one: str, other: str) -> bool:
    return " ".join(one.split()).casefold() == " ".join(other.split()).casefold()
