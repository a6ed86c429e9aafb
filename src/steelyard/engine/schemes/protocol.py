"""What every progression rule offers."""

from typing import Protocol

from ..line import Line
from ..proposal import Proposal


class Scheme(Protocol):
    """Given a line that may rise, the rises to try, best first; limits and rounding come afterwards.

    A scheme reads only the line. It never checks a limit: what breaks one is passed over, and the next is tried.
    """

    def propose(self, line: Line) -> tuple[Proposal, ...]:
        """The rises to try, best first; none means hold."""
        ...
