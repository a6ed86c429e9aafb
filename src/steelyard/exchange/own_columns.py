"""What only our own exports say of a set, column by column, so that nothing is lost on the way out and in again."""

import re
from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any, get_args

from steelyard.engine.effort import Effort, EffortRefused
from steelyard.engine.log import Missed, Phase, SetKind
from steelyard.engine.quantities import Load, QuantityRefused
from steelyard.wording.message import tell, tell_refused

from .cells import CellRefused


def _one_of(allowed: tuple[str, ...]) -> Callable[[str], str]:
    def read(text: str) -> str:
        if text not in allowed:
            raise CellRefused(tell("is not known here"), tell("write one of: {choices}", choices=", ".join(allowed)))
        return text

    return read


def _cluster(text: str) -> tuple[int, ...]:
    """`2+2+2`, or a list as JSON writes it."""
    if not re.fullmatch(r"\[?\s*\d{1,3}(?:\s*[+,]\s*\d{1,3})*\s*\]?", text):
        raise CellRefused(tell("is no cluster"), tell("write repetitions such as 2+2+2"))
    return tuple(map(int, re.findall(r"\d+", text)))


def _whole(text: str) -> int:
    if not re.fullmatch(r"\d{1,5}", text):
        raise CellRefused(tell("is not a whole number"), tell("write one such as 20"))
    return int(text)


def _effort(text: str) -> Effort:
    match = re.fullmatch(r"(rpe|rir) (\d{1,2}(?:\.\d{1,6})?)", text)
    if match is None:
        raise CellRefused(tell("is no effort"), tell("write one such as rpe 8 or rir 2"))
    try:
        return Effort(Decimal(match[2]), "rpe" if match[1] == "rpe" else "rir")
    except EffortRefused as refused:
        raise CellRefused(tell_refused(refused), tell("write one such as rpe 8 or rir 2")) from refused


def _load(text: str) -> Load:
    match = re.fullmatch(r"'?(-?\d{1,24}(?:\.\d{1,24})?) (kg|lb|mark)", text)
    if match is None:
        raise CellRefused(tell("is no load as our exports write it"), tell("write one such as 62.5 kg"))
    try:
        return Load(Decimal(match[1]), "kg" if match[2] == "kg" else "lb" if match[2] == "lb" else "mark")
    except QuantityRefused as refused:
        raise CellRefused(tell_refused(refused), tell("check the number")) from refused


# Role of the column, field of a set, how its text is read (None for plain text).
OWN: Mapping[str, tuple[str, Callable[[str], Any] | None]] = {
    "load-typed": ("load", _load),
    "exercise-code": ("exercise", None),
    "kind": ("kind", _one_of(get_args(SetKind))),
    "phase": ("phase", _one_of(get_args(Phase))),
    "missed": ("missed", _one_of(get_args(Missed))),
    "cluster": ("cluster", _cluster),
    "cluster-pause": ("cluster_pause_s", _whole),
    "pair": ("pair", None),
    "effort-typed": ("effort", _effort),
    "as-written": ("as_written", None),
}
