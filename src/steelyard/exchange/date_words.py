"""One cell that may be a day: every reading it allows, weekday words, numbered weeks and days."""

import re
from collections.abc import Mapping
from datetime import date, datetime, timedelta
from functools import lru_cache
from typing import Literal

from msgspec import Struct

from steelyard.engine.exercises import folded_name

Order = Literal["day-first", "month-first", "year-first"]
ORDERS: tuple[Order, ...] = ("day-first", "month-first", "year-first")
EARLIEST_YEAR, LATEST_YEAR = 1950, 2200
_MONTHS = (
    "jan|january|januar|janner|jaenner", "feb|february|februar|feber", "mar|march|maerz|marz|mrz", "apr|april",
    "may|mai", "jun|june|juni", "jul|july|juli", "aug|august", "sep|sept|september", "oct|october|okt|oktober",
    "nov|november", "dec|december|dez|dezember",
)  # fmt: skip
_MONTH_OF = {word: i for i, words in enumerate(_MONTHS, start=1) for word in words.split("|")}
_ROMAN = {
    "i": 1,
    "ii": 2,
    "iii": 3,
    "iv": 4,
    "v": 5,
    "vi": 6,
    "vii": 7,
    "viii": 8,
    "ix": 9,
    "x": 10,
    "xi": 11,
    "xii": 12,
}
_WEEKDAYS = (
    "mon|monday|mo|montag|mondays", "tue|tues|tuesday|di|die|dienstag", "wed|weds|wednesday|mi|mit|mittwoch",
    "thu|thur|thurs|thursday|do|don|donnerstag", "fri|friday|fr|fre|freitag", "sat|saturday|sa|sam|samstag|sonnabend",
    "sun|sunday|so|son|sonntag",
)  # fmt: skip
_WEEKDAY_OF = {word: i for i, words in enumerate(_WEEKDAYS) for word in words.split("|")}
_WEEKDAY = rf"(?:(?P<weekday>{'|'.join(sorted(_WEEKDAY_OF, key=len, reverse=True))})\b\.?,?\s*)?"
_WEEKDAY_LAST = re.compile(
    rf"(.*[\d.])[\s,(]+({'|'.join(sorted(_WEEKDAY_OF, key=len, reverse=True))})\.?\)?", re.IGNORECASE
)
_TIME = r"(?:[T ,]+(?:um\s+|at\s+)?\d{1,2}[:.]\d{2}(?::\d{2}(?:\.\d+)?)?(?:\s*(?:Z|[ap]m|uhr|[+-]\d\d:?\d\d))?)?"
_ISO = re.compile(rf"{_WEEKDAY}(?P<y>\d{{4}})([-/.])(?P<m>\d{{1,2}})\3(?P<d>\d{{1,2}})\.?{_TIME}", re.IGNORECASE)
_PACKED = re.compile(r"(19[5-9]\d|20\d\d|21\d\d)(\d\d)(\d\d)")
_THREE = re.compile(
    rf"{_WEEKDAY}(?P<a>\d{{1,2}})\s?([./-])\s?(?P<b>\d{{1,2}})\s?\3\s?'?(?P<c>\d{{4}}|\d{{2}}){_TIME}", re.IGNORECASE
)
_TWO = re.compile(rf"{_WEEKDAY}(?P<a>\d{{1,2}})\s?(?P<mark>[./])\s?(?P<b>\d{{1,2}})\.?", re.IGNORECASE)
_NAMED = re.compile(
    rf"{_WEEKDAY}(?P<d>\d{{1,2}})(?:st|nd|rd|th)?[.\s-]+(?:of\s+)?(?P<m>[^\W\d]{{1,9}})\.?(?:[,.\s-]+'?(?P<y>\d{{4}}|\d{{2}}))?{_TIME}",
    re.IGNORECASE,
)
_NAME_FIRST = re.compile(
    rf"{_WEEKDAY}(?P<m>[^\W\d]{{3,9}})\.?\s+(?P<d>\d{{1,2}})(?:st|nd|rd|th)?(?:,?\s+'?(?P<y>\d{{4}}))?{_TIME}",
    re.IGNORECASE,
)
_NUMBERED_WEEK = re.compile(
    r"(?P<word>week|woche|wk|w|kw|kalenderwoche|trainingswoche|training week)\s*\.?:?\s*#?(?P<n>\d{1,2})"
    r"(?:\s*[/,.-]?\s*\(?(?P<y>(?:19|20|21)\d\d)\)?)?",
    re.IGNORECASE,
)
_NUMBERED_DAY = re.compile(
    r"(?:day|tag|training|einheit|session|te|d)\s*\.?:?\s*#?(?P<n>\d)|(?P<m>\d)\.\s*(?:tag|day)", re.IGNORECASE
)
_EXCEL_DAY_0 = date(1899, 12, 30)
EARLIEST_LIKELY, LATEST_LIKELY = 36526, 60000
EARLIEST_SERIAL, LATEST_SERIAL = 18264, 110000


class DayForm(Struct, frozen=True, kw_only=True):
    """What a cell says of a day: the readings by order, the weekday it names; year 0 where none stands."""

    readings: Mapping[Order, tuple[int, int, int]]
    weekday: int | None = None
    is_dotted: bool = False
    is_short_year: bool = False

    @property
    def has_year(self) -> bool:
        """Whether the year stands in the cell."""
        return all(year for year, _, _ in self.readings.values())


class WeekNamed(Struct, frozen=True):
    """A numbered week; `is_iso` for a calendar week (KW), which counts within a year."""

    number: int
    is_iso: bool
    year: int | None = None


def excel_day(serial: float) -> date | None:
    """The day that a spreadsheet's serial number is, or None where it is none of training."""
    if EARLIEST_SERIAL <= serial <= LATEST_SERIAL:
        return _EXCEL_DAY_0 + timedelta(days=int(serial))
    return None


def real_day(year: int, month: int, day: int) -> date | None:
    """That day, or None where the calendar or a training log has no such day."""
    try:
        return date(year, month, day) if EARLIEST_YEAR <= year <= LATEST_YEAR else None
    except ValueError:
        return None


@lru_cache(maxsize=20_000)
def day_form(text: str) -> DayForm | None:
    """Every way in which the text can be a day; None where it is none."""
    plain = text.strip().strip("()[]:").strip()
    if not plain or len(plain) > 40:
        return None
    if match := _WEEKDAY_LAST.fullmatch(plain):
        plain = f"{match[2]} {match[1]}"
    if match := _ISO.fullmatch(plain):
        return _sure(int(match["y"]), int(match["m"]), int(match["d"]), match["weekday"])
    if match := _PACKED.fullmatch(plain):
        return _sure(int(match[1]), int(match[2]), int(match[3]), None)
    if match := _THREE.fullmatch(plain):
        return _of_three(match)
    if match := _TWO.fullmatch(plain):
        return _of_two(match)
    return _named(plain)


def _sure(year: int, month: int, day: int, weekday: str | None) -> DayForm | None:
    readings: dict[Order, tuple[int, int, int]] = dict.fromkeys(ORDERS, (year, month, day))
    return DayForm(readings=readings, weekday=_weekday(weekday)) if _could_be((year or 2000, month, day)) else None


def _could_be(reading: tuple[int, int, int]) -> bool:
    year, month, day = reading
    try:
        date(year or 2000, month, day)
    except ValueError:
        return False
    return True


def _of_three(match: re.Match[str]) -> DayForm | None:
    a, b, c = int(match["a"]), int(match["b"]), int(match["c"])
    is_short = len(match["c"]) == 2
    year = c if not is_short else 100 + c  # a short year is settled against today
    readings: dict[Order, tuple[int, int, int]] = {}
    if _could_be((2000 + c % 100, b, a)):
        readings["day-first"] = (year, b, a)
    if _could_be((2000 + c % 100, a, b)):
        readings["month-first"] = (year, a, b)
    if is_short and match[3] == "-" and _could_be((2000 + a, b, c)):
        readings["year-first"] = (100 + a, b, c)
    if not readings:
        return None
    return DayForm(
        readings=readings, weekday=_weekday(match["weekday"]), is_dotted=match[3] == ".", is_short_year=is_short
    )


def _of_two(match: re.Match[str]) -> DayForm | None:
    a, b = int(match["a"]), int(match["b"])
    both: tuple[tuple[Order, tuple[int, int, int]], ...] = (("day-first", (0, b, a)), ("month-first", (0, a, b)))
    readings = {order: reading for order, reading in both if _could_be(reading)}
    if not readings:
        return None
    return DayForm(readings=readings, weekday=_weekday(match["weekday"]), is_dotted=match["mark"] == ".")


def _named(plain: str) -> DayForm | None:
    for pattern in (_NAMED, _NAME_FIRST):
        if match := pattern.fullmatch(plain):
            word = folded_name(match["m"])
            month = _MONTH_OF.get(word) or _ROMAN.get(word, 0)
            if not month:
                continue
            year = match["y"] or "0"
            is_short = len(year) == 2
            value = 100 + int(year) if is_short else int(year)
            if not _could_be((2000 if is_short else value, month, int(match["d"]))):
                return None
            reading = (value, month, int(match["d"]))
            return DayForm(
                readings=dict.fromkeys(ORDERS, reading), weekday=_weekday(match["weekday"]), is_short_year=is_short
            )
    return None


def _weekday(word: str | None) -> int | None:
    return None if not word else _WEEKDAY_OF[folded_name(word)]


def full_year(year: int, today: date) -> int:
    """The year behind a short one (100-199): the latest that is not more than one year ahead of today."""
    if not 100 <= year < 200:
        return year
    century = (today.year + 1) // 100 * 100
    found = century + year - 100
    return found if found <= today.year + 1 else found - 100


def weekday_named(text: str) -> int | None:
    """The weekday (Monday is 0) that a text names, or None."""
    return _WEEKDAY_OF.get(folded_name(text.strip().strip(".:,")))


def week_named(text: str) -> WeekNamed | None:
    """The numbered week that a text names, or None."""
    match = _NUMBERED_WEEK.fullmatch(text.strip().strip(":"))
    if match is None or not 1 <= int(match["n"]) <= 60:
        return None
    is_iso = match["word"].casefold() in {"kw", "kalenderwoche"}
    return WeekNamed(int(match["n"]), is_iso, int(match["y"]) if match["y"] else None)


def day_number(text: str) -> int | None:
    """The number of a training day (`Day 2`, `Tag 2`), or None."""
    match = _NUMBERED_DAY.fullmatch(text.strip().strip(":"))
    found = int(match["n"] or match["m"]) if match is not None else 0
    return found or None


def is_day(cell: object) -> bool:
    """Whether a cell can be a day: a true date, or a text that reads as one."""
    if isinstance(cell, date | datetime):
        return True
    return isinstance(cell, str) and day_form(cell) is not None


def is_serial(cell: object) -> bool:
    """Whether a number can be a spreadsheet's serial of a day in this century's training logs (2000 to 2064)."""
    if isinstance(cell, str):
        text = cell.strip()
        return len(text) == 5 and text.isdecimal() and EARLIEST_LIKELY <= int(text) <= LATEST_LIKELY
    is_number = isinstance(cell, int | float) and not isinstance(cell, bool)
    return is_number and EARLIEST_LIKELY <= float(str(cell)) <= LATEST_LIKELY
