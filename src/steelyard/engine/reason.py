"""What every reason is: the entries it rests on, the part it plays, and where its rule comes from."""

from typing import ClassVar, Literal

from msgspec import Struct

Role = Literal["gate", "driver", "limit", "rounding", "caution"]
CP = "common practice"
J = "our judgement"


class Reason(Struct, frozen=True, kw_only=True, tag_field="code", omit_defaults=True):
    """What every reason carries: the entries it rests on and where the rule comes from."""

    role: ClassVar[Role] = "driver"
    evidence: tuple[str, ...] = ()
    source: str = CP
