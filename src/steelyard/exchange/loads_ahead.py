"""A load that stands before the sets of a cell in a way of the writer's own: `80 - 5.5.4`, `2x8kg 3x8`."""

import re

from steelyard.wording.message import tell

from .numbers import number
from .set_reading import MANY, SURELY_LOAD, LeftOut, ReadingOf
from .set_tokens import NUM

# The counts after a dash are few; a range such as 80 - 90 or 8 - 10 is another thing.
_DASHED = re.compile(
    rf"(?<![\w.,/])(?P<load>{NUM}\s*(?:kgs?|lbs?)?)\s+-\s+(?P<counts>\d{{1,2}}(?:\.\d{{1,2}})*)(?![\w/%]|\s*(?:kg|lb|%))",
    re.IGNORECASE,
)
_TWO_FIRST = re.compile(rf"(?:(?<=^)|(?<=[,;]\s))(2\s*x\s*({NUM})\s*(kgs?|lbs?))\s+(?=\d)", re.IGNORECASE)


def before_dashes(plain: str, reading: ReadingOf) -> str:
    """`80 - 5` as `80x5` where a load stands before each dash; raises LeftOut where that is answered."""
    found = list(_DASHED.finditer(plain))
    if not found or not all(_is_load_and_counts(m["load"], m["counts"]) for m in found):
        return plain
    if reading.choose("dash", "load-first") == "leave-out":
        raise LeftOut(tell("has a dash that means something else"))
    return _DASHED.sub(lambda m: f"{m['load']} x {m['counts'].replace('.', ',')}", plain)


def _is_load_and_counts(load: str, counts: str) -> bool:
    value = number(re.sub(r"\s*[a-z]+$", "", load, flags=re.IGNORECASE))
    most = max(map(int, counts.split(".")))
    return value is not None and value > SURELY_LOAD and most <= MANY and most < value


def loads_of_one(plain: str, reading: ReadingOf) -> tuple[str, list[str]]:
    """The cell with the load of one where two of a kind stand before sets, and how that was written."""
    found = [match[1] for match in _TWO_FIRST.finditer(plain)]
    if not found or (meaning := reading.choose("two", "each")) == "sets":
        return plain, []

    def one(match: re.Match[str]) -> str:
        value = number(match[2])
        load = match[2] if value is None or meaning == "each" else str(value * 2)
        return f"{load}{match[3]} "

    return _TWO_FIRST.sub(one, plain), list(dict.fromkeys(found))
