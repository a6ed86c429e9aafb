"""Names of people who were erased: known again when somebody types one, readable by nobody."""

import secrets
from hashlib import scrypt
from hmac import compare_digest

from steelyard.engine.erased import HashedName
from steelyard.store.ledger import ledger

# RFC 7914: memory-hard. A name is easy to guess, so each guess costs some hundredths of a second here; more would be
# felt where a squad is taken in.
COST, BLOCKS, MOST_MEMORY = 2**13, 8, 32 * 2**20


def slow_hash(name: str, salt: bytes) -> bytes:
    """A hash of a folded name (32 bytes) that is slow to compute."""
    return scrypt(name.encode(), salt=salt, n=COST, r=BLOCKS, p=1, maxmem=MOST_MEMORY, dklen=32)


def hashed_name(name: str) -> HashedName:
    """A folded name for the ledger, with a salt of its own."""
    salt = secrets.token_bytes(16)
    return HashedName(salt.hex(), slow_hash(name, salt).hex())


def is_erased_name(name: str) -> bool:
    """Whether somebody who was erased from this log went by that folded name."""
    names = (hashed for gone in ledger() for hashed in gone.names)
    return any(compare_digest(slow_hash(name, bytes.fromhex(x.salt)).hex(), x.hash) for x in names)
