"""Cells and words of a training log, read strictly: a value, or why not and what to try."""

import re
import unicodedata
from datetime import date
from decimal import Decimal
from difflib import get_close_matches

from steelyard.engine.effort import Effort, EffortRefused
from steelyard.engine.exercises import Catalogue, Exercise, folded_name
from steelyard.engine.log import Pain, Technique
from steelyard.engine.quantities import Load, QuantityRefused, Unit
from steelyard.wording.message import spoken, tell, tell_either, tell_refused

MOST_REPETITIONS = 500
LONGEST_TEXT = 2000
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_NUMBER = re.compile(r"[+-]?\d{1,9}(\.\d{1,12})?")
_WHOLE = re.compile(r"\d{1,4}")
_TECHNIQUE: dict[str, Technique] = {
    "good": "good", "ok": "good", "clean": "good", "gut": "good", "sauber": "good",
    "rough": "rough", "unsauber": "rough",
    "broke": "broke", "broken": "broke", "eingebrochen": "broke",
}  # fmt: skip
_NO_PAIN = {"", "0", "-", "–", "no", "none", "nein", "keine", "kein"}
# A spreadsheet runs cells that begin so: such text leaves with an apostrophe, which is taken off on the way in.
RUNNABLE = ("=", "+", "-", "@", "\t", "\r")


class CellRefused(ValueError):
    """A value that cannot be read, with what to try."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(problem)
        self.problem = problem
        self.remedy = remedy


def text(cell: str) -> str:
    """Plain text: composed characters, no control characters, not endless; without the apostrophe of a spreadsheet."""
    whole = cell.strip()
    return plain_text(whole[1:] if whole.startswith("'") and whole.lstrip("'").startswith(RUNNABLE) else whole)


def plain_text(cell: str) -> str:
    """The same, with every apostrophe: where no spreadsheet was between."""
    whole = unicodedata.normalize("NFC", cell.replace("\r\n", "\n")).strip()
    if len(whole) > LONGEST_TEXT:
        raise CellRefused(tell("is longer than {most} characters", most=LONGEST_TEXT), tell("shorten it"))
    if any(unicodedata.category(c) in {"Cc", "Cs"} and c not in "\n\t" for c in whole):
        raise CellRefused(tell("holds control characters"), tell("type it anew without them"))
    return whole


def day(cell: str) -> date:
    """An ISO date."""
    try:
        if not _DATE.fullmatch(cell):
            raise ValueError
        found = date.fromisoformat(cell)
    except ValueError:
        raise CellRefused(tell("is not a date"), tell("write year-month-day, such as 2026-03-28")) from None
    if found.year < 1950 or found.year > 2200:
        raise CellRefused(tell("is no date of training"), tell("check the year"))
    return found


def load(cell: str, unit: Unit) -> Load:
    """A number of kilograms, pounds or marks."""
    if not _NUMBER.fullmatch(cell):
        if "," in cell:
            hint = tell("use a point as the decimal mark, such as 62.5")
        else:
            hint = tell("write a plain number such as 62.5")
        raise CellRefused(tell("is not a number of {unit}", unit=unit), hint)
    try:
        return Load(Decimal(cell), unit)
    except QuantityRefused as refused:
        raise CellRefused(tell_refused(refused), tell("check the number")) from refused


def repetitions(cell: str) -> int:
    """A whole number of repetitions; 0 is a miss."""
    if not _WHOLE.fullmatch(cell):
        raise CellRefused(
            tell("is not a whole number of repetitions"), tell("write one such as 8, and 0 for a missed lift")
        )
    if int(cell) > MOST_REPETITIONS:
        raise CellRefused(tell("is more than {most} repetitions", most=MOST_REPETITIONS), tell("check the number"))
    return int(cell)


def effort(cell: str, scale: str = "rir") -> Effort:
    """Repetitions in reserve, or RPE."""
    if not _NUMBER.fullmatch(cell):
        raise CellRefused(tell("is not a number for {scale}", scale=scale.upper()), tell("write one such as 2"))
    try:
        return Effort(Decimal(cell), "rpe" if scale == "rpe" else "rir")
    except EffortRefused as refused:
        raise CellRefused(tell_refused(refused), tell("write repetitions in reserve, 0 to 10")) from refused


def pain(cell: str) -> Pain | None:
    """Pain as a number of 10 with or without words; words alone count as pain of unknown height."""
    if cell.casefold() in _NO_PAIN:
        return None
    cleaned = re.sub(r"(/\s*10|\b(of|von)\s+10)\b", "", cell)
    numbers = re.findall(r"\d+(?:[.,]\d+)?", cleaned)
    words = re.sub(r"\s+", " ", re.sub(r"\d+", "", cleaned)).strip(" ,;:-")
    if len(numbers) > 1 or any(not n.isdigit() or int(n) > 10 for n in numbers) or not (numbers or words):
        raise CellRefused(
            tell("is not one number from 0 to 10"),
            tell("write it as a whole number with the place, such as: left knee 3"),
        )
    score = int(numbers[0]) if numbers else None
    return None if score == 0 else Pain(score, words)


def technique(cell: str) -> Technique:
    """How the technique was."""
    found = _TECHNIQUE.get(cell.casefold())
    if found is None:
        raise CellRefused(
            tell("is no remark on technique"), tell("write good, rough or broke; more goes into the note")
        )
    return found


def exercise(cell: str, catalogue: Catalogue) -> Exercise:
    """The exercise that people write so."""
    if not cell:
        raise CellRefused(tell("no exercise is named"), tell("write one such as squat"))
    found = catalogue.named(cell)
    if found is None:
        near = get_close_matches(folded_name(cell), catalogue.names(), n=3, cutoff=0.6)
        suggestions = dict.fromkeys(e.name[spoken()] for n in near if (e := catalogue.named(n)) is not None)
        if suggestions:
            hint = tell("did you mean {names}?", names=tell_either(suggestions))
        else:
            hint = tell("see `steelyard exercises` for the names")
        raise CellRefused(tell("is no exercise that is known"), hint)
    return found
