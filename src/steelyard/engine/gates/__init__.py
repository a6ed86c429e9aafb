"""What must hold before a line may rise, and what leaves it out.

A gate opens by its own condition or by a recorded clearance, and by nothing else.
"""

from .facts import Facts, read_facts
from .guard import asked, guard_of, session_gates
from .line_gates import GATES, is_stop
from .people import new_starts

__all__ = ["GATES", "Facts", "asked", "guard_of", "is_stop", "new_starts", "read_facts", "session_gates"]
