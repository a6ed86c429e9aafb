"""What closed gates leave of a line: the one value that every gate speaks in, and their sum."""

from datetime import date
from decimal import Decimal

from msgspec import Struct

from .quantities import Load
from .reasons import AnyReason

# While nothing may rise, a setting of less reserve than the usual one has to wait as well: our judgement.
HELD_RIR = 2
# A first session behind a closed gate climbs no further than this, and stops this early: our judgement.
LIGHT_RUNGS = 3
LIGHT_RIR = 5


class Closed(Struct, frozen=True, kw_only=True):
    """One closed gate: what it leaves, and the reason that says what opens it.

    `reduces_from`: load down by `cut` from the latest line on or before that day.
    """

    reason: AnyReason
    stops: bool = False
    no_rise: bool = False
    least_rir: int = 0
    least_count: int = 0
    most_load: Load | None = None
    reduces_from: date | None = None
    cut: Decimal = Decimal(0)
    is_light_start: bool = False

    @property
    def is_effective(self) -> bool:
        """Whether it changes any number; words alone do not."""
        says_load = self.most_load is not None or self.reduces_from is not None
        return self.stops or self.no_rise or says_load or self.least_rir > 0 or self.least_count > 0


class Guard(Struct, frozen=True):
    """Every closed gate that bears on one line; the strictest of each kind holds."""

    closed: tuple[Closed, ...] = ()

    @property
    def stopping(self) -> tuple[AnyReason, ...]:
        """Why the line is left out, if it is."""
        return tuple(c.reason for c in self.closed if c.stops)

    @property
    def holding(self) -> tuple[AnyReason, ...]:
        """Why nothing rises, if nothing does."""
        return tuple(c.reason for c in self.closed if c.no_rise)

    @property
    def holding_low(self) -> tuple[AnyReason, ...]:
        """Why a line of fewer repetitions than a gate allows does not rise."""
        return tuple(c.reason for c in self.closed if c.least_count)

    @property
    def least_rir(self) -> int:
        """Repetitions in reserve at the least."""
        floors = [c.least_rir for c in self.closed] + [HELD_RIR for c in self.closed if c.no_rise]
        return max(floors, default=0)

    @property
    def least_count(self) -> int:
        """Repetitions a set at the least; 0 where no gate asks for any."""
        return max((c.least_count for c in self.closed), default=0)

    @property
    def most_added(self) -> Decimal | None:
        """The heaviest added load (kg) that somebody allows, if anybody said."""
        said = [c.most_load.magnitude for c in self.closed if c.most_load is not None]
        return min(said, default=None)

    @property
    def is_light_start(self) -> bool:
        """Whether a lift that was never done begins light."""
        return bool(self.holding) or any(c.is_light_start for c in self.closed)

    @property
    def reasons(self) -> tuple[AnyReason, ...]:
        """Every reason, each once; what stops comes first."""
        return tuple(dict.fromkeys(c.reason for c in sorted(self.closed, key=lambda c: not c.stops)))

    @property
    def is_closed(self) -> bool:
        """Whether any gate changes a number."""
        return any(c.is_effective for c in self.closed)


OPEN = Guard()
