"""The ledger of erased people: who stays out of this log, and no name."""

from datetime import date

import msgspec
from msgspec import Struct

from steelyard.engine.erased import Erased, HashedName
from steelyard.engine.log import encode_canonical

from .models import ErasedPerson

_NAMES = msgspec.json.Decoder(tuple[HashedName, ...])
_IDS = msgspec.json.Decoder(tuple[str, ...])


class KeptOut(Struct, frozen=True):
    """People whose entries stay out, ids of single entries that do, and the highest number that any erasure met."""

    people: frozenset[str]
    entries: frozenset[str]
    latest_number: int


def ledger(using: str = "default") -> list[Erased]:
    """Everybody who was erased, in a fixed order."""
    return [_erased(row) for row in ErasedPerson.objects.using(using).order_by("person")]


def kept_out(using: str = "default") -> KeptOut:
    """What may not come in again."""
    rows = list(ErasedPerson.objects.using(using).all())
    return KeptOut(
        people=frozenset(row.person for row in rows),
        entries=frozenset(i for row in rows for i in _IDS.decode(row.entries)),
        latest_number=max((row.latest_number for row in rows), default=0),
    )


def note(gone: Erased, number: int, using: str) -> None:
    """Enter an erasure; who is in the ledger already keeps all names and entries that were noted."""
    rows = ErasedPerson.objects.using(using)
    row = rows.filter(person=gone.person).first()
    known = _erased(row) if row is not None else gone
    values = {
        "erased_on": min(known.on, gone.on).isoformat(),
        "names": encode_canonical(tuple(dict.fromkeys((*known.names, *gone.names)))).decode(),
        "entries": encode_canonical(tuple(dict.fromkeys((*known.entries, *gone.entries)))).decode(),
        "latest_number": number,
        "to_scrub": True,
    }
    rows.update_or_create(person=gone.person, defaults=values)


def _erased(row: ErasedPerson) -> Erased:
    return Erased(
        person=row.person,
        on=date.fromisoformat(row.erased_on),
        names=_NAMES.decode(row.names),
        entries=_IDS.decode(row.entries),
    )
