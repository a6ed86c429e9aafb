"""`steelyard strength` and `steelyard forecast` as people run them."""

import re
import sys
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from tests.cli.test_german import german
from tests.cli.test_json_schemas import fits
from tests.command_line import Cli, CliProcess
from tests.services.test_backtesting import csv_of

from steelyard.engine.simulation.simulate import simulate
from steelyard.engine.simulation.values import Kind, Simulated

WIDEST = 92  # a terminal as wide as our pages
ROWS = 9
ON = ("--on", "2026-11-02")
DE = ("--language", "de")


def simulated(name: str, kind: Kind, weeks: int = 16) -> Simulated:
    """A simulated lifter up to the end of October."""
    rng = np.random.default_rng([62, len(name)])
    return simulate(kind, rng, name=name, begins=date(2026, 7, 6), weeks=weeks, slip_rate=0.0)


@pytest.fixture
def club(cli: Cli, tmp_path: Path) -> Cli:
    """A log of one who trains with a bar and one who trains with the body."""
    cli("import", csv_of(tmp_path / "club.csv", simulated("Ada", "trained"), simulated("Bodo", "body-mass")))
    return cli


@pytest.fixture
def squatter(cli: Cli) -> Cli:
    """Ada's squats: three sets of five at 100 kg with two left in the last, eight times."""
    for day in (5, 8, 12, 15, 19, 22, 26, 29):
        cli("log", "squat 5,5,5 @ 100kg rir 2", "--lifter", "Ada", "--on", f"2026-10-{day:02}")
    return cli


def text(cli: Cli, *arguments: str) -> str:
    """What a command says, without regard to where its lines break; nothing is said beside it."""
    ran = cli(*arguments)
    assert ran.err == ""
    assert max(map(len, ran.out.splitlines())) <= WIDEST
    return " ".join(ran.out.split())


def test_each_exercise_is_a_line_with_its_range_and_what_it_rests_on(squatter: Cli) -> None:
    said = text(squatter, "strength", *ON)
    (line,) = squatter("strength", *ON, "--json").json["lines"]
    assert said.startswith("Ada · Monday 2 November 2026")
    shown = [f"{line[key]:.1f}".removesuffix(".0") for key in ("one_rm_kg", "low80_kg", "high80_kg")]
    assert f"Squat {shown[0]} kg {shown[1]}-{shown[2]} " in said
    assert " 8 2026-10-29 " in said
    assert "take the lower end" in said
    assert "guess" not in said and "the body is lifted too" not in said


def test_a_lifter_with_the_body_is_told_what_comes_on_top(club: Cli) -> None:
    club("log", "pull-up 5 @ +10kg rir 1", "--lifter", "Bodo", "--on", "2026-10-30")
    said = text(club, "strength", "bodo", *ON)
    lines = club("strength", "Bodo", *ON, "--json").json["lines"]
    (pull_up,) = [line for line in lines if line["exercise"] == "pull-up"]
    assert pull_up["body_mass_kg"] > 40 and not pull_up["is_body_mass_assumed"]
    added = f"{pull_up['one_rm_kg'] - pull_up['body_mass_kg']:+.1f}".removesuffix(".0")
    assert f"Pull-up {added} kg" in said
    ahead = text(club, "forecast", "Bodo", "pull-up", *ON, "--load", "0kg", "--goal", "200kg")
    assert "At body mass:" in ahead
    assert "+200 kg once: not foreseeable within two years." in ahead
    assert f"on top of that: {added} kg." in ahead


def test_help_is_a_load_below_nothing(cli: Cli) -> None:
    cli("log", "body mass 80kg", "--lifter", "Ada", "--on", "2026-10-01")
    for day in (5, 12, 19, 26):
        cli("log", "assisted chin-up 8 @ -20kg rir 2", "--lifter", "Ada", "--on", f"2026-10-{day:02}")
    said = text(cli, "forecast", "Ada", "assisted chin-up", *ON, "--load", "-20kg", "--goal", "-0.1kg")
    assert re.search(r"At -20 kg: about (9|10|11|12) repetitions", said)
    assert "-0.1 kg once: " in said
    assert "A minus is help" in said
    in_pounds = cli("forecast", "Ada", "assisted chin-up", *ON, "--load", "-44lb", "--json").json
    assert in_pounds["load_kg"] == pytest.approx(-44 * 0.45359237)


def test_who_never_says_a_reserve_or_a_body_mass_is_told_that_it_is_a_guess(cli: Cli) -> None:
    for day in (5, 12, 19, 26):
        cli("log", "dip 8,8", "--lifter", "Ada", "--on", f"2026-10-{day:02}")
    for command in (("strength",), ("forecast", "Ada", "dip")):
        said = text(cli, *command, *ON)
        assert "No body mass is logged" in said
        assert "No set says what was left in reserve, so this is a guess from what was chosen: Dip." in said
    cli("log", "dip 8,8 rir 2", "--lifter", "Ada", "--on", "2026-10-30")
    cli("log", "body mass 70kg", "--lifter", "Ada", "--on", "2026-10-30")
    said = text(cli, "strength", *ON)
    assert "guess" not in said and "No body mass" not in said


def test_the_picture_shows_the_estimate_where_it_is(club: Cli) -> None:
    out = club("strength", "Ada", "--exercise", "squat", *ON).out
    (line,) = club("strength", "Ada", "--exercise", "squat", *ON, "--json").json["lines"]
    drawn = [row for row in out.splitlines() if re.fullmatch(r" {2}( {10}|.{7} kg) [ |o]*", row)]
    assert len(drawn) == ROWS
    most, least = (float(row[:10].split()[0]) for row in (drawn[0], drawn[-1]))
    plots = [row[13:] for row in drawn]
    last = max(map(len, plots)) - 1
    (place,) = [number for number, plot in enumerate(plots) if plot[last : last + 1] == "o"]
    assert line["course"][-1]["date"] in out
    at_last = line["course"][-1]["one_rm_kg"]
    assert abs(most - (most - least) * place / (ROWS - 1) - at_last) <= (most - least) / (ROWS - 1) / 2 + 0.1
    columns = {at for plot in plots for at, sign in enumerate(plot) if sign == "o"}
    assert 1 < len(columns) <= len(line["course"])


def test_one_session_is_a_picture_too(cli: Cli) -> None:
    cli("log", "squat 5 @ 100kg rir 2", "--lifter", "Ada", "--on", "2026-10-05")
    out = cli("strength", "--exercise", "squat", *ON).out
    assert out.count("2026-10-05") == 2  # in the table, and once below the picture
    assert sum(line.count("o") for line in out.splitlines() if re.fullmatch(r" {13}o|.{9} kg o", line)) == 1


def test_everything_stays_within_the_page_also_with_long_names(cli: Cli) -> None:
    for day in (5, 12, 19, 26):
        for code in ("barbell-rear-raised-split-squat", "staggered-romanian-deadlift"):
            line = f"{code} 8 @ 62.25kg rir 1 machine third-from-the-left"
            cli("log", line, "--lifter", "Ada", "--on", f"2026-10-{day:02}")
    for spoken in ((), DE, ("--unit", "lb")):
        table = text(cli, "strength", *ON, *spoken)
        assert table.count("…") == 2
        assert table.count("[third-from-the-left]") == 2
        text(cli, "strength", "--exercise", "staggered-romanian-deadlift", *ON, *spoken)
        text(cli, "forecast", "Ada", "staggered-romanian-deadlift", *ON, *spoken, "--load", "50", "--goal", "500")


def test_the_invented_club_stays_within_the_page_in_both_languages(cli: Cli) -> None:
    cli("demo")
    names = [person["lifter"] for person in cli("lifter", "--json").json["lifters"]]
    assert len(names) == 8
    for name in names:
        lines = cli("strength", name, "--on", "2026-09-28", "--all", "--json").json["lines"]
        assert len(lines) >= 5
        for spoken in ((), DE):
            text(cli, "strength", name, "--on", "2026-09-28", "--all", *spoken)
            text(cli, "strength", name, "--on", "2026-09-28", "--exercise", lines[0]["exercise"], *spoken)
            text(cli, "forecast", name, lines[0]["exercise"], "--on", "2026-09-28", *spoken)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (("--load", "90kg"), r"At 90 kg: about \d+ repetitions with nothing left \(\d+ to \d+, 80 of 100\)\."),
        (("--load", "105kg", "--line", "3x5"), r"Chance to complete 3 × 5: \d+ of 100\."),
        (("--load", "100kg", "--line", "3x5", "--reserve", "2"), r"Chance to complete 3 × 5 with 2 left: \d+ of 100\."),
        (("--load", "20", "--line", "3x5"), "Chance to complete 3 × 5: over 99 of 100."),
        (("--load", "1kg"), r"At 1 kg: \d+ repetitions or more, nine times in ten\."),
        (("--load", "999kg", "--line", "3x5"), "At 999 kg: not once, nine times in ten. .* under 1 of 100."),
        (("--load", "1000lb"), "At 453.6 kg: not once, nine times in ten."),
        (("--goal", "60kg"), "60 kg once: within reach today, nine times in ten."),
        (("--goal", "900kg"), "900 kg once: not foreseeable within two years."),
        (("--goal", "150kg"), r"150 kg once: hardly before [A-Z][a-z]+ 202\d\."),
    ],
)  # fmt: skip
def test_what_is_asked_gets_its_sentence(squatter: Cli, asked: tuple[str, ...], said: str) -> None:
    assert re.search(said, text(squatter, "forecast", "Ada", "squat", *ON, *asked))


def test_goals_near_today_are_neither_promised_nor_put_off(squatter: Cli) -> None:
    level = squatter("forecast", "Ada", "squat", *ON, "--json").json["line"]
    below, above = ((level["one_rm_kg"] + level[end]) / 2 for end in ("low80_kg", "high80_kg"))
    assert "today more likely than not" in text(squatter, "forecast", "Ada", "squat", *ON, "--goal", f"{below:.1f}kg")
    said = text(squatter, "forecast", "Ada", "squat", *ON, "--goal", f"{above:.1f}kg")
    assert "possible today, but not likely" in said


def test_long_ago_is_said_and_nothing_is_promised(squatter: Cli) -> None:
    late = ("--on", "2027-03-01")
    assert text(squatter, "strength", *late) == (
        "Ada · Monday 1 March 2027 1 exercise not trained for twelve weeks (--all)"
    )
    assert "Squat" in text(squatter, "strength", *late, "--all")
    said = text(squatter, "forecast", "Ada", "squat", *late)
    assert "Not trained for twelve weeks or more" in said
    assert "training goes on" not in said
    assert "Not trained for twelve weeks" not in text(squatter, "forecast", "Ada", "squat", *ON)


def test_pounds_are_shown_and_read(squatter: Cli) -> None:
    kilograms = squatter("strength", *ON, "--json").json["lines"][0]
    in_pounds = f"{kilograms['one_rm_kg'] / 0.45359237:.1f}".removesuffix(".0")
    assert f"Squat {in_pounds} lb" in text(squatter, "strength", *ON, "--unit", "lb")
    assert squatter("strength", *ON, "--unit", "lb", "--json").json["lines"][0] == kilograms
    plain = squatter("forecast", "Ada", "squat", *ON, "--unit", "lb", "--load", "200", "--json").json
    assert plain == squatter("forecast", "Ada", "squat", *ON, "--load", "200lb", "--json").json
    assert plain["load_kg"] == pytest.approx(90.718474)
    squatter("lifter", "change", "Ada", "--unit", "lb")
    assert " lb " in text(squatter, "strength", *ON)


def test_every_sentence_is_german_too(club: Cli) -> None:
    for name in ("Ada", "Bodo"):
        exercise = club("strength", name, *ON, *DE, "--json").json["lines"][-1]["name"]
        said = german(club("strength", name, *ON, *DE))
        assert re.search(rf"{exercise} \d+(,\d)? kg \d+(,\d)?-\d+(,\d)? ", said)
        assert "80-%-Bereich" in german(club("strength", name, "--exercise", exercise, *ON, *DE))
        german(club("forecast", name, exercise, *ON, *DE))
        for asked in (("--load", "20kg", "--line", "3x5"), ("--load", "900kg"), ("--goal", "20"), ("--goal", "150")):
            german(club("forecast", name, exercise, *ON, *DE, *asked))
    german(club("strength", "Ada", "--on", "2028-01-01", *DE))
    german(club("strength", "Ada", "--on", "2001-01-01", *DE, status=1))
    german(club("forecast", "Ada", "Kniebeuge", "--on", "2028-01-01", *DE))
    german(club("forecast", "Ada", "Kniebeuge", *DE, "--load", "0", status=1))
    german(club("forecast", "Ada", "Kniebeuge", *DE, "--line", "3x5", status=2))


@pytest.mark.parametrize("arguments", [(), ("--all",), ("--exercise", "squat"), DE, ("--on", "2028-01-01")])
def test_strength_fits_its_schema(club: Cli, arguments: tuple[str, ...]) -> None:
    answer = club("strength", "Ada", *ON, *arguments, "--json").json
    fits("strength", answer)
    assert {"lifter", "date", "lines", "left_out"} == set(answer)
    fits("strength", club("strength", "Bodo", *ON, "--json").json)


@pytest.mark.parametrize(
    "arguments",
    [(), ("--load", "80kg"), ("--load", "80kg", "--line", "3x5", "--reserve", "2", "--goal", "900kg"), ("--goal", "1")],
)
def test_forecast_fits_its_schema(club: Cli, arguments: tuple[str, ...]) -> None:
    fits("forecast", club("forecast", "Ada", "squat", *ON, *arguments, "--json").json)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("strength", "Nobody"), "there is no lifter 'Nobody'"),
        (("strength", "--exercise", "juggling"), "'juggling' is no exercise"),
        (("strength", "--on", "2001-01-01"), "nothing that Ada has logged up to 2001-01-01 tells of strength"),
        (("forecast", "Ada", "bench"), "Ada has not trained bench with a load"),
        (("forecast", "Ada", "squat", "--load", "0"), "nothing is lifted"),
        (("forecast", "Ada", "squat", "--load", "-20kg"), "nothing is lifted"),
        (("forecast", "Ada", "squat", "--goal", "0kg"), "a goal is more than nothing"),
    ],
)
def test_refusals_are_sentences(squatter: Cli, arguments: tuple[str, ...], said: str) -> None:
    err = squatter(*arguments, status=1).err
    assert err.startswith("Refused: ") and said in err
    assert all(line.endswith(".") and line[0] in f"`{line[0].upper()}" for line in err.splitlines())
    fits("refused", squatter(*arguments, "--json", status=1).json)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--line", "3x5"), "--line needs a --load"),
        (("--load", "80kg", "--line", "3 sets of 5"), "is no line; write sets x repetitions, such as 3x5"),
        (("--load", "80kg", "--line", "0x5"), "is no line"),
        (("--load", "80kg", "--line", "99x99"), "is no line"),
        (("--load", "a lot"), "'a lot' is no mass"),
        (("--goal", "-much"), "'much' is no mass"),
        (("--load", "999999999kg"), "Error"),
        (("--reserve", "99"), "--reserve"),
        (("--on", "soon"), "'soon' is not a date"),
    ],
)
def test_what_was_typed_wrong_is_said(squatter: Cli, arguments: tuple[str, ...], said: str) -> None:
    assert said in squatter("forecast", "Ada", "squat", *arguments, status=2).err


def test_asking_stores_nothing(squatter: Cli) -> None:
    before = squatter("export").out
    squatter("strength", *ON)
    squatter("forecast", "Ada", "squat", *ON, "--goal", "120kg")
    assert squatter("export").out == before


class Watched:
    """The stream that is there, as a person's terminal."""

    def __init__(self, stream: Any) -> None:
        self._stream = stream

    def isatty(self) -> bool:
        return True

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)


@pytest.mark.parametrize("command", [("strength", "Ada"), ("forecast", "Ada", "squat")])
def test_how_far_it_is_shows_on_a_terminal_only(
    club: Cli, monkeypatch: pytest.MonkeyPatch, command: tuple[str, ...]
) -> None:
    monkeypatch.setattr("steelyard.cli.progress.PATIENCE_S", -1.0)
    assert club(*command, *ON).err == ""
    monkeypatch.setattr(sys, "stderr", Watched(sys.stderr))
    written = club(*command, *ON).err
    assert "\rreading the log #" in written
    assert "100%" in written
    assert written.endswith("\r")  # wiped before the answer


def test_as_processes_of_their_own(cli_process: CliProcess) -> None:
    cli_process("log", "squat 5,5,5 @ 100kg rir 2", "--lifter", "Ada", "--on", "2026-10-05")
    for command in (("strength", "Ada"), ("forecast", "Ada", "squat")):
        ran = cli_process(*command, *ON)
        assert "Squat" in ran.out
        assert ran.err == ""
