"""Who writes entries, and when: ids, the hybrid logical clock, wall time."""

import secrets
import uuid
from collections.abc import Callable, Sequence
from datetime import date, datetime
from hashlib import sha256

from steelyard.engine.body import Body
from steelyard.engine.log import KIND_OF, SCHEMA, Entry, encode_body
from steelyard.store import commands, queries
from steelyard.wording.message import tell

from .refusal import Refused


class Scribe:
    """Makes entries in one author's name on one device."""

    def __init__(self, author: str, device: str, clock: Callable[[], datetime]) -> None:
        self.author = author
        self.device = device
        self._clock = clock
        self._latest = queries.latest_hlc() or ""

    def now(self) -> datetime:
        """This instant, with the zone offset of this machine."""
        return self._clock()

    def today(self) -> date:
        """The day it is here."""
        return self._clock().date()

    def entry(self, person: str, body: Body, *, entry_id: str | None = None, replaces: Sequence[str] = ()) -> Entry:
        """A new entry; its clock reading is later than everything this log has seen."""
        now = self._clock()
        return Entry(
            id=entry_id or new_id(now),
            person=person,
            author=self.author,
            device=self.device,
            kind=KIND_OF[type(body)],
            schema=SCHEMA,
            hlc=self._tick(now),
            wall_time=now.isoformat(timespec="seconds"),
            replaces=tuple(replaces),
            body=encode_body(body),
        )

    def write(self, entries: Sequence[Entry]) -> commands.Appended:
        """Keep entries for good; when this returns they are on the disk. Refuses those of somebody who was erased."""
        try:
            return commands.append(entries, self._clock())
        except commands.PersonErased as refused:
            raise Refused(tell("this lifter was erased from this log"), tell("See `steelyard lifter`")) from refused

    def _tick(self, now: datetime) -> str:
        """Hybrid logical clock (Kulkarni et al. 2014): physical milliseconds, a counter where they stand still."""
        reading = f"{int(now.timestamp() * 1000):012x}.0000"
        if reading <= self._latest:
            millis, _, counter = self._latest.partition(".")
            following = int(counter, 16) + 1
            if following > 0xFFFF:
                millis, following = f"{int(millis, 16) + 1:012x}", 0
            reading = f"{millis}.{following:04x}"
        self._latest = reading
        return reading


def new_id(now: datetime) -> str:
    """A UUIDv7 (RFC 9562): 48 bits of milliseconds, the rest random."""
    return _uuid7(int(now.timestamp() * 1000), secrets.randbits(74))


def content_id(person: str, on: date, content: bytes, ordinal: int) -> str:
    """A UUIDv7 that the same content of the same day always gets, so that a file read twice adds nothing.

    The random part is a hash of person, content and which of equal sets it is; the time part is the day.
    """
    hashed = sha256(b"\0".join((person.encode(), content, str(ordinal).encode()))).digest()
    millis = (on.toordinal() - date(1970, 1, 1).toordinal()) * 86_400_000
    return _uuid7(max(millis, 0), int.from_bytes(hashed[:10]) >> 6)


def _uuid7(millis: int, random_bits: int) -> str:
    high, low = random_bits >> 62, random_bits & ((1 << 62) - 1)
    return str(uuid.UUID(int=(millis & (1 << 48) - 1) << 80 | 7 << 76 | high << 64 | 2 << 62 | low))
