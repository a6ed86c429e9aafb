"""`steelyard demo` as it is typed."""

import re
import shlex
from pathlib import Path

import click
import pytest
from tests.command_line import Cli


def test_the_demo_twice(cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "92")
    first, second = click.unstyle(cli("demo").out), click.unstyle(cli("demo").out)
    assert re.search(r"\d{4} sets added,\s0 known", first)
    assert re.search(r"0 sets added,\s\d{4} known", second)
    assert first.partition("\n\n")[2] == second.partition("\n\n")[2]
    assert first.count("Stop and see a doctor") == 1
    assert max(map(len, first.replace(str(cli.folder), "DIR").splitlines())) <= 92


def test_what_it_names_to_go_on_with_works(cli: Cli) -> None:
    said = cli("demo").out.partition("Go on with")[2]
    typed = re.findall(r"^  (\S.*?)  ", said, re.MULTILINE)
    assert len(typed) == 3
    for command in typed:
        assert cli(*shlex.split(command)).out


def test_one_of_the_files_can_be_tried(cli: Cli, tmp_path: Path) -> None:
    said = cli("demo", "--files", tmp_path / "club").out
    assert "ines-falk.csv" in said
    tried = cli("import", tmp_path / "club" / "ines-falk.csv", "--lifter", "Ada", "--dry-run").out
    assert "3x8@42.5kg" in tried
    (tmp_path / "club" / "ines-falk.csv").write_text("mine", encoding="utf-8")
    assert "is there already" in cli("demo", "--files", tmp_path / "club", status=1).err
