"""Readers that know the truth, and readers that get it wrong in one way: to see that the judge can tell."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from pathlib import Path

from msgspec import structs

from steelyard.engine.effort import Effort
from steelyard.engine.log import Missed, Pain, SetBody, Technique
from steelyard.engine.quantities import Load

from .comparing import ReadSet
from .judge import Asked, ReadBack, Reader
from .truth import MessyFile, TrueSet

Distortion = Callable[[list[ReadSet]], list[ReadSet]]
_MISSED: dict[str, Missed] = {
    "unsaid": "unsaid", "strength": "strength", "technique": "technique", "pain": "pain", "not-done": "not-done",
}  # fmt: skip
_TECHNIQUE: dict[str, Technique] = {"good": "good", "rough": "rough", "broke": "broke"}


def true_reader(file: MessyFile, distort: Distortion = lambda sets: sets, *, asks: Sequence[Asked] = ()) -> Reader:
    """Reads the file exactly, but for the distortion, after asking what it is told to ask."""

    def read(path: Path, answers: Mapping[str, str]) -> ReadBack:
        left = tuple(a for a in asks if a.key not in answers)
        return ReadBack(asked=left) if left else ReadBack(sets=tuple(distort([as_read(s) for s in file.sets])))

    return read


def as_read(true: TrueSet) -> ReadSet:
    """A true set as a perfect reader gives it."""
    effort = true.effort
    body = SetBody(
        on=true.on, exercise="", as_written=true.written, implement=true.implement or None,
        load=None if true.load is None else Load(true.load, true.unit),
        reps=true.reps, seconds=true.seconds, metres=None if true.metres is None else Decimal(true.metres),
        side="left" if true.side == "left" else "right" if true.side == "right" else "each" if true.side else None,
        effort=None if effort is None else Effort(effort[1], "rpe" if effort[0] == "rpe" else "rir"),
        missed=_MISSED[true.missed] if true.missed else None, pain=None if true.pain is None else Pain(*true.pain),
        technique=_TECHNIQUE[true.technique] if true.technique else None, note=true.note,
    )  # fmt: skip
    return ReadSet(lifter=true.lifter, exercise=true.exercise, body=body)


def changed(sets: list[ReadSet], at: int, **fields: object) -> list[ReadSet]:
    """The sets with some fields of one body changed."""
    one = sets[at]
    return [*sets[:at], structs.replace(one, body=structs.replace(one.body, **fields)), *sets[at + 1 :]]


def drops_a_set(sets: list[ReadSet]) -> list[ReadSet]:
    """Leaves the last set out."""
    return sets[:-1]


def reads_a_total(sets: list[ReadSet]) -> list[ReadSet]:
    """Takes a row that is no set for one."""
    return [*sets, sets[-1]]


def swaps_day_and_month(sets: list[ReadSet]) -> list[ReadSet]:
    """Reads day and month the wrong way round wherever that is a date."""
    return [
        structs.replace(s, body=structs.replace(s.body, on=date(s.body.on.year, s.body.on.day, s.body.on.month)))
        if s.body.on.day <= 12
        else s
        for s in sets
    ]


def slips_tenfold(sets: list[ReadSet]) -> list[ReadSet]:
    """Puts the decimal mark of one load one digit too early."""
    at = _loaded(sets)
    load = sets[at].body.load
    assert load is not None
    return changed(sets, at, load=Load(load.value / 10, load.unit))


def takes_pounds_for_kilograms(sets: list[ReadSet]) -> list[ReadSet]:
    """Reads every load in the other unit."""
    return [
        structs.replace(s, body=structs.replace(s.body, load=Load(load.value, "kg" if load.unit == "lb" else "lb")))
        if (load := s.body.load) is not None
        else s
        for s in sets
    ]


def merges_two_lifters(sets: list[ReadSet]) -> list[ReadSet]:
    """Gives everything to the lifter of the first row."""
    return [structs.replace(s, lifter=sets[0].lifter) for s in sets]


def merges_two_exercises(sets: list[ReadSet]) -> list[ReadSet]:
    """Takes one exercise for another."""
    other = next(s.exercise for s in sets if s.exercise != sets[0].exercise)
    return [structs.replace(s, exercise=other) if s.exercise == sets[0].exercise else s for s in sets]


def adds_a_repetition(sets: list[ReadSet]) -> list[ReadSet]:
    """Reads a repetition count one too high."""
    at = next(n for n, s in enumerate(sets) if s.body.reps)
    return changed(sets, at, reps=(sets[at].body.reps or 0) + 1)


def forgets_a_miss(sets: list[ReadSet]) -> list[ReadSet]:
    """Reads a missed set as one repetition done."""
    at = next(n for n, s in enumerate(sets) if s.body.missed)
    return changed(sets, at, missed=None, reps=1)


def forgets_effort(sets: list[ReadSet]) -> list[ReadSet]:
    """Leaves effort out."""
    return [structs.replace(s, body=structs.replace(s.body, effort=None)) for s in sets]


def forgets_pain(sets: list[ReadSet]) -> list[ReadSet]:
    """Leaves pain out."""
    return [structs.replace(s, body=structs.replace(s.body, pain=None)) for s in sets]


def forgets_notes(sets: list[ReadSet]) -> list[ReadSet]:
    """Leaves notes out."""
    return [structs.replace(s, body=structs.replace(s.body, note="")) for s in sets]


def forgets_the_machine(sets: list[ReadSet]) -> list[ReadSet]:
    """Reads two machines as one."""
    return [structs.replace(s, body=structs.replace(s.body, implement=None)) for s in sets]


def turns_sides(sets: list[ReadSet]) -> list[ReadSet]:
    """Reads left as right."""
    at = next(n for n, s in enumerate(sets) if s.body.side == "left")
    return changed(sets, at, side="right")


def _loaded(sets: list[ReadSet]) -> int:
    return next(n for n, s in enumerate(sets) if s.body.load is not None and s.body.load.value > 0)
