"""Workbooks that mean no good: inside their parts, and in the zip around them."""

import re
import struct
from collections.abc import Callable
from random import Random

from . import hostile_zips
from .hostile_text import VALUES, Made
from .originals import originals
from .workbooks_by_hand import compound, ods_around, unzipped, zipped

SHEET = "xl/worksheets/sheet1.xml"
_ROW = '<table:table-row table:number-rows-repeated="{rows}">{cells}</table:table-row>'
_CELL = (
    '<table:table-cell table:number-columns-repeated="{columns}" office:value-type="{kind}" office:value="{value}"/>'
)


def _parts() -> dict[str, bytes]:
    return unzipped(originals()["xlsx"].content)


def _with_sheet(change: Callable[[str], str]) -> Made:
    parts = _parts()
    parts[SHEET] = change(parts[SHEET].decode()).encode("utf-8", "surrogatepass")
    return "xlsx", zipped(parts)


def damaged_part(rng: Random) -> Made:
    """A sound zip around a part with some bytes changed, cut or doubled, so that the reader itself meets them."""
    name = rng.choice(("xlsx", "ods"))
    parts = unzipped(originals()[name].content)
    victim = rng.choice([part for part in parts if part.endswith((".xml", ".rels"))])
    content = bytearray(parts[victim])
    for _ in range(rng.choice((1, 1, 3, 30))):
        place = rng.randrange(len(content) + 1)
        match rng.randrange(4):
            case 0:
                content[place:] = b""
            case 1:
                content[place : place + 1] = bytes([rng.randrange(256)])
            case 2:
                content[place:place] = content[: rng.randrange(1, 400)]
            case _:
                del content[place : place + rng.randrange(1, 60)]
    parts[victim] = bytes(content)
    return name, zipped(parts)


def missing_part(rng: Random) -> Made:
    """A part left out, doubled in another's place, or all macros of the world added."""
    parts = _parts()
    names = list(parts)
    match rng.randrange(3):
        case 0:
            del parts[rng.choice(names)]
        case 1:
            parts[rng.choice(names)] = parts[rng.choice(names)]
        case _:
            parts["xl/vbaProject.bin"] = originals()["xls"].content
            parts["xl/externalLinks/externalLink1.xml"] = (
                b'<externalLink r:id="rId1"><x href="file:///etc/passwd"/></externalLink>'
            )
    return "xlsm", zipped(parts)


def odd_numbers(rng: Random) -> Made:
    """Numbers in the XML (places, lengths, styles, values) replaced by impossible ones."""
    odd = (
        *("-1", "0", "4294967296", "18446744073709551616", "9" * 60, "1e308", "1e999", "nan", ""),
        *("x", "2958466", "0.1e-400"),
    )  # fmt: skip
    share = rng.choice((0.001, 0.05))
    place = rng.choice((r'(?<=r=")[A-Z]+\d+', r'(?<=s=")\d+', r"(?<=<v>)[^<]*", r"(?<!/)\b\d+\b(?!/)"))
    return _with_sheet(
        lambda xml: re.sub(place, lambda found: rng.choice(odd) if rng.random() < share else found[0], xml)
    )


def odd_texts(rng: Random) -> Made:
    """Formulas, links and odd values as texts in cells, in some files as values of other types too."""
    kinds = rng.choice((("inlineStr", "str"), ("inlineStr", "str", "e", "b", "d", "n", "s")))

    def cell(found: re.Match[str]) -> str:
        value = rng.choice(VALUES).replace("&", "&amp;").replace("<", "&lt;").replace("\x1b", "").replace("\x08", "")
        kind = rng.choice(kinds)
        inner = f"<is><t>{value}</t></is>" if kind == "inlineStr" else f"<f>{value}</f><v>{value}</v>"
        return f'<c r="{found[1]}" t="{kind}">{inner}</c>'

    return _with_sheet(lambda xml: re.sub(r'<c r="([A-Z]+\d+)"[^>]*>.*?</c>', cell, xml))


def far_cell(rng: Random) -> Made:
    """One cell far away, which spans a block of any size; told openly or not."""
    place = rng.choice(
        ("XFD1048576", "XFD3", "A1048576", "BXX200000", "BXW199999", "ZZ150000", "AAAA1", "A99999999999", "ZZZZZZZ1")
    )
    quote = rng.choice(('"', "'"))
    return _with_sheet(
        lambda xml: xml.replace("</sheetData>", f"<row><c r={quote}{place}{quote}><v>1</v></c></row></sheetData>")
    )


def lying_dimension(rng: Random) -> Made:
    """A sheet that claims another size than it has."""
    claimed = rng.choice(("A1:XFD1048576", "B2:A1", "A1", "XFD1048576:XFD1048576", "A0:A0", ":", "A1:A99999999999"))
    return _with_sheet(lambda xml: re.sub(r'<dimension ref="[^"]*"', f'<dimension ref="{claimed}"', xml))


def many_merged_cells(rng: Random) -> Made:
    """Very many merged ranges, or a huge one."""
    one = rng.choice(("A1:XFD1048576", "A1:B2", "B2:A1", "A1"))
    merged = f'<mergeCells>{f"""<mergeCell ref="{one}"/>""" * rng.choice((1, 100_000))}</mergeCells>'
    return _with_sheet(lambda xml: re.sub(r"<mergeCells.*</mergeCells>", merged, xml))


def long_shared_text(rng: Random) -> Made:
    """A long text that very many cells share: little to store, much to read."""
    parts = _parts()
    text = "x" * rng.choice((9_000, 32_000, 1_000_000))
    parts["xl/sharedStrings.xml"] = (
        f'<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>{text}</t></si></sst>'.encode()
    )
    cells = '<c t="s"><v>0</v></c>' * rng.choice((10, 1_000))
    rows = f"<row>{cells}</row>" * rng.choice((10, 1_000))
    parts[SHEET] = re.sub(
        rb"<sheetData>.*</sheetData>", f"<sheetData>{rows}</sheetData>".encode(), parts[SHEET], flags=re.DOTALL
    )
    return "xlsx", zipped(parts)


def repeated_cells(rng: Random) -> Made:
    """OpenDocument cells and rows that are said to stand there very many times."""
    kinds = (("float", "1"), ("float", "nan"), ("float", "1e999"), ("date", "x"), ("percentage", "1"), ("nonsense", ""))
    kind, value = rng.choice(kinds)
    numbers = (0, 1, 1_000, 16_384, 1_048_576, 4_294_967_295, 10**30)
    cells = [_CELL.format(columns=rng.choice(numbers), kind=kind, value=value) for _ in range(3)]
    rows = [_ROW.format(rows=rng.choice(numbers), cells=cell) for cell in cells]
    return "ods", ods_around(f'<table:table table:name="a">{"".join(rows)}</table:table>')


def entities(rng: Random) -> Made:
    """XML that grows, or that asks for files of this machine."""
    levels = "".join(f'<!ENTITY e{n + 1} "{f"&e{n};" * 10}">' for n in range(rng.choice((3, 9, 30))))
    outside = rng.choice(
        ("", '<!ENTITY x SYSTEM "file:///etc/passwd">', '<!ENTITY % p SYSTEM "http://x.invalid/"> %p;')
    )
    declared = f'<!DOCTYPE a [<!ENTITY e0 "{"a" * rng.choice((10, 100_000))}">{levels}{outside}]>'
    text = rng.choice(("&e9;", "&x;", "&e3;" * 1_000, "&#x110000;", "&#0;", "&undeclared;"))
    if rng.random() < 0.5:
        cell = f'<table:table-cell office:value-type="string"><text:p>{text}</text:p></table:table-cell>'
        row = f"<table:table-row>{cell}</table:table-row>"
        return "ods", ods_around(f'<table:table table:name="a">{row}</table:table>', declared)
    return _with_sheet(
        lambda xml: declared + xml.replace("</sheetData>", f'<row><c t="str"><v>{text}</v></c></row></sheetData>')
    )


def deep_xml(rng: Random) -> Made:
    """Elements in elements in elements."""
    depth = rng.choice((1_000, 100_000))
    if rng.random() < 0.5:
        return _with_sheet(lambda xml: xml.replace("<sheetData>", "<sheetData>" + "<row>" * depth))
    return "ods", ods_around('<table:table table:name="a"><table:table-row>' + "<text:p>" * depth)


def many_sheets(rng: Random) -> Made:
    """Very many sheets, of odd names."""
    count = rng.choice((300, 20_000))
    name = rng.choice(("a", "x" * 1_000, "&#10;", "'", "../x", "\u202e"))
    tables = "".join(f'<table:table table:name="{name}{n}"><table:table-row/></table:table>' for n in range(count))
    return "ods", ods_around(tables)


def bomb(rng: Random) -> Made:
    """A sheet that unpacks into hundreds of megabytes and more."""
    megabytes = rng.choice((100, 200, 1_000, 10_000))
    if rng.random() < 0.5:
        return "xlsx", hostile_zips.bomb_in_a_sheet(_parts(), SHEET, megabytes)
    claimed = rng.choice((100, 4_000, 2**32 - 2))
    return "xlsx", hostile_zips.bomb_that_lies(_parts(), rng.choice((SHEET, "xl/styles.xml")), megabytes, claimed)


def many_parts(rng: Random) -> Made:
    """A zip of very many parts."""
    return "xlsx", hostile_zips.many_parts(_parts(), rng.choice((4_000, 100_000, 700_000)))


def overlapping(rng: Random) -> Made:
    """Parts that claim each other's bytes."""
    if rng.random() < 0.5:
        return "xlsx", hostile_zips.overlapping_parts(_parts(), rng.choice((200, 4_000)), rng.choice((1, 50)))
    return "xlsx", hostile_zips.empty_blocks(_parts(), rng.choice((1, 30)), rng.choice((1, 4_000)))


def other_zip(rng: Random) -> Made:
    """A zip that is no workbook, in a zip, or with odd names and locks."""
    match rng.randrange(4):
        case 0:
            return "xlsx", hostile_zips.nested(originals()["xlsx"].content, rng.choice((1, 50)))
        case 1:
            return "docx", zipped({"word/document.xml": b"<a/>", "[Content_Types].xml": b"<a/>"})
        case 2:
            return "ods", zipped({"mimetype": b"application/vnd.oasis.opendocument.text" * 9_000})
        case _:
            return "xlsx", hostile_zips.odd_names(_parts(), rng)


def odd_records(rng: Random) -> Made:
    """An old workbook with records that lie about their places and lengths, or of nothing but noise."""
    content = bytearray(originals()["xls"].content)
    start = 512 * 3
    for _ in range(rng.choice((1, 3, 30))):
        place = rng.randrange(start, len(content) - 8)
        content[place : place + 2] = rng.choice(
            (b"\xff\xff", b"\0\0", b"\x09\x08", b"\x03\x02", struct.pack("<H", rng.randrange(65_536)))
        )
    return "xls", rng.choice(
        (bytes(content), compound("Workbook", rng.randbytes(5_000)), compound("Book", bytes(content)))
    )


def odd_compound(rng: Random) -> Made:
    """A compound file whose chains of sectors go in circles or nowhere."""
    content = bytearray(originals()["xls"].content)
    for _ in range(rng.randrange(1, 6)):
        place = rng.randrange(0, 384) * 4
        content[place : place + 4] = struct.pack(
            "<I", rng.choice((0, 1, 2, 3, 0xFFFFFFFE, 0xFFFFFFFF, 0x7FFFFFFF, 1 << 20))
        )
    content[:8] = originals()["xls"].content[:8]
    return "xls", bytes(content)


WORKBOOK_KINDS: dict[str, Callable[[Random], Made]] = {
    "damage inside a part": damaged_part,
    "parts missing, swapped or added": missing_part,
    "impossible numbers in a sheet": odd_numbers,
    "odd texts and formulas in cells": odd_texts,
    "a cell far away": far_cell,
    "a lying dimension": lying_dimension,
    "very many merged cells": many_merged_cells,
    "a long text in very many cells": long_shared_text,
    "cells repeated very often": repeated_cells,
    "XML entities": entities,
    "deep XML": deep_xml,
    "very many sheets": many_sheets,
    "zip bomb": bomb,
    "zip of very many parts": many_parts,
    "overlapping parts": overlapping,
    "zip that is no workbook": other_zip,
    "odd records in an old workbook": odd_records,
    "odd sectors in an old workbook": odd_compound,
}
