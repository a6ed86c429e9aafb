"""Reasons of closed gates: what is closed, and what would open it; nothing else does."""

from datetime import date
from decimal import Decimal
from typing import ClassVar, Literal

from .health import Effect, PainSign, Sign
from .quantities import Load
from .reason import J, Reason, Role


class ScreeningNotAsked(Reason, tag="screening-not-asked", frozen=True, kw_only=True):
    """Nobody has asked the questions before training: nothing rises until they are answered or a coach attests."""

    role: ClassVar[Role] = "gate"
    source: str = "Riebe et al. 2015, Med Sci Sports Exerc 47:2473-2479"


class ScreeningClosed(Reason, tag="screening-closed", frozen=True, kw_only=True):
    """The answers lie in a row of the published table that asks for a light start, less effort, or clearance first."""

    role: ClassVar[Role] = "gate"
    row: Literal["light-start", "disease-first", "symptoms-first", "moderate-only", "stop"]
    unsure: tuple[Literal["active", "disease", "symptoms"], ...] = ()
    is_cleared: bool = False
    least_rir: int = 0
    source: str = "Riebe et al. 2015 (table read second-hand); that lifting counts as vigorous: " + J


class PregnancyHolds(Reason, tag="pregnancy-holds", frozen=True, kw_only=True):
    """In pregnancy nothing rises by itself; less effort until the obstetric provider has cleared it."""

    role: ClassVar[Role] = "gate"
    cleared_by: str = ""
    least_rir: int = 0
    source: str = "ACOG 2020, Committee Opinion 804 (read second-hand); " + J


class ClearanceFirst(Reason, tag="clearance-first", frozen=True, kw_only=True):
    """After a birth, an operation or a heart event a clinician clears training first."""

    role: ClassVar[Role] = "gate"
    condition: Literal["birth", "surgery", "heart-event"]
    since: date | None = None
    source: str = J


class AfterClearance(Reason, tag="after-clearance", frozen=True, kw_only=True):
    """After that clearance: a new baseline, and more in reserve for the first weeks, led by symptoms."""

    role: ClassVar[Role] = "gate"
    condition: Literal["birth", "surgery", "heart-event"]
    by: str
    on: date
    least_rir: int
    training_weeks: int
    source: str = J


class ClinicianLimits(Reason, tag="clinician-limits", frozen=True, kw_only=True):
    """The clinician who cleared training set limits to it."""

    role: ClassVar[Role] = "gate"
    by: str
    limits: str = ""
    least_rir: int | None = None
    most_load: Load | None = None
    until: date | None = None
    source: str = "the clinician's words"


class StopSignSaid(Reason, tag="stop-sign-said", frozen=True, kw_only=True):
    """A stop sign was said or written: no training before a doctor has cleared it."""

    role: ClassVar[Role] = "gate"
    signs: tuple[Sign, ...]
    on: date
    words: str = ""
    is_pregnant: bool = False
    source: str = "Riebe et al. 2015; Nye et al. 2021 (dark urine); ACOG 2020; single items from memory"


class FeverStops(Reason, tag="fever-stops", frozen=True, kw_only=True):
    """Fever was said: no training until some days later a check-in says that there is none."""

    role: ClassVar[Role] = "gate"
    on: date
    opens_from: date
    source: str = J


class BloodPressureHigh(Reason, tag="blood-pressure-high", frozen=True, kw_only=True):
    """The latest blood pressure is above the bounds: no session, or a word with the clinician first."""

    role: ClassVar[Role] = "gate"
    upper: int
    lower: int
    on: date
    is_stop: bool
    least_rir: int = 0
    source: str = "Williams et al. 2007, Circulation 116:572-584 (from memory): our caution"


class EpisodeStop(Reason, tag="pain-episode-stop", frozen=True, kw_only=True):
    """The latest word on a pain leaves out what provokes it."""

    role: ClassVar[Role] = "gate"
    part: str
    side: Literal["left", "right", "both"] | None = None
    score: int | None = None
    signs: tuple[PainSign, ...] = ()
    on: date
    source: str = "zones after Thomeé 1997 and Silbernagel et al. 2007 (from memory); " + J


class EpisodeReduce(Reason, tag="pain-episode-reduce", frozen=True, kw_only=True):
    """A guided pain rose over weeks, or was up on the next morning: less load."""

    role: ClassVar[Role] = "gate"
    part: str
    side: Literal["left", "right", "both"] | None = None
    scores: tuple[int, ...]
    is_worse_next_morning: bool
    cut: Decimal
    on: date
    source: str = "Silbernagel et al. 2007; side rules from memory; the amount: " + J


class EpisodeHold(Reason, tag="pain-episode-hold", frozen=True, kw_only=True):
    """An open pain holds what provokes it."""

    role: ClassVar[Role] = "gate"
    part: str
    side: Literal["left", "right", "both"] | None = None
    score: int
    guided_by: str = ""
    on: date
    source: str = "zones after Thomeé 1997 and Silbernagel et al. 2007 (from memory); " + J


class Restricted(Reason, tag="restricted", frozen=True, kw_only=True):
    """Somebody restricts this exercise, pattern or joint."""

    role: ClassVar[Role] = "gate"
    effect: Effect
    load: Load | None = None
    rir: int | None = None
    by: str
    why: str
    until: date | None = None
    review: date | None = None
    is_review_due: bool = False
    source: str = "the restriction's words"


class AloneUnderTheBar(Reason, tag="alone-under-the-bar", frozen=True, kw_only=True):
    """Alone without safeties: lifts that can pin end further from the last repetition."""

    role: ClassVar[Role] = "gate"
    least_rir: int
    source: str = J + "; documented deaths at home are mostly unspotted benching (Lombardi & Troxel, from memory)"


class YouthUnsupervised(Reason, tag="youth-unsupervised", frozen=True, kw_only=True):
    """Under eighteen, and no adult is named who supervises: nothing rises."""

    role: ClassVar[Role] = "gate"
    source: str = "Stricker et al. 2020, Pediatrics 145:e20201011; Lloyd et al. 2014, Br J Sports Med 48:498-505"


class YouthTechnique(Reason, tag="youth-technique", frozen=True, kw_only=True):
    """Under eighteen without a technique sign-off: no low repetitions, and light first loads."""

    role: ClassVar[Role] = "gate"
    least_repetitions: int
    source: str = "Lloyd et al. 2014 (thresholds from memory): our caution"


class OlderEntry(Reason, tag="older-entry", frozen=True, kw_only=True):
    """From sixty-five the first weeks are an entry phase."""

    role: ClassVar[Role] = "gate"
    least_rir: int
    training_weeks: int
    source: str = "Fragala et al. 2019, J Strength Cond Res 33:2019-2052 (read second-hand); length and reserve: " + J


AnyGateReason = (
    ScreeningNotAsked
    | ScreeningClosed
    | PregnancyHolds
    | ClearanceFirst
    | AfterClearance
    | ClinicianLimits
    | StopSignSaid
    | FeverStops
    | BloodPressureHigh
    | EpisodeStop
    | EpisodeReduce
    | EpisodeHold
    | Restricted
    | AloneUnderTheBar
    | YouthUnsupervised
    | YouthTechnique
    | OlderEntry
)
