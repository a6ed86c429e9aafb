"""Something that cannot be done as asked."""


class Refused(Exception):
    """Said for a person; nothing was changed."""

    def __init__(self, message: str, remedy: str = "") -> None:
        super().__init__(f"{message}. {remedy}." if remedy else message)
        self.message = message
        self.remedy = remedy
