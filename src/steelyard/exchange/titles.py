"""What titles, section rows and sheet names say: whose sets, which day or week, which exercise, which unit."""

import re
from collections.abc import Callable

from msgspec import Struct

from steelyard.engine.quantities import Unit

from .date_words import WeekNamed, day_number, is_day, week_named, weekday_named
from .grid import Cell
from .headers import header_word, unit_named

_GENERIC = re.compile(
    r"^(?:sheet|tabelle|blatt|table|worksheet|arbeitsblatt|log|training log|trainingslog|training|trainingstagebuch|"
    r"tagebuch|"
    r"data|daten|workouts?|sets|sätze|export|import|main|log ?book|logbuch|journal|diary|lifting|gym|plan|"
    r"trainingsplan|"
    r"programm?|übersicht|overview|feuille|strength|krafttraining|kraft)\s*\(?\d*\)?$",
    re.IGNORECASE,
)
_KEYED = re.compile(r"^\s*(?P<key>[^:=]{2,30}?)\s*[:=]\s*(?P<value>.+?)\s*$")
_YEAR = re.compile(r"(?<!\d)(19[5-9]\d|20\d\d|21\d\d)(?!\d|\s*[/-]\s*\d)")
_WEEK_BEGINS = re.compile(r"(week|woche|kw)\s*\d{1,2}\b", re.IGNORECASE)
_OF_HOW_MANY = re.compile(r"\s*(?:of|von|/)\s*\d+\s*$", re.IGNORECASE)
_FROM = re.compile(r"^(?:from|ab|von|starting|start|beginn|vom|w/c|week of|woche vom|woche ab)\s+(.+)$", re.IGNORECASE)
_UNITS = re.compile(r"\b(kgs?|kilos?|lbs?|pounds)\b", re.IGNORECASE)
_WORD = r"[^\W\d_][^\W\d_'’.-]*(?:['’-][^\W\d_]+)*\.?"
# One to four words, each with a capital but for the small ones that names have.
_NAME = re.compile(rf"^(?:{_WORD})(?:,?\s+(?:{_WORD}|van|von|de|der|den|del|la|le|zu)){{0,3}}$")
_SMALL = frozenset({"van", "von", "de", "der", "den", "del", "la", "le", "zu"})
_PIECES = re.compile(r"\s+[-–—|/•·]\s+|\s*\|\s*|,\s+|\s*\(|\)\s*|;\s*")
_GOAL = re.compile(
    r"^\W*(?:goals?|targets?|plan(?:ned)?|aims?|next|todo|to do|ziele?|plan|geplant|nächste\w*|pbs?|prs?|records?|"
    r"rekorde?|bestwerte?|1\s?rm)\b",
    re.IGNORECASE,
)
_TOTAL = re.compile(
    r"^\W*(?:(?:group|team|gruppen?|mannschafts?)[ -]?)?"
    r"(?:totals?|sub-?totals?|sums?|summe\w*|gesamt\w*|zwischensumme|averages?|avg|mean|durchschnitt\w*|schnitt|"
    r"mittel(?:wert)?|ø|∑|Σ|"
    r"volume|volumen|tonnage|training volume|trainingsvolumen|weekly total|wochensumme|wochenvolumen|bestleistung|"
    r"best|max(?:imum)?)\b|^[ø∑Σ]",
    re.IGNORECASE,
)


_RULE = re.compile(r":?[-–—=_]{3,}:?")


class Facts(Struct, frozen=True, kw_only=True):
    """What a text above or between rows says; `name` is a text that may be somebody's name."""

    lifter: str = ""
    day: Cell = ""
    week: WeekNamed | None = None
    weekday: int | None = None
    day_number: int | None = None
    exercise: str = ""
    unit: Unit | None = None
    year: int = 0
    name: str = ""
    is_read: bool = False


def is_total(text: str) -> bool:
    """Whether a row that begins so sums other rows up."""
    return _TOTAL.match(text.strip()) is not None


def names_body_mass(text: str) -> bool:
    """Whether a title says that body masses stand below."""
    word = header_word(text)
    return word is not None and word.role == "body-mass"


def without_total(name: str) -> str:
    """The name of a sheet such as `Week 3 of 8` without how many there are."""
    return _OF_HOW_MANY.sub("", name) if _WEEK_BEGINS.match(name) else name


def is_goal(text: str) -> bool:
    """Whether a text that begins so speaks of what is wanted, or of records."""
    return _GOAL.match(text.strip()) is not None


def is_rule(text: str) -> bool:
    """Whether a cell is a drawn line, as between a header and its rows."""
    return _RULE.fullmatch(text.strip()) is not None


def is_generic(name: str) -> bool:
    """Whether a sheet's name says nothing of what it holds."""
    return not name or _GENERIC.match(name.strip()) is not None


def facts_of(text: Cell, is_exercise: Callable[[str], bool]) -> Facts:
    """What one title says."""
    if not isinstance(text, str):
        return Facts(day=text, is_read=True) if is_day(text) else Facts()
    plain = text.strip().strip("*_#= ").strip()
    if is_day(plain):
        return Facts(day=plain, is_read=True)
    if is_exercise(plain.rstrip(":")):
        return Facts(exercise=plain.rstrip(":"), is_read=True)
    if (keyed := _KEYED.match(plain)) is not None and (found := _keyed(keyed, is_exercise)) is not None:
        return found
    pieces = [p for p in _PIECES.split(plain) if p.strip()]
    found = Facts()
    for piece in pieces:
        found = _with(found, _piece(piece.strip().rstrip(":"), is_exercise))
    if not found.is_read:
        found = _with(Facts(), Facts(unit=found.unit, year=found.year, exercise=found.exercise))
        found = _with(found, Facts(name=plain)) if _is_name(plain) else found
    year = _YEAR.search(plain)
    if year is not None and not found.year and found.day == "":
        found = _with(found, Facts(year=int(year[1])))
    return found


def _keyed(match: re.Match[str], is_exercise: Callable[[str], bool]) -> Facts | None:
    """`Lifter: Bo`, `Start: 2026-01-05`."""
    key, value = match["key"], match["value"]
    word = header_word(key)
    if word is not None and word.role == "lifter":
        return Facts(lifter=value, is_read=True)
    if is_day(value) and (word is None or word.role in {"date", "day", "week", "ignore"}):
        week = week_named(key)
        return Facts(day=value, week=week, is_read=True)
    if word is not None and word.role == "exercise":
        return Facts(exercise=value, is_read=True)
    if word is not None and word.role == "unit" and unit_named(value):
        return Facts(unit=unit_named(value), is_read=True)
    if word is not None and word.role in {"week", "day", "session"}:
        return _piece(f"{key} {value}", is_exercise) if value.isdecimal() else facts_of(value, is_exercise)
    return None


def _piece(piece: str, is_exercise: Callable[[str], bool]) -> Facts:
    """What one part of a title says."""
    begun = _WEEK_BEGINS.match(piece)
    if begun is not None and _OF_HOW_MANY.match(piece[begun.end() :]):
        # `week 3 of 4` says where in a block somebody is, not which rows follow.
        return Facts()
    if begun is not None and len(piece) > begun.end() and week_named(piece) is None:
        rest = _piece(piece[begun.end() :].strip(" :.-"), is_exercise)
        return _with(Facts(week=week_named(begun[0]), is_read=True), rest)
    dated = _FROM.match(piece)
    day = dated[1] if dated is not None else piece
    unit = _UNITS.search(piece) if not re.search(r"\d", piece) else None
    found = Facts(
        week=week_named(piece),
        weekday=weekday_named(piece),
        day=day if is_day(day) else "",
        day_number=day_number(piece),
        unit=None if unit is None else unit_named(unit[1]),
        exercise=piece if is_exercise(piece) else "",
    )
    if found == Facts():
        return Facts(name=piece) if _is_name(piece) else found
    return _with(found, Facts(is_read=True))


def _is_name(text: str) -> bool:
    """Whether a text may be somebody's name."""
    if not _NAME.match(text) or is_generic(text) or header_word(text) is not None:
        return False
    words = text.replace(",", " ").split()
    return words[-1] not in _SMALL and all(word[0].isupper() or word in _SMALL for word in words)


def _with(one: Facts, other: Facts) -> Facts:
    return Facts(
        lifter=one.lifter or other.lifter,
        day=one.day if one.day != "" else other.day,
        week=one.week or other.week,
        weekday=one.weekday if one.weekday is not None else other.weekday,
        day_number=one.day_number or other.day_number,
        exercise=one.exercise or other.exercise,
        unit=one.unit or other.unit,
        year=one.year or other.year,
        name=one.name or other.name,
        is_read=one.is_read or other.is_read,
    )


def over(one: Facts, other: Facts) -> Facts:
    """What holds below both: what the nearer one (`other`) says goes before."""
    return _with(other, one)


def starts_day(facts: Facts) -> bool:
    """Whether the text names a day, however."""
    return facts.day != "" or facts.weekday is not None or facts.day_number is not None


def is_remark(text: str) -> bool:
    """Whether a row that begins so holds remarks on the columns above (`Notes | slept badly`)."""
    word = header_word(text)
    return word is not None and word.role in {"note", "ignore", "pain", "session", "week", "day", "rest", "technique"}


def without_day(facts: Facts, *, keep_date: bool) -> Facts:
    """The same without weekday and number of the day; its date stays where a weekday within its week may follow."""
    return Facts(
        lifter=facts.lifter,
        day=facts.day if keep_date else "",
        week=facts.week,
        exercise=facts.exercise,
        unit=facts.unit,
        year=facts.year,
    )
