"""What stays of a person who was erased: enough to keep them out, nothing that says who they were."""

from datetime import date

from msgspec import Struct


class HashedName(Struct, frozen=True):
    """A name as a salted slow hash, both as hexadecimal text: who knows the name can check it, nobody can read it."""

    salt: str
    hash: str


class Erased(Struct, frozen=True, kw_only=True):
    """One erasure: the person's id, the names they went by, and the ids of shared entries that were removed for it."""

    person: str
    on: date
    names: tuple[HashedName, ...] = ()
    entries: tuple[str, ...] = ()
