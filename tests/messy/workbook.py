"""Sheets as XLSX: true numbers and dates, numbers as text, merged titles, a second epoch."""

import io
from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal
from random import Random

from openpyxl import Workbook
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from openpyxl.worksheet.worksheet import Worksheet

from .recipe import Recipe
from .sheets import Sheet

DATE_FORMATS = ("DD.MM.YYYY", "YYYY-MM-DD", "D MMM YY", "MM/DD/YYYY")


def workbook(sheets: Sequence[Sheet], recipe: Recipe, rng: Random) -> bytes:
    """The workbook's bytes."""
    book = Workbook()
    if recipe.date_form == "true-date" and rng.random() < 0.2:
        book.epoch = CALENDAR_MAC_1904
    book.remove(book.worksheets[0])
    shape = rng.choice(DATE_FORMATS)
    is_text = rng.random() < 0.2
    at_row, at_column = rng.choice(((0, 0), (0, 0), (1, 1)))
    for sheet in sheets:
        laid: Worksheet = book.create_sheet(sheet.name[:31])
        for r, row in enumerate(sheet.rows, 1 + at_row):
            for c, cell in enumerate(row, 1 + at_column):
                if cell is not None:
                    value = _value(cell, recipe, is_text=is_text)
                    target = laid.cell(r, c, value)
                    if isinstance(value, date | datetime):
                        target.number_format = shape
        for r, earliest, latest in sheet.merged:
            laid.merge_cells(
                start_row=r + 1 + at_row, end_row=r + 1 + at_row,
                start_column=earliest + 1 + at_column, end_column=latest + 1 + at_column,
            )  # fmt: skip
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _value(cell: str | int | Decimal | date, recipe: Recipe, *, is_text: bool) -> str | int | float | date:
    if isinstance(cell, Decimal):
        text = f"{cell.normalize():f}"
        if is_text:
            return text.replace(".", ",") if recipe.decimal == "comma" else text
        return float(cell)
    return cell
