"""What every refusal of the engine carries: its English as a template and the values that fill it."""


class ValueRefused(ValueError):
    """A value that cannot be; `str()` is English, template and values let other languages say it."""

    def __init__(self, text: str, /, **values: object) -> None:
        super().__init__(text.format(**values) if values else text)
        self.text = text
        self.values = values
