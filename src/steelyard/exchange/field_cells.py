"""Cells that say one thing of a set, each read strictly: a side, a time, metres, a tempo, a rest, efforts."""

import re
from decimal import Decimal
from typing import Literal

from steelyard.engine.effort import Effort, EffortRefused
from steelyard.wording.message import tell, tell_refused

from .cells import CellRefused
from .numbers import number

Side = Literal["left", "right", "each"]
_SIDES: dict[str, Side] = {
    "l": "left", "left": "left", "links": "left", "li": "left", "r": "right", "right": "right", "rechts": "right",
    "re": "right", "each": "each", "both": "each", "beide": "each", "je": "each", "beidseitig": "each",
}  # fmt: skip
_FROM_TO = re.compile(r"\d+(?:[.,]5)?\s*[-–]\s*\d+(?:[.,]5)?")
LONGEST_S, FARTHEST_M = 36_000, 100_000


def side(text: str) -> Side:
    """The side that worked."""
    found = _SIDES.get(text.casefold().strip("."))
    if found is None:
        raise CellRefused(tell("is no side"), tell("write left, right or each"))
    return found


def clock(text: str) -> int | None:
    """Minutes and seconds as seconds, or None."""
    minutes, mark, rest = text.strip().partition(":")
    is_clock = mark and minutes.isdecimal() and rest.isdecimal() and len(rest) == 2 and int(rest) < 60
    return int(minutes) * 60 + int(rest) if is_clock else None


def seconds(text: str) -> int:
    """A time of a set (s)."""
    if (found := clock(text)) is not None:
        return found
    value = number(text.casefold().removesuffix("sec").removesuffix("sek").removesuffix("s").strip())
    if value is None or value != int(value) or not 0 <= value <= LONGEST_S:
        raise CellRefused(tell("is no time in seconds"), tell("write whole seconds such as 45, or 0:45"))
    return int(value)


def metres(text: str) -> Decimal:
    """A distance (m)."""
    value = number(text.casefold().removesuffix("m").strip())
    if value is None or not 0 <= value <= FARTHEST_M:
        raise CellRefused(tell("is no number of metres"), tell("write one such as 40"))
    return value


def rest_interval(text: str, column: str) -> int:
    """A rest (s); a column may say that its numbers are minutes."""
    if (found := clock(text)) is not None:
        return found
    folded = text.casefold().strip()
    value = number(re.sub(r"\s*(?:s|secs?|seconds?|sek|sekunden|mins?|minuten?|minutes?|['\"])\.?$", "", folded))
    if value is None or value < 0:
        raise CellRefused(tell("is no rest interval"), tell("write seconds such as 120, or 2:00"))
    says_seconds = folded.endswith(("s", "sec", "sek", '"', "sekunden", "seconds"))
    in_minutes = "m" in folded or "'" in folded or ("min" in column.casefold() and not says_seconds)
    if not in_minutes and not says_seconds and 0 < value < 15 and "s" not in column.casefold().removeprefix("rest"):
        raise CellRefused(tell("has a rest without a unit"), tell("write it in seconds, such as 90s, or as 2:00"))
    return int(value * 60) if in_minutes else int(value)


def efforts(text: str, scale: Literal["rpe", "rir"]) -> tuple[list[Effort], str]:
    """One effort, or several parted by a slash; or the words and light efforts that no scale holds, as a note."""
    if text in {"", "-", "–"}:
        return [], ""
    folded = text.casefold().replace("rpe", "").replace("rir", "").replace("@", "").strip()
    if not any(map(str.isdigit, folded)) or _FROM_TO.fullmatch(folded):
        return [], f"{scale.upper()}: {text}"
    out: list[Effort] = []
    for part in folded.replace(";", "/").split("/"):
        value = number(part)
        if value is None:
            raise CellRefused(tell("is not a number for {scale}", scale=scale.upper()), tell("write one such as 2"))
        try:
            out.append(Effort(value, scale))
        except EffortRefused as refused:
            if scale == "rpe" and 0 <= value <= 10:
                return [], f"RPE {text}"
            is_rir = scale == "rir"
            hint = (
                tell("write repetitions in reserve, 0 to 10") if is_rir else tell("write RPE 5 to 10, or leave it out")
            )
            raise CellRefused(tell_refused(refused), hint) from refused
    return out, ""
