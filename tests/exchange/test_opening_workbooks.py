"""Workbooks opened as grids, and what is refused of them: in a process of its own, which may die."""

import io
import os
import subprocess
import sys
from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet
from tests.hostile import hostile_zips
from tests.hostile.workbooks_by_hand import SPREADSHEET, compound, ods, ods_around, unzipped, xls, zipped

from steelyard.exchange.bounds import MOST_ROWS
from steelyard.exchange.grid import Cell, FileRefused, Opened
from steelyard.exchange.opening import open_file
from steelyard.exchange.problems import Problem
from steelyard.exchange.workbook_frames import Frame, read_frames

SHEET = "xl/worksheets/sheet1.xml"
ONE = '<table:table-cell office:value-type="float" office:value="1"/>'


def xlsx(fill: Callable[[openpyxl.Workbook, Worksheet], None]) -> bytes:
    """A workbook that was filled by this function."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = "Log"
    fill(book, sheet)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def simple(book: openpyxl.Workbook, sheet: Worksheet) -> None:
    """A header and a row."""
    sheet.append(["date", "kg"])
    sheet.append([date(2026, 3, 2), 82.5])


def opened(tmp_path: Path, content: bytes, name: str = "log.xlsx") -> Opened:
    """The file with this content, opened; nothing else may lie beside it afterwards."""
    path = tmp_path / name
    path.write_bytes(content)
    try:
        return open_file(path)
    finally:
        assert list(tmp_path.iterdir()) == [path]


def rows(found: Opened) -> dict[str, list[tuple[int, tuple[Cell, ...]]]]:
    """Numbers and cells of each sheet."""
    return {grid.name: [(row.number, tuple(row.cells)) for row in grid.rows] for grid in found.grids}


def refused(tmp_path: Path, content: bytes, name: str = "log.xlsx") -> Problem:
    """Why the file with this content is not opened."""
    with pytest.raises(FileRefused) as why:
        opened(tmp_path, content, name)
    assert why.value.problem.problem
    assert why.value.problem.remedy
    return why.value.problem


def test_cells_stand_where_they_stood_with_their_types(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook, sheet: Worksheet) -> None:
        sheet["C3"], sheet["D3"], sheet["E3"] = "date", "x", "at"
        sheet["C5"], sheet["D5"], sheet["E5"] = date(2026, 3, 2), 82.5, time(18, 30)
        sheet["C6"], sheet["D6"], sheet["E6"] = datetime(2026, 3, 2, 18, 30, tzinfo=None), True, timedelta(minutes=3)  # noqa: DTZ001 - cells have no zone
        sheet["F6"] = "Übung 🏋"

    found = opened(tmp_path, xlsx(fill))
    assert (found.kind, found.encoding, found.separator) == ("xlsx", "", "")
    at = datetime(2026, 3, 2, 18, 30)  # noqa: DTZ001 - the same
    assert rows(found) == {
        "Log": [
            (3, ("", "", "date", "x", "at")),
            (5, ("", "", date(2026, 3, 2), 82.5, time(18, 30))),
            (6, ("", "", at, True, timedelta(minutes=3), "Übung 🏋")),
        ]
    }


def test_hidden_sheets_are_read_and_empty_ones_left_out(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook, sheet: Worksheet) -> None:
        simple(book, sheet)
        for name, state in (("Old", "hidden"), ("Older", "veryHidden"), ("Empty", "visible")):
            other = book.create_sheet(name)
            other.sheet_state = state
            if name != "Empty":
                other["B2"] = name

    assert list(rows(opened(tmp_path, xlsx(fill)))) == ["Log", "Old", "Older"]


def test_a_merged_cell_has_its_value_in_the_first_cell(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook, sheet: Worksheet) -> None:
        sheet["B1"] = "warm-up"
        sheet.merge_cells("B1:D2")
        sheet["E2"] = 5.0

    assert rows(opened(tmp_path, xlsx(fill)))["Log"] == [(1, ("", "warm-up")), (2, ("", "", "", "", 5.0))]


def test_a_formula_gives_the_value_that_was_saved_and_is_never_run(tmp_path: Path) -> None:
    parts = unzipped(xlsx(simple))
    saved = '<c r="A3"><f>2*3</f><v>7</v></c><c r="B3"><f>2*3</f></c><c r="C3" t="str"><f>CHAR(65)</f><v>z</v></c>'
    parts[SHEET] = parts[SHEET].replace(b"</sheetData>", f'<row r="3">{saved}</row></sheetData>'.encode())
    assert rows(opened(tmp_path, zipped(parts)))["Log"][-1] == (3, (7.0, "", "z"))


@pytest.mark.parametrize("name", ["log.xlsx", "log.csv", "log"])
def test_the_suffix_decides_nothing(tmp_path: Path, name: str) -> None:
    wanted = {"Log": [(1, ("date", "kg")), (2, (date(2026, 3, 2), 82.5))]}
    assert rows(opened(tmp_path, xlsx(simple), name)) == wanted
    (tmp_path / name).unlink()
    found = opened(tmp_path, ods({"Log": [["date", "kg"], [date(2026, 3, 2), 82.5]]}), name)
    assert (found.kind, rows(found)) == ("ods", wanted)


def test_open_document(tmp_path: Path) -> None:
    content = ods({"März": [[None], [None, "x & y"], ["2", 82.5]], "Leer": [[None]], "Alt": [[date(2026, 3, 2)]]})
    found = opened(tmp_path, content, "log.ods")
    assert found.kind == "ods"
    assert rows(found) == {"März": [(2, ("", "x & y")), (3, ("2", 82.5))], "Alt": [(1, (date(2026, 3, 2),))]}


def test_open_document_with_an_endless_empty_end(tmp_path: Path) -> None:
    rest = '<table:table-cell table:number-columns-repeated="16383"/>'
    rows_after = f'<table:table-row table:number-rows-repeated="1048574">{rest}</table:table-row>'
    table = f'<table:table table:name="a"><table:table-row>{ONE}{rest}</table:table-row>{rows_after}</table:table>'
    assert rows(opened(tmp_path, ods_around(table), "log.ods")) == {"a": [(1, (1.0,))]}


def test_an_old_workbook(tmp_path: Path) -> None:
    found = opened(tmp_path, xls("Log", [["date", "Übung"], ["", 82.5]]), "log.xls")
    assert (found.kind, rows(found)) == ("xls", {"Log": [(1, ("date", "Übung")), (2, ("", 82.5))]})


def test_a_workbook_without_content(tmp_path: Path) -> None:
    assert refused(tmp_path, xlsx(lambda book, sheet: None)).problem == "holds no rows"


@pytest.mark.parametrize("place", ["XFD1", "BXY2", "A1048576", "XFD1048576"])
def test_a_cell_far_away_is_named(tmp_path: Path, place: str) -> None:
    def fill(book: openpyxl.Workbook, sheet: Worksheet) -> None:
        simple(book, sheet)
        sheet[place] = 1

    problem = refused(tmp_path, xlsx(fill))
    assert problem.value == place
    assert "far from its table" in problem.problem


def test_a_far_cell_that_is_only_coloured_does_no_harm(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook, sheet: Worksheet) -> None:
        simple(book, sheet)
        sheet["XFD1048576"].style = "Good"

    assert len(rows(opened(tmp_path, xlsx(fill)))["Log"]) == 2


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux bounds the memory of a process so")
def test_a_block_too_large_for_the_memory_is_refused(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook, sheet: Worksheet) -> None:
        simple(book, sheet)
        sheet[f"ALK{MOST_ROWS - 1}"] = 1

    assert "memory" in refused(tmp_path, xlsx(fill)).problem


def test_too_many_rows_over_all_sheets_are_refused_with_the_sheet(tmp_path: Path) -> None:
    row = f'<table:table-row table:number-rows-repeated="{MOST_ROWS // 2 + 1}">{ONE}</table:table-row>'
    tables = "".join(f'<table:table table:name="{name}">{row}</table:table>' for name in "ab")
    problem = refused(tmp_path, ods_around(tables), "log.ods")
    assert str(MOST_ROWS) in problem.problem
    assert problem.sheet == "b"


def test_a_cell_too_long_is_refused_with_its_place(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook, sheet: Worksheet) -> None:
        sheet["C5"] = "x" * 10_001

    problem = refused(tmp_path, xlsx(fill))
    assert (problem.sheet, problem.row, problem.column) == ("Log", 5, "C")


def test_bombs_are_refused(tmp_path: Path) -> None:
    parts = unzipped(xlsx(simple))
    assert refused(tmp_path, hostile_zips.bomb_in_a_sheet(parts, SHEET, 2_000)).problem == (
        "becomes too large when it is unpacked"
    )
    lying = refused(tmp_path, hostile_zips.bomb_that_lies(parts, SHEET, 100, 1_000))
    assert (lying.value, "sizes" in lying.problem) == (SHEET, True)
    assert "100010 parts" in refused(tmp_path, hostile_zips.many_parts(parts, 100_010 - len(parts))).problem
    assert "sizes" in refused(tmp_path, hostile_zips.overlapping_parts(parts, 1_000, 100)).problem
    assert "ZIP" in refused(tmp_path, hostile_zips.nested(xlsx(simple), 3)).problem


def test_entities_are_not_expanded(tmp_path: Path) -> None:
    levels = "".join(f'<!ENTITY e{n + 1} "{f"&e{n};" * 10}">' for n in range(9))
    cell = '<table:table-cell office:value-type="string"><text:p>{}</text:p></table:table-cell>'
    outside = '<!ENTITY x SYSTEM "file:///etc/hostname">'
    for text in ("&e9;", "&x;"):
        table = f'<table:table table:name="a"><table:table-row>{cell.format(text)}</table:table-row></table:table>'
        refused(tmp_path, ods_around(table, f'<!DOCTYPE a [<!ENTITY e0 "ha">{levels}{outside}]>'), "log.ods")


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (compound("EncryptedPackage", b"x" * 5_000), "password"),
        (compound("WordDocument", b"x" * 5_000), "document"),
        (compound("PowerPoint Document", b"x" * 5_000), "presentation"),
        (compound("Anything", b"x" * 5_000), "document"),
        (zipped({"word/document.xml": b"<a/>"}), "document"),
        (zipped({"ppt/presentation.xml": b"<a/>"}), "presentation"),
        (zipped({"mimetype": b"application/vnd.oasis.opendocument.text", "content.xml": b"<a/>"}), "document"),
        (zipped({"xl/workbook.bin": b"x"}), "XLSB"),
        (zipped({"log.csv": b"a;b"}), "ZIP archive"),
        (zipped({"xl/workbook.xml": b"<a/>"}), "cannot be read"),
        (zipped({"mimetype": SPREADSHEET.encode(), "content.xml": b"<a"}), "cannot be read"),
        (b"PK\x05\x06" + bytes(18), "ZIP archive"),
        (b"PK\x03\x04" + bytes(300), "cannot be read"),
        (hostile_zips.raw_zip([hostile_zips.Part(b"xl/workbook.xml", b"x", 1, flags=1)]), "password"),
    ],
)
def test_what_is_no_workbook_is_said(tmp_path: Path, content: bytes, words: str) -> None:
    assert words in refused(tmp_path, content).problem


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9, 0.999])
def test_a_workbook_that_breaks_off(tmp_path: Path, share: float) -> None:
    whole = xlsx(simple)
    assert "cannot be read" in refused(tmp_path, whole[: int(len(whole) * share)]).problem


def test_progress_is_told(tmp_path: Path) -> None:
    def fill(book: openpyxl.Workbook, sheet: Worksheet) -> None:
        for n in range(3_000):
            sheet.append([n, "squat"])

    path = tmp_path / "log.xlsx"
    path.write_bytes(xlsx(fill))
    heard: list[tuple[int, int]] = []
    open_file(path, lambda done, total: heard.append((done, total)))
    assert len(heard) > 2
    assert heard == sorted(heard)
    assert heard[-1] == (path.stat().st_size,) * 2


def test_the_process_has_its_bounds_and_ends_with_its_reader(tmp_path: Path) -> None:
    """Nothing of a workbook lives on, however its reading ends."""
    path = tmp_path / "log.xlsx"
    path.write_bytes(xlsx(lambda book, sheet: sheet.append(["x" * 10_001])))
    with pytest.raises(FileRefused):
        open_file(path)
    with pytest.raises(ChildProcessError):
        os.waitpid(-1, os.WNOHANG)


def test_modules_beside_the_person_are_not_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "msgspec.py").write_text("raise SystemExit")
    (tmp_path / "log.xlsx").write_bytes(xlsx(simple))
    monkeypatch.chdir(tmp_path)
    assert len(open_file(Path("log.xlsx")).grids[0].rows) == 2


@pytest.mark.parametrize("content", [b"", b"\0\0", b"\x01\0\0\0\0\xff\0\0\0abc"])
def test_frames_that_break_off_are_no_frames(content: bytes) -> None:
    assert list(read_frames(io.BytesIO(content))) == []


def test_the_module_runs_by_itself(tmp_path: Path) -> None:
    path = tmp_path / "log.xlsx"
    path.write_bytes(xlsx(simple))
    asked = [sys.executable, "-m", "steelyard.exchange.workbook_child", str(path)]
    ran = subprocess.run(asked, capture_output=True, check=True)
    frames = [frame for frame, _, _ in read_frames(io.BytesIO(ran.stdout))]
    assert frames == [Frame.KIND, Frame.SHEET, Frame.ROW, Frame.ROW, Frame.END]
