"""A cell of any kind as the text that a person would have typed."""

from datetime import date, datetime, time, timedelta
from decimal import Decimal

from steelyard.engine.quantities import plain
from steelyard.wording.message import tell

from .cells import CellRefused
from .grid import Cell

_DIGITS = Decimal("0.000001")


def text_of(cell: Cell) -> str:
    """Text as it stands, trimmed; true numbers without artefacts of their floating point; true days as ISO."""
    if isinstance(cell, str):
        return cell.strip()
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, int | float):
        return number_text(cell)
    if isinstance(cell, datetime):
        return cell.isoformat(" ", "minutes") if (cell.hour or cell.minute) else cell.date().isoformat()
    return str(cell) if isinstance(cell, timedelta) else cell.isoformat()


def number_text(value: int | float) -> str:
    """A true number in plain digits."""
    if isinstance(value, float) and not (abs(value) < 1e12):
        return str(value)
    return f"{plain(Decimal(str(value)).quantize(_DIGITS)):f}"


def count_text(cell: Cell) -> str:
    """The same for a cell of counts; a true time is one of minutes and seconds, a true day is refused."""
    if isinstance(cell, time):
        return _minutes(cell.hour * 60 + cell.minute, cell.second)
    if isinstance(cell, timedelta):
        whole = int(cell.total_seconds())
        return _minutes(whole // 60, whole % 60)
    if isinstance(cell, date):
        raise CellRefused(
            tell("is a day; the spreadsheet made one of what was typed, perhaps of 8-10 or 8/8"),
            tell("format the column as text and type it again"),
        )
    return text_of(cell)


def _minutes(minutes: int, seconds: int) -> str:
    """Spreadsheets take 0:45 for hours and minutes; nobody holds a position for that long."""
    if seconds == 0:
        return f"{minutes // 60}:{minutes % 60:02d}"
    return f"{minutes}:{seconds:02d}"
