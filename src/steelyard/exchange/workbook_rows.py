"""Workbooks as grids, read by a process of its own that may take so much time and memory and no more."""

import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Timer

from msgspec import msgpack

from .grid import Grid
from .packed_rows import RowPacker, unpack
from .workbook_frames import Frame, read_frames
from .workbook_refusals import broke_off, refused_workbook, took_too_long

LONGEST_S = 9
_SOURCE = Path(__file__).parents[2]
TOLD_EVERY = 1000


def read_workbook(path: Path, size: int, progress: Callable[[int, int], None] | None) -> tuple[str, tuple[Grid, ...]]:
    """Its kind and its sheets with content, hidden ones too; raises FileRefused for whatever goes wrong there."""
    with _reading(path) as frames:
        return _take(frames, lambda share: progress and progress(int(size * share), size))


def _take(
    frames: Iterable[tuple[Frame, int, bytes]], progress: Callable[[float], object]
) -> tuple[str, tuple[Grid, ...]]:
    kind = ""
    height, place, sheets = 1, 0, 1
    packer = RowPacker()
    grids: list[Grid] = []
    for frame, number, content in frames:
        match frame:
            case Frame.KIND:
                kind = content.decode()
            case Frame.SHEET:
                name, height, place, sheets = msgpack.decode(content, type=tuple[str, int, int, int])
                grids.append(Grid(name=name, rows=packer.begin(name)))
            case Frame.ROW:
                packer.add(number, unpack(content))
                if number % TOLD_EVERY == 0:
                    progress((place + number / max(height, number)) / sheets)
            case Frame.REFUSED:
                raise refused_workbook(*msgpack.decode(content, type=tuple[str, str]))
            case Frame.END:
                return kind, tuple(grid for grid in grids if grid.rows)
    raise broke_off()


@contextmanager
def _reading(path: Path) -> Iterator[Iterator[tuple[Frame, int, bytes]]]:
    """What a process says about the workbook; it ends with this, and is ended when its time is over."""
    command = [sys.executable, "-P", "-m", "steelyard.exchange.workbook_child", str(path.absolute())]
    paths = [str(_SOURCE), *filter(None, [os.environ.get("PYTHONPATH")])]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(paths), "RUST_BACKTRACE": "0"}
    with subprocess.Popen(  # noqa: S603 - our own module; the path is one argument
        command, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=environment
    ) as process:
        clock = Timer(LONGEST_S, process.kill)
        clock.start()
        try:
            yield _frames(process, clock)
        finally:
            clock.cancel()
            process.kill()


def _frames(process: "subprocess.Popen[bytes]", clock: Timer) -> Iterator[tuple[Frame, int, bytes]]:
    if process.stdout is not None:
        yield from read_frames(process.stdout)
    # Only a process that says no END comes here.
    status = process.wait()
    if clock.finished.is_set() or (status < 0 and signal.Signals(-status).name == "SIGXCPU"):
        raise took_too_long(LONGEST_S)
