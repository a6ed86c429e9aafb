"""One line about a lifter's health as people type it: pain, a restriction, a sign, fever, blood pressure, or words."""

import re
from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import Literal, get_args

from msgspec import Struct

from steelyard.engine.exercises import folded_name
from steelyard.engine.health import Effect, PainSign, Sign
from steelyard.engine.quantities import Load, QuantityRefused, Unit
from steelyard.wording.message import tell, tell_refused

from .cells import CellRefused

Side = Literal["left", "right", "both"]
NextMorning = Literal["settled", "worse"]
_SIDES: dict[str, Side] = {
    "left": "left", "links": "left", "linkes": "left", "linke": "left", "linker": "left",
    "right": "right", "rechts": "right", "rechtes": "right", "rechte": "right", "rechter": "right",
    "both": "both", "beide": "both", "beidseits": "both",
}  # fmt: skip
_NEXT_MORNING: dict[str, NextMorning] = {"settled": "settled", "beruhigt": "settled", "worse": "worse",
                                         "schlimmer": "worse"}  # fmt: skip
_PAIN_SIGNS: dict[str, PainSign] = {
    "new": "new", "neu": "new", "sharp": "sharp", "stechend": "sharp", "swollen": "swollen", "geschwollen": "swollen",
}  # fmt: skip
_HEADS = {
    "schmerz": "pain", "signs": "sign", "fieber": "fever", "pressure": "blood-pressure", "blutdruck": "blood-pressure",
}  # fmt: skip
_CLOSED = {"closed", "gone", "over", "weg", "vorbei"}
_LOAD = re.compile(r"^(\d+(?:[.,]\d+)?)(kg|lb)?$", re.IGNORECASE)


class PainNoted(Struct, frozen=True, kw_only=True):
    """Pain of a part of the body on a day."""

    part: str
    side: Side | None = None
    score: int | None = None
    next_morning: NextMorning | None = None
    signs: tuple[PainSign, ...] = ()
    is_closed: bool = False


class Restricted(Struct, frozen=True, kw_only=True):
    """What is restricted, in words, and how."""

    what: str
    effect: Effect
    load: Load | None = None
    rir: int | None = None


class Lifted(Struct, frozen=True, kw_only=True):
    """What is restricted no longer, in words."""

    what: str


class SignNoted(Struct, frozen=True, kw_only=True):
    """Signs at which training stops."""

    signs: tuple[Sign, ...]


class FeverNoted(Struct, frozen=True, kw_only=True):
    """Fever, or that it is over."""

    is_there: bool


class PressureNoted(Struct, frozen=True, kw_only=True):
    """A reading of blood pressure, as it was typed."""

    text: str


class Withdrawn(Struct, frozen=True, kw_only=True):
    """An entry that was noted by mistake, by the end of its id."""

    handle: str


class WordsNoted(Struct, frozen=True, kw_only=True):
    """Words that mean nothing to the rules but are kept."""

    words: str


Noted = PainNoted | Restricted | Lifted | SignNoted | FeverNoted | PressureNoted | Withdrawn | WordsNoted


def read_note(line: str, unit: Unit) -> Noted:
    """What a line says; the first word decides, and whatever begins otherwise is kept as words."""
    head, *rest = line.split() or [""]
    if not head:
        raise CellRefused(tell("there is nothing to note"), tell("write what is to be kept"))
    readers: dict[str, Callable[[], Noted]] = {
        "pain": lambda: _pain(rest),
        "restrict": lambda: _restricted(rest, unit),
        "lift": lambda: Lifted(what=_what(rest)),
        "sign": lambda: SignNoted(signs=_signs(rest)),
        "fever": lambda: FeverNoted(is_there=not _is_over(rest)),
        "blood-pressure": lambda: PressureNoted(text="".join(rest)),
        "withdraw": lambda: Withdrawn(handle="".join(rest).casefold()),
    }
    word = head.casefold().rstrip(":")
    read = readers.get(_HEADS.get(word, word))
    return read() if read is not None else WordsNoted(words=line.strip())


def _pain(words: Sequence[str]) -> PainNoted:
    side, score, morning, is_closed = None, None, None, False
    signs: list[PainSign] = []
    part: list[str] = []
    for word in words:
        low = word.casefold().strip(",;")
        if low in _SIDES:
            side = _SIDES[low]
        elif low in _NEXT_MORNING:
            morning = _NEXT_MORNING[low]
        elif low in _PAIN_SIGNS:
            signs.append(_PAIN_SIGNS[low])
        elif low in _CLOSED:
            is_closed = True
        elif number := re.fullmatch(r"(\d{1,2})(?:/10)?", low):
            score = _score(number[1], score)
        elif low not in {"next-morning", "next", "morning", "am", "naechsten", "nächsten", "morgen"}:
            part.append(low)
    if not part:
        raise CellRefused(tell("no part of the body is named"), tell("write it such as: pain left knee 4"))
    return PainNoted(
        part=" ".join(part),
        side=side,
        score=score,
        next_morning=morning,
        signs=tuple(dict.fromkeys(signs)),
        is_closed=is_closed,
    )


def _score(text: str, earlier: int | None) -> int:
    if earlier is not None or int(text) > 10:
        raise CellRefused(tell("pain is one number from 0 to 10"), tell("write it such as: pain left knee 4"))
    return int(text)


def _restricted(words: Sequence[str], unit: Unit) -> Restricted:
    low = [word.casefold() for word in words]
    if low and low[-1] in {"leave-out", "no-rise"}:
        effect: Effect = "leave-out" if low[-1] == "leave-out" else "no-rise"
        return Restricted(what=_what(words[:-1]), effect=effect)
    if len(low) > 1 and low[-2] == "at-most":
        return Restricted(what=_what(words[:-2]), effect="at-most", load=_load(words[-1], unit))
    if len(low) > 1 and low[-2] in {"rir", "least-rir"} and low[-1].isdigit():
        return Restricted(what=_what(words[:-2]), effect="least-rir", rir=int(low[-1]))
    raise CellRefused(
        tell("it is not said how it is restricted"),
        tell("end with leave-out, no-rise, at-most 40kg or rir 4, such as: restrict bench press leave-out"),
    )


def _load(text: str, unit: Unit) -> Load:
    match = _LOAD.fullmatch(text)
    if match is None:
        raise CellRefused(tell("{text!r} is no load", text=text), tell("write one such as 40kg or 90lb"))
    try:
        typed: Unit = "lb" if (match[2] or unit).casefold() == "lb" else "kg"
        return Load(Decimal(match[1].replace(",", ".")), typed)
    except QuantityRefused as refused:
        raise CellRefused(tell_refused(refused), tell("check the number")) from refused


def _what(words: Sequence[str]) -> str:
    if not words:
        raise CellRefused(
            tell("it is not said what"), tell("name an exercise, a pattern, a joint, or write everything")
        )
    return " ".join(words)


def _signs(words: Sequence[str]) -> tuple[Sign, ...]:
    known = {folded_name(sign): sign for sign in get_args(Sign)}
    found = [known.get(folded_name(part)) for part in re.split(r"\s*[,;]\s*", " ".join(words)) if part]
    if not found or None in found:
        raise CellRefused(
            tell("that is no sign that is known"), tell("known: {signs}", signs=", ".join(get_args(Sign)))
        )
    return tuple(dict.fromkeys(sign for sign in found if sign is not None))


def _is_over(rest: Sequence[str]) -> bool:
    if not rest:
        return False
    if len(rest) > 1 or rest[0].casefold() not in _CLOSED:
        raise CellRefused(tell("fever is there, or over"), tell("write: fever, or: fever over"))
    return True
