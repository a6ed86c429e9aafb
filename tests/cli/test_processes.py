"""What only a process of its own can show: terminals, pipes, imports, two at once."""

import os
import pty
import select
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.command_line import ENTRY, CliProcess, Ran

from steelyard.cli.group import COMMANDS

ESCAPE = "\x1b"
RunPython = Callable[[str], Ran]


def on_a_terminal(cli_process: CliProcess, *arguments: str, **more: str) -> tuple[int, str]:
    """Run a command whose output and input are a terminal; how it ended, and what it wrote."""
    ours, theirs = pty.openpty()
    environment = {**cli_process.environment, "TERM": "xterm-256color", **more}
    process = subprocess.Popen([ENTRY, *arguments], stdin=theirs, stdout=theirs, stderr=theirs, env=environment)
    os.close(theirs)
    written = b""
    until = time.monotonic() + 60
    while time.monotonic() < until:
        if select.select([ours], [], [], 0.2)[0]:
            try:
                piece = os.read(ours, 65536)
            except OSError:  # Linux says so when the other side is closed
                break
            if not piece:
                break
            written += piece
    os.close(ours)
    return process.wait(timeout=60), written.decode()


def test_colour_is_for_terminals_only(cli_process: CliProcess) -> None:
    assert ESCAPE not in cli_process("demo").out
    assert ESCAPE not in cli_process("next", "Nobody", status=1).err
    status, written = on_a_terminal(cli_process, "demo")
    assert status == 0
    assert f"{ESCAPE}[1m" in written
    status, written = on_a_terminal(cli_process, "next", "Ines Falk", "--json")
    assert status == 0
    assert ESCAPE not in written


def test_refusals_end_the_same_on_a_terminal_and_nothing_is_asked(cli_process: CliProcess) -> None:
    """Nobody types anything, so a question would never end."""
    for arguments in (
        ("next",),
        ("history", "Nobody"),
        ("log", "squat 5 @ 100kg"),
        ("amend", "abcdef12", "--withdraw"),
    ):
        status, written = on_a_terminal(cli_process, *arguments)
        assert status == 1, written
        assert "Refused: " in written


def test_without_a_terminal_nothing_is_asked(cli_process: CliProcess) -> None:
    """Standard input is empty: whoever asked would fail or wait."""
    assert "--lifter NAME" in cli_process("log", "squat 5 @ 100kg", status=1).err
    cli_process("log", "squat 5 @ 100kg", "--lifter", "Ada")
    cli_process("log", "squat 5 @ 80kg", "--lifter", "Bo")
    said = cli_process("next", status=1).err
    assert "Name one: Ada, Bo" in said


def test_a_closed_pipe_is_no_error(cli_process: CliProcess) -> None:
    cli_process("demo")
    for arguments in (
        ("export",),
        ("export", "Ines Falk", "--format", "csv"),
        ("history", "Ines Falk", "--last", "10000"),
        ("why", "--lifter", "Ines Falk"),
    ):
        process = subprocess.Popen(
            [ENTRY, *arguments], env=cli_process.environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE
        )
        assert process.stdout is not None
        assert process.stderr is not None
        assert process.stdout.readline()
        process.stdout.close()
        said = process.stderr.read().decode()
        process.stderr.close()
        assert (process.wait(timeout=60), said) == (0, ""), arguments


def test_a_pipe_that_is_closed_before_anything_is_written_is_no_error(cli_process: CliProcess) -> None:
    cli_process("log", "squat 5 @ 100kg", "--lifter", "Ada")
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "wb") as closed:
        ran = subprocess.run(
            [ENTRY, "history"],
            env=cli_process.environment,
            stdout=closed,
            stderr=subprocess.PIPE,
            check=False,
            timeout=60,
        )
    assert (ran.returncode, ran.stderr) == (0, b"")


def test_the_real_head_of_an_export(cli_process: CliProcess) -> None:
    cli_process("demo")
    script = f'set -o pipefail; "{ENTRY}" export | head -n 1'
    done = subprocess.run(
        ["bash", "-c", script], env=cli_process.environment, capture_output=True, text=True, check=False, timeout=60
    )
    assert (done.returncode, done.stdout.count("\n"), done.stderr) == (0, 1, "")


def loaded(run_python: RunPython, arguments: list[str]) -> set[str]:
    """Every module that a command has imported when it is done."""
    code = (
        "import sys\nfrom steelyard.cli import main\n"
        f"try:\n    main({arguments!r})\nexcept SystemExit as ended:\n    assert ended.code == 0, ended.code\n"
        "print('\\0' + ' '.join(sys.modules))\n"
    )
    return set(run_python(code).check().out.rpartition("\0")[2].split())


def test_next_imports_no_heavy_library(run_python: RunPython, cli_process: CliProcess) -> None:
    cli_process("demo")
    modules = loaded(run_python, ["next", "Ines Falk"])
    assert "steelyard.engine.prescription" in modules
    assert modules & {"numpy", "scipy", "polars", "numba", "altair", "hypothesis"} == set()


@pytest.mark.parametrize("arguments", [["--help"], *([command, "--help"] for command in COMMANDS)])
def test_help_imports_neither_django_nor_the_rules(run_python: RunPython, arguments: list[str]) -> None:
    modules = loaded(run_python, arguments)
    assert modules & {"django", "psycopg", "sqlite3", "rich", "numpy"} == set()
    assert "steelyard.services" not in modules
    assert "steelyard.engine.prescription" not in modules


def test_commands_run_with_warnings_as_errors(run_python: RunPython) -> None:
    ines, hall = ["Ines Falk"], ["--place", "hall"]
    for arguments in (
        ["demo"],
        ["next", *ines, "--json"],
        ["why", "--lifter", *ines],
        ["history", *ines],
        ["export"],
        ["policy"],
    ):
        assert loaded(run_python, arguments)
    for arguments in (["equipment", *hall], ["lifter"]):
        assert loaded(run_python, arguments)


@pytest.mark.parametrize("command", ["equipment", "exercises", "policy"])
def test_what_needs_no_log_can_be_the_very_first_command(cli_process: CliProcess, command: str) -> None:
    assert cli_process(command).out


@pytest.mark.parametrize("is_new", [True, False])
def test_several_processes_log_at_once_and_every_line_is_kept(cli_process: CliProcess, is_new: bool) -> None:
    """Also at the very first start of all of them, with a lifter whom nobody knows yet."""
    if not is_new:
        cli_process("log", "squat 2 @ 20kg", "--lifter", "Ada")
    writers = [
        subprocess.Popen(
            [ENTRY, "log", f"squat {reps} @ 100kg", "--lifter", "Ada Brandt" if is_new else "ada"],
            env=cli_process.environment,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
        )
        for reps in range(2, 10)
    ]
    said = [writer.communicate(timeout=60)[1] for writer in writers]
    assert [w.returncode for w in writers] == [0] * len(writers), said
    lines = cli_process("export", "--format", "csv").out.splitlines()[1:]
    assert sorted(line.split(",")[4] for line in lines) == sorted([*map(str, range(2, 10)), *(["2"] * (not is_new))])
    assert {line.split(",")[1] for line in lines} == {"Ada Brandt" if is_new else "Ada"}


def test_an_interrupted_command_says_so_without_a_traceback(cli_process: CliProcess, tmp_path: Path) -> None:
    """Ctrl-C while it waits for input that does not come: the backup is a pipe that nobody writes to."""
    fifo = tmp_path / "slow.gz"
    os.mkfifo(fifo)
    process = subprocess.Popen(
        [ENTRY, "restore", fifo],
        env=cli_process.environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    with fifo.open("w"):  # opens when the command has opened it too
        time.sleep(0.2)
        process.send_signal(2)
        said = process.communicate(timeout=60)[1]
    assert process.returncode == 130
    assert "Traceback" not in said
    assert "nobody yet" in cli_process("history", status=1).err


def test_steelyard_runs_from_its_entry_point_only() -> None:
    """The entry that is installed is the one that these tests run."""
    done = subprocess.run([ENTRY, "--version"], capture_output=True, text=True, check=True, timeout=60)
    assert done.stdout.startswith("steelyard, version ")
    assert Path(sys.executable).parent == ENTRY.parent
