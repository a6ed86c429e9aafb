"""The process that is killed: opens a log as the product does, keeps one batch after another, acknowledges each.

An acknowledgement is a line on the standard output, written only after the service has returned.
"""

import argparse
import os
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from steelyard.site import settings, wiring
from steelyard.site.place import Place
from steelyard.wording.quantity import Voice

from .batches import DAY, LIFTER, Batch

# Writers that the tests must catch: one acknowledges before it writes, one writes a batch entry by entry.
WRONGLY = ("too-early", "one-by-one")


def main() -> None:
    """Write batches from a number on; end without closing anything, as a killed process does."""
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", type=Path)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--batches", type=int, default=1_000_000)
    parser.add_argument("--import-every", type=int, default=0, help="0: never; 1: each batch is a file")
    parser.add_argument("--synchronous", default="FULL")
    parser.add_argument("--wrongly", choices=WRONGLY)
    asked = parser.parse_args()
    weaken(asked.synchronous)
    keep = opened(Place(asked.folder), is_one_by_one=asked.wrongly == "one-by-one")
    for number in range(asked.first, asked.first + asked.batches):
        batch = Batch(number, bool(asked.import_every) and number % asked.import_every == 0)
        if asked.wrongly == "too-early":
            acknowledge(batch)
        keep(batch)
        if asked.wrongly != "too-early":
            acknowledge(batch)
    os._exit(0)


def weaken(synchronous: str) -> None:
    """Let SQLite sync less than the product asks for; FULL leaves the product's own setting as it is."""
    if "synchronous=FULL" not in settings.SQLITE_PRAGMAS:
        raise SystemExit(f"the product no longer asks for FULL: {settings.SQLITE_PRAGMAS}")
    settings.SQLITE_PRAGMAS = settings.SQLITE_PRAGMAS.replace("synchronous=FULL", f"synchronous={synchronous}")


def opened(place: Place, is_one_by_one: bool) -> Callable[[Batch], None]:
    """Open a log; what keeps a batch through the service that `import` and `log` call."""
    wiring.open_log(place)
    # Tables can be imported only once a log is open.
    from steelyard.services.importing import ImportOptions, import_file  # noqa: PLC0415
    from steelyard.services.scribe import Scribe  # noqa: PLC0415
    from steelyard.services.set_logging import log_line  # noqa: PLC0415

    scribe = Scribe("coach", wiring.device_of(place), lambda: datetime.now().astimezone())
    whole = scribe.write
    if is_one_by_one:
        vars(scribe)["write"] = lambda entries: [whole([entry]) for entry in entries]
    file = place.folder / "batch.csv"

    def keep(batch: Batch) -> None:
        if batch.is_import:
            file.write_text(batch.csv, encoding="utf-8")
            import_file(file, ImportOptions(lifter=LIFTER), Voice(), scribe)
        else:
            log_line(batch.line, LIFTER, DAY, Voice(), scribe)

    return keep


def acknowledge(batch: Batch) -> None:
    """One system call, so that a line is never half written."""
    os.write(1, f"{batch.mark}\n".encode())


if __name__ == "__main__":
    main()
