"""Where a person is named in entries that are not theirs, and what such an entry says without them."""

import re
import unicodedata
from collections.abc import Iterable, Sequence
from typing import Any

import msgspec
from msgspec import Struct, structs

from steelyard.engine.fold import TOMBSTONE
from steelyard.engine.log import Entry, EquipmentBody, decode_body, encode_canonical

from .lifters import folded

NOBODY = "erased"


class Shared(Struct, frozen=True):
    """Ids of shared entries that name a person and go, and those that say the same without the name."""

    removed: tuple[str, ...]
    rewritten: tuple[Entry, ...]


class Traces:
    """Finds one person by their id and by every name they went by, as whole words."""

    def __init__(self, person: str, names: Iterable[str]) -> None:
        self._person = person
        self._names = [folded(name) for name in names]
        spelt = "|".join(r"\s+".join(map(re.escape, name.split())) for name in self._names)
        self._folded = re.compile(rf"(?<!\w)(?:{spelt})(?!\w)")
        self._written = re.compile(rf"(?<!\w)(?:{spelt})(?!\w)", re.IGNORECASE)

    def name_in(self, text: str) -> bool:
        """Whether a text names them."""
        return self._person in text or self._folded.search(folded(text)) is not None

    def are_in(self, entry: Entry) -> bool:
        """Whether an entry names them, or was written by them."""
        return self.name_in(entry.author) or self.name_in(entry.body.decode(errors="replace"))

    def without(self, entry: Entry, entry_id: str, removed: Sequence[str]) -> Entry | None:
        """The entry as it is without them, under a new id; None where nothing sensible is left."""
        try:
            body = encode_canonical(self._cleared(msgspec.json.decode(entry.body), is_top=True))
        except msgspec.DecodeError:
            return None
        if decode_body(entry.kind, entry.schema, body) is None:
            return None
        author = NOBODY if self.name_in(entry.author) else entry.author
        replaces = tuple(i for i in entry.replaces if i not in removed)
        return structs.replace(entry, id=entry_id, author=author, replaces=replaces, body=body)

    def _cleared(self, value: Any, *, is_top: bool = False) -> Any:
        if isinstance(value, str):
            return self._cleared_text(value)
        if isinstance(value, list):
            return [self._cleared(v) for v in value if not self._is_named(v)]
        if not isinstance(value, dict):
            return value
        if is_top:  # the fields of a body: their number is fixed
            return {key: self._cleared(v) for key, v in value.items()}
        return {k: self._cleared(v) for k, v in value.items() if not self.name_in(k) and not self._is_named(v)}

    def _is_named(self, value: Any) -> bool:
        return isinstance(value, str) and self.name_in(value)

    def _cleared_text(self, text: str) -> str:
        without = self._written.sub(NOBODY, unicodedata.normalize("NFC", text).replace(self._person, NOBODY))
        return NOBODY if self.name_in(without) else without


def shared_without(house: Sequence[Entry], traces: Traces, places: frozenset[str], new_ids: Iterable[str]) -> Shared:
    """What becomes of the shared entries that name a person, and of those about places that go with them.

    Only what holds now is said anew; older versions of it go.
    """
    named = [entry for entry in house if traces.are_in(entry) or _is_of(entry, places)]
    removed = tuple(entry.id for entry in named)
    superseded = {i for entry in house for i in entry.replaces}
    rewritten = []
    for entry, new_id in zip(named, new_ids, strict=False):
        if entry.id not in superseded and entry.kind != TOMBSTONE and not _is_of(entry, places):
            anew = traces.without(entry, new_id, removed)
            if anew is not None:
                rewritten.append(anew)
    return Shared(removed, tuple(rewritten))


def _is_of(entry: Entry, places: frozenset[str]) -> bool:
    """Whether an entry describes one of these places."""
    body = decode_body(entry.kind, entry.schema, entry.body) if places else None
    return isinstance(body, EquipmentBody) and body.place in places
