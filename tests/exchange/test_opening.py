"""What is refused before anything is read as rows, and what every refusal says."""

import os
from pathlib import Path

import pytest

from steelyard.exchange.bounds import MOST_BYTES
from steelyard.exchange.grid import FileRefused
from steelyard.exchange.opening import open_file
from steelyard.exchange.problems import Problem


def refused(path: Path) -> Problem:
    """Why a file is not opened."""
    with pytest.raises(FileRefused) as why:
        open_file(path)
    assert why.value.problem.remedy
    assert str(why.value) == why.value.problem.problem
    return why.value.problem


@pytest.mark.parametrize("content", [b"", b"\n\n \n", b"\xef\xbb\xbf", b";;;\n;;\n", b"[]", b"{}\n"])
@pytest.mark.parametrize("name", ["log.csv", "log.xlsx", "log.json"])
def test_a_file_without_rows(tmp_path: Path, content: bytes, name: str) -> None:
    (tmp_path / name).write_bytes(content)
    problem = refused(tmp_path / name)
    assert problem.problem == "holds no rows" or (name == "log.json" and "JSON" in problem.problem)


def test_a_missing_file_a_folder_and_a_pipe(tmp_path: Path) -> None:
    missing = refused(tmp_path / "nowhere.csv")
    assert missing.problem.startswith("cannot be read")
    assert missing.value == str(tmp_path / "nowhere.csv")
    assert refused(tmp_path).problem == "is a folder"
    os.mkfifo(tmp_path / "pipe.csv")
    assert refused(tmp_path / "pipe.csv").problem == "is no file that can be read"
    (tmp_path / "round.csv").symlink_to(tmp_path / "round.csv")
    assert refused(tmp_path / "round.csv").problem.startswith("cannot be read")


def test_a_name_of_any_bytes(tmp_path: Path) -> None:
    path = tmp_path / os.fsdecode(b"log \xff.csv")
    path.write_text("a;b\n")
    assert open_file(path).file == "log ?.csv"


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_an_unreadable_file(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_text("a;b\n")
    path.chmod(0)
    assert refused(path).problem.startswith("cannot be read")


def test_a_file_over_the_most_megabytes(tmp_path: Path) -> None:
    with (tmp_path / "log.csv").open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    problem = refused(tmp_path / "log.csv")
    assert f"{MOST_BYTES // 2**20} MB" in problem.problem
    assert f"{MOST_BYTES // 2**20 + 1} MB" in problem.problem


@pytest.mark.parametrize(
    ("head", "words"),
    [
        (b"%PDF-1.7\n%\xe2\xe3", "PDF"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "picture"),
        (b"\xff\xd8\xff\xe0\0\x10JFIF", "picture"),
        (b"GIF89a\x01\0\x01\0", "picture"),
        (b"RIFF\x10\0\0\0WEBPVP8 ", "picture"),
        (b"\0\0\0\x18ftypmp42\0\0", "video"),
        (b"ID3\x04\0\0\0\0", "sound"),
        (b"\x1f\x8b\x08\0\0\0\0\0", "compressed"),
        (b"7z\xbc\xaf\x27\x1c\0\x04", "compressed"),
        (b"Rar!\x1a\x07\x01\0", "compressed"),
        (b"\x7fELF\x02\x01\x01\0", "program"),
        (b"MZ\x90\0\x03\0\0\0", "program"),
        (b"SQLite format 3\0\x10\0", "database"),
        (b"<!DOCTYPE html><html><table><tr><td>1</td></tr></table></html>", "web page"),
        (b"\xef\xbb\xbf\n<TABLE><tr><td>1</td></tr>", "web page"),
        (b'<?xml version="1.0"?><Workbook/>', "XML"),
        (b"{\\rtf1\\ansi 1}", "RTF"),
    ],
)
@pytest.mark.parametrize("suffix", ["csv", "xlsx"])
def test_other_kinds_are_told_by_how_they_begin(tmp_path: Path, head: bytes, words: str, suffix: str) -> None:
    path = tmp_path / f"log.{suffix}"
    path.write_bytes(head + b" and more" * 20)
    problem = refused(path)
    assert words in problem.problem
    assert problem.remedy == "save the table as CSV or XLSX"


@pytest.mark.parametrize("word", ["BM 60x5", "MZ;1;2", "BZh;1", "ID3 5x5", "RIFF 3x3", "GIF8", "II*"])
def test_text_may_begin_with_the_letters_of_another_kind(tmp_path: Path, word: str) -> None:
    path = tmp_path / "log.txt"
    path.write_text(f"{word}\nsquat 5x5 100\n")
    assert open_file(path).grids[0].rows[1].cells[0] == "squat 5x5 100"
