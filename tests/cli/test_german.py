"""A German session from the first file to the backup: every sentence is German, every command as in English."""

import ast
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from babel.messages.pofile import read_po
from tests.command_line import Cli, CliProcess, Ran

from steelyard.wording.message import LOCALES

WORDING = LOCALES.parent
DE = ("--language", "de")
ON = ("--on", "2026-11-02", *DE)
CSV = "Datum;Übung;Gewicht (kg);Wdh;RIR\n" + "".join(
    f"{day:02}.10.2026;{name};{load};8;3\n"
    for day in (5, 8, 12, 15)
    for name, load in (("Kniebeuge", "100"), ("Kniebeuge", "100"), ("Bankdrücken", "62,5"), ("Bankdrücken", "62,5"))
)


@cache
def english() -> tuple[str, ...]:
    """Pieces of at least three words that only an English sentence has: of messages and of reasons."""
    with (LOCALES / "de" / "LC_MESSAGES" / "steelyard.po").open("rb") as file:
        catalog = [m for m in read_po(file, locale="de") if m.id]
    told = [text for m in catalog for text in ((m.id,) if isinstance(m.id, str) else m.id)]
    said = "\n".join(t for m in catalog for t in ((m.string,) if isinstance(m.string, str) else m.string or ()))
    for path in WORDING.glob("english*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        told += [n.value for n in ast.walk(tree) if isinstance(n, ast.Constant) and isinstance(n.value, str)]
    pieces = {piece.strip(" .,;:()") for text in told for piece in re.split(r"\{[^}]*\}|\n", text)}
    found = tuple(p for p in pieces if len(re.findall(r"[A-Za-z]{2,}", p)) > 2 and p not in said)
    assert len(found) > 400
    return found


def german(ran: Ran) -> str:
    """What a command said, after seeing that no English sentence is in it."""
    said = " ".join((ran.out + ran.err).split())
    assert said
    assert [piece for piece in english() if piece in said] == []
    return said


@pytest.fixture
def trained(cli: Cli) -> Cli:
    """Ada's October, logged in German."""
    for day in (12, 15, 19, 22, 26, 29):
        for line in ("Kniebeuge 2x8 @ 100kg rir 3", "Bankdrücken 2x8 @ 62,5kg rir 3"):
            assert "2 festgehalten" in german(cli("log", line, "--lifter", "Ada", "--on", f"2026-10-{day}", *DE))
    assert "Trainer Brandt" in german(cli("screen", "Ada", "--attest", "Trainer Brandt", "--on", "2026-10-12", *DE))
    return cli


def test_a_german_file(cli: Cli, tmp_path: Path) -> None:
    (tmp_path / "okt.csv").write_text(CSV, encoding="utf-8")
    said = german(cli("import", tmp_path / "okt.csv", "--lifter", "Ada", *DE))
    assert "16 Zeilen gelesen, 16 neu, 0 bekannt" in said
    assert "16 Zeilen gelesen, 0 neu, 16 bekannt" in german(cli("import", tmp_path / "okt.csv", *DE, "--lifter", "Ada"))


def test_a_file_with_a_problem_and_a_question(cli: Cli, tmp_path: Path) -> None:
    file = tmp_path / "frage.csv"
    rows = "".join(f"0{n}/0{n + 1}/2026,squat,{60 + n},5\n" for n in range(1, 5))
    file.write_text(f"date,exercise,kg,reps\n{rows}", encoding="utf-8")
    asked = german(cli("import", file, "--lifter", "Ada", *DE, status=1))
    assert "Was steht in den Daten von date zuerst?" in asked
    assert "muss gefragt werden" in asked
    assert "Nichts wurde aufgenommen. Mit --answer antworten" in asked
    answer = re.search(r'--answer "(.*?=day-first)"', asked)
    assert answer is not None
    file.write_text(f"date,exercise,kg,reps\n{rows}05/06/2026,squat,schwer,5\n", encoding="utf-8")
    refused = german(cli("import", file, "--lifter", "Ada", "--answer", answer[1], *DE, status=1))
    assert "1 Fehler" in refused
    assert "Zeile 6, Spalte kg: 'schwer'" in refused
    assert "mit --keep-good die guten Zeilen aufnehmen" in refused
    dry = german(cli("import", file, "--lifter", "Ada", "--answer", answer[1], "--dry-run", *DE))
    assert "der Tag zuerst, wie beantwortet" in dry


def test_next_why_history_and_what_else_is_shown(trained: Cli, tmp_path: Path) -> None:
    assert "Montag, 2. November 2026" in german(trained("next", *ON))
    assert "treibt: Zuletzt" in german(trained("why", "bench", *DE))
    assert "Quelle: übliche Praxis" in german(trained("why", "bench", *DE))
    said = german(trained("log", "bench 2x8 @ 60kg rir 1.5 technique rough", *ON))
    assert "2 festgehalten" in said
    assert "Technik unsauber" in said
    assert "RIR 1,5" in said
    german(trained("log", "squat 0 @ 110kg missed strength pain linkes Knie 1", *ON))
    assert "verfehlt 110 kg Schmerz: linkes Knie 1, verfehlt: Kraft" in german(trained("history", *DE))
    assert "zurückgenommen" in german(trained("amend", said.split()[-1], "--withdraw", *DE))
    by = ("--by", "Trainer Brandt", "--why", "alter Stand", *ON)
    assert "Wochengrenze" in german(trained("overrule", "squat", "--limit", "weekly-limit", "--to", "6", *by))
    assert "angenommen" in german(trained("equipment", *DE))
    assert "Wiederholungen in Reserve" in german(trained("policy", *DE))
    assert "Langhantel" in german(trained("exercises", "squat", *DE))
    assert "Geprüft" in german(trained("backup", "--out", tmp_path / "b.gz", *DE))
    assert "0 Einträge neu" in german(trained("restore", tmp_path / "b.gz", *DE))


def test_people_and_their_health(trained: Cli, tmp_path: Path) -> None:
    about = ("--unit", "lb", "--born", "2010", "--days", "mon,fri", "--aim", "strength", "--place", "home")
    assert "Bo ist neu in diesem Log." in german(trained("lifter", "add", "Bo", *about, *DE))
    assert "Kraft · Mo, Fr · lb" in german(trained("lifter", *DE))
    assert "Ein ärztliches Wort" in german(trained("screen", "Bo", "--active", "no", "--disease", "yes", *DE))
    pain = ("pain", "left", "knee", "4", "--provoked-by", "squat", "--nature", "kneecap", "--guided-by", "Dr Lund")
    assert "Es betrifft: Kniebeuge." in german(trained("note", "Ada", *pain, *ON))
    restricted = ("restrict", "bench", "press", "leave-out", "--by", "Dr Lund", "--why", "Schulter")
    assert "eingeschränkt Bankdrücken: entfällt, von Dr Lund" in german(trained("note", "Ada", *restricted, *ON))
    german(trained("note", "Ada", "blood-pressure", "190/120", *ON))
    german(trained("note", "Ada", "sign", "chest", *ON))
    assert "Schmerz links knee, 4 von 10" in german(trained("lifter", "show", "Ada", *DE))
    assert "heute keine Sätze" in german(trained("next", "Ada", *ON))
    assert "sperrt: Halt" in german(trained("why", "--lifter", "Ada", *DE))
    assert "Hash ihres Inhalts" in german(trained("lifter", "export", "Ada", "--out", tmp_path / "ada.jsonl", *DE))
    assert "Bo ist gelöscht" in german(trained("lifter", "erase", "Bo", "--yes-erase", "Bo", *DE))
    assert "aus diesem Log wurde jemand namens 'Bo' gelöscht" in german(trained("lifter", "add", "Bo", *DE, status=1))


def test_the_demo(cli: Cli, tmp_path: Path) -> None:
    assert "Ein Verein von 8, alle erfunden" in german(cli("demo", *DE))
    assert "Die Dateien der Demo liegen in" in german(cli("demo", "--files", tmp_path / "club", *DE))


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("next", "Bo"), "Geht nicht: niemand heißt 'Bo'. Bekannt: Ada."),
        (("log", "sqaut 5 @ 100kg"), "'sqaut' ist keine bekannte Übung"),
        (("log", "bench 5"), "Bankdrücken hat keine Last"),
        (("log", "bench 8 @ 60kg rir 11"), "RIR 11 liegt nicht zwischen 0 und 10"),
        (("log", "bench 8 @ 9999kg"), "9999 kg ist mehr als 2000; das Dezimalzeichen prüfen"),
        (("log", "bench 3x8 @ 60kg luck 3"), "'luck 3' ist nicht verständlich"),
        (("amend", "abcdef12", "bench 8 @ 60kg"), "kein Satz hat eine Kennung, die auf 'abcdef12' endet"),
        (("policy", "Ada", "--set", "weekly_ceiling=0.5"), "weekly_ceiling liegt zwischen 0.005 und 0.05"),
        (("policy", "Ada", "--set", "luck=1"), "die Einstellung luck gibt es nicht"),
        (("restore", "pyproject.toml"), "ist beschädigt oder keine Sicherung"),
        (("backup", "--out", "/proc/none/b.gz"), "Datei oder Ordner gibt es nicht"),
    ],
)
def test_what_is_refused(trained: Cli, arguments: tuple[str, ...], said: str) -> None:
    assert said in german(trained(*arguments, *DE, status=1))


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("next", "--nonsense"), "Die Option '--nonsense' gibt es nicht."),
        (("nonsense",), "Den Befehl 'nonsense' gibt es nicht."),
        (("next", "--on", "gestern"), "'gestern' ist kein Datum; Jahr-Monat-Tag schreiben"),
        (("import",), "Es fehlt das Argument"),
        (("import", "/nirgends.csv"), "Datei '/nirgends.csv' gibt es nicht."),
        (("history", "--last", "0"), "0 liegt nicht im Bereich"),
        (("overrule", "squat", "--limit", "weekly-limit"), "Es fehlt die Option '--by'"),
        (("equipment", "--bar", "schwer"), "'schwer' ist keine Masse"),
    ],
)
def test_what_is_typed_wrongly(cli_process: CliProcess, arguments: tuple[str, ...], said: str) -> None:
    # As a process: click speaks by the process's text domain.
    ran = cli_process(*arguments, status=2, STEELYARD_LANGUAGE="de")
    assert said in german(ran)
    assert "Aufruf:" in ran.err


def test_scripts_get_codes_in_no_language_and_text_in_the_one_asked_for(trained: Cli) -> None:
    in_english, in_german = (
        trained("next", "--on", "2026-11-02", "--json", "--language", x).json for x in ("en", "de")
    )

    def codes(answer: dict[str, object]) -> list[object]:
        lines = answer["lines"]
        assert isinstance(lines, list)
        return [(x["exercise_code"], x["course"], x["lever"], [r["code"] for r in x["reasons"]]) for x in lines]

    assert codes(in_english) == codes(in_german)
    assert in_english.keys() == in_german.keys()
    assert in_english["lines"][0]["reasons"][0]["text"].startswith("Last time")
    assert in_german["lines"][0]["reasons"][0]["text"].startswith("Zuletzt")
    refused = trained("next", "Bo", "--json", *DE, status=1).json
    assert refused == {"refused": "niemand heißt 'Bo'", "try": "Bekannt: Ada"}


@pytest.mark.parametrize(("language", "is_read"), [("en", "False"), ("de", "True")])
def test_only_german_reads_a_catalogue_of_messages(
    run_python: Callable[[str], Ran], language: str, is_read: str
) -> None:
    ran = run_python(f"""
import sys
opened = []
sys.addaudithook(lambda event, given: opened.append(str(given[0])) if event == "open" else None)
from steelyard.cli import main
try:
    main(["history", "--language", {language!r}])
except SystemExit:
    print(any(name.endswith("steelyard.mo") for name in opened))
""")
    assert ran.out.strip() == is_read, ran.err


def test_english_comes_back_after_german_in_one_process(trained: Cli) -> None:
    assert "niemand heißt" in trained("next", "Bo", *DE, status=1).err
    assert "there is no lifter" in trained("next", "Bo", status=1).err
    assert "Usage:" in trained("next", "--nonsense", status=2).err
