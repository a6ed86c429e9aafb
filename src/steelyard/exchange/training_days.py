"""The days of all rows of a file: dates as one column, and weeks with days counted from a day that is asked for."""

import re
from collections.abc import Sequence
from datetime import date, timedelta

from msgspec import Struct

from steelyard.wording.message import tell

from .cells import CellRefused
from .date_words import WeekNamed, is_day, weekday_named
from .dates import DayCell, Found, read_days
from .findings import Findings
from .found import Choice
from .grid import Cell

_SPREADS = {1: "mon", 2: "mon,thu", 3: "mon,wed,fri", 4: "mon,tue,thu,fri", 5: "mon,tue,wed,thu,fri"}


class WeekDay(Struct, frozen=True):
    """A day as week and weekday, or week and number of the day; `near` is the index of a date above it, or -1."""

    week: WeekNamed | None
    weekday: int | None
    number: int | None
    near: int = -1


RowDay = int | WeekDay | None


class DayPool:
    """Every cell of a file that should be a day, in the order of the file."""

    def __init__(self) -> None:
        self.cells: list[DayCell] = []
        self.names: list[str] = []
        self.found: tuple[Found, ...] = ()
        self.how = ""
        self._weeks: list[WeekDay] = []
        self._anchors: list[tuple[WeekNamed, int]] = []
        self._start: date | None = None
        self._year = 0
        self._weekdays: list[int] = []

    def add(self, cell: Cell, name: str, year: int) -> int:
        """Take a cell in; its index."""
        if self.cells and self.cells[-1].cell == cell and self.cells[-1].year == year and self.names[-1] == name:
            return len(self.cells) - 1
        self.cells.append(DayCell(cell, year))
        self.names.append(name)
        return len(self.cells) - 1

    def add_week(self, day: WeekDay) -> WeekDay:
        """Take a day of a numbered week in."""
        if not self._weeks or self._weeks[-1] != day:
            self._weeks.append(day)
        return day

    def add_anchor(self, week: WeekNamed, near: int) -> None:
        """Remember that a title names a week and a date in it."""
        self._anchors.append((week, near))

    @property
    def has_weeks(self) -> bool:
        """Whether any row says a week or a weekday."""
        return bool(self._weeks)

    @property
    def name(self) -> str:
        """The name of the column that most people would say the dates stand in."""
        known = [n for n, c in zip(self.names, self.cells, strict=True) if is_day(c.cell)]
        return next((n for n in known if n), "") or next((n for n in self.names if n), "") or "dates"

    def read(self, today: date, findings: Findings) -> None:
        """Find every day, or ask."""
        read = read_days(self.cells, self.name, today, findings)
        self.found, self.how = read.days, read.how
        if self._weeks:
            self._read_weeks(today, findings)

    def _read_weeks(self, today: date, findings: Findings) -> None:
        said = [(w.week, w.near) for w in self._weeks if w.week is not None and w.near >= 0]
        for week, index in (*said, *self._anchors):
            near = self.found[index]
            if isinstance(near, date) and not week.is_iso:
                self._start = near - timedelta(days=near.weekday() + 7 * (week.number - 1))
                break
        if any(w.week is not None and w.week.is_iso and not w.week.year for w in self._weeks):
            self._year = _asked_year(today, findings)
        if self._start is None and any(w.near < 0 and (w.week is None or not w.week.is_iso) for w in self._weeks):
            self._start = _asked_start(self._weeks, findings)
        numbers = {w.number or 1 for w in self._weeks if w.weekday is None}
        if numbers:
            self._weekdays = _asked_weekdays(max(numbers), findings)

    def on(self, day: RowDay) -> Found:
        """The day of a row; None where a question stands open or no day is said."""
        if day is None:
            return None
        return self.found[day] if isinstance(day, int) else self._on_week(day)

    def _on_week(self, day: WeekDay) -> Found:
        monday = self._monday(day)
        weekday = day.weekday
        if weekday is None:
            number = day.number or 1
            weekday = self._weekdays[number - 1] if number <= len(self._weekdays) else None
        if monday is None or weekday is None:
            return None
        return monday + timedelta(days=(weekday - monday.weekday()) % 7)

    def _monday(self, day: WeekDay) -> date | None:
        if day.week is not None and day.week.is_iso:
            year = day.week.year or self._year
            try:
                return date.fromisocalendar(year, day.week.number, 1) if year else None
            except ValueError:
                return None
        near = self.found[day.near] if day.near >= 0 else None
        if isinstance(near, date) and day.week is None:
            return near
        if self._start is None:
            return near if isinstance(near, date) else None
        number = day.week.number if day.week is not None else 1
        return self._start + timedelta(days=7 * (number - 1))


def no_day_refusal() -> CellRefused:
    """What is said of a row for which no day stands anywhere."""
    return CellRefused(tell("has no date"), tell("write year-month-day, such as 2026-03-28"))


def _asked_year(today: date, findings: Findings) -> int:
    choices = tuple(Choice(str(y), str(y)) for y in (today.year, today.year - 1, today.year - 2))
    asks = tell("Of which year are the calendar weeks?")
    answer = findings.ask("year-of-weeks", asks, (), choices, lambda s: s.isdecimal() and len(s) == 4)
    return int(answer) if answer is not None else 0


def _asked_start(weeks: Sequence[WeekDay], findings: Findings) -> date | None:
    asks = tell("On which day did week 1 start? Answer with a date such as 2026-01-05.")
    examples = tuple(dict.fromkeys(tell("week {number}", number=w.week.number) for w in weeks if w.week is not None))
    answer = findings.ask("start-of-weeks", asks, examples, (), _is_iso_day)
    return date.fromisoformat(answer) if answer is not None else None


def _is_iso_day(said: str) -> bool:
    try:
        return bool(re.fullmatch(r"\d{4}-\d\d-\d\d", said)) and 1950 <= date.fromisoformat(said).year <= 2200
    except ValueError:
        return False


def _weekdays(said: str) -> list[int]:
    found = [weekday_named(word) for word in re.split(r"[,;/\s]+", said.strip()) if word]
    return [day for day in found if day is not None] if None not in found else []


def _asked_weekdays(count: int, findings: Findings) -> list[int]:
    spread = _SPREADS.get(count, "")
    asks = tell("On which weekdays were the training days? Answer with one weekday for each, such as mon,wed,fri.")
    days = tuple(tell("day {number}", number=n) for n in range(1, count + 1))
    choices = (Choice(spread, spread.replace(",", ", ")),) if spread else ()
    answer = findings.ask("days-of-week", asks, days, choices, lambda s: len(_weekdays(s)) >= count)
    return _weekdays(answer) if answer is not None else []


def asked_day(findings: Findings) -> date | None:
    """The day of a file in which no day stands at all."""
    asks = tell("No date stands in the file. On which day was this? Answer with a date such as 2026-03-28.")
    answer = findings.ask("date", asks, (), (), _is_iso_day)
    return date.fromisoformat(answer) if answer is not None else None
