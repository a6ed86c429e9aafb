"""Days of a whole column: the order of day and month and the year are found over all of it, or asked for."""

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from itertools import pairwise

from msgspec import Struct

from steelyard.wording.message import tell

from .cells import CellRefused
from .date_words import ORDERS, DayForm, Order, day_form, excel_day, full_year, real_day
from .findings import Findings
from .found import Choice
from .grid import Cell

HALF_A_YEAR = timedelta(days=183)
Found = date | CellRefused | None


class DayCell(Struct, frozen=True):
    """A cell that should be a day, and the year that a title above it names (0 if none)."""

    cell: Cell
    year: int = 0


class DaysRead(Struct, frozen=True, kw_only=True):
    """The days of a column in its order, and how they were read; None where a question stands open."""

    days: tuple[Found, ...]
    how: str


def no_date() -> CellRefused:
    """What is said of a cell that is no day."""
    return CellRefused(tell("is not a date"), tell("write year-month-day, such as 2026-03-28"))


def read_days(cells: Sequence[DayCell], name: str, today: date, findings: Findings) -> DaysRead:
    """Every day of a column that people would see as one; `name` names it in questions."""
    forms = [day_form(c.cell) if isinstance(c.cell, str) else None for c in cells]
    order, how = _order(forms, name, today, findings)
    is_swapped = _swapped(cells, forms, name, findings)
    if is_swapped is None:
        order = None
    out: list[Found] = []
    for cell, form in zip(cells, forms, strict=True):
        if form is not None:
            out.append(None if order is None or not _has_year(form, order) else _settled(form, order, today))
        else:
            out.append(None if order is None else _true_day(cell.cell, bool(is_swapped)))
    if order is not None:
        _fill_years(cells, forms, out, order, name, today, findings)
    for i, form in enumerate(forms):
        day = out[i]
        if form is not None and form.weekday is not None and isinstance(day, date) and day.weekday() != form.weekday:
            out[i] = CellRefused(tell("names another weekday than its date"), tell("check the day and the year"))
    return DaysRead(days=tuple(out), how=how)


def _true_day(cell: Cell, is_swapped: bool) -> date | CellRefused:
    found: date | None = None
    if isinstance(cell, date):
        found = real_day(cell.year, cell.month, cell.day)
    elif isinstance(cell, int | float) and not isinstance(cell, bool):
        whole = str(int(cell))
        packed = day_form(whole) if len(whole) == 8 else None
        found = real_day(*packed.readings["day-first"]) if packed is not None else excel_day(cell)
    elif isinstance(cell, str) and cell.strip().isdecimal() and len(cell.strip()) == 5:
        found = excel_day(int(cell))
    if found is None:
        return no_date()
    return (real_day(found.year, found.day, found.month) or found) if is_swapped else found


def _settled(form: DayForm, order: Order, today: date) -> date | CellRefused:
    reading = form.readings.get(order)
    if reading is None:
        return no_date()
    found = real_day(full_year(reading[0], today), reading[1], reading[2])
    if found is None:
        return CellRefused(tell("is no date of training"), tell("check the year"))
    return found


def _order(forms: Sequence[DayForm | None], name: str, today: date, findings: Findings) -> tuple[Order | None, str]:
    """The order of day and month, by what the whole column allows; None while it must be asked."""
    known = [form for form in forms if form is not None]
    unsure = [f for f in known if len(set(f.readings.values())) > 1]
    if not known:
        return "day-first", tell("as dates")
    possible = [o for o in ORDERS if all(o in f.readings for f in known)]
    if not unsure:
        if possible:
            return possible[0], tell("as dates")
        return _asked(known, list(ORDERS[:2]), name, today, findings)
    if len(possible) == 1:
        return possible[0], _say(possible[0], tell("since one of them allows nothing else"))
    for narrow, why in _NARROWING:
        left = [o for o in possible if narrow(known, o, today)]
        if len(left) == 1:
            return left[0], _say(left[0], why())
        possible = left or possible
    return _asked(unsure, possible or list(ORDERS[:2]), name, today, findings)


def _weekdays_fit(forms: Sequence[DayForm], order: Order, today: date) -> bool:
    """Whether every named weekday is the one of its date (where a year stands)."""
    days = ((f.weekday, _settled(f, order, today)) for f in forms if f.weekday is not None and _has_year(f, order))
    return all(isinstance(day, date) and day.weekday() == weekday for weekday, day in days)


def _points_fit(forms: Sequence[DayForm], order: Order, today: date) -> bool:
    """Points stand between day and month where the day comes first (the way of every country that writes so)."""
    unsure = [f for f in forms if len(set(f.readings.values())) > 1]
    return order == "day-first" or not all(f.is_dotted for f in unsure)


def _is_past(forms: Sequence[DayForm], order: Order, today: date) -> bool:
    days = (_settled(f, order, today) for f in forms if _has_year(f, order))
    return all(isinstance(day, date) and day <= today + timedelta(days=1) for day in days)


def _is_sorted(forms: Sequence[DayForm], order: Order, today: date) -> bool:
    found = [_settled(f, order, today) for f in forms if _has_year(f, order)]
    days = [day for day in found if isinstance(day, date)]
    if len(days) < len(found) or len(set(days)) < 3:
        return False
    return days == sorted(days) or days == sorted(days, reverse=True)


_Narrow = Callable[[Sequence[DayForm], Order, date], bool]
_NARROWING: tuple[tuple[_Narrow, Callable[[], str]], ...] = (
    (_weekdays_fit, lambda: tell("since only so the weekdays fit")),
    (_points_fit, lambda: tell("since points part them")),
    (_is_past, lambda: tell("since other dates would lie ahead")),
    (_is_sorted, lambda: tell("since only so the dates follow each other")),
)


def _has_year(form: DayForm, order: Order) -> bool:
    return form.readings.get(order, (1, 0, 0))[0] != 0


def _say(order: Order, why: str) -> str:
    shown = {"day-first": tell("day first"), "month-first": tell("month first"), "year-first": tell("year first")}
    return f"{shown[order]}, {why}"


def _asked(
    forms: Sequence[DayForm], possible: Sequence[Order], name: str, today: date, findings: Findings
) -> tuple[Order | None, str]:
    examples = tuple(_example(forms[0], order, today) for order in possible)
    choices = tuple(Choice(o, e) for o, e in zip(possible, examples, strict=True))
    asks = tell("Which comes first in the dates of {column}?", column=name)
    answer = findings.ask(f"date-order:{name}", asks, examples, choices)
    for order in possible:
        if order == answer:
            return order, _say(order, tell("as answered"))
    return None, tell("must be asked")


def _example(form: DayForm, order: Order, today: date) -> str:
    year, month, day = form.readings.get(order, next(iter(form.readings.values())))
    shown = full_year(year, today) if year else today.year
    return f"{shown:04d}-{month:02d}-{day:02d}"


def _swapped(cells: Sequence[DayCell], forms: Sequence[DayForm | None], name: str, findings: Findings) -> bool | None:
    """Whether a spreadsheet took day for month where it could, and left the others as text; asked where it looks so."""
    true = [c.cell for c in cells if isinstance(c.cell, date)]
    only_day_first = [f for f in forms if f is not None and set(f.readings) == {"day-first"} and not f.is_dotted]
    if len(true) < 2 or not only_day_first or any(day.day > 12 for day in true):
        return False
    first = next((d for d in true if d.day != d.month), None)
    if first is None:
        return False
    asks = tell("Some dates of {column} are text with the day first; did the spreadsheet swap the others?", column=name)
    kept, turned = f"{first:%Y-%m-%d}", f"{first:%Y-%d-%m}"
    choices = (Choice("keep", kept), Choice("swap", turned))
    answer = findings.ask(f"date-swap:{name}", asks, (kept, turned), choices)
    return None if answer is None else answer == "swap"


def _fill_years(
    cells: Sequence[DayCell],
    forms: Sequence[DayForm | None],
    out: list[Found],
    order: Order,
    name: str,
    today: date,
    findings: Findings,
) -> None:
    """Give days without a year the one of their neighbours, of a title, or the one that is answered."""
    open_ = {i for i, f in enumerate(forms) if f is not None and out[i] is None and order in f.readings}
    for i, form in enumerate(forms):
        if form is not None and order not in form.readings:
            out[i] = no_date()
    if not open_:
        return
    marks = {i: f.readings[order][1:] for i, f in enumerate(forms) if i in open_ and f is not None}
    latest = max([today, *(day for day in out if isinstance(day, date))]) + timedelta(days=1)
    rising = _is_rising([f.readings[order][1:] for f in forms if f is not None and order in f.readings])
    start = next((i for i, found in enumerate(out) if isinstance(found, date)), None)
    year = 0
    if start is None:
        year = _year_of_weekdays(forms, marks, rising, today)
        if year:
            # What weekdays say is surer than a title such as `Log 2025`.
            cells = [DayCell("")] * len(cells)
        year = year or next((c.year for c in cells if c.year), 0)
        year = year or _asked_year(list(marks.values()), name, today, findings)
        if not year:
            return
    _walk(cells, out, marks, range(start or 0, len(out)), rising, year, latest)
    if start:
        _walk(cells, out, marks, range(start, -1, -1), not rising, year, latest)


def _is_rising(marks: Sequence[tuple[int, int]]) -> bool:
    """Whether most days (month, day) follow the one before within half a year."""
    days = [(m - 1) * 30.5 + d for m, d in marks]
    steps = [(b - a) % 366 for a, b in pairwise(days) if a != b]
    return sum(step <= HALF_A_YEAR.days for step in steps) * 2 >= len(steps)


def _walk(
    cells: Sequence[DayCell],
    out: list[Found],
    marks: dict[int, tuple[int, int]],
    indexes: range,
    rising: bool,
    year: int,
    latest: date,
) -> None:
    """Go through the days in one direction, each beside the one before and none after the latest.

    A new title's year starts anew.
    """
    previous: date | None = None
    title = 0
    for i in indexes:
        if i in marks and out[i] is None:
            month, day = marks[i]
            is_new = cells[i].year not in {0, title}
            title = cells[i].year
            wanted = title if is_new else previous.year if previous is not None else year
            found = real_day(wanted, month, day)
            if not is_new and previous is not None and found is not None:
                if rising and previous - found > HALF_A_YEAR:
                    found = real_day(wanted + 1, month, day)
                elif found > latest or (not rising and found - previous > HALF_A_YEAR):
                    found = real_day(wanted - 1, month, day)
            out[i] = found or no_date()
        settled = out[i]
        previous = settled if isinstance(settled, date) else previous


def _year_of_weekdays(
    forms: Sequence[DayForm | None], marks: dict[int, tuple[int, int]], rising: bool, today: date
) -> int:
    """The year of the first day, if only one of the last five fits all weekdays that stand beside the days."""
    said = {i: f.weekday for i, f in enumerate(forms) if f is not None and f.weekday is not None and i in marks}
    if not said:
        return 0
    fitting = []
    for year in range(today.year - 4, today.year + 1):
        days: list[Found] = [None] * len(forms)
        _walk([DayCell("")] * len(forms), days, marks, range(len(forms)), rising, year, date.max)
        is_past = all(not isinstance(d, date) or d <= today + timedelta(days=1) for d in days)
        if is_past and all(isinstance(d := days[i], date) and d.weekday() == weekday for i, weekday in said.items()):
            fitting.append(year)
    return fitting[0] if len(fitting) == 1 else 0


def _asked_year(marks: Sequence[tuple[int, int]], name: str, today: date, findings: Findings) -> int:
    month, day = marks[0]
    years = [today.year - back for back in range(3)]
    choices = tuple(Choice(str(y), f"{y:04d}-{month:02d}-{day:02d}") for y in years)
    asks = tell("Of which year is the first date of {column}?", column=name)
    answer = findings.ask(
        f"year:{name}", asks, tuple(f"{d}.{m}." for m, d in marks[:3]), choices, lambda s: s.isdecimal() and len(s) == 4
    )
    return int(answer) if answer is not None else 0
