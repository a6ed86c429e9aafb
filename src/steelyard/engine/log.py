"""Entries of the training log: one envelope, a body for each kind, bytes that never change."""

from datetime import date
from decimal import Decimal
from hashlib import sha256
from typing import Any, Literal

import msgspec
from msgspec import Struct

from .body import Body
from .effort import Effort
from .equipment import Equipment
from .health import (
    Answer,
    AttestBody,
    ClearanceBody,
    EpisodeBody,
    RestrictionBody,
    ScreeningBody,
    Sign,
)
from .quantities import Load, QuantityRefused
from .sheet import Sheet

SCHEMA = 1
# Readings outside cannot be of a living person at rest: a slip of the keyboard.
LEAST_PRESSURE, MOST_PRESSURE = 20, 350
Missed = Literal["strength", "technique", "pain", "not-done", "unsaid"]
Technique = Literal["good", "rough", "broke"]
Phase = Literal["normal", "deload", "taper", "return", "rehab", "test"]
SetKind = Literal["warm-up", "ramp", "work", "top", "back-off"]
Weekday = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
Aim = Literal["strength", "size", "health", "sport", "return", "meet"]

# The people of one place share its equipment: such entries belong to nobody and carry this person.
THE_HOUSE = "00000000-0000-7000-8000-000000000000"


class Entry(Struct, frozen=True, kw_only=True):
    """The envelope of one entry, as syncing needs it; the body is canonical JSON and is kept as it was sent."""

    id: str
    person: str
    author: str
    device: str
    kind: str
    schema: int
    hlc: str
    wall_time: str
    replaces: tuple[str, ...] = ()
    body: bytes

    @property
    def body_sha256(self) -> bytes:
        """Hash of the body's bytes (32 bytes)."""
        return sha256(self.body).digest()


class Pain(Struct, frozen=True, omit_defaults=True):
    """Pain as it was said: 0-10 if a number was given, where, and the words."""

    score: int | None = None
    words: str = ""


class SetBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """One set as it was lifted; every shape that people write. `source` names the file it came in with."""

    on: date
    exercise: str
    as_written: str = ""
    session: int = 1
    kind: SetKind | None = None
    phase: Phase | None = None
    implement: str | None = None
    load: Load | None = None
    reps: int | None = None
    seconds: int | None = None
    metres: Decimal | None = None
    side: Literal["left", "right", "each"] | None = None
    tempo: str | None = None
    cluster: tuple[int, ...] = ()
    cluster_pause_s: int | None = None
    pair: str | None = None
    rest_interval_s: int | None = None
    effort: Effort | None = None
    missed: Missed | None = None
    pain: Pain | None = None
    technique: Technique | None = None
    note: str = ""
    source: str = ""

    def __post_init__(self) -> None:
        if self.metres is not None and not self.metres.is_finite():
            raise QuantityRefused("{metres} is not a number of metres; write one such as 40", metres=self.metres)
        for count in (self.reps, self.seconds, self.metres):
            if count is not None and count < 0:
                raise QuantityRefused("a count of {count} cannot be; 0 means that the set was missed", count=count)


class LifterBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """Who the lifter is; of the birth only the year. `place` is where they usually train."""

    name: str
    unit: Literal["kg", "lb"] | None = None
    birth_year: int | None = None
    trained_since: date | None = None
    training_days: tuple[Weekday, ...] = ()
    sessions_per_week: int | None = None
    place: str = ""
    aims: tuple[Aim, ...] = ()
    aim_words: str = ""


class CheckInBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """What a lifter says of a day outside the sets; blood pressure as upper and lower value (mmHg)."""

    on: date
    body_mass: Load | None = None
    note: str = ""
    fever: bool | None = None
    signs: tuple[Sign, ...] = ()
    blood_pressure: tuple[int, int] | None = None

    def __post_init__(self) -> None:
        if self.blood_pressure is not None:
            upper, lower = self.blood_pressure
            if not LEAST_PRESSURE <= lower < upper <= MOST_PRESSURE:
                raise QuantityRefused(
                    "a blood pressure of {upper}/{lower} cannot be; write one such as 120/80", upper=upper, lower=lower
                )


class OverruleBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """A coach sets one limit of one exercise aside, or elsewhere, for a time."""

    on: date
    until: date
    exercise: str
    limit: Literal["weekly-limit", "step-limit", "twelve-week-limit"]
    ceiling: Decimal | None = None
    by: str
    why: str

    def __post_init__(self) -> None:
        if self.ceiling is not None and not (self.ceiling.is_finite() and self.ceiling >= 0):
            raise QuantityRefused("a ceiling of {ceiling} cannot be; write a share such as 0.05", ceiling=self.ceiling)


class EquipmentBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """What one place can load, whether people lift alone there, and whether the rack catches a bar."""

    place: str
    equipment: Equipment
    alone: Answer | None = None
    safeties: Answer | None = None


class PolicyBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """Settings that the coach changed, as text by name."""

    on: date
    changes: dict[str, str]


class TrainedAsWrittenBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """Days without entries on which the lifter did train; weak evidence, half-open interval."""

    earliest: date
    until: date
    by: str


class SheetBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """A sheet as it was shown, with the sentences as they were said."""

    sheet: Sheet
    said: tuple[tuple[str, ...], ...]


class SheetHead(Struct, frozen=True):
    """The day of a sheet."""

    on: date


class OldSheetBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """A sheet whose reasons this version does not know any more: the sentences stay readable."""

    sheet: SheetHead
    said: tuple[tuple[str, ...], ...]


class OwnExerciseBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """An exercise that only this lifter does: it behaves as its parent does, with a history of its own."""

    code: str
    name: str
    parent: str


class NamingBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """What the club means by a written name: an exercise on perhaps an implement, or an own one near a parent."""

    written: str
    exercise: str
    implement: str | None = None
    parent: str | None = None


class FileAnswersBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """What a person answered about files of one layout, by the key of each question."""

    layout: str
    answers: dict[str, str]


class TombstoneBody(Body, frozen=True, kw_only=True, omit_defaults=True):
    """The entries it replaces are withdrawn."""

    why: str


AnyBody = (
    SetBody
    | LifterBody
    | CheckInBody
    | OverruleBody
    | EquipmentBody
    | PolicyBody
    | TrainedAsWrittenBody
    | SheetBody
    | OwnExerciseBody
    | NamingBody
    | FileAnswersBody
    | ScreeningBody
    | AttestBody
    | ClearanceBody
    | EpisodeBody
    | RestrictionBody
    | TombstoneBody
)
_BODIES: dict[str, type[Body]] = {
    "set": SetBody,
    "lifter": LifterBody,
    "check-in": CheckInBody,
    "overrule": OverruleBody,
    "equipment": EquipmentBody,
    "policy": PolicyBody,
    "trained-as-written": TrainedAsWrittenBody,
    "sheet": SheetBody,
    "own-exercise": OwnExerciseBody,
    "naming": NamingBody,
    "file-answers": FileAnswersBody,
    "screening": ScreeningBody,
    "attest": AttestBody,
    "clearance": ClearanceBody,
    "pain-episode": EpisodeBody,
    "restriction": RestrictionBody,
    "tombstone": TombstoneBody,
}
KIND_OF: dict[type[Body], str] = {body: kind for kind, body in _BODIES.items()}
_DECODERS = {kind: msgspec.json.Decoder(body) for kind, body in _BODIES.items()}
_OLDER: dict[str, tuple[msgspec.json.Decoder[OldSheetBody], ...]] = {"sheet": (msgspec.json.Decoder(OldSheetBody),)}
_ENCODER = msgspec.json.Encoder(order="sorted", decimal_format="string")


def encode_body(body: Body) -> bytes:
    """Canonical bytes of a body: keys sorted, no spaces, numbers whole or as text."""
    return _ENCODER.encode(body)


def encode_canonical(value: object) -> bytes:
    """Canonical JSON bytes of any engine value."""
    return _ENCODER.encode(value)


def decode_body(kind: str, schema: int, body: bytes) -> Body | None:
    """The body as a value, or None where this version cannot read it (such an entry is kept untouched)."""
    if schema > SCHEMA or kind not in _DECODERS:
        return None
    decoders: tuple[msgspec.json.Decoder[Any], ...] = (_DECODERS[kind], *_OLDER.get(kind, ()))
    for decoder in decoders:
        try:
            decoded: Body = decoder.decode(body)
        except (ValueError, RecursionError):  # not JSON, not UTF-8, nested without end, or not a body of this kind
            continue
        return decoded
    return None
