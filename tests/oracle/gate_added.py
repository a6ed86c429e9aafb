"""One more entry in a log, and whether the advice became bolder although it opens no gate."""

from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal
from functools import cache
from random import Random

import msgspec
from tests.builders import entry, entry_id, hlc_at

from steelyard.engine.body import Body
from steelyard.engine.equipment import ASSUMED
from steelyard.engine.exercises import Catalogue
from steelyard.engine.log import (
    CheckInBody,
    Entry,
    EquipmentBody,
    FileAnswersBody,
    NamingBody,
    OwnExerciseBody,
    PolicyBody,
    SetBody,
    TrainedAsWrittenBody,
)
from steelyard.engine.planning import plan_session
from steelyard.engine.quantities import kg
from steelyard.engine.sheet import Sheet

from .gate_bolder import bolder
from .gate_closed import Left, left_by
from .gate_entries import HEALTH, a_gate_setting, words
from .gate_judge import Breach, Judge
from .gate_law_lines import Law
from .gate_logs import GateCase, a_second_thought, known_exercises

LATEST = 900_000


@dataclass(frozen=True)
class Addition:
    """An entry, and whether it says what was lifted or sets the coach's own numbers: those move "the last time"."""

    kind: str
    entry: Entry
    moves_the_line: bool = False


@dataclass(frozen=True)
class Compared:
    """What came of it: compared or not and why, what was bolder, what the page forbids of the second sheet."""

    state: str
    bolder: tuple[tuple[str, str], ...]
    breaches: tuple[Breach, ...]


@cache
def exercises() -> Catalogue:
    """The catalogue of all cases."""
    return known_exercises()


def sheet_of(case: GateCase) -> Sheet:
    """What the engine says to a case."""
    return plan_session(case.log, exercises(), case.equipment, case.request)


def breaches_of(case: GateCase, sheet: Sheet) -> list[Breach]:
    """What the judge says to a sheet."""
    return Judge(case.log, exercises(), case.request, sheet, case.equipment).breaches()


def an_addition(seed: int, nth: int, case: GateCase) -> Addition:
    """One more entry of any kind, out of a seed; it may come late and carry an old stamp."""
    chance = Random(f"added {seed} {nth}")
    stamp = {"id": entry_id(LATEST), "hlc": hlc_at(chance.choice((1, LATEST)))}
    drawn = chance.random()
    told = tuple(e for e in case.entries if e.kind not in {"set", "tombstone"})
    if drawn < 0.12 and told:
        thought = a_second_thought(chance, told, LATEST)
        kind = next(e.kind for e in told if e.id in thought.replaces)
        # What a coach set stricter by their own choice, and takes back, is no gate.
        return Addition(f"second thought on {kind}", thought, kind in {"overrule", "policy"})
    if drawn < 0.2:
        later = entry(b'{"anything":true}', kind=chance.choice(("set", "clearance", "novel")), schema=9, **stamp)  # type: ignore[arg-type]  # two names of entry()
        return Addition("of another version", later)
    if drawn < 0.7:
        body: Body = chance.choice(HEALTH)(chance, case.request.on, case.codes)
        return Addition(type(body).__name__, entry(body, **stamp))  # type: ignore[arg-type]  # two names of entry()
    body, moves = _something_else(chance, case)
    return Addition(type(body).__name__, entry(body, **stamp), moves)  # type: ignore[arg-type]  # two names of entry()


def _something_else(chance: Random, case: GateCase) -> tuple[Body, bool]:
    """An entry that is not about health, and whether it moves what "the last time" is."""
    on, codes = case.request.on, case.codes
    past = [s.body for s in case.log.sets] or [SetBody(on=on, exercise=codes[0], load=kg(20), reps=8)]
    again = msgspec.structs.replace(chance.choice(past), on=on - timedelta(chance.randint(0, 9)), pain=None, note="")
    heavier = msgspec.structs.replace(again, load=kg(chance.randint(1, 200)), reps=chance.randint(1, 15))
    number = chance.choice(("target_rir", "weekly_ceiling", "step_ceiling", "ease_after_misses"))
    numbers = {"target_rir": "0", "weekly_ceiling": "0.05", "step_ceiling": "0.10", "ease_after_misses": "0.05"}
    choices: list[tuple[Body, bool]] = [
        (heavier, True),
        (TrainedAsWrittenBody(earliest=on - timedelta(chance.randint(1, 80)), until=on, by="coach"), True),
        (CheckInBody(on=on - timedelta(chance.randint(0, 3)), body_mass=kg(chance.choice((10, 40, 80, 300)))), True),
        (PolicyBody(on=on - timedelta(chance.randint(0, 3)), changes={number: numbers[number]}), True),
        (a_gate_setting(chance, on, codes), False),
        (msgspec.structs.replace(again, missed="not-done", note=words(chance)), False),
        (EquipmentBody(place="", equipment=ASSUMED, alone="no", safeties="yes"), False),
        (OwnExerciseBody(code="odd", name="Odd", parent=codes[0]), False),
        (NamingBody(written="Odd", exercise=codes[0]), False),
        (FileAnswersBody(layout="odd", answers={"unit": "kg"}), False),
        (CheckInBody(on=on, note=words(chance, 0), blood_pressure=None, fever=None), False),
        (PolicyBody(on=on, changes={"moderate_rir": str(Decimal(5))}), False),
    ]
    return chance.choice(choices)


def lefts(case: GateCase, sheet: Sheet) -> dict[str, tuple[Left, bool]]:
    """What gates leave of each line, and whether the page can be read one way only."""
    law = Law(case.log, exercises(), case.request)
    return {
        line.exercise: (left_by(closed), all(c.sure for c in closed))
        for line in sheet.lines
        for closed in (law.of(line.exercise),)
    }


def compared(case: GateCase, addition: Addition) -> Compared:
    """The sheet before and after an entry; bolder counts only where something is closed and stays as closed."""
    after_case = case.plus(addition.entry)
    before, after = sheet_of(case), sheet_of(after_case)
    breaches = tuple(breaches_of(after_case, after))
    if addition.moves_the_line:
        return Compared("moves the line", (), breaches)
    was, now = lefts(case, before), lefts(after_case, after)
    closed = {code for code, (left, _) in was.items() if not left.is_everything}
    if not closed:
        return Compared("nothing closed", (), breaches)
    kept = {
        code
        for code in closed & now.keys()
        if was[code][1]
        and now[code][1]
        and now[code][0].is_no_bolder_than(was[code][0])
        # Fewest repetitions a set are a floor: raising it is to bring more of them.
        and now[code][0].repetitions == was[code][0].repetitions
    }
    if not kept:
        return Compared("opens something", (), breaches)
    return Compared("compared", tuple(pair for pair in bolder(before, after) if pair[0] in kept), breaches)
