"""One file given to a target in a process of its own: what came of it, how long it took, how much memory it had."""

import json
import os
import signal
import time
from collections.abc import Callable
from pathlib import Path

from msgspec import Struct

from steelyard.exchange.grid import FileRefused

from .targets import Target

GIVEN_UP_AFTER_S = 60


class Measured(Struct, frozen=True):
    """`outcome` is "opened", "refused", "crashed" or "no answer"; the peak is that of the process or its child."""

    outcome: str
    said: str
    rows: int
    seconds: float
    cpu_s: float
    peak_mb: float


def measured(target: Target, path: Path) -> Measured:
    """Fork, run the target there, and wait; the child is killed when it takes far too long."""
    reading, writing = os.pipe()
    began = time.perf_counter()
    child = os.fork()
    if child == 0:
        os.close(reading)
        _answer(target, path, writing)
    os.close(writing)
    with os.fdopen(reading, "rb") as answers:
        answer = answers.read()
    _, _, usage = os.wait4(child, 0)
    seconds = time.perf_counter() - began
    outcome, said, rows = json.loads(answer) if answer else ("no answer", "", 0)
    return Measured(outcome, said, rows, seconds, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024)


def apart(work: Callable[[], object]) -> None:
    """Do something in a forked process, so that the memory it takes counts for nothing that is measured later."""
    child = os.fork()
    if child == 0:
        try:
            work()
        except BaseException:
            os._exit(1)
        os._exit(0)
    _, status = os.waitpid(child, 0)
    if status:
        raise ChildProcessError("a file could not be made")


def _answer(target: Target, path: Path, writing: int) -> None:
    """Runs in the child, which ends here."""
    signal.signal(signal.SIGALRM, signal.SIG_DFL)
    signal.alarm(GIVEN_UP_AFTER_S)
    answer: tuple[str, str, int]
    try:
        answer = ("opened", "", target(path))
    except FileRefused as refused:
        problem = refused.problem
        is_told = problem.problem and problem.remedy
        answer = ("refused" if is_told else "crashed", f"{problem.problem}; {problem.remedy}", problem.row)
    except BaseException as crash:  # this is what is looked for
        answer = ("crashed", f"{type(crash).__name__}: {crash}"[:300], 0)
    with os.fdopen(writing, "wb") as answers:
        answers.write(json.dumps(answer).encode())
    os._exit(0)
