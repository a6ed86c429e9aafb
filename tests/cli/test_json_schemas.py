"""What commands print with --json is what docs/schemas says, key for key."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from tests.command_line import Cli

from steelyard.cli.group import COMMANDS

SCHEMAS = Path(__file__).parents[2] / "docs" / "schemas"
CSV = "date,exercise,kg,reps,RIR,note\n" + "".join(
    f"2026-10-{day:02},{name},{load},{reps},{rir},{note}\n"
    for day in (5, 8, 12, 15, 19, 22, 26, 29)
    for name, load, reps, rir, note in (
        ("Squat", 100, 5, "", "slow"),
        ("Squat", 100, 5, 2, ""),
        ("Pull-up", "", 8, 2, ""),
        ("Plank", "", 45, "", ""),
        ("Lat pulldown", 50, 0, "", ""),
    )
)
ON = ("--on", "2026-11-02")


def closed(schema: Any) -> Any:
    """The same schema, with no key allowed that it does not name."""
    if isinstance(schema, list):
        return [closed(part) for part in schema]
    if not isinstance(schema, dict):
        return schema
    same = {key: closed(part) for key, part in schema.items()}
    return same | {"additionalProperties": False} if "properties" in schema else same


def fits(name: str, answer: Any) -> None:
    """Fails unless the answer is what the committed schema of that name says."""
    schema = closed(json.loads((SCHEMAS / f"{name}.json").read_text(encoding="utf-8")))
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(answer)


@pytest.fixture
def filled(cli: Cli, tmp_path: Path) -> Cli:
    """A log with some weeks of training in it."""
    (tmp_path / "sets.csv").write_text(CSV, encoding="utf-8")
    cli("import", tmp_path / "sets.csv", "--lifter", "Ada")
    cli("screen", "Ada", "--attest", "Coach Berg", "--on", "2026-10-01")
    return cli


def test_the_committed_schemas_are_those_of_the_program(tmp_path: Path) -> None:
    subprocess.run([sys.executable, SCHEMAS / "make", tmp_path], check=True, timeout=120)
    made = {p.name: p.read_text(encoding="utf-8") for p in tmp_path.iterdir()}
    assert made == {p.name: p.read_text(encoding="utf-8") for p in SCHEMAS.glob("*.json")}
    assert {name.removesuffix(".json").partition("-")[0] for name in made} == {*COMMANDS, "refused"}


def test_a_wrong_answer_would_be_found() -> None:
    with pytest.raises(jsonschema.ValidationError):
        fits("refused", {"refused": "no"})
    with pytest.raises(jsonschema.ValidationError):
        fits("refused", {"refused": "no", "try": "yes", "more": 1})


@pytest.mark.parametrize(
    ("name", "arguments"),
    [
        ("next", ("next", *ON)),
        ("next", ("next", *ON, "--deload")),
        ("next", ("next", "--on", "2027-03-01", "--language", "de", "--unit", "lb")),
        ("next", ("next", "Bo", "--new", *ON, "--exercise", "lat pulldown", "--exercise", "plank")),
        ("log", ("log", "lat pulldown 3x10 @ mark 7 machine old pain left wrist 1 rir 2", *ON)),
        ("log", ("log", "body mass 81.5kg", *ON)),
        ("history", ("history", "--last", "3")),
        ("history", ("history", "--exercise", "plank")),
        ("why", ("why", *ON)),
        ("why", ("why", "squat")),
        ("overrule", ("overrule", "squat", "--limit", "weekly-limit", "--by", "Bo", "--why", "old level", *ON)),
        ("overrule", ("overrule", "squat", "--limit", "step-limit", "--to", "8", "--by", "B", "--why", "x", *ON)),
        ("equipment", ("equipment",)),
        ("equipment", ("equipment", "--bar", "45lb", "--plates", "2x45lb,25lb", "--dumbbells", "2kg-10kg/1kg")),
        ("policy", ("policy",)),
        ("policy", ("policy", "Ada", "--set", "weekly_ceiling=0.02")),
        ("exercises", ("exercises",)),
        ("exercises", ("exercises", "nothing of that name")),
        ("demo", ("demo",)),
    ],
)  # fmt: skip
def test_every_answer_fits_its_schema(filled: Cli, name: str, arguments: tuple[str, ...]) -> None:
    fits(name, filled(*arguments, "--json").json)


def test_imports_fit_their_schema_with_and_without_problems(cli: Cli, tmp_path: Path) -> None:
    good, bad = tmp_path / "good.csv", tmp_path / "bad.csv"
    good.write_text(CSV, encoding="utf-8")
    bad.write_text(CSV + "soon,Squat,heavy,5,,\n", encoding="utf-8")
    refused = cli("import", bad, "--lifter", "Ada", "--json", status=1).json
    added = cli("import", good, "--lifter", "Ada", "--json").json
    again = cli("import", good, "--lifter", "Ada", "--json").json
    for answer in (refused, added, again):
        fits("import", answer)
        assert {"rows_read", "entries_added", "entries_known", "problems"} <= set(answer)
    assert [set(p) for p in refused["problems"]] == [{"sheet", "row", "column", "value", "problem", "try"}] * 2
    rows = CSV.count("\n") - 1
    counted = [(a["rows_read"], a["entries_added"], a["entries_known"]) for a in (refused, added, again)]
    assert counted == [(rows + 1, 0, 0), (rows, rows, 0), (rows, 0, rows)]


def test_next_has_the_keys_that_scripts_rely_on(filled: Cli) -> None:
    answer = filled("next", *ON, "--json").json
    assert {"lifter", "date", "cautions", "lines"} <= set(answer)
    assert (answer["lifter"], answer["date"]) == ("Ada", "2026-11-02")
    assert {line["exercise"] for line in answer["lines"]} == {"Squat", "Pull-up", "Plank", "Lat pulldown"}
    for line in answer["lines"]:
        assert {"exercise", "sets", "previous", "lever", "reasons", "considered"} <= set(line)
        assert line["sets"]
        assert line["reasons"]
        for done in line["sets"]:
            assert {"kind", "reps", "load_kg", "rest_s", "target_rir"} <= set(done)
        for reason in (*line["reasons"], *answer["cautions"]):
            assert {"code", "role", "text", "source"} <= set(reason)


def test_export_prints_a_set_a_line_with_the_keys_that_scripts_rely_on(filled: Cli, tmp_path: Path) -> None:
    filled("log", "squat 2+2 @ 225lb pause 20 tempo 3-1-1 left missed strength note slow", *ON)
    lines = [json.loads(line) for line in filled("export", "--format", "jsonl").out.splitlines()]
    assert len(lines) == CSV.count("\n")
    for line in lines:
        fits("export", line)
        assert {"lifter", "date", "exercise", "load_kg", "reps", "rir"} <= set(line)
    missed = [line for line in lines if line["exercise"] == "Lat pulldown"]
    assert {line["reps"] for line in missed} == {0}
    assert {line["load_kg"] for line in lines if line["exercise"] == "Pull-up"} == {0.0}
    filled("export", "--out", tmp_path / "sets.jsonl")
    assert [json.loads(line) for line in (tmp_path / "sets.jsonl").read_text().splitlines()] == lines
    assert [json.loads(line) for line in filled("export", "--json").out.splitlines()] == lines


def test_amend_backup_and_restore_fit_their_schemas(filled: Cli, tmp_path: Path) -> None:
    logged = filled("log", "bench 8 @ 60kg", *ON, "--json").json["sets"][0]["id"]
    amended = filled("amend", logged[-8:], "bench 9 @ 60kg", "--json").json
    fits("amend", amended)
    withdrawn = filled("amend", amended["after"]["id"][-8:], "--withdraw", "--json").json
    fits("amend", withdrawn)
    assert withdrawn["after"] is None
    fits("backup", filled("backup", "--out", tmp_path / "b.gz", "--json").json)
    fits("restore", filled("restore", tmp_path / "b.gz", "--json").json)


@pytest.mark.parametrize(
    "arguments",
    [
        ("next", "Nobody"),
        ("history", "Nobody"),
        ("log", "juggling 8 @ 60kg"),
        ("amend", "ffffffff", "bench 8 @ 60kg"),
        ("why", "juggling"),
        ("overrule", "squat", "--limit", "weekly-limit", "--to", "900", "--by", "Bo", "--why", "x"),
        ("equipment", "--stack", "1kg-2000kg/1kg"),
        ("policy", "Ada", "--set", "weekly_ceiling=9"),
        ("export", "Nobody"),
        ("demo", "--data", "/dev/null"),
        ("backup", "--out", "/dev/null"),
        ("restore", "/dev/null"),
    ],
)
def test_every_refusal_fits_its_schema(filled: Cli, arguments: tuple[str, ...]) -> None:
    ran = filled(*arguments, "--json", status=1)
    fits("refused", ran.json)
    assert ran.err == ""
