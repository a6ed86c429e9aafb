"""How often a law was put to the test, how often it broke, and how far at worst."""

from collections import Counter

from msgspec import Struct


class Worst(Struct, frozen=True):
    """The case that is furthest off, by how much, and which log it was."""

    excess: float
    where: str


class Tally:
    """Cases of laws that hold, and of what is only measured (how often a value is above nought, and how far)."""

    def __init__(self) -> None:
        self.cases: Counter[str] = Counter()
        self.broken: Counter[str] = Counter()
        self.worst: dict[str, Worst] = {}
        self.measured: set[str] = set()

    def hold(self, law: str, excess: float, where: str, allowed: float = 0.0) -> None:
        """A case of a law: broken where the excess is above what is allowed, or no number."""
        self._count(law, excess, where, is_broken=not excess <= allowed)

    def measure(self, what: str, excess: float, where: str) -> None:
        """A case of what need not hold; an excess up to rounding (1e-12) is none."""
        self.measured.add(what)
        self._count(what, excess, where, is_broken=excess > 1e-12)

    @property
    def breaches(self) -> list[str]:
        """Laws that broke, each with its worst case."""
        found = sorted(law for law, many in self.broken.items() if many and law not in self.measured)
        return [f"{law}: {self.broken[law]} of {self.cases[law]}, {self.worst[law]}" for law in found]

    def _count(self, law: str, excess: float, where: str, *, is_broken: bool) -> None:
        self.cases[law] += 1
        self.broken[law] += is_broken
        worst = self.worst.get(law)
        if worst is None or not excess <= worst.excess:
            self.worst[law] = Worst(float(excess), where)
