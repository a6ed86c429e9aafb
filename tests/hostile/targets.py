"""What hostile files are given to: each target gives what it read, or raises FileRefused; anything else is a crash."""

import shutil
import subprocess
import sys
from collections.abc import Callable
from datetime import datetime
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory, mkdtemp

from steelyard.exchange.bounds import LONGEST_CELL, MOST_CELLS, MOST_ROWS
from steelyard.exchange.grid import FileRefused
from steelyard.exchange.opening import open_file
from steelyard.site import wiring
from steelyard.site.place import Place
from steelyard.wording.quantity import Voice

Target = Callable[[Path], int]
# What a person would answer about the honest files, so that they are truly taken in.
ANSWERS = {"names": "own", "name:Rudern über Kopf": "own: Barbell row", "unit:body mass": "kg"}


def open_and_read(path: Path) -> int:
    """Open a file, read every row of it, hold it against the bounds, and give the number of rows."""
    rows = 0
    for grid in open_file(path).grids:
        previous = -1
        for row in grid.rows:
            rows += 1
            if row.number <= previous:
                raise AssertionError(f"row {row.number} comes after row {previous}")
            previous = row.number
            if len(row.cells) > MOST_CELLS or any(isinstance(c, str) and len(c) > LONGEST_CELL for c in row.cells):
                raise AssertionError(f"row {row.number} is over the bounds")
            if not any(str(cell).strip() for cell in row.cells):
                raise AssertionError(f"row {row.number} has no content")
    # The header of JSON stands above its rows.
    if not 0 < rows <= MOST_ROWS + 1:
        raise AssertionError(f"{rows} rows")
    return rows


def import_whole(path: Path) -> int:
    """Import a file into a fresh log, as the command does; what is refused must have left no entry behind."""
    with TemporaryDirectory() as folder:
        shutil.copytree(empty_log(), folder, dirs_exist_ok=True)
        place = Place(Path(folder))
        wiring.open_log(place)
        from steelyard.services.importing import ImportOptions, import_file  # noqa: PLC0415 - once a log is open
        from steelyard.services.scribe import Scribe  # noqa: PLC0415 - as above
        from steelyard.store import queries  # noqa: PLC0415 - as above

        scribe = Scribe("coach", wiring.device_of(place), lambda: datetime.now().astimezone())
        options = ImportOptions(lifter="Probe", unit="kg", answers=ANSWERS)
        answer = import_file(path, options, Voice(), scribe)
        kept = queries.count_entries()
        if answer.is_stopped and kept:
            raise AssertionError(f"{kept} entries of a file that was refused")
        if answer.is_stopped and not answer.questions:
            raise FileRefused(answer.problems[0])
        return answer.entries_added


@cache
def empty_log() -> Path:
    """A log without entries, made by a process of its own."""
    folder = Path(mkdtemp())
    command = [sys.executable, "-c", "from steelyard.cli import main; main()", "--data", str(folder), "equipment"]
    subprocess.run(command, check=True, capture_output=True)
    return folder


TARGETS: dict[str, Target] = {"open": open_and_read, "import": import_whole}
