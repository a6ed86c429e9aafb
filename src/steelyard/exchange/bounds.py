"""How much of a file is read, and the refusals that say so."""

from steelyard.wording.message import tell

from .grid import FileRefused
from .problems import Problem

MOST_BYTES = 32 * 2**20
MOST_ROWS = 120_000
# As many as a spreadsheet has; rows without content count here.
LAST_ROW_NUMBER = 1_048_576
MOST_CELLS = 1_000
MOST_CELLS_IN_ALL = 1_100_000
LONGEST_CELL = 10_000
LONGEST_LINE = 1_000_000
# What all cells together may take once they are packed.
MOST_CONTENT = 24 * 2**20


def refusal(
    problem: str, remedy: str, *, row: int = 0, column: str = "", value: str = "", sheet: str = ""
) -> FileRefused:
    """A refusal of the whole file, with the place of its cause where there is one."""
    return FileRefused(Problem(row=row, column=column, value=value, problem=problem, remedy=remedy, sheet=sheet))


def file_too_large(size: int) -> FileRefused:
    """More bytes than are read."""
    return refusal(
        tell("has {size} MB, and at most {most} MB are read", size=-(-size // 2**20), most=MOST_BYTES // 2**20),
        tell("split it into several files, such as one a year"),
    )


def too_many_rows(sheet: str) -> FileRefused:
    """More rows than are read."""
    return refusal(
        tell("has more than {most} rows", most=MOST_ROWS),
        tell("split it into several files, such as one a year"),
        row=MOST_ROWS,
        sheet=sheet,
    )


def too_many_lines(sheet: str) -> FileRefused:
    """More lines, empty ones included, than a spreadsheet holds."""
    return refusal(
        tell("goes on after line {last}", last=LAST_ROW_NUMBER),
        tell("take out the empty lines or split it into several files"),
        row=LAST_ROW_NUMBER,
        sheet=sheet,
    )


def too_many_cells(row: int, sheet: str = "") -> FileRefused:
    """A row with more cells than are read."""
    return refusal(
        tell("has more than {most} cells in one row", most=MOST_CELLS),
        tell("keep the columns that say what was lifted and delete the rest"),
        row=row,
        sheet=sheet,
    )


def too_many_cells_in_all(row: int, sheet: str) -> FileRefused:
    """More cells in all rows together, empty ones among them, than are read."""
    return refusal(
        tell("has more than {most} cells up to here", most=MOST_CELLS_IN_ALL),
        tell("keep the columns that say what was lifted and delete the rest"),
        row=row,
        sheet=sheet,
    )


def line_too_long(row: int) -> FileRefused:
    """A line that nobody wrote by hand."""
    return refusal(
        tell("has a line of more than {most} characters", most=LONGEST_LINE),
        tell("check that it is a table with one row a line"),
        row=row,
    )


def cell_too_long(row: int, column: int, text: str, sheet: str) -> FileRefused:
    """A cell with more text than is read; columns are counted from 0."""
    return refusal(
        tell("is a cell of {length} characters, and at most {most} are read", length=len(text), most=LONGEST_CELL),
        tell("shorten it, and check the quotes around it"),
        row=row,
        column=column_letters(column),
        value=f"{text[:40]}…",
        sheet=sheet,
    )


def too_much_content(row: int, sheet: str) -> FileRefused:
    """More in all cells together than is kept."""
    return refusal(
        tell("holds more than {most} MB in its cells up to here", most=MOST_CONTENT // 2**20),
        tell("split it into several files, such as one a year"),
        row=row,
        sheet=sheet,
    )


def column_letters(column: int) -> str:
    """A column counted from 0 as a spreadsheet names it: A, B, .. Z, AA."""
    letters = ""
    number = column + 1
    while number:
        number, letter = divmod(number - 1, 26)
        letters = chr(ord("A") + letter) + letters
    return letters
