"""What the writer writes: numbered batches that say in every set which batch they belong to, and reading them back."""

import sqlite3
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from hashlib import sha256
from pathlib import Path

import msgspec

LIFTER = "Probe"
DAY = date(2026, 3, 2)


@dataclass(frozen=True)
class Batch:
    """Sets that are kept together or not at all: a file that is imported, or a line that is logged."""

    number: int
    is_import: bool

    @property
    def mark(self) -> str:
        """The note that every set of this batch carries."""
        return f"{'import' if self.is_import else 'log'}-{self.number}"

    @property
    def sets(self) -> int:
        """How many sets it holds: 20-60 in a file, 1-5 in a line."""
        return 20 + self.number * 13 % 41 if self.is_import else 1 + self.number % 5

    @property
    def line(self) -> str:
        """The batch as a line for `log`."""
        return f"squat {self.sets}x5 @ {60 + self.number % 80}kg note {self.mark}"

    @property
    def csv(self) -> str:
        """The batch as a file for `import`."""
        rows = [f"{DAY},Bench press,{40 + n},5,{self.mark}" for n in range(self.sets)]
        return "\n".join(["date,exercise,kg,reps,note", *rows, ""])


def batch_of(mark: str) -> Batch:
    """The batch with this mark."""
    kind, _, number = mark.partition("-")
    return Batch(int(number), kind == "import")


@dataclass
class Found:
    """What is wrong with a log after a crash, held against what was acknowledged."""

    lost: set[str] = field(default_factory=set)
    half_applied: set[str] = field(default_factory=set)
    unacknowledged: set[str] = field(default_factory=set)
    unsound: list[str] = field(default_factory=list)


class _Marked(msgspec.Struct):
    note: str


_MARKED = msgspec.json.Decoder(_Marked)


def hold_against(file: Path, acknowledged: Iterable[str]) -> Found:
    """Read a log with SQLite alone: is it sound, and is every acknowledged batch there as a whole?"""
    found = Found()
    connection = sqlite3.connect(file)
    try:
        said = [row[0] for row in connection.execute("PRAGMA integrity_check")]
        found.unsound += [f"integrity_check: {line}" for line in said if line != "ok"]
        kept = _marks_in(connection, found)
    except sqlite3.DatabaseError as refused:
        found.unsound.append(f"unreadable: {refused}")
        return found
    finally:
        connection.close()
    wanted = set(acknowledged)
    found.lost = wanted - set(kept)
    found.half_applied = {mark for mark, count in kept.items() if count != batch_of(mark).sets}
    found.unacknowledged = set(kept) - wanted
    return found


def _marks_in(connection: sqlite3.Connection, found: Found) -> Counter[str]:
    """The sets of each batch; bytes that do not fit their hash and gaps in the numbers are unsound."""
    kept: Counter[str] = Counter()
    numbers = []
    rows = connection.execute("SELECT number, kind, body, body_sha256 FROM log_entry ORDER BY number")
    for number, kind, body, hashed in rows:
        numbers.append(number)
        if sha256(body).digest() != hashed:
            found.unsound.append(f"entry {number} does not fit its hash")
        if kind == "set":
            kept[_MARKED.decode(body).note] += 1
    if numbers != list(range(1, len(numbers) + 1)):
        found.unsound.append("the numbers of the entries have gaps")
    return kept
