"""Bodies of entries about health: screening, a coach's word, a clinician's clearance, pain, what somebody restricts."""

from datetime import date
from typing import Literal

from .body import Body
from .quantities import Load, QuantityRefused

# None stands for "not asked"; "unknown" for "asked, and the lifter does not know".
Answer = Literal["yes", "no", "unknown"]
Sign = Literal[
    "chest",
    "breathless",
    "faint",
    "palpitations",
    "leg-swelling",
    "calf-pain",
    "severe-headache",
    "vision-or-speech",
    "pop",
    "joint-locking",
    "numbness-or-weakness",
    "bladder-or-bowel",
    "dark-urine",
    "swelling-with-weakness",
    "pelvic-heaviness",
    "leakage",
    "bleeding",
    "wound",
    "fluid-leak",
    "contractions",
    "abdominal-pain",
]
Condition = Literal[
    "disease",
    "symptoms",
    "pregnancy",
    "birth",
    "surgery",
    "heart-event",
    "stop-sign",
    "fever",
    "blood-pressure",
    "pain",
]
Nature = Literal["tendon", "kneecap", "other"]
PainSign = Literal["new", "sharp", "swollen"]
Effect = Literal["leave-out", "no-rise", "at-most", "least-rir"]
WORST_PAIN = 10
# More than five in reserve cannot be told apart (the scale of effort ends there); lighter than that is said as a load.
MOST_RESERVE = 5


class ScreeningBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """Answers to the questions before training; None was not asked. The newest by day holds, question by question."""

    on: date
    by: str
    active: Answer | None = None
    disease: Answer | None = None
    symptoms: Answer | None = None
    pregnant: Answer | None = None
    gave_birth: Answer | None = None
    birth_on: date | None = None
    surgery: Answer | None = None
    surgery_on: date | None = None
    heart_event: Answer | None = None
    heart_event_on: date | None = None
    form_on: date | None = None
    form_outcome: str = ""
    supervised_by: str = ""
    technique_signed_by: str = ""


class AttestBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """A coach's word that nothing stands against training; it opens nothing that is known to be closed."""

    on: date
    by: str
    words: str = ""


class ClearanceBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """What a named clinician cleared, until when, and within which limits; `until` is the first day without it."""

    on: date
    by: str
    condition: Condition
    until: date | None = None
    is_for_vigorous: bool = False
    limits: str = ""
    least_rir: int | None = None
    most_load: Load | None = None
    episode: str = ""

    def __post_init__(self) -> None:
        _check_rir(self.least_rir)


class EpisodeBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """What is known of one pain on one day; entries that share `episode` are its history, the newest day holds.

    `exercises` are the codes that provoke it; empty means all that load the part.
    """

    episode: str
    on: date
    part: str
    side: Literal["left", "right", "both"] | None = None
    onset: date | None = None
    provokes: str = ""
    nature: Nature = "other"
    guided_by: str = ""
    score: int | None = None
    next_morning: Literal["settled", "worse"] | None = None
    signs: tuple[PainSign, ...] = ()
    status: Literal["open", "closed"] = "open"
    exercises: tuple[str, ...] = ()
    by: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        if self.score is not None and not 0 <= self.score <= WORST_PAIN:
            raise QuantityRefused(
                "pain of {score} cannot be; write a number from 0 to {worst}", score=self.score, worst=WORST_PAIN
            )


class RestrictionBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """What somebody restricts: an exercise, a pattern, a joint, or everything; entries of one `restriction` are one.

    It holds from `on` to the day before `until`; past its `review` it still holds and asks to be looked at.
    """

    restriction: str
    on: date
    exercise: str | None = None
    pattern: str | None = None
    joint: str | None = None
    effect: Effect
    load: Load | None = None
    rir: int | None = None
    by: str
    why: str
    review: date | None = None
    until: date | None = None
    status: Literal["open", "lifted"] = "open"

    def __post_init__(self) -> None:
        _check_rir(self.rir)


def _check_rir(rir: int | None) -> None:
    if rir is not None and not 0 <= rir <= MOST_RESERVE:
        raise QuantityRefused("{rir} in reserve cannot be; write a number from 0 to {most}", rir=rir, most=MOST_RESERVE)
