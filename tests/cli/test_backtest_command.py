"""`steelyard backtest` as people run it."""

import json
import signal
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

import jsonschema
import numpy as np
import pytest
from tests.cli.test_json_schemas import SCHEMAS, closed, fits
from tests.command_line import ENTRY, Cli
from tests.services.test_backtesting import csv_of

from steelyard.cli.commands.backtest import EQUATIONS
from steelyard.engine.backtest.rules import SEVEN
from steelyard.engine.simulation.simulate import simulate
from steelyard.engine.simulation.values import Simulated


def lifters(count: int, weeks: int = 12) -> list[Simulated]:
    """Some simulated lifters with names of their own."""
    return [
        simulate(
            "trained",
            np.random.default_rng([9, n]),
            name=f"Lifter {n}",
            begins=date(2026, 1, 5),
            weeks=weeks,
            slip_rate=0,
        )
        for n in range(count)
    ]


@pytest.fixture
def squad(tmp_path: Path) -> Path:
    """A file of three lifters."""
    return csv_of(tmp_path / "squad.csv", *lifters(3))


def test_the_table_says_which_rule_foresaw_best_and_how_far_to_trust_it(cli: Cli, squad: Path) -> None:
    out = cli("backtest", squad).out
    assert "repeat the last session" in out
    assert "Foresaw best:" in out
    assert "chance" in out
    assert "Lifter 0" in out
    assert "2 other lifters" in out
    cli("history", status=1)  # nothing was stored: nobody is there


def test_one_lifter_is_told_what_one_day_is_worth(cli: Cli, squad: Path) -> None:
    cli("import", squad)
    out = cli("backtest", "lifter 1").out
    assert "Lifter 1: One session's best 1RM scatters by" in " ".join(out.split())
    assert "months of this one lifter" in " ".join(out.split())


def test_json_and_predictions_are_as_their_schemas_say(cli: Cli, squad: Path, tmp_path: Path) -> None:
    answer = cli("backtest", squad, "--json", "--predictions", tmp_path / "p.jsonl").json
    fits("backtest", answer)
    schema = closed(json.loads((SCHEMAS / "backtest-predictions.json").read_text(encoding="utf-8")))
    lines = (tmp_path / "p.jsonl").read_text(encoding="utf-8").splitlines()
    assert len(lines) == answer["sets"] + answer["bounds"]
    for line in lines[:50]:
        jsonschema.Draft202012Validator(schema).validate(json.loads(line))
        assert len(json.loads(line)["cdf"]) == 61
    first = answer["models"][0]
    assert {
        "name",
        "mae_reps",
        "bias_reps",
        "mae_pct",
        "log_score",
        "crps_reps",
        "cover50",
        "cover80",
        "cover90",
    } <= set(first)
    assert all(low <= first[score] <= high for score, (low, high) in first["intervals"].items() if score != "mae_pct")


def test_it_speaks_german(cli: Cli, squad: Path) -> None:
    out = " ".join(cli("backtest", squad, "--language", "de").out.split())
    assert "letzte Einheit wiederholt" in out
    assert "Am besten vorausgesehen" in out
    assert "foreseen" not in out


def test_the_equations_to_choose_from_are_those_of_the_rules() -> None:
    assert EQUATIONS == SEVEN


def test_nobody_to_replay_and_no_such_file_are_said(cli: Cli, tmp_path: Path) -> None:
    assert "holds nobody yet" in cli("backtest", status=1).err
    assert "neither a file nor a lifter" in cli("backtest", tmp_path / "no.csv", status=1).err
    (tmp_path / "letter.txt").write_text("Dear coach,\n", encoding="utf-8")
    assert "Refused" in cli("backtest", tmp_path / "letter.txt", status=1).err


@pytest.mark.skipif(sys.platform == "win32", reason="no SIGINT for one process there")
def test_a_stop_from_the_keyboard_says_how_to_go_on(empty_place: object, tmp_path: Path, squad: Path) -> None:
    many, kept = csv_of(tmp_path / "many.csv", *lifters(8, 24)), tmp_path / "kept"
    command = [
        str(ENTRY),
        "--data",
        str(tmp_path / "log"),
        "backtest",
        str(many),
        "--json",
        "--keep-good",
        "--unfinished",
        str(kept),
    ]
    running = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    until = time.monotonic() + 120
    while running.poll() is None and not (kept.exists() and kept.read_bytes().count(b"\n") > 2):
        assert time.monotonic() < until
        time.sleep(0.02)
    running.send_signal(signal.SIGINT)
    out, err = running.communicate(timeout=120)
    assert running.returncode in {0, 130}, out + err  # on a quick machine it may have been done
    if running.returncode == 130:  # stopped in time
        assert "goes on" in err
        assert "Traceback" not in err
        assert kept.exists()
    again = subprocess.run(command, capture_output=True, text=True, check=True, timeout=300)
    fresh = subprocess.run(command[:-2], capture_output=True, text=True, check=True, timeout=300)
    assert json.loads(again.stdout) == json.loads(fresh.stdout)
