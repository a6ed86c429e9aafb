"""The commands about people as they are used: what they print, what they ask, how they end."""

import json
import os
import pty
import re
import select
import subprocess
import time
from pathlib import Path

import pytest
from tests.cli.test_json_schemas import fits
from tests.command_line import ENTRY, Cli, CliProcess

ON = ("--on", "2026-11-02")


@pytest.fixture
def ines(cli: Cli) -> Cli:
    """Ines, who trains in pounds, and Bo."""
    cli("lifter", "add", "Ines Falk", "--unit", "lb", "--days", "mon,fri", "--aim", "strength", "--born", "1988")
    cli("log", "squat 3x5 @ 225 rir 2", "--lifter", "Ines Falk", "--on", "2026-10-29")
    cli("log", "squat 3x5 @ 100kg rir 2", "--lifter", "Bo", "--new", "--on", "2026-10-29")
    return cli


def test_lifters_are_listed_in_short(ines: Cli) -> None:
    said = ines("lifter").out
    assert (
        "Ines Falk\n  strength · Mon, Fri · lb · last session: Thursday 29 October 2026 · screening not asked" in said
    )
    assert said.index("Bo\n") < said.index("Ines Falk\n")
    german = ines("lifter", "--language", "de").out
    assert "Donnerstag, 29. Oktober 2026" in german


def test_an_empty_log_says_what_to_do(cli: Cli) -> None:
    assert "lifter add NAME" in cli("lifter").out
    fits("lifter", cli("lifter", "--json").json)


def test_one_lifter_is_shown_in_full_with_body_mass_as_a_picture(ines: Cli) -> None:
    for day, mass in (("01", 180), ("08", 182), ("15", 176)):
        ines("log", f"body mass {mass}", "--lifter", "Ines Falk", "--on", f"2026-10-{day}")
    said = ines("lifter", "show", "ines falk").out
    assert "aims          strength" in said
    assert "born          1988" in said
    arms = re.findall(r"2026-10-\d\d +(\d+) lb  ([-o]{30})$", said, re.MULTILINE)
    assert [(mass, arm.index("o")) for mass, arm in arms] == [("180", 19), ("182", 29), ("176", 0)]
    assert "79.83 kg" in ines("lifter", "show", "Ines Falk", "--unit", "kg").out  # 176 x 0.45359237


def test_their_unit_is_read_and_shown_unless_another_is_said(ines: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    assert "lb" in ines("next", "Ines Falk", *ON).out
    assert "kg" in ines("next", "Bo", *ON).out
    assert "102.06 kg" in ines("why", "squat", "--lifter", "Ines Falk", "--unit", "kg").out  # 225 x 0.45359237
    logged = ines("log", "squat 5 @ 230", "--lifter", "Ines Falk", *ON, "--json").json["sets"][0]
    assert logged["load_typed"] == "230 lb"
    amended = ines("amend", logged["id"][-8:], "squat 5 @ 235", "--json").json
    assert amended["after"]["load_typed"] == "235 lb"
    monkeypatch.setenv("STEELYARD_UNIT", "kg")
    assert (
        ines("log", "squat 5 @ 100", "--lifter", "Ines Falk", *ON, "--json").json["sets"][0]["load_typed"] == "100 kg"
    )


def test_the_environments_unit_is_not_kept_as_theirs(cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STEELYARD_UNIT", "lb")
    assert cli("lifter", "add", "Ada", "--json").json["unit"] is None
    assert cli("lifter", "change", "Ada", "--unit", "kg", "--json").json["unit"] == "kg"


def test_changing_renaming_forgetting(ines: Cli) -> None:
    said = ines(
        "lifter", "change", "Ines Falk", "--place", "home", "--trained-since", "2024-05", "--forget", "days"
    ).out
    assert "Mon" not in said
    assert "trains at     home (nobody said what it can load" in said
    assert "Wednesday 1 May 2024" in said
    assert "Ines Falk is now called Ines Moor." in ines("lifter", "rename", "Ines Falk", "Ines Moor").out
    assert "no lifter 'Ines Falk'" in ines("lifter", "show", "Ines Falk", status=1).err


def test_export_and_erase(ines: Cli, tmp_path: Path) -> None:
    file, sets = tmp_path / "ines.jsonl", tmp_path / "ines.csv"
    said = ines("lifter", "export", "Ines Falk", "--out", file, "--sets-out", sets).out
    assert "Ines Falk: 4 entries in" in said
    assert "3 sets in" in said
    made = ines("backup", "--out", tmp_path / "b.gz").out
    refused = ines("lifter", "erase", "Ines Falk", status=1).err
    assert '--yes-erase "Ines Falk"' in refused
    done = ines("lifter", "erase", "Ines Falk", "--yes-erase", "ines falk").out
    assert done.startswith("Ines Falk is erased: 4 entries removed.\n")
    assert "after 35 days" in done
    assert "Ines" not in ines("lifter").out
    again = ines("restore", tmp_path / "b.gz").out
    assert "0 entries added" in again
    assert "1 lifter in it was erased and stays out." in again
    assert "same as in the backup" in again
    assert "Proved" in made
    refused = ines("log", "squat 5 @ 100", "--lifter", "Ines Falk", "--new", status=1).err
    assert 'steelyard lifter add "Ines Falk" --again' in refused
    assert "is new" in ines("lifter", "add", "Ines Falk", "--again").out


def test_backups_beside_the_data_are_named(ines: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    ines("backup")
    (file,) = tmp_path.glob("steelyard-backup-*")
    assert str(file) in ines("lifter", "erase", "Bo", "--yes-erase", "Bo", "--json").json["backups_found"]
    assert file.exists()


def test_screening_from_options(ines: Cli) -> None:
    asked = ines("screen", "Ines Falk").out
    assert "Nobody has asked the questions" in asked
    assert "--symptoms" in asked
    said = ines("screen", "Ines Falk", "--active", "yes", "--disease", "no", "--symptoms", "no", "--special", "no").out
    assert "Nothing that was said stands against training." in said
    assert "used to exercise       yes" in said
    assert "no medical check" in said
    assert "screened, nothing against training" in ines("lifter").out
    stop = ines("screen", "Ines Falk", "--symptoms", "yes").out
    assert "--cleared-by NAME --for CONDITION" in " ".join(stop.split())
    cleared = ines("screen", "Ines Falk", "--cleared-by", "Dr Lund", "--for", "symptoms", "--heavy", "--least-rir", "3")
    assert "Cleared by Dr Lund on" in cleared.out
    assert "Coach Brandt vouches" in ines("screen", "Bo", "--attest", "Coach Brandt").out


def test_notes(ines: Cli) -> None:
    ines("screen", "Ines Falk", "--attest", "Coach Brandt")
    said = ines("note", "Ines Falk", "pain", "left", "knee", "4", "--provoked-by", "squat", *ON).out
    assert said.startswith("Ines Falk, 2026-11-02: pain kept.")
    assert "It bears on: Squat." in said
    assert "left knee, 4 of 10, since 2026-11-02, with squat" in said
    assert "left knee" in ines("lifter", "show", "Ines Falk").out
    closed = ines("note", "Ines Falk", "pain left knee closed", "--on", "2026-11-03").out
    assert "the end of a pain kept" in closed
    by = ("--by", "Dr Lund", "--why", "after the fall")
    restricted = ines("note", "Ines Falk", "restrict", "squat", "at-most", "100", *by, *ON).out
    assert "squat: at most 100 lb, by Dr Lund: after the fall" in restricted
    stop = ines("note", "Ines Falk", "sign", "chest", *ON).out
    assert "Stop: " in stop
    handle = stop.splitlines()[0].split()[-1]
    assert "a withdrawal kept" in ines("note", "Ines Falk", "withdraw", handle, *ON).out
    assert "a note kept" in ines("note", "Ines Falk", "slept", "badly", *ON).out


def test_equipment_says_how_people_lift_there(cli: Cli) -> None:
    said = cli("equipment", "--alone", "yes", "--safeties", "no").out
    assert "lifting alone yes" in said
    assert "safeties      no" in said
    assert "assumed" in said
    changed = cli("equipment", "--bar", "20kg", "--json").json
    assert (changed["alone"], changed["safeties"], changed["is_assumed"]) == ("yes", "no", False)
    fits("equipment", changed)


@pytest.mark.parametrize(
    ("name", "arguments"),
    [
        ("lifter", ("lifter",)),
        ("lifter-add", ("lifter", "add", "Cy", "--place", "home")),
        ("lifter-change", ("lifter", "change", "Bo", "--sessions", "3")),
        ("lifter-rename", ("lifter", "rename", "Bo", "Bo Lind")),
        ("lifter-show", ("lifter", "show", "Ines Falk")),
        ("lifter-export", ("lifter", "export", "Bo", "--out", "bo.jsonl")),
        ("lifter-erase", ("lifter", "erase", "Bo", "--yes-erase", "Bo")),
        ("screen", ("screen", "Bo")),
        ("screen", ("screen", "Bo", "--pregnant", "yes", "--birth-on", "2026-01-01", "--by", "Ada", *ON)),
        ("screen", ("screen", "Bo", "--cleared-by", "Dr Lund", "--for", "pain", "--most-load", "40kg", *ON)),
        ("note", ("note", "Bo", "pain", "left", "knee", "4", *ON)),
        ("note", ("note", "Bo", "restrict", "knee", "rir", "4", "--by", "a", "--why", "b", "--review", "2027-01-01")),
        ("note", ("note", "Bo", "tired", *ON)),
    ],
)
def test_every_answer_fits_its_schema(
    ines: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, arguments: tuple[str, ...]
) -> None:
    monkeypatch.chdir(tmp_path)
    fits(name, ines(*arguments, "--json").json)


@pytest.mark.parametrize(
    "arguments",
    [
        ("lifter", "add", "Bo"),
        ("lifter", "add", "Cy", "--days", "someday"),
        ("lifter", "change", "Cy", "--unit", "kg"),
        ("lifter", "show", "Cy"),
        ("lifter", "export", "Bo", "--out", "/dev/null"),
        ("lifter", "erase", "Bo", "--yes-erase", "Ines Falk"),
        ("lifter", "erase", "Bo"),
        ("screen", "Cy"),
        ("screen", "Bo", "--birth-on", "soon"),
        ("note", "Bo", "pain"),
        ("note", "Bo", "restrict", "juggling", "no-rise", "--by", "a", "--why", "b"),
        ("equipment", "--place", "nowhere"),
    ],
)
def test_every_refusal_fits_its_schema(ines: Cli, arguments: tuple[str, ...]) -> None:
    if arguments[-1] == "nowhere":
        ines("equipment", "--bar", "20kg")
    ran = ines(*arguments, "--json", status=1)
    fits("refused", ran.json)
    assert ran.err == ""


@pytest.mark.parametrize(
    "arguments",
    [
        ("lifter", "nonsense"),
        ("lifter", "--json", "show", "Bo"),
        ("lifter", "add"),
        ("lifter", "add", "Cy", "--aim", "fame"),
        ("lifter", "export", "Bo"),
        ("screen", "Bo", "--active", "maybe"),
        ("screen", "Bo", "--cleared-by", "Dr Lund"),
        ("screen", "Bo", "--cleared-by", "Dr Lund", "--for", "pain", "--most-load", "heavy"),
        ("note", "Bo"),
        ("note", "Bo", "pain", "knee", "--nature", "odd"),
        ("equipment", "--alone", "maybe"),
    ],
)
def test_wrong_usage_ends_with_two(ines: Cli, arguments: tuple[str, ...]) -> None:
    assert "Usage:" in ines(*arguments, status=2).err


@pytest.mark.parametrize("word", ["add", "change", "rename", "show", "export", "erase"])
def test_every_word_after_lifter_has_help_with_an_example(cli: Cli, word: str) -> None:
    said = cli("lifter", word, "--help").out
    assert f"steelyard lifter {word}" in said.partition("Example")[2]
    assert "--json" in said


def test_the_data_folder_is_taken_before_and_after_each_word(cli: Cli, tmp_path: Path) -> None:
    folder = str(tmp_path / "other")
    cli("lifter", "--data", folder, "add", "Ada")
    cli("lifter", "add", "Bo", "--data", folder)
    assert [x["lifter"] for x in cli("lifter", "--data", folder, "--json").json["lifters"]] == ["Ada", "Bo"]
    assert not cli.folder.exists()


def typed(cli_process: CliProcess, *arguments: str, lines: tuple[str, ...]) -> tuple[int, str]:
    """Run a command at a terminal where somebody types these lines, each after the one before was asked."""
    ours, theirs = pty.openpty()
    environment = {**cli_process.environment, "TERM": "dumb"}
    process = subprocess.Popen([ENTRY, *arguments], stdin=theirs, stdout=theirs, stderr=theirs, env=environment)
    os.close(theirs)
    os.write(ours, "".join(f"{line}\n" for line in lines).encode())
    written, until = b"", time.monotonic() + 60
    while time.monotonic() < until:
        if select.select([ours], [], [], 0.2)[0]:
            try:
                piece = os.read(ours, 65536)
            except OSError:  # Linux says so when the other side is closed
                break
            written += piece
        elif process.poll() is not None:
            break
    os.close(ours)
    return process.wait(timeout=60), written.decode()


def test_at_a_terminal_the_questions_are_asked_one_by_one(cli_process: CliProcess) -> None:
    cli_process("lifter", "add", "Ada")
    answers = ("no", "", "perhaps", "yes", "yes", "no", "yes", "soon", "2026-08-01", "no", "no")
    status, written = typed(cli_process, "screen", "Ada", lines=answers)
    assert status == 0, written
    for asked in ("At rest or with light effort", "diabetes?", "Pregnant?", "On which day was the birth?"):
        assert asked in written
    kept = json.loads(cli_process("screen", "Ada", "--json").out)["answers"]
    assert kept == {
        "symptoms": "no",
        "disease": "unknown",
        "active": "yes",
        "pregnant": "no",
        "gave_birth": "yes",
        "birth_on": "2026-08-01",
        "surgery": "no",
        "heart_event": "no",
    }


def test_erasing_asks_for_the_name_and_only_the_name_will_do(cli_process: CliProcess) -> None:
    cli_process("lifter", "add", "Ada Lind")
    status, written = typed(cli_process, "lifter", "erase", "ada lind", lines=("yes",))
    assert status == 1, written
    assert "nothing was erased" in written
    status, written = typed(cli_process, "lifter", "erase", "ada lind", lines=("Ada Lind",))
    assert status == 0, written
    assert "cannot be undone" in written
    assert "is erased" in written
    assert json.loads(cli_process("lifter", "--json").out) == {"lifters": []}


def test_without_a_terminal_nothing_is_asked(cli_process: CliProcess) -> None:
    cli_process("lifter", "add", "Ada")
    assert "Nobody has asked" in cli_process("screen", "Ada").out
    assert "--yes-erase Ada" in cli_process("lifter", "erase", "Ada", status=1).err
