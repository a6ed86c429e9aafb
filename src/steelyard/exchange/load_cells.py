"""The grammar of one cell of a column of loads: `82,5`, `135 lb`, `BW+10`, `-20`, `Mark 5`, `60/62,5/65`."""

import re
from decimal import Decimal

from msgspec import Struct, structs

from steelyard.engine.quantities import KG_PER_LB
from steelyard.wording.message import tell

from .cells import CellRefused
from .headers import unit_named
from .numbers import Mark, number
from .set_style import SaidLoad
from .set_tokens import NUM, Operand, operands, plain_signs, refuse_endless, take_beside
from .two_of_a_kind import one_of_two

_NOTHING = {
    "",
    "-",
    "--",
    ".",
    "/",
    "n/a",
    "na",
    "none",
    "kein",
    "keins",
    "keine",
    "ohne",
    "no weight",
    "no load",
    "ohne gewicht",
}
_LIST = re.compile(r"\s*/\s*|\s*,\s+|\s*;\s*|\s*>\s*")
_PIN = re.compile(r"^p\.?\s*(?=\d)", re.IGNORECASE)
# Without brackets and without a word for empty, `bar 20` may be a bar and 20 on it.
_BAR = re.compile(
    rf"(?P<empty>(?:empty|just|only|leere?|nur)\s+)?(?:(?:the|die)\s+)?(?:bar|stange|hantelstange|langhantel)\s*"
    rf"(?:\(\s*(?P<mass>{NUM}\s*(?:kgs?|lbs?)?)\s*\)|(?(empty)(?P<bare>{NUM}\s*(?:kgs?|lbs?)?)|(?!)))",
    re.IGNORECASE,
)
_PINS = re.compile(rf"pin\s*({NUM})((?:\s*>\s*{NUM})+)", re.IGNORECASE)
_TWICE = re.compile(
    rf"(?P<first>{NUM})\s*(?P<unit>kgs?|lbs?)?\s*\(\s*(?P<second>{NUM})\s*(?P<other>kgs?|lbs?)?\s*\)", re.IGNORECASE
)
# 140 kg (308): the mass in the other unit is rounded to whole pounds, or to the next plates (our judgement).
MOST_APART = Decimal("0.02")
_SIMPLE = re.compile(r"\d{1,4}(?:\.\d{1,2})?")


class LoadCell(Struct, frozen=True):
    """The loads of a cell, one a set where several stand, words beside them; percent where it says nothing else.

    `is_of_two`: the cell says two of a kind, and the load is that of one.
    """

    loads: tuple[SaidLoad, ...] = ()
    words: str = ""
    percent: Decimal | None = None
    is_of_two: bool = False


def read_load_cell(text: str, decimal_mark: Mark) -> LoadCell:
    """The loads of a cell; raises CellRefused for what is no load."""
    if _SIMPLE.fullmatch(text) and (decimal_mark == "." or "." not in text):
        return LoadCell((SaidLoad(Decimal(text)),))
    refuse_endless(text)
    plain = _PIN.sub("pin ", plain_signs(text))
    if plain.casefold() in _NOTHING:
        return LoadCell()
    whole = number(plain, decimal_mark)
    if whole is not None:
        return LoadCell((SaidLoad(whole),))
    return _worded(plain, decimal_mark) or _listed(plain, decimal_mark) or _composed(plain, decimal_mark)


def _worded(plain: str, decimal_mark: Mark) -> LoadCell | None:
    """A load said twice, an empty bar with its mass, pins of a drop set, two of a kind."""
    if twice := _said_twice(plain, decimal_mark):
        return LoadCell((twice,))
    if bar := _BAR.fullmatch(plain):
        return structs.replace(read_load_cell(bar["mass"] or bar["bare"], decimal_mark), words=plain)
    if pins := _PINS.fullmatch(plain):
        # A drop set on a stack says once that it counts pins.
        found = [number(n.strip(), decimal_mark) for n in (pins[1], *pins[2].split(">")[1:])]
        return LoadCell(tuple(SaidLoad(n, "mark") for n in found))
    if one := one_of_two(plain):
        return structs.replace(read_load_cell(one, decimal_mark), words=plain, is_of_two=True)
    return None


def _listed(plain: str, decimal_mark: Mark) -> LoadCell | None:
    """One load a set."""
    parts = _LIST.split(plain)
    if len(parts) > 1 and all(number(p, decimal_mark) is not None for p in parts[:-1]):
        last = read_load_cell(parts[-1], decimal_mark)
        unit = last.loads[0].unit if len(last.loads) == 1 else ""
        numbers = [number(p, decimal_mark) for p in parts[:-1]]
        if len(last.loads) == 1 and last.loads[0].value is not None:
            return LoadCell((*(SaidLoad(n, unit) for n in numbers), *last.loads), last.words)
    return None


def _said_twice(plain: str, decimal_mark: Mark) -> SaidLoad | None:
    """The first load of `140 kg (308)` or `315 (143 kg)`, where the one in brackets is the same in the other unit."""
    match = _TWICE.fullmatch(plain)
    first, second = (number(match[n], decimal_mark) for n in ("first", "second")) if match else (None, None)
    if match is None or first is None or second is None:
        return None
    unit, other = unit_named(match["unit"] or ""), unit_named(match["other"] or "")
    is_pounds = unit == "lb" if unit else other == "kg"
    if unit == other:
        return None
    kilograms, pounds = (second, first) if is_pounds else (first, second)
    apart = abs(kilograms - pounds * KG_PER_LB)
    return SaidLoad(first, "lb" if is_pounds else "kg") if apart <= kilograms * MOST_APART else None


def _composed(plain: str, decimal_mark: Mark) -> LoadCell:
    core, beside = take_beside(plain)
    if beside.percent is not None and not re.search(r"\d", core):
        return LoadCell(percent=beside.percent, words=beside.words)
    found, rest = operands(core)
    words = f"{rest.strip(' ,;:-')} {beside.words}".strip()
    is_else = (
        beside.efforts or beside.tempo or beside.percent is not None or beside.both_sides or re.search(r"\d", rest)
    )
    if len(found) != 1 or is_else or found[0].kind in {"range", "time", "miss"} or found[0].measure:
        raise _no_load(plain)
    one = found[0]
    if one.kind == "body":
        value = number(one.raw, decimal_mark) if one.raw else None
    else:
        value = _value(one, decimal_mark, plain)
    if beside.is_assisted and value is not None:
        value = -abs(value)
    if beside.side is not None:
        words = f"{beside.side} {words}".strip()
    return LoadCell((SaidLoad(value, "mark" if one.kind == "mark" else one.unit),), words)


def _value(one: Operand, decimal_mark: Mark, plain: str) -> Decimal:
    value = number(one.raw, decimal_mark)
    if value is None:
        raise _no_load(plain)
    return value


def _no_load(plain: str) -> CellRefused:
    hint = (
        tell("write the load as one set has it, such as 48")
        if "x" in plain.casefold()
        else tell("write a plain number such as 62.5, perhaps with kg or lb")
    )
    return CellRefused(tell("is not a load"), hint)
