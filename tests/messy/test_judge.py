"""The judge sees what it must see: readers that are wrong in one way are caught, true ones are not."""

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from msgspec import structs

from .answering import true_answer
from .comparing import ReadSet
from .generate import messy_file
from .judge import Asked, ReadBack, judge
from .planted import (
    Distortion,
    adds_a_repetition,
    as_read,
    drops_a_set,
    forgets_a_miss,
    forgets_effort,
    forgets_notes,
    forgets_pain,
    forgets_the_machine,
    merges_two_exercises,
    merges_two_lifters,
    reads_a_total,
    slips_tenfold,
    swaps_day_and_month,
    takes_pounds_for_kilograms,
    true_reader,
    turns_sides,
)  # fmt: skip
from .truth import Ambiguity, MessyFile

made = cache(messy_file)
NOWHERE = Path("nowhere")
SEEDS = range(0, 210)
UNIT = Asked(
    key="unit:Load", topic="unit", about="Load", asks="kg or lb?", choices=(("kg", "kilograms"), ("lb", "pounds"))
)


def has(file: MessyFile, what: str) -> bool:
    """Whether any set of the file has this to lose."""
    return any(getattr(s, what) for s in file.sets)


ALWAYS: dict[Distortion, Callable[[MessyFile], bool]] = {
    drops_a_set: lambda f: True,
    reads_a_total: lambda f: True,
    slips_tenfold: lambda f: any(s.load and s.load > 0 for s in f.sets),
    takes_pounds_for_kilograms: lambda f: any(s.load for s in f.sets),
    swaps_day_and_month: lambda f: any(s.on.day <= 12 and s.on.day != s.on.month for s in f.sets),
    merges_two_lifters: lambda f: len({s.lifter for s in f.sets}) > 1,
    merges_two_exercises: lambda f: len({s.exercise for s in f.sets}) > 1,
    adds_a_repetition: lambda f: has(f, "reps"),
    forgets_a_miss: lambda f: has(f, "missed"),
    forgets_effort: lambda f: has(f, "effort"),
    forgets_pain: lambda f: has(f, "pain"),
    forgets_notes: lambda f: has(f, "note"),
    forgets_the_machine: lambda f: has(f, "implement"),
    turns_sides: lambda f: any(s.side == "left" for s in f.sets),
}


@pytest.mark.parametrize("seed", SEEDS[::7])
def test_a_true_reader_is_exact(seed: int) -> None:
    file = made(seed)
    assert judge(file, NOWHERE, true_reader(file), true_answer).outcome == "exact"


@pytest.mark.parametrize("distortion", ALWAYS, ids=lambda d: d.__name__)
def test_each_wrong_reader_is_caught_wherever_it_is_wrong(distortion: Distortion) -> None:
    fitting = [file for file in map(made, SEEDS) if ALWAYS[distortion](file)]
    assert len(fitting) >= 5
    outcomes = {judge(f, NOWHERE, true_reader(f, distortion), true_answer).outcome for f in fitting}
    assert outcomes == {"SILENT-WRONG"}


def with_open(*topics: str) -> MessyFile:
    """A file that leaves open just these."""
    files = (made(seed) for seed in range(4000))
    return next(f for f in files if tuple(a.topic for a in f.open_facts) == topics)


def test_a_question_about_what_is_open_is_right_and_answered_truly() -> None:
    file = with_open("unit")
    verdict = judge(file, NOWHERE, true_reader(file, asks=(UNIT,)), true_answer)
    assert (verdict.outcome, verdict.needless, verdict.guessed) == ("exact-after-questions", (), ())
    assert true_answer(UNIT, file) == file.open_facts[0].answer


def test_a_question_about_what_the_file_says_is_needless() -> None:
    file = with_open()
    verdict = judge(file, NOWHERE, true_reader(file, asks=(UNIT,)), true_answer)
    assert verdict.outcome == "exact-after-questions"
    assert verdict.needless == ("unit: unit:Load",)


def test_reading_on_where_one_must_ask_is_a_guess_even_if_right() -> None:
    file = structs.replace(with_open("unit"), open_facts=(Ambiguity("unit", "kg", must_ask=True),))
    assert judge(file, NOWHERE, true_reader(file), true_answer).guessed == ("unit",)


def test_a_question_that_offers_no_true_answer_cannot_be_answered() -> None:
    file = with_open("unit")
    wrong = structs.replace(UNIT, choices=(("stone", "stones"),))
    assert judge(file, NOWHERE, true_reader(file, asks=(wrong,)), true_answer).outcome == "question-unanswerable"


def test_asking_again_what_was_answered_ends() -> None:
    file = with_open("unit")
    verdict = judge(file, NOWHERE, lambda path, answers: ReadBack(asked=(UNIT,)), true_answer)
    assert verdict.outcome == "question-unanswerable"


def test_a_problem_is_a_refusal_unless_a_set_beside_it_is_wrong() -> None:
    file = made(2)
    sets = [as_read(s) for s in file.sets]

    def outcome(kept: list[ReadSet]) -> str:
        back = ReadBack(sets=tuple(kept), problems=("row 7 cannot be read",))
        return judge(file, NOWHERE, lambda path, answers: back, true_answer).outcome

    assert outcome(sets[3:]) == "refused-with-problem"
    assert outcome([]) == "refused-with-problem"
    assert outcome(slips_tenfold(sets)[:3]) == "refused-but-wrong"


def test_whatever_a_reader_raises_is_a_crash() -> None:
    file = made(2)

    def broken(path: Path, answers: object) -> ReadBack:
        raise ZeroDivisionError

    assert judge(file, NOWHERE, broken, true_answer).outcome == "crash"


def test_a_seed_makes_the_same_file_each_time() -> None:
    for seed in range(28):
        once, again = messy_file(seed), messy_file(seed)
        assert structs.replace(once, content=b"") == structs.replace(again, content=b"")
        assert once.content == again.content or once.name.endswith("xlsx")  # which holds the time of writing
    assert len({made(s).content for s in range(60)}) == 60


def test_files_are_of_the_promised_size_and_every_shape() -> None:
    files = [made(s) for s in SEEDS]
    assert all(15 <= len(f.sets) <= 120 for f in files)
    assert len({f.made["shape"] for f in files}) == 14
