"""Sets of a file on their exercises; those whose name or load must be asked about wait."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from decimal import Decimal

from msgspec import Struct, structs

from steelyard.engine.log import SetBody
from steelyard.exchange.found import Choice, FoundSet, Question
from steelyard.wording.message import tell, tell_count

from .doubts import EXAMPLES, KEEP, LEAVE_OUT, Held
from .naming import Meaning, Names


class NamedSets(Struct, frozen=True, kw_only=True):
    """Sets on their exercises, those that wait, how many are left out, and what must be asked."""

    named: tuple[FoundSet, ...]
    held: tuple[Held, ...]
    left_out: int
    questions: tuple[Question, ...]


def name_sets(sets: Iterable[FoundSet], names: Names, answers: Mapping[str, str]) -> NamedSets:
    """Put each set on what its written name means."""
    named: list[FoundSet] = []
    held: list[Held] = []
    left_out = 0
    loadless: defaultdict[str, list[FoundSet]] = defaultdict(list)
    for found in sets:
        meaning = names.meanings.get(found.body.as_written)
        if meaning is None:
            held.append(Held(found, tell("which exercise it is must be said first")))
            continue
        answer = KEEP if meaning.exercise is not None else LEAVE_OUT
        item = structs.replace(found, body=_on_exercise(found.body, meaning))
        if _lacks_load(item.body, meaning):
            answer = answers.get(f"no-load:{item.body.as_written}", answers.get("no-load", ""))
        if answer == KEEP:
            named.append(item)
        elif answer == LEAVE_OUT:
            left_out += 1
        else:
            loadless[item.body.as_written].append(item)
            held.append(Held(item, tell("it has no load")))
    questions = tuple(_ask_load(written, rows) for written, rows in loadless.items())
    return NamedSets(named=tuple(named), held=tuple(held), left_out=left_out, questions=questions)


def _on_exercise(body: SetBody, meaning: Meaning) -> SetBody:
    """The set on its exercise, counted as that exercise counts."""
    exercise = meaning.exercise
    if exercise is None:
        return body
    implement = meaning.implement if body.implement is None else body.implement
    changed = structs.replace(body, exercise=exercise.code, implement=implement, side=body.side or meaning.side)
    is_bare = body.reps and body.seconds is None and body.metres is None
    if is_bare and exercise.measure == "seconds":
        return structs.replace(changed, reps=None, seconds=body.reps)
    if is_bare and exercise.measure == "metres":
        return structs.replace(changed, reps=None, metres=Decimal(body.reps or 0))
    return changed


def _lacks_load(body: SetBody, meaning: Meaning) -> bool:
    exercise = meaning.exercise
    if exercise is None or body.load is not None or not body.reps:
        return False
    return exercise.body_mass_share == 0 and exercise.measure == "reps" and exercise.implement != "body-mass"


def _ask_load(written: str, rows: list[FoundSet]) -> Question:
    return Question(
        key=f"no-load:{written}",
        asks=tell_count(
            "{count} set of {written!r} has no load. Was it done without one?",
            "{count} sets of {written!r} have no load. Were they done without one?",
            len(rows),
            written=written,
        ),
        examples=tuple(
            tell("row {row}: {day}, {reps} repetitions", row=f.place.row, day=f.body.on, reps=f.body.reps)
            for f in rows[:EXAMPLES]
        ),
        choices=(
            Choice(KEEP, tell("yes: nothing but the body, or a band")),
            Choice(LEAVE_OUT, tell("take these rows not in")),
        ),
    )
