"""The closed union of reasons: each a rule that changed or kept a number, with the numbers it read."""

from datetime import date
from decimal import Decimal
from typing import ClassVar

from .gate_reasons import AnyGateReason
from .quantities import Load
from .reason import J, Reason, Role

# Drivers: why the line goes the way it goes.


class RepetitionsRise(Reason, tag="repetitions-rise", frozen=True, kw_only=True):
    """Repetitions first: one more than all work sets had."""

    previous: tuple[int, ...]
    load: Load
    goal: int
    top: int


class RangeFilled(Reason, tag="range-filled", frozen=True, kw_only=True):
    """The top of the range on all work sets: load up, repetitions back to the bottom."""

    previous: tuple[int, ...]
    load: Load
    next_load: Load
    bottom: int


class BeyondRange(Reason, tag="beyond-range", frozen=True, kw_only=True):
    """The range is full, but the next load is too far: repetitions go on until it is in reach."""

    load: Load
    next_load: Load
    goal: int
    source: str = J


class HeaviestLoadReached(Reason, tag="heaviest-load-reached", frozen=True, kw_only=True):
    """The range is full and nothing heavier can be made here."""

    load: Load


class SetsShort(Reason, tag="sets-short", frozen=True, kw_only=True):
    """Fewer work sets than usual were done, so the line is not complete yet."""

    done: int
    usual: int


class EffortBelowTarget(Reason, tag="effort-below-target", frozen=True, kw_only=True):
    """The last set left less in reserve than it should."""

    reported_rir: Decimal
    target_rir: int


class TechniqueRough(Reason, tag="technique-rough", frozen=True, kw_only=True):
    """Technique was rough: the line waits."""


class TechniqueBroke(Reason, tag="technique-broke", frozen=True, kw_only=True):
    """Technique broke: load down, to be earned back."""

    cut: Decimal


class PainHold(Reason, tag="pain-hold", frozen=True, kw_only=True):
    """Slight pain was noted: nothing rises before two quiet sessions."""

    score: int | None
    words: str
    quiet_sessions: int
    source: str = "pain bands after Thomeé 1997 (from memory); " + J


class PainStop(Reason, tag="pain-stop", frozen=True, kw_only=True):
    """Pain of three or more, or of unknown height: the exercise is left out."""

    score: int | None
    words: str
    source: str = "pain bands after Thomeé 1997 (from memory); " + J


class MissedOnce(Reason, tag="missed-once", frozen=True, kw_only=True):
    """The line was missed once: repeat it."""

    previous: tuple[int, ...]
    bottom: int


class MissedTwice(Reason, tag="missed-twice", frozen=True, kw_only=True):
    """The line was missed twice in a row: ease it."""

    previous: tuple[int, ...]
    bottom: int
    cut: Decimal


class DaysOffRepeat(Reason, tag="days-off-repeat", frozen=True, kw_only=True):
    """A week or more without training: repeat the line."""

    days: int


class DaysOffReturn(Reason, tag="days-off-return", frozen=True, kw_only=True):
    """Two weeks or more without training: lighter, half the sets, more in reserve."""

    days: int
    cut: Decimal


class Regain(Reason, tag="regain", frozen=True, kw_only=True):
    """On the way back after a layoff: regaining is not progress, but has a pace."""

    pace: Decimal
    toward: Load


class BaselineRamp(Reason, tag="baseline-ramp", frozen=True, kw_only=True):
    """No history of this lift: ramp sets find a baseline."""


class BaselineAfterLayoff(Reason, tag="baseline-after-layoff", frozen=True, kw_only=True):
    """Nine weeks or more without this lift: a new baseline by ramp sets, kept well below the old load."""

    days: int
    cap: Load


class BaselineAfterClearance(Reason, tag="baseline-after-clearance", frozen=True, kw_only=True):
    """The first time with this lift since a clinician cleared training: a new baseline by ramp sets."""

    cap: Load
    source: str = J


class ReturnIndex(Reason, tag="return-index", frozen=True, kw_only=True):
    """A second check in the first two weeks back: sets times repetitions times share of 1RM stays within thirty."""

    role: ClassVar[Role] = "limit"
    wanted: Decimal
    most: Decimal
    sets: int
    source: str = "Caterisano et al. 2019 (CSCCa and NSCA; the upper bound from memory): expert consensus"


class DeloadTaken(Reason, tag="deload-taken", frozen=True, kw_only=True):
    """A deload was chosen: fewer sets, a little less load, same exercises."""

    set_cut: Decimal
    load_cut: Decimal
    source: str = "Bosquet et al. 2007 (taper studies); Rogerson et al. 2024 (survey)"


class LimitsHold(Reason, tag="limits-hold", frozen=True, kw_only=True):
    """No lever fits under the limits yet: the line waits."""


class LimitsEase(Reason, tag="limits-ease", frozen=True, kw_only=True):
    """The line as it was last done is above the limits: it comes down to what fits."""


class SchemeHolds(Reason, tag="scheme-holds", frozen=True, kw_only=True):
    """The progression rule asks for no more yet."""

    scheme: str


class OwnRange(Reason, tag="own-range", frozen=True, kw_only=True):
    """No plan gives a range; it is read off the lifter's own work sets."""

    bottom: int
    top: int
    sets: int
    source: str = J


# Limits: what bound the wish.


class WeeklyLimit(Reason, tag="weekly-limit", frozen=True, kw_only=True):
    """The equivalent 1RM may not rise faster than the weekly ceiling over the reference."""

    role: ClassVar[Role] = "limit"
    wanted_kg: Decimal
    allowed_kg: Decimal
    reference_kg: Decimal
    ceiling: Decimal
    is_in_marks: bool = False
    source: str = "common practice (2-5 % a week); not shown to protect tissue"


class TwelveWeekLimit(Reason, tag="twelve-week-limit", frozen=True, kw_only=True):
    """The equivalent 1RM may not rise further in twelve weeks: pause and look; the coach may lift it."""

    role: ClassVar[Role] = "limit"
    wanted_kg: Decimal
    allowed_kg: Decimal
    reference_kg: Decimal
    ceiling: Decimal
    is_in_marks: bool = False
    source: str = J


class PauseServed(Reason, tag="pause-served", frozen=True, kw_only=True):
    """The twelve-week ceiling was reached, and the line has been held for a week since: it may go on by the week."""

    role: ClassVar[Role] = "limit"
    allowed_kg: Decimal
    reference_kg: Decimal
    ceiling: Decimal
    is_in_marks: bool = False
    source: str = J


class RegainLimit(Reason, tag="regain-limit", frozen=True, kw_only=True):
    """After a layoff the equivalent 1RM comes back at a weekly pace."""

    role: ClassVar[Role] = "limit"
    wanted_kg: Decimal
    allowed_kg: Decimal
    reference_kg: Decimal
    ceiling: Decimal
    is_in_marks: bool = False


class StepLimit(Reason, tag="step-limit", frozen=True, kw_only=True):
    """The load may rise by one loadable step or five percent, whichever is more."""

    role: ClassVar[Role] = "limit"
    wanted: Load
    allowed: Load
    last: Load
    ceiling: Decimal


class SmallestJump(Reason, tag="smallest-jump", frozen=True, kw_only=True):
    """The smallest step here is over the step ceiling; it is taken since the bottom of the range is in reach."""

    role: ClassVar[Role] = "limit"
    load: Load
    next_load: Load
    rise: Decimal
    predicted: int
    bottom: int


class SmallestJumpRefused(Reason, tag="smallest-jump-refused", frozen=True, kw_only=True):
    """The smallest step here is over the step ceiling, and the bottom of the range is not in reach yet."""

    role: ClassVar[Role] = "limit"
    load: Load
    next_load: Load
    rise: Decimal
    predicted: int
    bottom: int


class NoLoadUnderLimit(Reason, tag="no-load-under-limit", frozen=True, kw_only=True):
    """Nothing that can be made here fits under the limits; the lightest would be above them."""

    role: ClassVar[Role] = "limit"
    lightest: Load


class LimitOverruled(Reason, tag="limit-overruled", frozen=True, kw_only=True):
    """A coach set this limit aside or elsewhere."""

    role: ClassVar[Role] = "limit"
    limit: str
    ceiling: Decimal | None
    by: str
    why: str
    until: date
    source: str = "coach's decision"


# Rounding.


class RoundedDown(Reason, tag="rounded-down", frozen=True, kw_only=True):
    """The wanted load cannot be made; the next lighter one can."""

    role: ClassVar[Role] = "rounding"
    wanted: Load
    made: Load
    source: str = "arithmetic"


# Cautions.


class EquipmentAssumed(Reason, tag="equipment-assumed", frozen=True, kw_only=True):
    """Nobody said what this place can load."""

    role: ClassVar[Role] = "caution"


class MarksAsNumbers(Reason, tag="marks-as-numbers", frozen=True, kw_only=True):
    """The line is in a machine's own marks, which the limits read as plain numbers."""

    role: ClassVar[Role] = "caution"


class BodyMassAssumed(Reason, tag="body-mass-assumed", frozen=True, kw_only=True):
    """Body mass is lifted, and none was ever entered."""

    role: ClassVar[Role] = "caution"
    assumed: Load
    source: str = J


class ScreeningAttested(Reason, tag="screening-attested", frozen=True, kw_only=True):
    """A coach gave their word in place of the lifter's own answers."""

    role: ClassVar[Role] = "caution"
    by: str
    on: date
    source: str = "the coach's word"


class AloneNotAsked(Reason, tag="alone-not-asked", frozen=True, kw_only=True):
    """Nobody said whether people lift alone here, and this session has lifts that can pin."""

    role: ClassVar[Role] = "caution"
    source: str = J


class OlderDefaults(Reason, tag="older-defaults", frozen=True, kw_only=True):
    """What the published position names as usual from sixty-five."""

    role: ClassVar[Role] = "caution"
    source: str = "Fragala et al. 2019, J Strength Cond Res 33:2019-2052 (read second-hand)"


class StopSigns(Reason, tag="stop-signs", frozen=True, kw_only=True):
    """When to stop and see a doctor."""

    role: ClassVar[Role] = "caution"
    source: str = "Riebe et al. 2015; single items from memory"


class OwnRotation(Reason, tag="own-rotation", frozen=True, kw_only=True):
    """No plan: the session follows the lifter's own rotation."""

    role: ClassVar[Role] = "caution"
    last_done: date
    source: str = J


class DeloadOffered(Reason, tag="deload-offered", frozen=True, kw_only=True):
    """Training weeks since the last lighter one have added up: a deload is offered, skipping it is fair."""

    role: ClassVar[Role] = "caution"
    training_weeks: int
    source: str = "Rogerson et al. 2024 (survey); Coleman et al. 2024 and Pancar et al. 2026 (trials: no gain shown)"


class UnloggedDays(Reason, tag="unlogged-days", frozen=True, kw_only=True):
    """Days without entries count as days off until somebody says otherwise."""

    role: ClassVar[Role] = "caution"
    days: int
    latest: date
    source: str = J


class TwoVersions(Reason, tag="two-versions", frozen=True, kw_only=True):
    """Two versions of one entry were written without knowledge of each other."""

    role: ClassVar[Role] = "caution"
    source: str = "the log"


# Why a lever was not taken.


class RangeNotFull(Reason, tag="range-not-full", frozen=True, kw_only=True):
    """Load waits until all work sets reach the top."""

    top: int


class SetsLater(Reason, tag="sets-later", frozen=True, kw_only=True):
    """Another set, or another day, comes when the response is slow and recovery good."""


class DensityNever(Reason, tag="density-never", frozen=True, kw_only=True):
    """Shorter rest is never progress for a strength goal."""


AnyReason = (
    RepetitionsRise
    | RangeFilled
    | BeyondRange
    | HeaviestLoadReached
    | SetsShort
    | EffortBelowTarget
    | TechniqueRough
    | TechniqueBroke
    | PainHold
    | PainStop
    | MissedOnce
    | MissedTwice
    | DaysOffRepeat
    | DaysOffReturn
    | Regain
    | BaselineRamp
    | BaselineAfterLayoff
    | DeloadTaken
    | LimitsHold
    | LimitsEase
    | SchemeHolds
    | OwnRange
    | WeeklyLimit
    | TwelveWeekLimit
    | PauseServed
    | RegainLimit
    | StepLimit
    | SmallestJump
    | SmallestJumpRefused
    | NoLoadUnderLimit
    | LimitOverruled
    | RoundedDown
    | EquipmentAssumed
    | MarksAsNumbers
    | BodyMassAssumed
    | AnyGateReason
    | BaselineAfterClearance
    | ReturnIndex
    | ScreeningAttested
    | AloneNotAsked
    | OlderDefaults
    | StopSigns
    | OwnRotation
    | DeloadOffered
    | UnloggedDays
    | TwoVersions
    | RangeNotFull
    | SetsLater
    | DensityNever
)


def code_of(reason: Reason) -> str:
    """The stable code of a reason."""
    return str(type(reason).__struct_config__.tag)
