"""What every kind of body of an entry shares."""

from msgspec import Struct


class Body(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What every kind of body shares: absent fields are left out, unknown ones are passed over."""
