"""The process that is killed while it erases: says when it begins, and when the service has returned."""

import argparse
import os
from datetime import datetime
from pathlib import Path

from steelyard.site import wiring
from steelyard.site.place import Place

NAME, OTHER, SETS, MARK = "Zerline Quast", "Ada Lind", 800, "Qx7mark"


def main() -> None:
    """Fill a log, or erase one of its two lifters."""
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", type=Path)
    parser.add_argument("--fill", action="store_true")
    parser.add_argument("--one-by-one", action="store_true", help="a wrong eraser, which the tests must catch")
    asked = parser.parse_args()
    place = Place(asked.folder)
    wiring.open_log(place)
    if asked.fill:
        fill(place)
    else:
        os.write(1, b"begins\n")
        erase(place, is_one_by_one=asked.one_by_one)
        os.write(1, b"done\n")
    os._exit(0)


def fill(place: Place) -> None:
    """Two lifters, whose every set carries a mark of its own."""
    # Tables can be imported only once a log is open.
    from tests.builders import a_set  # noqa: PLC0415

    from steelyard.engine.log import LifterBody  # noqa: PLC0415
    from steelyard.services.scribe import Scribe, new_id  # noqa: PLC0415

    scribe = Scribe("coach", wiring.device_of(place), lambda: datetime.now().astimezone())
    for name in (NAME, OTHER):
        person = new_id(scribe.now())
        marked = [a_set("2026-11-02", "squat", 100, 5, note=f"{MARK} {name} {n}") for n in range(SETS)]
        scribe.write([scribe.entry(person, body) for body in (LifterBody(name=name), *marked)])


def erase(place: Place, *, is_one_by_one: bool) -> None:
    """Erase one of them through the service that the command calls."""
    from steelyard.services.erasing import Surroundings, erase_lifter  # noqa: PLC0415
    from steelyard.services.lifters import find_lifter  # noqa: PLC0415
    from steelyard.services.scribe import Scribe  # noqa: PLC0415
    from steelyard.store.models import StoredEntry  # noqa: PLC0415

    if is_one_by_one:
        for row in StoredEntry.objects.filter(person=find_lifter(NAME).person).exclude(kind="lifter"):
            row.delete()
    scribe = Scribe("coach", wiring.device_of(place), lambda: datetime.now().astimezone())
    erase_lifter(NAME, NAME, scribe, Surroundings())


if __name__ == "__main__":
    main()
