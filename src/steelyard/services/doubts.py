"""Doubtful values of a file as questions, and what the answers do to its sets."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal

from msgspec import Struct, structs

from steelyard.engine.log import SetBody
from steelyard.engine.quantities import Load, plain
from steelyard.engine.slips import Slip, SlipKind, slips
from steelyard.exchange.found import Choice, FoundSet, Question
from steelyard.wording.message import tell, tell_count
from steelyard.wording.quantity import Voice

KEEP, LEAVE_OUT, AS_MEANT = "keep", "leave-out", "as-meant"
EXAMPLES = 6


class Held(Struct, frozen=True):
    """A set that is not taken in yet, and why."""

    found: FoundSet
    why: str


class Doubted(Struct, frozen=True, kw_only=True):
    """Sets after the answers: those to take, those held back, and what must still be asked."""

    kept: tuple[FoundSet, ...]
    held: tuple[Held, ...]
    left_out: int
    questions: tuple[Question, ...]


def doubt(
    found: Sequence[FoundSet], known: Sequence[SetBody], answers: Mapping[str, str], today: date, voice: Voice
) -> Doubted:
    """Ask about doubtful values of one lifter, all of a kind at once; an answer for one row is `KIND:ROW`."""
    doubtful = {slip.index: slip for slip in slips([f.body for f in found], known, today)}
    kept: list[FoundSet] = []
    held: list[Held] = []
    open_slips: defaultdict[SlipKind, list[tuple[FoundSet, Slip]]] = defaultdict(list)
    left_out = 0
    for index, item in enumerate(found):
        slip = doubtful.get(index)
        answer = _answer(item, slip, answers) if slip is not None else KEEP
        if slip is None or answer == KEEP:
            kept.append(item)
        elif answer == LEAVE_OUT:
            left_out += 1
        elif answer == AS_MEANT and slip.meant is not None:
            kept.append(structs.replace(item, body=_as_meant(item.body, slip, slip.meant)))
        else:
            open_slips[slip.kind].append((item, slip))
            held.append(Held(item, _what_is_odd(slip, voice)))
    questions = tuple(_question(kind, rows, voice) for kind, rows in open_slips.items())
    return Doubted(kept=tuple(kept), held=tuple(held), left_out=left_out, questions=questions)


def _answer(item: FoundSet, slip: Slip, answers: Mapping[str, str]) -> str:
    return answers.get(f"{slip.kind}:{item.place.row}", answers.get(slip.kind, "")).strip().casefold()


def _as_meant(body: SetBody, slip: Slip, meant: Decimal) -> SetBody:
    """The set with the value that was meant, in the unit that was typed."""
    if slip.kind == "many-repetitions":
        return structs.replace(body, reps=int(meant))
    if body.load is None:
        return body
    factor = Decimal("0.1") if slip.kind == "tenfold" else Decimal(10)
    return structs.replace(body, load=Load(plain(body.load.value * factor), body.load.unit))


def _question(kind: SlipKind, rows: list[tuple[FoundSet, Slip]], voice: Voice) -> Question:
    examples = tuple(_example(item, slip, voice) for item, slip in rows[:EXAMPLES])
    choices = [Choice(KEEP, tell("it is right as it stands"))]
    if all(slip.meant is not None for _, slip in rows):
        choices.append(Choice(AS_MEANT, _meant_words(kind)))
    choices.append(Choice(LEAVE_OUT, tell("take these rows not in")))
    return Question(key=kind, asks=_asks(kind, len(rows)), examples=examples, choices=tuple(choices))


def _meant_words(kind: SlipKind) -> str:
    match kind:
        case "tenfold":
            return tell("read it as a tenth: the decimal mark was lost")
        case "tenth":
            return tell("read it as ten times that")
        case _:
            return tell("read it without the last nought")


def _asks(kind: SlipKind, count: int) -> str:
    match kind:
        case "future-day":
            return tell_count(
                "{count} set lies in the future. Was it done?", "{count} sets lie in the future. Were they done?", count
            )
        case "lone-day":
            return tell_count(
                "{count} set lies more than a year from all others. Is its day right?",
                "{count} sets lie more than a year from all others. Are their days right?",
                count,
            )
        case "tenfold":
            return tell_count(
                "{count} load is about ten times the usual one. Is it right?",
                "{count} loads are about ten times the usual ones. Are they right?",
                count,
            )
        case "tenth":
            return tell_count(
                "{count} load is about a tenth of the usual one. Is it right?",
                "{count} loads are about a tenth of the usual ones. Are they right?",
                count,
            )
        case "far-above":
            return tell_count(
                "{count} load is far above everything else. Is it right (and its unit)?",
                "{count} loads are far above everything else. Are they right (and their unit)?",
                count,
            )
        case "many-repetitions":
            return tell_count(
                "{count} set has more repetitions than anyone does at such a load. Is it right?",
                "{count} sets have more repetitions than anyone does at such a load. Are they right?",
                count,
            )


def _example(item: FoundSet, slip: Slip, voice: Voice) -> str:
    where = tell("row {row}", row=item.place.row) + (f" ({item.place.sheet})" if item.place.sheet else "")
    return f"{where}: {item.body.on.isoformat()} {item.body.as_written}, {_what_is_odd(slip, voice, item.body)}"


def _what_is_odd(slip: Slip, voice: Voice, body: SetBody | None = None) -> str:
    load = voice.load(body.load) if body is not None and body.load is not None else ""
    usual = voice.kilograms(slip.usual) if slip.usual is not None else ""
    match slip.kind:
        case "future-day":
            return tell("a day in the future")
        case "lone-day":
            return tell("a day far from all others")
        case "many-repetitions":
            reps = "" if body is None else body.reps
            return tell("{reps} repetitions at {load}", reps=reps, load=load) if load else tell("so many repetitions")
        case _:
            return (
                tell("{load}, where {usual} is usual", load=load, usual=usual)
                if load and usual
                else tell("such a load")
            )
