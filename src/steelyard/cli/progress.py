"""How far a long command is: one line on a person's terminal, once it takes more than two seconds."""

import sys
import time
from types import TracebackType

PATIENCE_S = 2.0
WIDTH = 30


class Progress:
    """Called with how much is done and how much there is; wiped when the command goes on."""

    def __init__(self, what: str) -> None:
        self._what = what
        self._begins = time.monotonic()
        self._is_shown = False

    def __call__(self, done: int, total: int) -> None:
        """Show it, where somebody has waited long enough."""
        if sys.stderr.isatty() and time.monotonic() - self._begins > PATIENCE_S:
            share = min(done / total, 1.0) if total else 1.0
            bar = ("#" * round(share * WIDTH)).ljust(WIDTH, "-")
            sys.stderr.write(f"\r{self._what} {bar} {share:.0%} ")
            sys.stderr.flush()
            self._is_shown = True

    def __enter__(self) -> "Progress":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        if self._is_shown:
            sys.stderr.write("\r" + " " * (len(self._what) + WIDTH + 8) + "\r")
