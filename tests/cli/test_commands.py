"""The commands as people use them: what they print, how they end, and that they never end in a traceback."""

import re
from pathlib import Path

import pytest
from msgspec import structs
from tests.command_line import Cli

from steelyard.cli.group import COMMANDS
from steelyard.services.lifters import find_lifter, log_of
from steelyard.services.scribe import Scribe

CSV = "date,exercise,kg,reps,RIR\n" + "".join(
    f"2026-10-{day:02},{name},{load},8,3\n"
    for day in (5, 8, 12, 15, 19, 22, 26, 29)
    for name, load in (("Squat", 100), ("Squat", 100), ("Bench press", 60), ("Bench press", 60))
)
ON = ("--on", "2026-11-02")


@pytest.fixture
def filled(cli: Cli, tmp_path: Path) -> Cli:
    """A month of Ada's training."""
    (tmp_path / "sets.csv").write_text(CSV, encoding="utf-8")
    said = cli("import", tmp_path / "sets.csv", "--lifter", "Ada").out
    assert said == "sets.csv: 32 rows read, 32 added, 0 known; Ada.\n"
    cli("screen", "Ada", "--attest", "Coach Berg", "--on", "2026-10-01")
    return cli


def test_a_sheet_has_its_loads_its_reasons_a_beam_and_its_cautions(filled: Cli) -> None:
    said = filled("next", *ON).out
    assert "Ada · Monday 2 November 2026" in said
    for exercise, load in (("Squat", "100 kg"), ("Bench press", "60 kg")):
        part = said.partition(f"{exercise}  [")[2].partition("\n\n")[0]
        assert f"2 × 9 at {load}" in part
        assert "Last time 8, 8" in part
        assert re.search(r"^  \+[-+^#|/]*#[-+^#|/]*  last .*today .*limit", part, re.MULTILINE), part
    assert "Stop and see a doctor" in said
    assert said.count("Stop and see a doctor") == 1


def test_the_same_in_german(filled: Cli) -> None:
    said = filled("next", *ON, "--language", "de").out
    assert "Montag, 2. November 2026" in said
    assert "Kniebeuge  [Wiederholungen]" in said
    assert "Zuletzt 8, 8 mit" in said
    assert "zum Arzt" in said
    for english in ("Last time", "Stop and", "not now", "limit ", "today"):
        assert english not in said


def test_the_language_comes_from_option_variable_and_session(filled: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LANG", "de_DE.UTF-8")
    assert "Montag" in filled("next", *ON).out
    monkeypatch.setenv("STEELYARD_LANGUAGE", "en")
    assert "Monday" in filled("next", *ON).out
    assert "Montag" in filled("next", *ON, "--language", "de").out


def test_masses_are_shown_and_read_in_pounds(filled: Cli) -> None:
    assert "at 220.46 lb" in filled("next", *ON, "--unit", "lb").out  # 100 kg / 0.45359237
    logged = filled("log", "squat 5 @ 225", *ON, "--unit", "lb", "--json").json["sets"][0]
    assert (logged["load_typed"], logged["load_kg"]) == ("225 lb", 102.05828325)  # 225 x 0.45359237
    assert "225 lb" in filled("history", "--last", "1").out


def test_next_again_and_after_a_new_set(filled: Cli) -> None:
    first = filled("next", *ON).out
    assert filled("next", *ON).out == first
    filled("log", "bench 2x8 @ 60kg rir 0 on 2026-10-30")
    said = filled("next", *ON).out
    assert "Changed since it was shown:\n  Bench press: 2 × 9 @ 60 kg -> 2 × 8 @ 60 kg" in said


def test_a_session_is_logged_shown_amended_and_withdrawn(filled: Cli) -> None:
    said = filled("log", "bench", "2x8", "@", "62.5kg", "rir", "2", *ON).out
    assert said.startswith("Ada, 2026-11-02: 2 kept.\n  Bench press ")
    handle = said.split()[-1]
    history = filled("history", "--last", "1").out
    assert history.count("62.5 kg") == 2
    assert handle in history
    amended = filled("amend", handle, "bench", "9", "@", "62.5kg").out
    assert "was  Bench press" in amended
    assert "9 ×" in amended.partition("now")[2]
    new_handle = amended.split()[-1]
    assert "withdrawn" in filled("amend", new_handle, "--withdraw", "--why", "never").out
    assert filled("history", "--last", "1").out.count("62.5 kg") == 1


def test_negative_loads_need_no_quotes(filled: Cli) -> None:
    said = filled("log", "assisted", "pull-up", "8", "@", "-20kg", *ON).out
    assert "-20 kg" in said
    assert "-15 kg" in filled("amend", said.split()[-1], "assisted", "pull-up", "8", "@", "-15kg").out


def test_why_says_roles_codes_sources_and_what_was_not_taken(filled: Cli) -> None:
    coming = filled("why", "bench", *ON).out
    assert "(not shown yet)" in coming
    filled("next", *ON)
    shown = filled("why", "bench").out
    assert "(as it was shown)" in shown
    for word in ("drives: Last time 8, 8", "repetitions-rise · source: common practice; entries", "Made from: log"):
        assert word in shown
    assert "Considered and not taken\n    load: waits" in shown
    german = filled("why", "bench", "--language", "de").out
    assert "treibt: Zuletzt" in german
    assert "Erwogen und nicht genommen" in german


def test_overrule_equipment_policy_exercises(filled: Cli) -> None:
    by = ("--by", "Coach Brandt", "--why", "old level", *ON)
    assert (
        "weekly-limit is at 6.0% from 2026-11-02 until 2026-11-09, by Coach Brandt: old level."
        in filled("overrule", "squat", "--limit", "weekly-limit", "--to", "6%", *by).out
    )
    assert "step-limit is off" in filled("overrule", "squat", "--limit", "step-limit", *by).out
    assert "assumed; nobody said yet" in filled("equipment").out
    said = filled("equipment", "--bar", "20kg", "--plates", "2x20kg,10kg,2.5kg", "--stack", "5kg-50kg/5kg").out
    assert "2 × 2 × 20 kg, 1 × 2 × 10 kg, 1 × 2 × 2.5 kg" in said
    assert "from 20 to 125 kg" in said
    assert "weekly_ceiling = 0.03" in filled("policy").out
    assert "weekly_ceiling = 0.02 (default 0.03)" in filled("policy", "Ada", "--set", "weekly_ceiling=0.02").out
    assert "Bankdrücken" in filled("exercises", "bench", "--language", "de").out
    assert "No exercise is written 'xyz'" in filled("exercises", "xyz").out


def test_export_backup_and_restore(filled: Cli, tmp_path: Path) -> None:
    assert filled("export", "--format", "csv").out.count("\n") == 33
    assert "33 lines in" in filled("export", "Ada", "--format", "csv", "--out", tmp_path / "out.csv").out
    said = filled("import", tmp_path / "out.csv").out
    assert "32 rows read, 0 added, 32 known" in said
    made = filled("backup", "--out", tmp_path / "b.gz").out
    assert "Proved: restored into an empty log" in made
    again = filled("restore", tmp_path / "b.gz").out
    assert "0 entries added, 34 known" in again
    assert "is the same as in the backup" in again


def test_import_names_every_problem_and_ends_with_one(cli: Cli, tmp_path: Path) -> None:
    lines = [f"2026-10-05,Squat,heavy{n},5" for n in range(25)]
    (tmp_path / "bad.csv").write_text("date,exercise,kg,reps\n" + "\n".join(lines) + "\n", encoding="utf-8")
    said = cli("import", tmp_path / "bad.csv", "--lifter", "Ada", status=1).out
    assert "Nothing was added: 25 problems in bad.csv." in said
    assert "row 2, column kg: 'heavy0' is not a load; write a plain number such as 62.5" in said
    assert "and 5 more (--json lists all)" in said
    assert len(cli("import", tmp_path / "bad.csv", "--lifter", "Ada", "--json", status=1).json["problems"]) == 25
    assert "nobody yet" in cli("history", status=1).err


@pytest.mark.parametrize("command", [None, *COMMANDS])
def test_every_command_has_help_with_an_example(cli: Cli, command: str | None) -> None:
    said = cli(*((command,) if command else ()), "--help").out
    assert re.search(rf"steelyard {command}\b" if command else r"steelyard demo", said.partition("\n\n")[2]), said
    if command:
        assert "Example" in said
        assert "--json" in said
        assert cli(command, "-h").out == said


@pytest.mark.parametrize(
    "arguments",
    [
        ("nonsense",),
        ("next", "--nonsense"),
        ("next", "--on", "tomorrow"),
        ("next", "--on", "2026-02-30"),
        ("next", "--on", "9999-12-31"),
        ("overrule", "squat", "--limit", "step-limit", "--by", "Bo", "--why", "x", "--on", "9999-12-31"),
        ("next", "Ada", "Bo"),
        ("import",),
        ("import", "/nowhere/at/all.csv"),
        ("import", "/"),
        ("restore", "/nowhere/at/all.gz"),
        ("log",),
        ("log", "squat 5 @ 100", "--unit", "stone"),
        ("history", "--last", "0"),
        ("overrule", "squat", "--limit", "weekly-limit", "--why", "x"),
        ("overrule", "squat", "--limit", "no-limit", "--by", "Bo", "--why", "x"),
        ("overrule", "squat", "--limit", "weekly-limit", "--to", "much", "--by", "Bo", "--why", "x"),
        ("equipment", "--bar", "heavy"),
        ("equipment", "--bar", "9999kg"),
        ("equipment", "--plates", "0x20kg"),
        ("equipment", "--plates", "0kg"),
        ("equipment", "--dumbbells", "40kg-2kg/2kg"),
        ("equipment", "--dumbbells", "2kg"),
        ("policy", "Ada", "--set", "weekly_ceiling"),
        ("amend", "abcdef12"),
        ("amend", "abcdef12", "bench 8 @ 60kg", "--withdraw"),
        ("export", "--format", "xlsx"),
        (),
    ],
)
def test_wrong_usage_ends_with_two_and_changes_nothing(filled: Cli, arguments: tuple[str, ...]) -> None:
    before = filled("export").out
    ran = filled(*arguments, status=2)
    assert "Usage:" in ran.err
    assert filled("export").out == before


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("next", "Cy"), "Known: Ada"),
        (("history", "Cy"), "Known: Ada"),
        (("next", "--exercise", "sqaut"), "Did you mean Squat or "),
        (("log", "sqaut 5 @ 100kg"), "'sqaut' is no exercise"),
        (("log", "squat"), "such as: bench 3x8 @ 62.5kg rir 2"),
        (("log", "squat 5 @ 100kg on 2026-02-30"), "is not a date"),
        (("amend", "abcdef12", "bench 8 @ 60kg"), "Copy it from `steelyard history`"),
        (
            ("overrule", "squat", "--limit", "weekly-limit", "--to", "nan", "--by", "B", "--why", "x"),
            "between 0.5 and 25",
        ),
        (("policy", "Ada", "--set", "weekly_ceiling=0.5"), "between 0.005 and 0.05"),
        (("policy", "Ada", "--set", "luck=1"), "there is no setting luck"),
        (("export", "Cy"), "Known: Ada"),
        (("next", "--new"), "needs a name"),
        (("log", "squat 5 @ 100kg note \udcff"), "the line holds control characters"),
        (("log", "squat 5 @ 100kg", "--lifter", "\udcff"), "the name of the lifter holds control characters"),
        (("log", "squat 5 @ 100kg", "--lifter", " "), "1 to 100 characters"),
        (("log", "squat 5 @ 100kg", "--lifter", "x" * 101), "1 to 100 characters"),
        (("equipment", "--place", "\udcff", "--bar", "20kg"), "the name of the place holds control characters"),
        (("overrule", "squat", "--limit", "step-limit", "--by", "\udcff", "--why", "x"), "not UTF-8 text"),
    ],
)
def test_what_is_refused_ends_with_one_says_what_to_try_and_changes_nothing(
    filled: Cli, arguments: tuple[str, ...], words: str
) -> None:
    before = filled("export").out
    ran = filled(*arguments, status=1)
    assert ran.out == ""
    assert ran.err.startswith("Refused: ")
    assert words in ran.err
    assert filled("export").out == before


def test_two_versions_of_a_set_are_marked_in_the_history(filled: Cli, scribe: Scribe) -> None:
    ada = find_lifter("Ada")
    latest = log_of(ada).sets[-1]
    scribe.write(
        [scribe.entry(ada.person, structs.replace(latest.body, reps=reps), replaces=(latest.id,)) for reps in (6, 7)]
    )
    said = filled("history", "--last", "1").out
    assert said.count("two versions") == 1
    assert "7 ×" in next(line for line in said.splitlines() if "two versions" in line)
    assert "two versions" in filled("next", *ON).out


def test_files_that_cannot_be_read_are_refused(cli: Cli, tmp_path: Path) -> None:
    garbage = tmp_path / "garbage"
    for content in (b"", bytes(range(256)) * 50, b"\0" * 5000, b"PK\x03\x04" + b"x" * 900):
        garbage.write_bytes(content)
        assert "Nothing was added" in cli("import", garbage, "--lifter", "Ada", status=1).out
        assert "damaged or no backup" in cli("restore", garbage, status=1).err


def test_the_data_option_is_taken_before_and_after_the_command(cli: Cli, tmp_path: Path) -> None:
    cli("log", "squat 5 @ 100kg", "--lifter", "Ada", "--data", tmp_path / "other")
    assert (tmp_path / "other").is_dir()
    assert not cli.folder.exists()
