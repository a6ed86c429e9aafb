"""Starting processes of ours, and opening a log as the product does when it starts after a crash."""

import os
import subprocess
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import IO

from django.db import connections
from django.db.utils import DatabaseError

from steelyard.site.place import Place, PlaceRefused
from steelyard.site.wiring import open_log

REPOSITORY = Path(__file__).parents[2]
WRITER = (sys.executable, "-m", "tests.durability.writer")


def environment() -> Mapping[str, str]:
    """What a process of ours needs to know, and nothing of where this machine's own log lies."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("STEELYARD_")}
    return {**kept, "PYTHONPATH": str(REPOSITORY / "src")}


def start(command: Sequence[str], out: int | IO[bytes]) -> subprocess.Popen[bytes]:
    """A process of ours; its standard output goes where it is wanted, its complaints into a pipe."""
    return subprocess.Popen(
        command, cwd=REPOSITORY, env=environment(), stdin=subprocess.DEVNULL, stdout=out, stderr=subprocess.PIPE
    )


def refusal_at_start(folder: Path) -> list[str]:
    """Let the product open a log, which recovers and completes it; why it would not, if so."""
    try:
        open_log(Place(folder))
    except (PlaceRefused, DatabaseError) as refused:
        return [f"the product does not open it: {refused}"]
    finally:
        if "default" in connections.databases:
            connections["default"].close()
    return []
