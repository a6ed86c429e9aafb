"""Something that cannot be done as asked."""

from msgspec import Struct, field


class RefusalShown(Struct, frozen=True, kw_only=True):
    """A refusal as scripts get it: what was refused, and what to try."""

    refused: str
    remedy: str = field(name="try")


class Refused(Exception):
    """Said for a person; nothing was changed."""

    def __init__(self, message: str, remedy: str = "") -> None:
        super().__init__(f"{message}. {remedy}." if remedy else message)
        self.message = message
        self.remedy = remedy
