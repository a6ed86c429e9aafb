"""Sheets as bytes: separated text, fixed width, workbooks, in the encodings and line ends that machines leave."""

import csv
import io
from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal
from random import Random

from .open_document import open_document
from .recipe import Recipe
from .sheets import Cell, Sheet
from .workbook import workbook

SEPARATORS = {"csv": ",", "tsv": "\t", "semicolon": ";", "pipe": "|"}
_CODECS = {"utf-8": ("utf-8", b""), "utf-8-bom": ("utf-8", b"\xef\xbb\xbf"), "utf-16-le": ("utf-16-le", b"\xff\xfe"),
           "utf-16-be": ("utf-16-be", b"\xfe\xff"), "cp1252": ("cp1252", b"")}  # fmt: skip
_ENDS = {"lf": "\n", "crlf": "\r\n", "cr": "\r"}
SUFFIXES = {"csv": "csv", "tsv": "tsv", "semicolon": "csv", "pipe": "txt", "fixed": "txt", "txt": "txt", "xlsx": "xlsx",
            "ods": "ods", "jsonl": "jsonl"}  # fmt: skip


def contained(sheets: Sequence[Sheet], recipe: Recipe, rng: Random) -> bytes:
    """The file's bytes."""
    if recipe.container == "xlsx":
        return workbook(sheets, recipe, rng)
    if recipe.container == "ods":
        return open_document(sheets, recipe)
    rows = [[shown(cell, recipe) for cell in row] for row in sheets[0].rows]
    if recipe.container == "fixed":
        return encoded(_fixed(rows), recipe, rng)
    is_ragged = rng.random() < 0.5
    width = max(len(r) for r in rows)
    return encoded(_separated(rows if is_ragged else [r + [""] * (width - len(r)) for r in rows], recipe), recipe, rng)


def shown(cell: Cell, recipe: Recipe) -> str:
    """A cell as text."""
    if cell is None:
        return ""
    if isinstance(cell, Decimal):
        text = f"{cell.normalize():f}"
        return text.replace(".", ",") if recipe.decimal == "comma" else text
    if isinstance(cell, datetime | date):
        raise TypeError("true dates stand in workbooks only")
    return str(cell)


def encoded(lines: Sequence[str], recipe: Recipe, rng: Random) -> bytes:
    """Lines with the recipe's ends, encoding and mark."""
    if recipe.line_end == "mixed":
        text = "".join(line + rng.choice(("\n", "\r\n", "\n", "\r")) for line in lines)
    else:
        text = "".join(line + _ENDS[recipe.line_end] for line in lines)
    codec, mark = _CODECS[recipe.encoding]
    return mark + text.encode(codec)


def _separated(rows: Sequence[Sequence[str]], recipe: Recipe) -> list[str]:
    if recipe.container == "pipe" and recipe.seed % 2:
        return [f"| {' | '.join(row)} |" if row else "" for row in rows]
    lines = []
    for row in rows:
        out = io.StringIO()
        csv.writer(out, delimiter=SEPARATORS[recipe.container], lineterminator="").writerow(row)
        lines.append(out.getvalue() if any(row) or len(row) > 1 else "")
    return lines


def _fixed(rows: Sequence[Sequence[str]]) -> list[str]:
    """Columns padded with spaces; a row of one cell is a line of its own and widens nothing."""
    rows = [[" ".join(cell.split()) for cell in row] for row in rows]
    table = [row for row in rows if len(row) > 1]
    widths = [max((len(row[n]) for row in table if n < len(row)), default=0) for n in range(max(map(len, table)))]
    return [
        row[0] if len(row) == 1 else "  ".join(cell.ljust(w) for cell, w in zip(row, widths, strict=False)).rstrip()
        for row in rows
    ]  # fmt: skip
