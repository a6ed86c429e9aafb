"""Numbers as people write them: point or comma as decimal mark, thousands marks, halves."""

import re
from collections.abc import Iterable
from decimal import Decimal
from typing import Literal

from steelyard.engine.quantities import HEAVIEST

Mark = Literal[".", ","]
_PLAIN = re.compile(r"[+-]?\d{1,9}")
_ONE_MARK = re.compile(r"([+-]?)(\d{1,9})([.,])(\d{1,12})")
_TWO_MARKS = re.compile(r"([+-]?)(\d{1,3}(?:[.,'’ ]\d{3})+)([.,])(\d{1,12})")
_GROUPED = re.compile(r"([+-]?)(\d{1,3}(?:(?:[.,'’ ])\d{3})+)")
_HALVES = {"½": ".5", "¼": ".25", "¾": ".75"}
_FORMS = str.maketrans({"−": "-", "–": "-", "\u00a0": " ", "\u202f": " ", "\u2009": " "})


def written(text: str) -> str:
    """A number with plain signs and spaces, and with halves in digits (in point form)."""
    plain = text.strip().translate(_FORMS)
    for half, digits in _HALVES.items():
        match = re.fullmatch(rf"([+-]?)(\d*)\s*{half}", plain) if half in plain else None
        if match is not None:
            return f"{match[1]}{match[2] or 0}{digits}"
    return plain


def mark_shown(text: str) -> Mark | Literal["either"] | None:
    """The decimal mark that a number shows beyond doubt; "either" for 1.250, which may be 1250; None if it has none."""
    plain = written(text)
    if plain != text.strip().translate(_FORMS):
        return None
    if match := _TWO_MARKS.fullmatch(plain):
        inner = set(re.findall(r"[.,'’ ]", match[2]))
        return None if match[3] in inner else _mark(match[3])
    if (match := _ONE_MARK.fullmatch(plain)) is None:
        return None
    whole, fraction = match[2], match[4]
    could_group = len(fraction) == 3 and len(whole) <= 3 and not whole.startswith("0")
    return "either" if could_group and int(whole + fraction) <= HEAVIEST else _mark(match[3])


def _mark(mark: str) -> Mark:
    return "." if mark == "." else ","


def marks_of(texts: Iterable[str]) -> tuple[set[Mark], list[str]]:
    """The decimal marks that the texts show beyond doubt, and the texts that could be read both ways."""
    sure: set[Mark] = set()
    either: list[str] = []
    for text in texts:
        shown = mark_shown(text)
        if shown == "either":
            either.append(text)
        elif shown is not None:
            sure.add(shown)
    return sure, either


def number(text: str, decimal_mark: Mark = ".") -> Decimal | None:
    """The number, or None; `decimal_mark` decides only what 1.250 or 1,250 is."""
    plain = written(text)
    if _PLAIN.fullmatch(plain):
        return Decimal(plain)
    if match := _ONE_MARK.fullmatch(plain):
        sign, whole, mark, fraction = match.groups()
        if mark_shown(plain) == "either" and mark != decimal_mark:
            return Decimal(f"{sign}{whole}{fraction}")
        return Decimal(f"{sign}{whole}.{fraction}")
    if (match := _TWO_MARKS.fullmatch(plain)) and match[3] not in set(re.findall(r"[.,'’ ]", match[2])):
        return Decimal(f"{match[1]}{re.sub(r'[^0-9]', '', match[2])}.{match[4]}")
    if (match := _GROUPED.fullmatch(plain)) and len(set(re.findall(r"[.,'’ ]", match[2]))) == 1:
        return Decimal(f"{match[1]}{re.sub(r'[^0-9]', '', match[2])}")
    return None
