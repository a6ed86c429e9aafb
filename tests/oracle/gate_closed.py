"""One closed gate as a value, and what several leave together."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction


@dataclass(frozen=True)
class Closed:
    """What a gate takes away. Where the page can be read either way it is not `sure`: naming it is right and wrong."""

    code: str
    stop: bool = False
    no_rise: bool = False
    reserve: int = 0
    repetitions: int = 0
    most: Fraction | None = None
    eased_since: date | None = None
    light: bool = False
    sure: bool = True


@dataclass(frozen=True)
class Left:
    """The strictest of each kind."""

    stop: bool
    no_rise: bool
    reserve: int
    repetitions: int
    most: Fraction | None
    eased_since: frozenset[date]
    light: bool

    def is_no_bolder_than(self, other: "Left") -> bool:
        """Whether it leaves nothing that the other took away."""
        return self.stop or (
            not other.stop
            and self.no_rise >= other.no_rise
            and self.reserve >= other.reserve
            and self.repetitions >= other.repetitions
            and (other.most is None or (self.most is not None and self.most <= other.most))
            and self.eased_since >= other.eased_since
            and self.light >= other.light
        )

    @property
    def is_everything(self) -> bool:
        """Whether nothing is closed at all."""
        kinds = (self.stop, self.no_rise, self.reserve, self.repetitions, self.eased_since, self.light)
        return not any(kinds) and self.most is None


def left_by(closed: Iterable[Closed]) -> Left:
    """What closed gates leave together; at least two in reserve where nothing rises."""
    sure = [c for c in closed if c.sure]
    no_rise = any(c.no_rise for c in sure)
    return Left(
        stop=any(c.stop for c in sure),
        no_rise=no_rise,
        reserve=max([2 if no_rise else 0, *(c.reserve for c in sure)]),
        repetitions=max((c.repetitions for c in sure), default=0),
        most=min((c.most for c in sure if c.most is not None), default=None),
        eased_since=frozenset(c.eased_since for c in sure if c.eased_since is not None),
        light=any(c.light or c.repetitions for c in sure) or no_rise,
    )
