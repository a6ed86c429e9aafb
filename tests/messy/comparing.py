"""What was read, held against the truth: exactly, with the few freedoms that a person would grant."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal

from msgspec import Struct

from steelyard.engine.exercises import folded_name
from steelyard.engine.log import SetBody

from .remarks import SLIPS
from .truth import MessyFile, TrueSet

Key = tuple[str, date, str]


class ReadSet(Struct, frozen=True, kw_only=True):
    """One set as the reader under judgement gives it: the exercise by its code, or the name if it stays unknown."""

    lifter: str
    exercise: str
    body: SetBody


def differences(file: MessyFile, read: Sequence[ReadSet]) -> list[str]:
    """Every set that is missing, extra or different, in words; empty where all is exact."""
    wanted, found = _by_key(file), _read_by_key(read)
    said: list[str] = []
    for key in sorted({*wanted, *found}):
        true, got = wanted.get(key, []), found.get(key, [])
        if len(true) != len(got):
            said.append(f"{_named(key)}: {len(true)} sets wanted, {len(got)} read {_briefly(got)}")
            continue
        for nth, (t, g) in enumerate(zip(true, got, strict=True), 1):
            said += [f"{_named(key)} set {nth}: {d}" for d in set_differences(t, g)]
        said += [f"{_named(key)}: {d}" for d in _remark_differences(true, got)]
    return said


def wrong_sets(file: MessyFile, read: Sequence[ReadSet]) -> list[str]:
    """The sets that were read and are in no truth; some of the truth may be missing (a refused row)."""
    wanted = _by_key(file)
    said = []
    for key, got in _read_by_key(read).items():
        left = iter(wanted.get(key, []))
        if not all(any(not set_differences(t, g) for t in left) for g in got):
            said.append(f"{_named(key)}: read {_briefly(got)}, not in the truth")
    return said


def excess_notes(file: MessyFile, read: Sequence[ReadSet]) -> int:
    """How many sets carry words as a note that the truth does not have as one."""
    notes = {s.note for s in file.sets}
    return sum(1 for r in read if r.body.note and r.body.note not in notes)


def set_differences(true: TrueSet, got: SetBody) -> list[str]:
    """What differs in one set, remarks of its row aside."""
    load = None if got.load is None else (got.load.value, got.load.unit)
    is_alike = load is None or load[0] == 0 if true.load is None else load == (true.load, true.unit)
    checks = {
        f"load {_load(true)} read as {load and f'{load[0]} {load[1]}'}": is_alike,
        f"{_count(true)} read as {_got_count(got)}": _is_count_alike(true, got),
        f"missed {true.missed} read as {got.missed}": _is_miss_alike(true, got),
        f"side {true.side} read as {got.side}": true.side == got.side,
        f"machine {true.implement} read as {got.implement}": true.implement in (got.implement or ""),
    }
    return [words for words, is_right in checks.items() if not is_right]


def _is_count_alike(true: TrueSet, got: SetBody) -> bool:
    if true.missed:
        return not got.reps and got.seconds is None and got.metres is None
    if true.is_bare_count and got.seconds is None:
        return got.reps == true.seconds
    metres = None if true.metres is None else Decimal(true.metres)
    return (got.reps, got.seconds, got.metres) == (true.reps, true.seconds, metres)


def _is_miss_alike(true: TrueSet, got: SetBody) -> bool:
    if true.missed != "unsaid":
        return true.missed == got.missed
    if got.missed is None:  # a bare 0 means a miss by itself
        return got.reps == 0
    # What stands beside a miss may be taken for its reason.
    is_technique = true.technique == "broke" or true.note in SLIPS
    reasons = {"strength": true.is_failed, "pain": true.pain is not None, "technique": is_technique}
    return got.missed == "unsaid" or reasons.get(got.missed, False)


def _remark_differences(true: Sequence[TrueSet], got: Sequence[SetBody]) -> list[str]:
    """Remarks belong to a row: the last set of it must carry effort, any of it the rest, none of it something else."""
    said = []
    for line in _lines(t.effort_line for t in true):
        at = [n for n, t in enumerate(true) if t.effort_line == line]
        wanted = true[at[-1]].effort
        efforts = [None if (e := got[n].effort) is None else (e.scale, e.value) for n in at]
        if efforts[-1] != wanted or any(e not in (None, wanted) for e in efforts):
            said.append(f"effort {wanted} read as {efforts}")
    for line in _lines(t.line for t in true):
        at = [n for n, t in enumerate(true) if t.line == line]
        said += _row_differences(true[at[-1]], [got[n] for n in at])
    return said


def _row_differences(true: TrueSet, row: Sequence[SetBody]) -> list[str]:
    said = []
    techniques = {g.technique for g in row} - {None}
    if techniques != ({true.technique} if true.technique else set()):
        said.append(f"technique {true.technique} read as {techniques}")
    pains = [g.pain for g in row if g.pain is not None]
    if true.pain is None:
        is_right = not pains
    else:
        score, words = true.pain
        is_right = bool(pains) and all(p.score == score and words.casefold() in p.words.casefold() for p in pains)
    if not is_right:
        said.append(f"pain {true.pain} read as {pains}")
    if true.note and not any(true.note in g.note for g in row):
        said.append(f"note {true.note!r} read as {[g.note for g in row]}")
    return said


def _lines(numbers: Iterable[int]) -> list[int]:
    return list(dict.fromkeys(numbers))


def _by_key(file: MessyFile) -> dict[Key, list[TrueSet]]:
    found: dict[Key, list[TrueSet]] = defaultdict(list)
    for s in file.sets:
        found[s.lifter, s.on, folded_name(s.exercise)].append(s)
    return found


def _read_by_key(read: Sequence[ReadSet]) -> dict[Key, list[SetBody]]:
    found: dict[Key, list[SetBody]] = defaultdict(list)
    for r in read:
        found[r.lifter, r.body.on, folded_name(r.exercise)].append(r.body)
    return found


def _named(key: Key) -> str:
    return f"{key[0]} {key[1].isoformat()} {key[2]}"


def _load(true: TrueSet) -> str:
    return "none" if true.load is None else f"{true.load} {true.unit}"


def _count(true: TrueSet) -> str:
    counts = {"reps": true.reps, "seconds": true.seconds, "metres": true.metres}
    return ", ".join(f"{n} {what}" for what, n in counts.items() if n is not None)


def _got_count(got: SetBody) -> str:
    counts = {"reps": got.reps, "seconds": got.seconds, "metres": got.metres}
    return ", ".join(f"{n} {what}" for what, n in counts.items() if n is not None) or "nothing"


def _briefly(got: Sequence[SetBody]) -> str:
    sets = [f"{g.load and g.load.value}x{_got_count(g)}" for g in got[:4]]
    return f"({'; '.join(sets)}{' ...' if len(got) > 4 else ''})" if sets else ""
