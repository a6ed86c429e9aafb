"""From the operands of one group to its sets: the load, what stands after @, and what is counted."""

import re
from decimal import Decimal
from typing import Literal

from msgspec import structs

from steelyard.wording.message import tell

from .cells import CellRefused
from .numbers import number
from .set_numbers import loads_of, one_set, sets_of
from .set_order import flagged_sets, is_load_ahead, joined, ordered
from .set_reading import LOADS_APART, MANY, MOST_SETS, SURELY_LOAD, ReadingOf, Said, refused
from .set_style import Doubt, SaidLoad, SaidSet
from .set_tokens import Beside, Operand

Efforts = tuple[tuple[str, Literal["rpe", "rir"]], ...]


def said_by(found: list[Operand], beside: Beside, reading: ReadingOf) -> Said:
    """The sets of one group."""
    _refuse_between(found)
    is_colon_load, found = _before_colon(found)
    loads = [o for o in found if o.unit or o.kind in {"mark", "body", "signed"} or (is_colon_load and o is found[0])]
    at = [o for o in found if o.before == "@" and o not in loads]
    counts = [o for o in found if o not in loads and o not in at]
    if any(o.before == "@" for o in loads):
        reading.clue("at", "load")
    efforts, percent = beside.efforts, beside.percent
    if at and (loads or reading.gives_load or len(at) > 1 or _holds_load(counts)):
        efforts += _effort_at(at, efforts)
    elif at:
        match _meaning_of_at(at[0], counts, reading):
            case "load":
                loads = at
            case "percent":
                percent = _plain(at[0])
            case scale:
                efforts += ((str(_plain(at[0])), "rir" if scale == "rir" else "rpe"),)
    if percent is not None and not loads and not reading.gives_load:
        return _left_out_percent(reading)
    if len(loads) > 1:
        raise refused(tell("names more than one load"))
    sets, load = _counted(counts, loads, beside, reading)
    kept = [structs.replace(s, load=one, kind=beside.kind) for s, one in zip(sets, load, strict=True)]
    return Said(sets=tuple(kept), notes=_notes(beside, percent), efforts=efforts)


def _before_colon(found: list[Operand]) -> tuple[bool, list[Operand]]:
    """Whether a bare number before a colon is the load (`60: 8/8/7`); and the operands without colons."""
    is_load = len(found) > 1 and found[1].before == ":" and found[0].kind == "run" and not found[0].measure
    plain = [structs.replace(o, before="") if o.before == ":" else o for o in found]
    if is_load and _most_counted(found[1:]) > MANY >= (number(found[0].raw) or MANY + 1):
        raise refused(tell("has numbers whose meaning is not clear"))
    return is_load and not any(o.unit or o.before == "@" for o in found), plain


def _notes(beside: Beside, percent: Decimal | None) -> tuple[str, ...]:
    """What a set has no field for: that it was open-ended, and the share of a maximum beside its load."""
    share = () if percent is None else (f"{percent} %",)
    return ("AMRAP", *share) if beside.is_open_ended else share


def _refuse_between(found: list[Operand]) -> None:
    """`2x24kg x 10`: two dumbbells, or two sets; nobody can say."""
    for left, load, right in zip(found, found[1:], found[2:], strict=False):
        if load.unit and load.before == "x" and right.before == "x" and left.kind == "run" and not left.unit:
            raise CellRefused(
                tell("has a load between two numbers"), tell("write the load as one set has it, such as 10 @ 48kg")
            )


def _holds_load(counts: list[Operand]) -> bool:
    """Whether a load stands among numbers joined by x (`60x8`, `3x8x60`)."""
    joined = [o for o in counts if o.kind == "run" and o.measure != "sets"]
    first = number(joined[0].raw) if len(joined) > 1 and joined[1].before == "x" else None
    return first is not None and (len(joined) > 2 or first > SURELY_LOAD or first != int(first))


def _left_out_percent(reading: ReadingOf) -> Said:
    reading.choose("percent", "")
    return Said(left_out=tell("names a share of a maximum, which is no load"))


def _plain(operand: Operand) -> Decimal:
    found = number(operand.raw) if operand.kind == "run" else None
    if found is None:
        raise refused(tell("has something after @ that is no number"))
    return found


def _effort_at(at: list[Operand], known: Efforts) -> Efforts:
    """A number after @ beside a load is RPE where it can be."""
    value = _plain(at[0])
    if len(at) > 1 or known or not 5 <= value <= 10:
        raise refused(tell("has a load and another number after @"))
    return ((str(value), "rpe"),)


def _meaning_of_at(operand: Operand, counts: list[Operand], reading: ReadingOf) -> str:
    """What a bare number after @ is: a list or one outside 5 to 110 can only be loads."""
    value = number(operand.raw) if operand.kind == "run" else None
    if value is None:
        return "load"
    doubt: Doubt = "at" if value > 10 else "at_small"
    reading.clue(doubt, "bare", value, Decimal(_most_counted(counts)))
    if _most_counted(counts) > MANY and value < MANY:
        raise refused(tell("has numbers whose meaning is not clear"))
    is_quarter = value * 2 != int(value * 2)
    if value > 110 or 10 < value < 20 or is_quarter:
        reading.clue("at", "load")
        return "load"
    return reading.choose(doubt, "load")


def _most_counted(counts: list[Operand]) -> int:
    """The most repetitions that a group can mean, 0 where it counts something else."""
    if not counts or counts[-1].measure not in {"", "reps"} or counts[-1].kind != "run":
        return 0
    return max((int(n) for n in re.findall(r"\d+", counts[-1].raw)), default=0)


def _counted(
    counts: list[Operand], loads: list[Operand], beside: Beside, reading: ReadingOf
) -> tuple[list[SaidSet], list[SaidLoad | None]]:
    """Sets and the load of each."""
    if beside.both_sides is not None:
        return _both_sides(counts, loads, beside, reading)
    has_load = bool(loads) or reading.gives_load
    how_many, rest = flagged_sets(counts)
    rest, ahead = joined(rest, has_load or reading.is_count or how_many is not None, bool(loads), reading)
    loads = loads or ahead
    has_load = has_load or bool(ahead)
    if how_many is None and len(rest) > 1:
        how_many, rest, loads = ordered(rest, loads, has_load, is_load_ahead(counts, loads), reading)
    if len(rest) != 1:
        raise refused(
            tell("says nothing of repetitions") if not rest else tell("has numbers whose meaning is not clear")
        )
    is_said = bool(beside.efforts or beside.is_open_ended or beside.side or how_many or has_load or loads)
    if not is_said and not reading.is_count and _is_bare(rest[0]):
        return _bare(rest[0], beside, reading)
    sets = sets_of(rest[0], how_many, beside, reading)
    if how_many is None and len(sets) == 1 and loads and loads[0].kind == "run":
        sets *= len(LOADS_APART.split(loads[0].raw))
    return sets, loads_of(loads[0], sets, beside, reading) if loads else [None] * len(sets)


def _bare(operand: Operand, beside: Beside, reading: ReadingOf) -> tuple[list[SaidSet], list[SaidLoad | None]]:
    """A number all alone where no load stands: repetitions, or the load of a single."""
    value = number(operand.raw) if operand.kind == "run" else None
    single = [SaidSet(reps=1)], [SaidLoad(value)]
    if reading.choose("bare", "reps") == "single" and value is not None:
        return single[0], list(single[1])
    try:
        sets = sets_of(operand, None, beside, reading)
    except CellRefused:
        # `82,5` can be no repetitions; whether it is the load of a single must still be asked.
        if reading.style.bare is not None or value is None:
            raise
        return single[0], list(single[1])
    return sets, [None] * len(sets)


def _is_bare(operand: Operand) -> bool:
    is_number = re.fullmatch(r"\d+(?:[.,]\d+)?", operand.raw) is not None
    return operand.kind == "run" and not operand.measure and is_number


def _both_sides(
    counts: list[Operand], loads: list[Operand], beside: Beside, reading: ReadingOf
) -> tuple[list[SaidSet], list[SaidLoad | None]]:
    """`L 10 R 9`, perhaps several times."""
    left, right = beside.both_sides or (0, 0)
    how_many = 1
    if counts:
        if len(counts) > 1 or not counts[0].raw.isdecimal() or not 1 <= int(counts[0].raw) <= MOST_SETS:
            raise refused(tell("has numbers beside left and right that are not clear"))
        how_many = int(counts[0].raw)
    pair = [one_set(left, "left"), one_set(right, "right")]
    sets = pair * how_many
    return sets, loads_of(loads[0], sets, beside, reading) if loads else [None] * len(sets)
