"""What a simulated lifter leaves behind: a log as a person would keep it, and beside it the truth that no log holds."""

from datetime import date
from typing import Literal

from msgspec import Struct

from steelyard.engine.log import CheckInBody, SetBody

# machine-study: one set to failure on three machines, once or twice a week, supervised. novice: first half year.
# trained: several sets with a reserve, years of training. irregular: trained, with illness, travel, long layoffs.
# body-mass: pull-ups, dips, push-ups at home. competitor: meets only, three attempts a lift, months apart, with misses.
Kind = Literal["machine-study", "novice", "trained", "irregular", "body-mass", "competitor"]
KINDS: tuple[Kind, ...] = ("machine-study", "novice", "trained", "irregular", "body-mass", "competitor")


class SetTruth(Struct, frozen=True):
    """Of one set: repetitions that could have been done then, and the exercise's true 1RM that day (total kg).

    The 1RM is without the day's form and without fatigue of the session.
    """

    possible: int
    one_rm_kg: float


class Simulated(Struct, frozen=True, kw_only=True):
    """One simulated lifter; `truth` goes with `sets` one by one, `levels` holds the true 1RM (total kg) by day."""

    name: str
    kind: Kind
    sets: tuple[SetBody, ...]
    check_ins: tuple[CheckInBody, ...]
    truth: tuple[SetTruth, ...]
    levels: dict[str, tuple[tuple[date, float], ...]]
