"""Text files opened as grids: encodings, line ends, separators, columns, quotes, bounds."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from steelyard.exchange.bounds import LONGEST_CELL, MOST_CELLS, MOST_CELLS_IN_ALL, MOST_ROWS
from steelyard.exchange.grid import Cell, FileRefused, Opened
from steelyard.exchange.opening import open_file
from steelyard.exchange.problems import Problem

TABLE = "Datum;Übung;Last;Wdh\n2026-03-02;Kniebeuge;82,5;8\n2026-03-02;Überzüge;12;10\n"
CELLS = [
    (1, ("Datum", "Übung", "Last", "Wdh")),
    (2, ("2026-03-02", "Kniebeuge", "82,5", "8")),
    (3, ("2026-03-02", "Überzüge", "12", "10")),
]


def opened(tmp_path: Path, content: bytes | str, name: str = "log.csv") -> Opened:
    """The file with this content, opened."""
    path = tmp_path / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return open_file(path)


def rows(found: Opened) -> list[tuple[int, tuple[Cell, ...]]]:
    """Numbers and cells of the only grid."""
    (grid,) = found.grids
    assert grid.name == ""
    return [(row.number, tuple(row.cells)) for row in grid.rows]


def refused(tmp_path: Path, content: bytes | str, name: str = "log.csv") -> Problem:
    """Why the file with this content is not opened."""
    with pytest.raises(FileRefused) as why:
        opened(tmp_path, content, name)
    assert why.value.problem.problem
    assert why.value.problem.remedy
    return why.value.problem


@pytest.mark.parametrize(
    ("content", "encoding"),
    [
        (TABLE.encode(), "utf-8"),
        (b"\xef\xbb\xbf" + TABLE.encode(), "utf-8"),
        (b"\xff\xfe" + TABLE.encode("utf-16-le"), "utf-16-le"),
        (b"\xfe\xff" + TABLE.encode("utf-16-be"), "utf-16-be"),
        (TABLE.encode("utf-16-le"), "utf-16-le"),
        (TABLE.encode("utf-16-be"), "utf-16-be"),
        (TABLE.encode("cp1252"), "windows-1252"),
    ],
    ids=["UTF-8", "marked UTF-8", "UTF-16 LE", "UTF-16 BE", "unmarked UTF-16 LE", "unmarked UTF-16 BE", "Windows-1252"],
)
def test_each_encoding_gives_the_same_rows(tmp_path: Path, content: bytes, encoding: str) -> None:
    found = opened(tmp_path, content)
    assert (found.kind, found.encoding, found.separator, found.file) == ("csv", encoding, ";", "log.csv")
    assert rows(found) == CELLS


def test_german_capitals_in_windows_1252_are_not_taken_for_another_encoding(tmp_path: Path) -> None:
    text = "DATUM|ÜBUNG|SÄTZE|KÜRZEL\n" + "2025-04-07|Drücken|9@115lb 0@115lb|S.L.\n" * 6
    found = opened(tmp_path, text.encode("cp1252"))
    assert found.encoding == "windows-1252"
    assert rows(found)[0] == (1, ("DATUM", "ÜBUNG", "SÄTZE", "KÜRZEL"))


def test_an_encoding_with_bytes_that_windows_1252_lacks_is_found(tmp_path: Path) -> None:
    found = opened(tmp_path, TABLE.encode("cp850"))
    assert found.encoding != "windows-1252"
    assert rows(found) == CELLS


def test_cyrillic_is_not_taken_for_windows_1252(tmp_path: Path) -> None:
    lift = "Приседание со штангой"  # noqa: RUF001 - Cyrillic is what is tested
    text = f"Дата;Упражнение;Повторы\n2.3.2026;{lift};100\n3.3.2026;Жим лёжа;80\n" * 5
    found = opened(tmp_path, text.encode("cp1251"))
    assert found.encoding == "windows-1251"
    assert rows(found)[1][1] == ("2.3.2026", lift, "100")


def test_a_mark_that_lies_is_passed_over(tmp_path: Path) -> None:
    found = opened(tmp_path, b"\xff\xfe" + TABLE.replace("Ü", "U").replace("ü", "u").encode() * 3)
    assert found.encoding == "utf-8"
    assert rows(found)[1] == CELLS[1]
    found = opened(tmp_path, b"\xef\xbb\xbf" + TABLE.encode("cp1252"))
    assert found.encoding == "windows-1252"
    assert rows(found) == CELLS


def test_two_encodings_in_one_file_are_refused_with_the_place(tmp_path: Path) -> None:
    whole = TABLE.encode() * 2
    problem = refused(tmp_path, whole + "Schrägbank;1;2;3\n".encode("cp1252"))
    assert problem.value == f"byte {len(whole) + 4}"
    assert "UTF-8" in problem.problem


def test_cut_utf_16_is_refused(tmp_path: Path) -> None:
    assert "UTF-16" in refused(tmp_path, b"\xff\xfe" + TABLE.encode("utf-16-le")[:-1]).problem


@pytest.mark.parametrize(
    ("content", "row"),
    [(b"a;b\n1;\x002\n", 0), (b"\xff\xfe" + "a;b\n1;\x002\n".encode("utf-16-le"), 2), (bytes(range(256)) * 20, 0)],
)
def test_zero_bytes_and_binary_are_refused(tmp_path: Path, content: bytes, row: int) -> None:
    problem = refused(tmp_path, content)
    assert "byte" in problem.problem
    assert problem.row == row


def test_a_zero_byte_far_inside_is_refused_with_its_row(tmp_path: Path) -> None:
    assert refused(tmp_path, b"a;b\n" * 40_000 + b"1;\x002\n").row == 40_001


@pytest.mark.parametrize("ends", [("\n",) * 3, ("\r\n",) * 3, ("\r",) * 3, ("\r\n", "\r", "\n"), ("\n", "\r", "")])
def test_line_ends_may_be_mixed(tmp_path: Path, ends: tuple[str, ...]) -> None:
    text = "".join(line + end for line, end in zip(TABLE.splitlines(), ends, strict=True))
    assert rows(opened(tmp_path, text)) == CELLS


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
def test_the_separator_is_found(tmp_path: Path, separator: str) -> None:
    lines = [("date", "exercise", "load", "reps"), ("2026-03-02", "squat", "100", "5"), ("", "row", "60", "8")]
    found = opened(tmp_path, "\n".join(separator.join(line) for line in lines))
    assert found.separator == separator
    assert [cells for _, cells in rows(found)] == lines


@pytest.mark.parametrize(
    ("text", "separator", "cells"),
    [
        ("82,5;8;2\n80;8;1\n77,5;8;0", ";", ("82,5", "8", "2")),
        ('date,load,sets\n2026-03-02,"82,5","5,5,5"\n', ",", ("2026-03-02", "82,5", "5,5,5")),
        ("date,sets\n2026-03-02,100x5; 105x5\n2026-03-04,100x5; 105x4; 110x3\n", ",", ("2026-03-02", "100x5; 105x5")),
        ("date;note\n2.3.2026;slow, sure, deep\n4.3.2026;fast\n", ";", ("2.3.2026", "slow, sure, deep")),
        ("5,5,5\n6,6,6\n", ",", ("6", "6", "6")),
        (
            "title\n\nwritten in spring, as it was\ndate,lift,kg\n2.3.,squat,100\n4.3.,row,60\n",
            ",",
            ("date", "lift", "kg"),
        ),
        ("sep=;\nload,kg;reps\n82,5;8\n", ";", ("82,5", "8")),
        ("date;lift;kg\n2.3.;squat;82,5\n", ";", ("2.3.", "squat", "82,5")),
        ('date;lift;note\n2.3.;squat;"a;b;c;d;e;f"\n', ";", ("2.3.", "squat", "a;b;c;d;e;f")),
    ],
)
def test_marks_inside_numbers_notes_and_quotes_part_nothing(
    tmp_path: Path, text: str, separator: str, cells: tuple[str, ...]
) -> None:
    found = opened(tmp_path, text)
    assert found.separator == separator
    assert cells in [found_cells for _, found_cells in rows(found)]


@pytest.mark.parametrize(
    "text",
    [
        "Mo 3.11. Bankdrücken 3x8 60kg\nMi 5.11. Kniebeuge 3x5 100kg, RIR 2\nFr 7.11. Rudern 3x10 50kg\n",
        "squat 100 kg 6,5,6\nbench 60 kg 9,9,9 rpe 6\nrow 50 kg 8,8; 55 kg 8\n",
        "82,5\n80\n77,5\n",
        "a  wide gap here\nand none in this line\nnor here, it seems\nor   here and there\n",
        "squat",
    ],
)
def test_free_lines_stay_lines(tmp_path: Path, text: str) -> None:
    found = opened(tmp_path, text, "log.txt")
    assert (found.kind, found.separator) == ("lines", "")
    assert rows(found) == [(n, (line,)) for n, line in enumerate(text.splitlines(), start=1)]


def test_columns_of_blanks_are_found(tmp_path: Path) -> None:
    text = (
        "Spring block\n\n"
        "date       exercise          load  reps  note\n"
        "2026-03-02 squat            100.0     5\n"
        "2026-03-02 bench press       82.5     8  paused, \"wide\"\n"
        "           overhead press    40.0     8\n"
        "2026-03-04 squat            102.5     5\n"
        "a line about the weather that runs across it all\n"
        "2026-03-04 row               60.0    10  easy\n"
    )  # fmt: skip
    found = opened(tmp_path, text, "log.txt")
    assert (found.kind, found.separator) == ("fixed-width", "")
    assert rows(found) == [
        (1, ("Spring block",)),
        (3, ("date", "exercise", "load", "reps", "note")),
        (4, ("2026-03-02", "squat", "100.0", "5")),
        (5, ("2026-03-02", "bench press", "82.5", "8", 'paused, "wide"')),
        (6, ("", "overhead press", "40.0", "8")),
        (7, ("2026-03-04", "squat", "102.5", "5")),
        (8, ("a line about the weather that runs across it all",)),
        (9, ("2026-03-04", "row", "60.0", "10", "easy")),
    ]


def test_a_ruler_rules_the_columns(tmp_path: Path) -> None:
    text = (
        "lift     kg   reps\n-------  ---  ----\nsquat    100  5\nleg press longer than its column\nrow      60   8\n"
    )
    assert [cells for _, cells in rows(opened(tmp_path, text, "log.txt"))] == [
        ("lift", "kg", "reps"),
        ("-------", "---", "----"),
        ("squat", "100", "5"),
        ("leg press longer than its column",),
        ("row", "60", "8"),
    ]


def test_quotes_may_hold_separators_quotes_and_line_ends(tmp_path: Path) -> None:
    text = 'date;note;reps\r\n2026-03-02;"slow; ""deep""\r\nand wide";5\r\n2026-03-04; "x; y";6\r\n'
    assert rows(opened(tmp_path, text)) == [
        (1, ("date", "note", "reps")),
        (2, ("2026-03-02", 'slow; "deep"\nand wide', "5")),
        (4, ("2026-03-04", "x; y", "6")),
    ]


@pytest.mark.parametrize(
    "odd", ['5" chest', '"wide grip', '"5" chest', 'so "wide" as this', '"', '""wide""', 'to 5"', '"a" and "b']
)
def test_an_odd_quote_swallows_no_other_row(tmp_path: Path, odd: str) -> None:
    lines = [f"2026-03-{n:02};squat;{n};5" for n in range(1, 31)]
    lines[10] = f"2026-03-11;squat;{odd};5"
    found = rows(opened(tmp_path, "\n".join(lines)))
    assert [number for number, _ in found] == list(range(1, 31))
    assert [cells for _, cells in found if cells[0] != "2026-03-11"] == [
        tuple(line.split(";")) for n, line in enumerate(lines) if n != 10
    ]
    number, cells = found[10]
    assert number == 11
    assert (cells[0], cells[1], cells[3]) == ("2026-03-11", "squat", "5")
    assert str(cells[2]).replace('"', "").strip() == odd.replace('"', "").strip()


def test_two_odd_quotes_swallow_no_row_between_them(tmp_path: Path) -> None:
    lines = [f"2026-03-{n:02};squat;{n};5" for n in range(1, 31)]
    lines[10] = '2026-03-11;"wide grip;11;5'
    lines[14] = '2026-03-15;to 5";15;5'
    found = rows(opened(tmp_path, "\n".join(lines)))
    assert [cells[0] for _, cells in found] == [f"2026-03-{n:02}" for n in range(1, 31)]


def test_empty_rows_are_left_out_and_numbers_go_on(tmp_path: Path) -> None:
    text = "\n\ndate;reps;;\n;;;\n  ; ;\n2026-03-02;5;;\n\n;7\n"
    assert rows(opened(tmp_path, text)) == [(3, ("date", "reps")), (6, ("2026-03-02", "5")), (8, ("", "7"))]


def test_rows_can_be_asked_for_in_any_way(tmp_path: Path) -> None:
    (grid,) = opened(tmp_path, TABLE).grids
    assert len(grid.rows) == 3
    assert [tuple(row.cells) for row in grid.rows[1:]] == [cells for _, cells in CELLS[1:]]
    assert (grid.rows[-1].number, tuple(grid.rows[-1].cells)) == CELLS[2]
    with pytest.raises(IndexError):
        grid.rows[3]


CELL = st.text(st.characters(blacklist_categories=["Cs", "Cc"]), max_size=12)


@given(st.lists(st.tuples(CELL, CELL, CELL), min_size=1, max_size=8), st.sampled_from([",", ";", "\t", "|"]))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_what_is_quoted_is_read_back(tmp_path: Path, table: list[tuple[str, str, str]], separator: str) -> None:
    rest = [["date", "lift", "kg"], *table, ["2026-03-02", "squat", "100"]]
    lines = (separator.join('"' + cell.replace('"', '""') + '"' for cell in row) for row in rest)
    found = rows(opened(tmp_path, f"sep={separator}\n" + "\n".join(lines)))
    wanted = [
        (n, tuple(row[: max(k + 1 for k, cell in enumerate(row) if cell)]))
        for n, row in enumerate(rest, start=2)
        if any(cell.strip() for cell in row)
    ]
    assert found == wanted


def test_a_million_columns_are_refused(tmp_path: Path) -> None:
    problem = refused(tmp_path, "date;reps\n" + ";".join("1" for _ in range(1_000_000)))
    assert problem.row == 2
    assert "1000000" in problem.problem


def test_the_most_cells_are_read_and_one_more_is_refused(tmp_path: Path) -> None:
    row = ";".join("1" for _ in range(MOST_CELLS))
    (first,) = rows(opened(tmp_path, row + ";" * 20_000 + "\n"))
    assert len(first[1]) == MOST_CELLS
    problem = refused(tmp_path, f"a;b\n{row};1\n")
    assert (problem.row, str(MOST_CELLS) in problem.problem) == (2, True)
    assert refused(tmp_path, f'a;b\n{row};"1"\n').row == 2


def test_the_longest_cell_is_read_and_a_longer_one_is_refused(tmp_path: Path) -> None:
    assert rows(opened(tmp_path, "a;b\n1;" + "ü" * LONGEST_CELL))[1][1] == ("1", "ü" * LONGEST_CELL)
    problem = refused(tmp_path, "a;b\n1;" + "ü" * (LONGEST_CELL + 1))
    assert (problem.row, problem.column) == (2, "B")
    assert str(LONGEST_CELL) in problem.problem
    assert refused(tmp_path, 'a;b\n1;"' + "u" * 200_000).row == 2


def test_the_most_rows_are_read_and_one_more_is_refused(tmp_path: Path) -> None:
    (grid,) = opened(tmp_path, "1;2\n" * MOST_ROWS).grids
    assert len(grid.rows) == MOST_ROWS
    problem = refused(tmp_path, "1;2\n" * (MOST_ROWS + 1))
    assert str(MOST_ROWS) in problem.problem
    assert "split" in problem.remedy


def test_too_many_cells_in_all_are_refused(tmp_path: Path) -> None:
    row = ";" * (MOST_CELLS - 1) + "1\n"
    assert refused(tmp_path, row * (MOST_CELLS_IN_ALL // MOST_CELLS + 1)).row == MOST_CELLS_IN_ALL // MOST_CELLS + 1


def test_endless_empty_lines_are_refused(tmp_path: Path) -> None:
    assert "1048576" in refused(tmp_path, "a;b\n" + "\n" * 1_100_000).problem


def test_progress_is_told_in_bytes(tmp_path: Path) -> None:
    heard: list[tuple[int, int]] = []
    path = tmp_path / "log.csv"
    path.write_text("2026-03-02;squat;100\n" * 5_000)
    open_file(path, lambda done, total: heard.append((done, total)))
    assert len(heard) > 3
    assert heard == sorted(heard)
    assert heard[-1] == (path.stat().st_size, path.stat().st_size)


def test_a_semicolon_in_each_line_of_words_parts_no_table_of_many_commas(tmp_path: Path) -> None:
    rows = ["date,lifter,exercise,pain,note,kg,reps", "2026-11-02,Ada,Squat,knee;left,,60,8"]
    rows += ['2026-11-04,Ada,Squat,knee;left,"slow', 'and tired",60,8']
    found = opened(tmp_path, "\n".join(rows))
    assert found.separator == ","
    assert [len(row.cells) for row in found.grids[0].rows] == [7, 7, 7]
