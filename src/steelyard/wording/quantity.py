"""Numbers as they are said: in the unit asked for, with the language's decimal mark."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Literal

from msgspec import Struct

from steelyard.engine.quantities import Load, Unit, plain, shown_in

Language = Literal["en", "de"]


class Voice(Struct, frozen=True):
    """How to speak: which language, which unit of mass."""

    language: Language = "en"
    unit: Unit = "kg"

    def number(self, value: Decimal | int) -> str:
        """A number without trailing zeros."""
        text = f"{plain(Decimal(value)):f}"
        return text.replace(".", ",") if self.language == "de" else text

    def load(self, load: Load) -> str:
        """A load with its unit, exact where it was typed in that unit; nothing added is body mass."""
        if not load.value:
            return "Körpermasse" if self.language == "de" else "body mass"
        if load.unit == "mark":
            return f"{'Stufe' if self.language == 'de' else 'mark'} {self.number(load.value)}"
        return f"{self.load_number(load)} {self.unit}"

    def added(self, load: Load) -> str:
        """A load that comes on top of body mass, with its sign; less than nothing is assistance."""
        return f"+{self.load(load)}" if load.value > 0 and load.unit != "mark" else self.load(load)

    def load_number(self, load: Load) -> str:
        """A load without its unit."""
        is_typed = load.unit == self.unit and int(load.value.as_tuple().exponent) >= -3
        return self.number(load.value if is_typed else shown_in(load.magnitude, self.unit))

    def kilograms(self, value: Decimal) -> str:
        """An estimate in kilograms, to the tenth, with its unit."""
        return f"{self.number(shown_in(value, self.unit, '0.1'))} {self.unit}"

    def level(self, value: Decimal, *, is_mark: bool) -> str:
        """An equivalent 1RM in kilograms, or on a machine's own scale."""
        rounded = value.quantize(Decimal("0.1"))
        return self.load(Load(rounded, "mark")) if is_mark and rounded else self.kilograms(value)

    def percent(self, share: Decimal) -> str:
        """A share as a percentage."""
        return f"{self.number((share * 100).quantize(Decimal('0.1')))} %"

    def counts(self, counts: Iterable[int]) -> str:
        """Repetitions of several sets."""
        return ", ".join(str(c) for c in counts)
