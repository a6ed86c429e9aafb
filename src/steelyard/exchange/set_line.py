"""One line as people write it: `bench 3x8 @ 62.5kg rir 2`."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from decimal import Decimal
from typing import Any

from msgspec import Struct, structs

from steelyard.engine.exercises import Catalogue, Exercise
from steelyard.engine.log import CheckInBody, Missed, SetBody, SetKind
from steelyard.engine.quantities import Load, Unit
from steelyard.wording.message import spoken, tell

from . import cells
from .cells import CellRefused

_COUNT = r"(?:\d+\s*[x×*]\s*)?\d+(?:\+\d+)+|\d+\s*[x×*]\s*\d+\s*(?:s|m)?\b|\d+(?:\s*,\s*\d+)+|\d+(?:s|m)?\b"
_LINE = re.compile(rf"^(?P<name>[^\d@]+?)\s+(?P<count>{_COUNT})\s*(?P<rest>.*)$", re.IGNORECASE | re.DOTALL)
_LOAD = re.compile(
    r"^@?\s*(?P<mark>mark|stufe)?\s*(?P<value>[+-]?\d+(?:[.,]\d+)?)\s*(?P<unit>kg|lb|lbs)?\b\s*", re.IGNORECASE
)
_BODY_MASS = re.compile(r"^(?:body ?mass|körpermasse)\s+(?P<rest>.+)$", re.IGNORECASE)
_WORDS = ("rir", "rpe", "pain", "technique", "tempo", "rest", "on", "session", "machine", "missed", "pair", "note",
          "left", "right", "each", "warm-up", "ramp", "work", "top", "back-off", "pause")  # fmt: skip
_SIDES = ("left", "right", "each")
_NEXT_WORD = re.compile(rf"\s+(?=(?:{'|'.join(_WORDS)})\b)", re.IGNORECASE)
# Pain has a place, and that has a side: `pain left knee 3`.
_AFTER_PAIN = re.compile(rf"\s+(?=(?:{'|'.join(w for w in _WORDS if w not in _SIDES)})\b)", re.IGNORECASE)
_KINDS: dict[str, SetKind] = {
    "warm-up": "warm-up", "ramp": "ramp", "work": "work", "top": "top", "back-off": "back-off",
}  # fmt: skip
_MISSED: dict[str, Missed] = {
    "strength": "strength", "technique": "technique", "pain": "pain", "not-done": "not-done",
}  # fmt: skip
LIGHTEST_KG, HEAVIEST_KG = Decimal(20), Decimal(350)
EXAMPLE = "bench 3x8 @ 62.5kg rir 2"


class Typed(Struct, frozen=True):
    """What a line says: sets in order, or a check-in."""

    sets: tuple[SetBody, ...] = ()
    check_in: CheckInBody | None = None


def read_line(line: str, catalogue: Catalogue, on: date, unit: Unit) -> Typed:
    """The sets of a typed line; raises CellRefused with what to try. A bare load is in `unit`."""
    try:
        whole = cells.text(line)
    except CellRefused as refused:
        raise CellRefused(tell("the line {problem}", problem=refused.problem), refused.remedy) from refused
    if (mass := _BODY_MASS.match(whole)) is not None:
        return _check_in(mass["rest"], on, unit)
    match = _LINE.match(whole)
    if match is None:
        raise CellRefused(
            tell("{line!r} is no set", line=whole),
            tell("write exercise, sets and load, such as: {example}", example=EXAMPLE),
        )
    with _about(match["name"].strip()) as name:
        exercise = cells.exercise(name, catalogue)
    load, rest = _load(match["rest"], unit)
    if load is not None and load.value < 0 and not exercise.body_mass_share:
        raise CellRefused(
            tell("{exercise} has a negative load", exercise=exercise.name[spoken()]),
            tell("only where body mass is lifted does that mean assistance"),
        )
    if load is None and exercise.measure == "reps" and not exercise.body_mass_share:
        raise CellRefused(
            tell("{exercise} has no load", exercise=exercise.name[spoken()]),
            tell("add one, such as: {example}", example=EXAMPLE),
        )
    shared, last = _details(rest)
    body = SetBody(**({"on": on} | shared), exercise=exercise.code, as_written=match["name"].strip(), load=load)
    sets = [_counted(body, exercise, count) for count in _counts(match["count"])]
    sets[-1] = structs.replace(sets[-1], **last)
    return Typed(tuple(sets))


def _check_in(rest: str, on: date, unit: Unit) -> Typed:
    load, more = _load(rest, unit)
    details, last = _details(more)
    if load is None or load.unit == "mark" or last or set(details) - {"on"}:
        raise CellRefused(tell("{text!r} is no body mass", text=rest), tell("write it as: body mass 81.5kg"))
    if not LIGHTEST_KG <= load.magnitude <= HEAVIEST_KG:
        raise CellRefused(
            tell("{text!r} is no body mass of a lifter", text=rest), tell("check the decimal mark and the unit")
        )
    return Typed(check_in=CheckInBody(on=details.get("on", on), body_mass=load))


def _counts(text: str) -> list[str]:
    """`3x8` as three counts, `8,8,7` as they stand."""
    many = re.fullmatch(r"(\d+)\s*[x×*]\s*(.+)", text, re.IGNORECASE)
    if many is None:
        return [part.strip() for part in text.split(",")]
    if not 1 <= int(many[1]) <= 30:
        raise CellRefused(tell("{count} sets at once", count=many[1]), tell("write 1 to 30 sets, as in 3x8"))
    return [many[2].strip()] * int(many[1])


def _counted(body: SetBody, exercise: Exercise, count: str) -> SetBody:
    if "+" in count:
        parts = tuple(cells.repetitions(p) for p in count.split("+"))
        return structs.replace(body, cluster=parts, reps=sum(parts))
    with _about(count.rstrip("smSM")) as bare:
        number = cells.repetitions(bare)
    measure = {"s": "seconds", "m": "metres"}.get(count[-1].casefold(), exercise.measure)
    if measure == "seconds":
        return structs.replace(body, seconds=number)
    if measure == "metres":
        return structs.replace(body, metres=Decimal(number))
    return structs.replace(body, reps=number, missed="unsaid" if number == 0 and body.missed is None else body.missed)


def _load(text: str, unit: Unit) -> tuple[Load | None, str]:
    match = _LOAD.match(text)
    if match is None:
        if text.startswith("@"):
            raise CellRefused(
                tell("{text!r} holds no load", text=text),
                tell("write one after the @, such as: {example}", example=EXAMPLE),
            )
        return None, text
    typed = match["value"].replace(",", ".")
    named = (match["unit"] or "").casefold().rstrip("s")
    chosen: Unit = "mark" if match["mark"] else "lb" if named == "lb" else "kg" if named == "kg" else unit
    return cells.load(typed, chosen), text[match.end() :]


def _details(text: str) -> tuple[dict[str, Any], dict[str, Any]]:
    """What follows the load: fields of every set, and fields of the last one only (effort, pain, technique)."""
    shared: dict[str, Any] = {}
    last: dict[str, Any] = {}
    rest = text.strip()
    while rest:
        word, _, after = rest.partition(" ")
        if word.casefold() not in _WORDS:
            raise CellRefused(
                tell("{text!r} is not understood", text=rest),
                tell("after the load come words such as {words}", words=", ".join(_WORDS[:12])),
            )
        if word.casefold() == "note":
            shared["note"] = cells.text(after)
            break
        value, rest = _value(word.casefold(), after)
        with _about(value):
            _one(word.casefold(), value, shared, last)
    return shared, last


def _value(word: str, after: str) -> tuple[str, str]:
    """What belongs to a word, and the rest; a painful left elbow is no left side."""
    place = re.match(r"(\D*\d+(?:\s*/\s*10)?)(?:\s+|$)", after) if word == "pain" else None
    if place is not None:
        return place[1].strip(), after[place.end() :]
    next_word = _AFTER_PAIN if word == "pain" else _NEXT_WORD
    parts = next_word.split(" " + after, maxsplit=1) if after else [""]
    return parts[0].strip(), parts[1] if len(parts) > 1 else ""


def _one(word: str, value: str, shared: dict[str, Any], last: dict[str, Any]) -> None:
    """One word and its value."""
    match word:
        case "rir" | "rpe":
            last["effort"] = cells.effort(value.replace(",", "."), word)
        case "pain":
            last["pain"] = cells.pain(
                _needed(
                    value, "pain", tell("write its height and place, such as: {example}", example="pain left knee 3")
                )
            )
        case "technique":
            last["technique"] = cells.technique(value)
        case "missed":
            if value not in _MISSED:
                raise CellRefused(f"missed {value!r}", tell("say why: {words}", words=", ".join(_MISSED)))
            last["missed"] = _MISSED[value]
        case "tempo":
            if not re.fullmatch(r"\d+(-\d+){1,3}", value):
                raise CellRefused(f"tempo {value!r}", tell("write seconds down, held, up, such as: tempo 3-1-1"))
            shared["tempo"] = value
        case "rest" | "pause" | "session":
            field = {"rest": "rest_interval_s", "pause": "cluster_pause_s", "session": "session"}[word]
            shared[field] = _whole(word, value)
        case "on":
            shared["on"] = cells.day(value)
        case "machine" | "pair":
            shared["implement" if word == "machine" else "pair"] = cells.text(
                _needed(value, word, tell("write its name"))
            )
        case "left" | "right" | "each":
            shared["side"] = word
            _refuse_value(word, value)
        case _:
            shared["kind"] = _KINDS[word]
            _refuse_value(word, value)


def _whole(word: str, value: str) -> int:
    found = re.fullmatch(r"(\d{1,4})" if word == "session" else r"(\d{1,4})\s*s?", value, re.IGNORECASE)
    if found is None or not int(found[1]):
        if word == "session":
            remedy = tell("write a whole number above 0")
        else:
            remedy = tell("write a whole number of seconds above 0")
        raise CellRefused(f"{word} {value!r}", remedy)
    return int(found[1])


@contextmanager
def _about(value: str) -> Iterator[str]:
    """Name the value in what is said of it: a typed line has no cell that could show it."""
    try:
        yield value
    except CellRefused as refused:
        raise CellRefused(f"{value!r} {refused.problem}", refused.remedy) from refused


def _needed(value: str, word: str, remedy: str) -> str:
    if not value:
        raise CellRefused(tell("nothing stands after {word}", word=word), remedy)
    return value


def _refuse_value(word: str, value: str) -> None:
    if value:
        raise CellRefused(
            tell("{value!r} after {word} is not understood", value=value, word=word),
            tell("put it into a note, such as: note {value}", value=value),
        )
