"""Why a workbook is not opened, in words."""

from steelyard.wording.message import tell

from .bounds import MOST_CELLS, MOST_ROWS, refusal
from .file_kinds import no_table
from .grid import FileRefused


def refused_workbook(code: str, place: str) -> FileRefused:
    """The refusal for a code that the reading process sent, with the part or cell that is the cause."""
    what = _other_kind(code)
    if what is not None:
        return no_table(what)
    if code == "memory":
        return broke_off()
    problem, remedy = _cause(code, place)
    return refusal(problem, remedy, value="" if code == "many-parts" else place)


def _other_kind(code: str) -> str | None:
    match code:
        case "document":
            return tell("is a document, not a table")
        case "presentation":
            return tell("is a presentation, not a table")
        case "archive":
            return tell("is a ZIP archive")
        case "xlsb":
            return tell("is a binary workbook (XLSB), which is not read")
        case _:
            return None


def _cause(code: str, place: str) -> tuple[str, str]:
    match code:
        case "encrypted":
            return tell("is protected by a password"), tell("save a copy without a password")
        case "many-parts":
            return tell("is made of {count} parts, far more than a workbook", count=place), _save_anew()
        case "too-large":
            return tell("becomes too large when it is unpacked"), _split_or_csv()
        case "lies":
            return tell("says other sizes of its parts than they have"), _save_anew()
        case "far":
            far = tell(
                "has a cell far from its table; columns up to {columns} and rows up to {rows} are read",
                columns=MOST_CELLS,
                rows=MOST_ROWS,
            )
            return far, tell("delete that row or column, or save the sheet as CSV")
        case _:
            remedy = tell("use a copy that is not damaged, or save the sheet as CSV")
            return tell("is a workbook that cannot be read"), remedy


def broke_off() -> FileRefused:
    """The process died or ran out of memory."""
    return refusal(
        tell("needs too much memory to be opened, or is damaged"),
        tell("delete single cells far from the table, split it, or save the sheet as CSV"),
    )


def took_too_long(seconds: int) -> FileRefused:
    """The process was ended by its clock."""
    return refusal(tell("is not open after {seconds} seconds", seconds=seconds), _split_or_csv())


def _split_or_csv() -> str:
    return tell("split it into several files, or save the sheet as CSV")


def _save_anew() -> str:
    return tell("open it in a spreadsheet program and save it anew as XLSX or CSV")
