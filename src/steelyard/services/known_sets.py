"""Which sets of a file the log holds already, also those that were logged by hand, amended or withdrawn."""

from collections import Counter, defaultdict
from collections.abc import Iterable
from decimal import Decimal

from msgspec import Struct, structs

from steelyard.engine.effort import Effort
from steelyard.engine.fold import LoggedSet, fold
from steelyard.engine.log import Entry, SetBody, decode_body, encode_body
from steelyard.engine.quantities import Load, plain
from steelyard.exchange.set_export import file_kg

from .scribe import content_id


class FreshSet(Struct, frozen=True):
    """A set that the log does not hold: its body, and the id that its content gets."""

    body: SetBody
    entry_id: str


class KnownSets:
    """One lifter's sets, each of which answers for one row of a file only."""

    def __init__(self, person: str, stored: list[Entry]) -> None:
        self.person = person
        self._ids = {entry.id for entry in stored}
        self.current = {s.id: s for s in fold(stored).sets}
        self.unclaimed = dict.fromkeys(self.current)  # ids in the order of the log
        self._by_content: defaultdict[bytes, list[str]] = defaultdict(list)
        for logged in self.current.values():
            self._by_content[content_of(logged.body)].append(logged.id)
        in_order = sorted(stored, key=lambda e: (e.hlc, e.author, e.id))
        self._successor = {old: entry.id for entry in in_order for old in entry.replaces}
        # For each older wording the entry it was amended to; None where it was withdrawn.
        self._older: defaultdict[bytes, list[str | None]] = defaultdict(list)
        for entry in stored:
            if entry.kind == "set" and entry.id in self._successor:
                body = decode_body(entry.kind, entry.schema, entry.body)
                if isinstance(body, SetBody):
                    self._older[content_of(body)].append(self._now(entry.id))

    def fresh(self, bodies: Iterable[SetBody]) -> list[FreshSet]:
        """The sets that are not in the log; equal rows of a day are told apart by their count."""
        wanted: Counter[bytes] = Counter()
        rows: list[tuple[FreshSet, bytes]] = []
        for body in bodies:
            content = content_of(body)
            wanted[content] += 1
            entry_id = content_id(self.person, body.on, content, wanted[content])
            if not self._take_id(entry_id, content):
                rows.append((FreshSet(body, entry_id), content))
        # What is in the log as it stands goes before what was amended since.
        rows = [row for row in rows if not self._take_current(row[1])]
        return [fresh for fresh, content in rows if not self._take_amended(content)]

    def is_hand_amended(self, logged: LoggedSet) -> bool:
        """Whether a person wrote this set anew after it had come in from a file."""
        contents = content_of(logged.body)
        ordinals = range(1, len(self._by_content[contents]) + 1)
        return all(content_id(self.person, logged.body.on, contents, n) != logged.id for n in ordinals)

    def _take_id(self, entry_id: str, content: bytes) -> bool:
        """Whether the row came in before, whatever became of it since."""
        if entry_id not in self._ids:
            return False
        now = self._now(entry_id)
        self._claim(now)
        if entry_id in self._successor and now in self._older[content]:
            self._older[content].remove(now)
        return True

    def _take_current(self, content: bytes) -> bool:
        """Whether a set says the same as it stands: logged by hand, or come under another id."""
        free = next((i for i in self._by_content[content] if i in self.unclaimed), None)
        self._claim(free)
        return free is not None

    def _take_amended(self, content: bytes) -> bool:
        """Whether a set said the same before it was amended or withdrawn."""
        for now in self._older[content]:
            if now is None or now in self.unclaimed:
                self._older[content].remove(now)
                self._claim(now)
                return True
        return False

    def _claim(self, entry_id: str | None) -> None:
        if entry_id is not None:
            self.unclaimed.pop(entry_id, None)

    def _now(self, entry_id: str) -> str | None:
        """The entry that says now what one said; None where it was withdrawn."""
        seen = {entry_id}
        while (entry_id := self._successor.get(entry_id, entry_id)) not in seen:
            seen.add(entry_id)
        return entry_id if entry_id in self.current else None


def content_of(body: SetBody) -> bytes:
    """What makes two rows the same set: everything that is said, however it was spelt and in whatever unit."""
    counts = (body.reps, body.seconds, body.metres)
    return encode_body(
        structs.replace(
            body,
            as_written="",
            source="",
            kind=None,
            phase=None,
            missed=None,
            load=_spelt(body.load) if body.load is not None else Load(Decimal(0)),
            effort=Effort(plain(body.effort.rir)) if body.effort is not None else None,
            reps=next((int(count) for count in counts if count is not None), None),
            seconds=None,
            metres=None,
        )
    )


def _spelt(load: Load) -> Load:
    return Load(plain(load.value), "mark") if load.unit == "mark" else Load(file_kg(load))
