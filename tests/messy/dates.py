"""Days as people write them, and whether a reader of the file alone could tell day from month."""

from collections.abc import Iterable
from datetime import date, datetime, time
from random import Random

from .recipe import Recipe
from .truth import Ambiguity

MONTHS = {
    "en": ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
           "November", "December"),
    "de": ("Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September", "Oktober",
           "November", "Dezember"),
}  # fmt: skip
WEEKDAYS = {
    "en": ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"),
    "de": ("Montag", "Dienstag", "Mittwoch", "Donnerstag", "Freitag", "Samstag", "Sonntag"),
}
EPOCH = date(1899, 12, 30)  # day 0 of spreadsheets
_PLAIN = {
    "iso": "{d:%Y-%m-%d}",
    "iso-slash": "{d:%Y/%m/%d}",
    "slash-dmy": "{d:%d/%m/%Y}",
    "dash-dmy": "{d:%d-%m-%Y}",
    "iso-dot": "{d:%Y.%m.%d}",
    "compact": "{d:%Y%m%d}",
    "dot-2": "{d:%d.%m.%y}",
    "slash-dmy-2": "{d:%d/%m/%y}",
    "slash-mdy": "{d:%m/%d/%Y}",
    "slash-mdy-2": "{d:%m/%d/%y}",
}
_ORDER_UNSAID = ("slash-dmy", "dash-dmy", "slash-dmy-2", "slash-mdy", "slash-mdy-2")


class DayWriter:
    """Writes every day of one file in that file's one way."""

    def __init__(self, recipe: Recipe, rng: Random) -> None:
        self._recipe = recipe
        self._is_padded = rng.random() < 0.6
        self._variant = rng.randrange(3)
        self._hour = rng.randint(6, 19)

    def cell(self, on: date) -> "str | int | date | datetime":
        """The day as a cell: text, or a number or true date in a workbook."""
        form = self._recipe.date_form
        if form == "true-date":
            return on if self._variant else datetime.combine(on, time(self._hour, 15))
        if form == "serial":
            days = (on - EPOCH).days
            return days if self._recipe.is_workbook else str(days)
        return self.text(on)

    def text(self, on: date) -> str:
        """The day as text."""
        form = self._recipe.date_form
        if form in _PLAIN:
            written = _PLAIN[form].format(d=on)
            return written if self._is_padded or form.startswith(("iso", "compact")) else _unpadded(written)
        if form == "datetime":
            shape = ("{d:%Y-%m-%d} {h:02}:30", "{d:%Y-%m-%dT}{h:02}:30:00", "{d:%d.%m.%Y} {h:02}:30")[self._variant]
            return shape.format(d=on, h=self._hour)
        if form in {"words", "long", "month-dash"}:
            return self._in_words(on)
        if form.startswith("weekday"):
            return self._with_weekday(on)
        written = f"{on:%d.%m.%Y}"  # "dot", and what heads a week whose table has no dates
        return written if self._is_padded else _unpadded(written)

    def _with_weekday(self, on: date) -> str:
        is_german = self._recipe.language == "de"
        weekday = WEEKDAYS[self._recipe.language][on.weekday()]
        if self._recipe.date_form == "weekday-full":  # the weekday also tells month from day
            return f"{weekday[:2]}, {on:%d.%m.%Y}" if is_german else f"{weekday[:3]} {on:%m/%d/%Y}"
        if is_german:
            return f"{weekday[:2]} {on.day}.{on.month}."
        return f"{weekday[:3]} {on.day} {MONTHS['en'][on.month - 1][:3]}"

    def _in_words(self, on: date) -> str:
        month = MONTHS[self._recipe.language][on.month - 1]
        weekday = WEEKDAYS[self._recipe.language][on.weekday()]
        if self._recipe.date_form == "month-dash":
            return f"{on.day}-{month[:3]}-{on:%y}"
        if self._recipe.date_form == "long":
            is_german = self._recipe.language == "de"
            return f"{weekday}, {on.day}. {month} {on.year}" if is_german else f"{weekday}, {month} {on.day}, {on.year}"
        if self._recipe.language == "de":
            return (
                f"{on.day}. {month} {on.year}",
                f"{on.day}. {month[:3]}. {on.year}",
                f"{on.day}. {month} {on.year}",
            )[self._variant]
        return (f"{on.day} {month[:3]} {on.year}", f"{month[:3]} {on.day}, {on.year}", f"{on.day} {month} {on.year}")[
            self._variant
        ]


def _unpadded(written: str) -> str:
    mark = next(c for c in written if not c.isdigit())
    day, month, year = written.split(mark)
    return mark.join((day.lstrip("0"), month.lstrip("0"), year))


def order_left_open(recipe: Recipe, days: Iterable[date]) -> tuple[Ambiguity, ...]:
    """Day and month may be asked about only where no day of the file is above 12."""
    if recipe.date_form not in _ORDER_UNSAID or any(d.day > 12 for d in days):
        return ()
    # Neighbouring days lie close together in one of the orders, so reading on unasked is no plain guess.
    return (Ambiguity("date-order", "month-first" if "mdy" in recipe.date_form else "day-first", must_ask=False),)
