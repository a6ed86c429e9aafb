"""Which of several numbers of a group is sets, which repetitions, which the load."""

import re
from decimal import Decimal

from msgspec import structs

from steelyard.wording.message import tell

from .numbers import number
from .set_reading import FEW_SETS, MANY, MOST_SETS, SEPARATORS, SURELY_LOAD, ReadingOf, refused
from .set_tokens import Operand

_NO_LOAD_AHEAD = re.compile(r"x\s?(\d{1,3})\s?x\s?(\d{1,2})(?![\w.,/:-]|\s?x)(.*)", re.IGNORECASE | re.DOTALL)


def flagged_sets(counts: list[Operand]) -> tuple[int | None, list[Operand]]:
    """`3 sets of 8`: the number that says sets, and the others."""
    flagged = [o for o in counts if o.measure == "sets"]
    if not flagged:
        return None, counts
    if len(flagged) > 1 or not flagged[0].raw.isdecimal():
        raise refused(tell("has a number of sets that is not clear"))
    return set_count(Decimal(flagged[0].raw)), [o for o in counts if o.measure != "sets"]


def set_count(value: Decimal) -> int:
    if value != int(value) or not 1 <= value <= MOST_SETS:
        raise refused(tell("has {count} sets at once", count=value))
    return int(value)


def joined(
    counts: list[Operand], is_counted: bool, has_own_load: bool, reading: ReadingOf
) -> tuple[list[Operand], list[Operand]]:
    """Numbers parted by spaces only, as one list (`60kg 8 8 7`); where no load is known, the load that stands first."""
    at = next((i for i, o in enumerate(counts) if i and not o.before), 0)
    if not at:
        return counts, []
    if not is_counted and (ahead := _load_beside(counts)) is not None:
        return ahead
    run = counts[at - 1 :]
    if any(o.before for o in run[1:]) or any(o.kind not in {"run", "miss"} or o.measure for o in run[:-1]):
        raise refused(tell("has numbers whose meaning is not clear"))
    if len(run) == 2 and run[-1].kind == "miss" and is_counted and not has_own_load:
        raise refused(tell("has numbers whose meaning is not clear"))
    if not is_counted and at > 1 and not has_own_load and _is_load_behind(run):
        raise refused(tell("has numbers whose meaning is not clear"))
    if is_counted or at > 1:
        return [*counts[: at - 1], _one_list(run)], []
    first, rest = number(run[0].raw), run[1:]
    listed = len(SEPARATORS.split(rest[0].raw)) if len(rest) == 1 else 0
    is_miss = len(rest) == 1 and rest[0].kind == "miss"
    if first is not None and ((listed > 1 and first != listed) or is_miss or first > MANY):
        return [_one_list(rest)], [run[0]]
    if all(o.kind == "run" and not o.measure and o.raw.isdecimal() for o in run):
        # `12 12 10` lists repetitions, or begins with a small load.
        if reading.choose("spaced", "reps") == "reps":
            return [_one_list(run)], []
        return [_one_list(rest)], [run[0]]
    raise refused(tell("has numbers whose meaning is not clear"))


def _is_load_behind(run: list[Operand]) -> bool:
    """`2x12 25`: whether the last number is far above the others, and may be their load."""
    values = [number(o.raw) or Decimal(0) for o in run]
    return values[-1] > SURELY_LOAD and values[-1] > max(values[:-1]) * 3 / 2


def _load_beside(counts: list[Operand]) -> tuple[list[Operand], list[Operand]] | None:
    """`60 3x8`, `3x8 60`, `2x20m 24`: a number that can only be the load beside what is counted."""
    last = counts[-1]
    is_plain = last.kind == "run" and not last.measure and not last.before and number(last.raw) is not None
    if is_plain and len(counts) < 4 and _is_measured(counts[-2]):
        return counts[:-1], [last]
    if len(counts) != 3 or any(o.kind != "run" or o.measure for o in counts):
        return None
    first, second, third = counts
    if not second.before and third.before == "x" and _is_surely_load(first) and not _is_surely_load(second):
        return [second, third], [first]
    is_one = second.before == "x" and is_plain and number(second.raw) is not None and first.raw != "2"
    if is_one and _is_surely_load(third) and not _is_surely_load(first):
        return [first, second], [third]
    return None


def _is_measured(operand: Operand) -> bool:
    return operand.kind == "time" or operand.measure in {"seconds", "minutes", "metres"}


def _is_surely_load(operand: Operand) -> bool:
    value = number(operand.raw)
    return value is not None and (value > MANY or value != int(value))


def _one_list(run: list[Operand]) -> Operand:
    if len(run) == 1:
        return run[0]
    raws = ["x" if o.kind == "miss" else o.raw for o in run]
    if any("." in raw or SEPARATORS.search(raw) for raw in raws) or run[-1].kind not in {"run", "miss"}:
        raise refused(tell("has numbers whose meaning is not clear"))
    return structs.replace(run[0], kind="run", raw=" , ".join(raws), measure=run[-1].measure)


def is_load_ahead(counts: list[Operand], loads: list[Operand]) -> bool:
    """Whether the load stands first and an x joins it to the numbers (`60kg x 8 x 3`)."""
    return bool(loads) and bool(counts) and counts[0].before == "x"


def ordered(
    rest: list[Operand], loads: list[Operand], has_load: bool, is_load_ahead: bool, reading: ReadingOf
) -> tuple[int | None, list[Operand], list[Operand]]:
    """Several numbers joined by x: sets, what is counted, and the load among them."""
    if any(o.before != "x" for o in rest[1:]) or len(rest) > 3 or (len(rest) == 3 and has_load):
        raise refused(tell("has numbers whose meaning is not clear"))
    first, second = rest[0], rest[1]
    if len(rest) == 3:
        return _three(rest, reading)
    if has_load:
        if is_load_ahead and _whole(first) != _whole(second) and _reps_then_sets(first, second, reading):
            return set_count(_whole(second)), [first], loads
        reading.clue("pair", "sets-first")
        return set_count(_whole(first)), [second], loads
    if reading.is_count and first.raw.isdecimal() and int(first.raw) <= SURELY_LOAD:
        return set_count(_whole(first)), [second], loads
    if _is_load_first(first, second, reading):
        return None, [second], [first]
    return set_count(_whole(first)), [second], loads


def _whole(operand: Operand) -> Decimal:
    found = number(operand.raw) if operand.kind == "run" else None
    if found is None:
        raise refused(tell("has a number of sets that is not clear"))
    return found


def _is_load_first(first: Operand, second: Operand, reading: ReadingOf) -> bool:
    """Whether A x B without a load elsewhere is a load and its repetitions."""
    a = number(first.raw) if first.kind == "run" else None
    if a is None and len(SEPARATORS.split(first.raw)) < 2:
        raise refused(tell("has numbers whose meaning is not clear"))
    if a is None or a > SURELY_LOAD or a != int(a):
        reading.clue("pair", "load-first")
        return True
    if _is_measured(second) and a <= FEW_SETS:
        return False
    listed = SEPARATORS.split(second.raw) if second.kind == "run" else []
    if len(listed) > 1 and len(listed) == a:
        return False
    if len(listed) > 1 and len(listed) != 2:
        return True
    b = number(second.raw) if second.kind == "run" else None
    reading.clue("pair", "unsure", a, b if b is not None else Decimal(0))
    return reading.choose("pair", "sets-first") == "load-first"


def without_load(part: str, reading: ReadingOf) -> str:
    """`x8x2`, from which the load before the first x is left out, as `2 sets 8`; any other part as it is."""
    match = _NO_LOAD_AHEAD.match(part)
    if match is None:
        return part
    first, second, rest = match.groups()
    is_reps_first = first == second or _reps_before_sets(Decimal(first), Decimal(second), reading)
    reps, sets = (first, second) if is_reps_first else (second, first)
    return f"{set_count(Decimal(sets))} sets {reps} {rest}"


def _three(rest: list[Operand], reading: ReadingOf) -> tuple[int | None, list[Operand], list[Operand]]:
    """A x B x C: the load stands last (3x8x60) or first (60x8x3)."""
    first, second, third = rest
    a, c = number(first.raw), number(third.raw)
    if a is None or c is None or (third.measure and first.raw.isdecimal()):
        raise refused(tell("has numbers whose meaning is not clear"))
    is_first, is_last = a > SURELY_LOAD or a != int(a), c > MOST_SETS or c != int(c)
    if is_first and is_last:
        raise refused(tell("has numbers whose meaning is not clear"))
    if is_first or is_last:
        reading.clue("three", "load-first" if is_first else "load-last")
    else:
        reading.clue("three", "unsure", a, c)
        is_first = reading.choose("three", "load-last") == "load-first"
    if not is_first:
        return set_count(a), [second], [third]
    if _whole(second) != c and not _reps_then_sets(second, third, reading):
        return set_count(_whole(second)), [third], [first]
    return set_count(c), [second], [first]


def _reps_then_sets(second: Operand, third: Operand, reading: ReadingOf) -> bool:
    return _reps_before_sets(_whole(second), _whole(third), reading)


def _reps_before_sets(b: Decimal, c: Decimal, reading: ReadingOf) -> bool:
    """After a load: whether repetitions come before sets."""
    if b > SURELY_LOAD or c > SURELY_LOAD:
        reading.clue("triple", "reps-sets" if b > SURELY_LOAD else "sets-reps")
        return b > SURELY_LOAD
    reading.clue("triple", "unsure", b, c)
    return reading.choose("triple", "reps-sets") == "reps-sets"
