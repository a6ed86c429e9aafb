"""The commands as tests run them: in this process, or as people do in one of their own."""

import gc
import json
import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from msgspec import Struct

from steelyard.cli import main
from steelyard.site.place import DATA, DATABASE, Place

ENTRY = Path(sys.executable).with_name("steelyard")


class Ran(Struct, frozen=True):
    """How a command ended and what it wrote."""

    status: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """What it wrote to standard output, as JSON."""
        return json.loads(self.out)

    def check(self, status: int = 0) -> "Ran":
        """The same, after seeing that it ended so and without a fault of ours."""
        assert self.status == status, f"exit {self.status}\n{self.out}{self.err}"
        assert "Steelyard failed" not in self.err, self.err
        assert "Traceback" not in self.err, self.err
        return self


class Cli:
    """Commands in this process."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder = folder
        self._capsys = capsys

    def __call__(self, *arguments: str | Path, status: int = 0) -> Ran:
        """Run a command on the test's own data folder and see that it ends with this status."""
        self._capsys.readouterr()
        with pytest.raises(SystemExit) as ended:
            main(["--data", str(self.folder), *map(str, arguments)])
        gc.enable()  # a command turns it off for its own short life
        out, err = self._capsys.readouterr()
        return Ran(ended.value.code if isinstance(ended.value.code, int) else -1, out, err).check(status)


class CliProcess:
    """Commands as processes of their own."""

    def __init__(self, place: Place) -> None:
        kept = {k: v for k, v in os.environ.items() if k in {"PATH", "HOME", "LANG", "STEELYARD_AUTHOR"}}
        server = {DATABASE: place.database} if place.database is not None else {}
        self.environment: Mapping[str, str] = {**kept, **server, DATA: str(place.folder)}

    def __call__(self, *arguments: str | Path, status: int = 0, **more: str) -> Ran:
        """Run a command and see that it ends with this status; `more` goes into its environment."""
        command = [str(ENTRY), *map(str, arguments)]
        environment = {**self.environment, **more}
        done = subprocess.run(
            command, env=environment, capture_output=True, text=True, timeout=120, check=False, stdin=subprocess.DEVNULL
        )
        return Ran(done.returncode, done.stdout, done.stderr).check(status)
