"""The main job in one go: the demo log is imported, and the next session comes out with its reasons."""

import random
import tempfile
from datetime import date, timedelta
from pathlib import Path

from msgspec import Struct

from steelyard.wording.quantity import Voice

from .demo_log import LIFTER, SEED, demo_csv
from .importing import Imported, import_file
from .lifters import find_lifter, log_of
from .next_session import Asked, NextSession, next_session
from .scribe import Scribe


class Demo(Struct, frozen=True, kw_only=True):
    """What the demo did."""

    imported: Imported
    sets: int
    earliest: str
    latest: str
    next: NextSession


def demo(voice: Voice, scribe: Scribe) -> Demo:
    """Import the demo log and plan the session after it; run again, nothing is added and the sheet is the same."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "demo.csv"
        file.write_text(demo_csv(random.Random(SEED)), encoding="utf-8")  # noqa: S311 - a demo, seeded on purpose
        imported = import_file(file, None, scribe)
    sets = log_of(find_lifter(LIFTER)).sets
    days: list[date] = [s.body.on for s in sets]
    asked = Asked(name=LIFTER, on=max(days) + timedelta(days=3))
    return Demo(
        imported=imported,
        sets=len(sets),
        earliest=min(days).isoformat(),
        latest=max(days).isoformat(),
        next=next_session(asked, voice, scribe),
    )
