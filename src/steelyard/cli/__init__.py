"""The command line: parse, one call into services, print."""

import gc
import os
import sys
from collections.abc import Sequence


def main(arguments: Sequence[str] | None = None) -> None:
    """Run one command and end the process: 0 done, 1 refused with a message, 2 wrong usage."""
    from .group import steelyard

    # A command lives for a second and keeps what it reads: looking for cycles among 30,000 sets only costs time.
    gc.disable()

    try:
        # Not steelyard.main(): click would end a closed pipe with 1.
        with steelyard.make_context("steelyard", list(sys.argv[1:] if arguments is None else arguments)) as context:
            steelyard.invoke(context)
        sys.stdout.flush()
        status = 0
    except BrokenPipeError:
        status = 0
        # Whoever read us has seen enough; nothing more may be written, not even at the interpreter's end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except BaseException as ended:
        from .ending import status_of

        status = status_of(ended)
    raise SystemExit(status)
