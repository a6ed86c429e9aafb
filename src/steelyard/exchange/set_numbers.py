"""Counts and loads of one group as sets: lists, sides, clusters, time, distance, and one load for all or one each."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Literal

from msgspec import structs

from steelyard.wording.message import tell

from .cells import MOST_REPETITIONS, CellRefused
from .numbers import mark_shown, number
from .set_reading import LOADS_APART, SEPARATORS, LeftOut, ReadingOf, refused
from .set_style import SaidLoad, SaidSet
from .set_tokens import Beside, Operand

LONGEST_S = 36_000


def sets_of(operand: Operand, how_many: int | None, beside: Beside, reading: ReadingOf) -> list[SaidSet]:
    """The sets that one count or list of counts says."""
    if operand.kind == "range":
        sets = [_ranged(operand, reading)]
    elif operand.kind == "miss":
        sets = [SaidSet(reps=0, missed="unsaid")]
    elif operand.kind == "time":
        minutes, seconds = operand.raw.split(":")
        sets = [_seconds(int(minutes) * 60 + int(seconds))]
    else:
        sets = _listed(operand, how_many, beside, reading)
    sets = [structs.replace(s, side=beside.side) if beside.side and s.side is None else s for s in sets]
    if how_many is None or len(sets) == how_many:
        return sets
    if len(sets) == 1:
        return sets * how_many
    if {s.side for s in sets} == {"left", "right"}:
        return sets * how_many
    raise refused(tell("says {sets} sets and counts {counts}", sets=how_many, counts=len(sets)))


def _ranged(operand: Operand, reading: ReadingOf) -> SaidSet:
    low, high = (int(part) for part in operand.raw.split("-"))
    if low >= high:
        raise refused(tell("has numbers whose meaning is not clear"))
    match reading.choose("range", "lowest"):
        case "highest":
            return one_set(high, None)
        case "lowest":
            return one_set(low, None)
        case _:
            raise LeftOut(tell("names a range, which is a plan and no count"))


def _listed(operand: Operand, how_many: int | None, beside: Beside, reading: ReadingOf) -> list[SaidSet]:
    """A list of counts, one a set; or the counts of both sides."""
    parts = SEPARATORS.split(operand.raw)
    if len(parts) == 1 and operand.raw.count(".") > 1:
        parts = operand.raw.split(".")
    if "/" in operand.raw and "," not in operand.raw and not operand.measure:
        if len(parts) > 2:
            reading.clue("slash", "sets")
        elif all(p.isdecimal() for p in parts) and beside.side is None and _is_sides(parts, how_many, reading):
            return _sides(int(parts[0]), int(parts[1]))
    if len(parts) == 2 and "," in operand.raw and operand.measure in {"minutes", "metres"} and " " not in operand.raw:
        parts = [operand.raw.replace(",", ".")]
    _refuse_mixed(parts, operand.measure)
    return [_element(part, operand.measure) for part in parts]


def _is_sides(parts: Sequence[str], how_many: int | None, reading: ReadingOf) -> bool:
    """Whether `10/10` counts both sides: surely where another number of sets stands before it."""
    sure = how_many is not None and how_many != 2
    reading.clue("slash", "sides" if sure else "unsure", *map(Decimal, parts))
    return sure or reading.choose("slash", "sets") == "sides"


def _refuse_mixed(parts: Sequence[str], measure: str) -> None:
    """`100x3, 110, 120` and `3/8/60`: numbers too far apart to count the same thing."""
    found = [int(part) for part in parts if part.isdecimal() and int(part)]
    if not measure and len(found) > 1 and max(found) >= 20 and max(found) > 4 * min(found):
        raise refused(tell("has numbers whose meaning is not clear"))


def _sides(left: int, right: int) -> list[SaidSet]:
    return [one_set(left, "each")] if left == right else [one_set(left, "left"), one_set(right, "right")]


def one_set(reps: int, side: Literal["left", "right", "each"] | None) -> SaidSet:
    if reps > MOST_REPETITIONS:
        raise refused(tell("has more than {most} repetitions", most=MOST_REPETITIONS))
    return SaidSet(reps=reps, side=side, missed="unsaid" if reps == 0 else None)


def _element(part: str, measure: str) -> SaidSet:
    if "+" in part:
        pieces = part.split("+")
        if measure not in {"", "reps"} or not all(p.isdecimal() for p in pieces):
            raise refused(tell("has a cluster that is not clear"))
        total = sum(map(int, pieces))
        return structs.replace(one_set(total, None), cluster=tuple(map(int, pieces)))
    if not part[:1].isdigit():
        return SaidSet(reps=0, missed="unsaid" if part != "-" else "not-done")
    value = number(part)
    if value is None:
        raise refused(tell("has a count that is not clear: {part}", part=part))
    if measure == "metres":
        return SaidSet(metres=value)
    if measure in {"seconds", "minutes"}:
        return _seconds(value * (60 if measure == "minutes" else 1))
    if value != int(value):
        raise CellRefused(
            tell("is not a whole number of repetitions"), tell("write one such as 8, and 0 for a missed lift")
        )
    return one_set(int(value), None)


def _seconds(value: Decimal | int) -> SaidSet:
    if value != int(value) or value > LONGEST_S:
        raise refused(tell("has a time that is not clear"))
    return SaidSet(seconds=int(value), missed="unsaid" if value == 0 else None)


def loads_of(operand: Operand, sets: Sequence[SaidSet], beside: Beside, reading: ReadingOf) -> list[SaidLoad | None]:
    """The load of each set: one for all, or one each."""
    if operand.kind == "body":
        found = [SaidLoad(number(operand.raw) if operand.raw else None, operand.unit)]
    elif operand.kind in {"mark", "signed"}:
        unit: Literal["kg", "lb", "mark", ""] = "mark" if operand.kind == "mark" else operand.unit
        found = [SaidLoad(number(operand.raw), unit)]
    else:
        found = [SaidLoad(value, operand.unit) for value in load_numbers(operand.raw, len(sets), reading)]
    if beside.is_assisted:
        found = [SaidLoad(None if one.value is None else -abs(one.value), one.unit) for one in found]
    if len(found) == 1:
        return [found[0]] * len(sets)
    if len(found) != len(sets):
        raise refused(tell("says {sets} sets and {loads} loads", sets=len(sets), loads=len(found)))
    return list(found)


def load_numbers(raw: str, set_count: int, reading: ReadingOf) -> list[Decimal]:
    """One load, or a list of loads; one comma between digits is a decimal mark unless the file shows otherwise."""
    parts = LOADS_APART.split(raw)
    if len(parts) == 1 and raw.count(",") == 1:
        whole, fraction = raw.split(",")
        if (
            set_count == 2
            and len(fraction) <= 3
            and int(fraction) * 2 >= int(whole)
            and fraction not in {"5", "25", "75", "50"}
        ):
            reading.clue("comma", "unsure")
            if reading.choose("comma", "decimal") == "list":
                parts = [whole, fraction]
        else:
            reading.clue("comma", "decimal")
    elif len(parts) == 1 and raw.count(",") > 1:
        parts = raw.split(",")
        if len(parts) != set_count:
            raise refused(tell("has commas that could part loads or be decimal marks"))
    elif len(parts) == 1 and "." in raw:
        reading.clue("comma", "list")
    found = [None if mark_shown(part) == "either" else number(part) for part in parts]
    if any(one is None for one in found):
        raise refused(tell("has a load that is not clear: {part}", part=raw))
    return [one for one in found if one is not None]
