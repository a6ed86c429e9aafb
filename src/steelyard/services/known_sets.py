"""Which sets of a file the log holds already, also those that were logged by hand, amended or withdrawn."""

from collections import Counter, defaultdict
from decimal import Decimal

from msgspec import structs

from steelyard.engine.effort import Effort
from steelyard.engine.fold import fold
from steelyard.engine.log import Entry, SetBody, decode_body, encode_body
from steelyard.engine.quantities import Load, plain
from steelyard.exchange.set_export import file_kg


class KnownSets:
    """One lifter's sets, each of which answers for one row of a file only."""

    def __init__(self, stored: list[Entry]) -> None:
        self._ids = {entry.id for entry in stored}
        self._current = {s.id: content_of(s.body) for s in fold(stored).sets}
        self._left = Counter(self._current.values())
        in_order = sorted(stored, key=lambda e: (e.hlc, e.author, e.id))
        self._successor = {old: entry.id for entry in in_order for old in entry.replaces}
        # For each older wording what it was amended to; None where it was withdrawn.
        self._older: defaultdict[bytes, list[bytes | None]] = defaultdict(list)
        for entry in stored:
            if entry.kind == "set" and entry.id in self._successor:
                body = decode_body(entry.kind, entry.schema, entry.body)
                if isinstance(body, SetBody):
                    self._older[content_of(body)].append(self._now(entry.id))

    def take_id(self, entry_id: str, content: bytes) -> bool:
        """Whether the row came in before, whatever became of it since."""
        if entry_id not in self._ids:
            return False
        now = self._now(entry_id)
        if now is not None:
            self._left[now] -= 1
        if entry_id in self._successor and now in self._older[content]:
            self._older[content].remove(now)
        return True

    def take_current(self, content: bytes) -> bool:
        """Whether a set says the same as it stands: logged by hand, or come under another id."""
        if self._left[content] <= 0:
            return False
        self._left[content] -= 1
        return True

    def take_amended(self, content: bytes) -> bool:
        """Whether a set said the same before it was amended or withdrawn."""
        for now in self._older[content]:
            if now is None or self._left[now] > 0:
                self._older[content].remove(now)
                if now is not None:
                    self._left[now] -= 1
                return True
        return False

    def _now(self, entry_id: str) -> bytes | None:
        """What an entry was amended to in the end; None where it was withdrawn."""
        seen = {entry_id}
        while (entry_id := self._successor.get(entry_id, entry_id)) not in seen:
            seen.add(entry_id)
        return self._current.get(entry_id)


def content_of(body: SetBody) -> bytes:
    """What makes two rows the same set: everything that is said, however it was spelt and in whatever unit."""
    counts = (body.reps, body.seconds, body.metres)
    return encode_body(
        structs.replace(
            body,
            as_written="",
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
