"""The logs that a file holds, read as `import` reads it; nothing is stored, and what the log holds is not mixed in."""

from collections.abc import Sequence
from pathlib import Path
from typing import TypeVar

from msgspec import Struct

from steelyard.engine.fold import LoggedSet, TrainingLog, fold
from steelyard.engine.log import CheckInBody, SetBody
from steelyard.exchange.found import FoundBodyMass, FoundSet, Question
from steelyard.exchange.grid import FileRefused
from steelyard.exchange.opening import open_file
from steelyard.wording.message import tell, tell_count
from steelyard.wording.quantity import Voice

from .doubts import doubt
from .importing import ImportOptions, Told, is_held_up, problem_text, read_as_before, without_bad_rows
from .lifters import folded
from .named_sets import name_sets
from .naming import Names, read_names
from .person_file import is_person_file, read_person_file
from .refusal import Refused
from .scribe import Scribe
from .taking_in import merged_questions

SHOWN = 3
Found = TypeVar("Found", FoundSet, FoundBodyMass)


class NamedLog(Struct, frozen=True):
    """A log and whose it is."""

    name: str
    log: TrainingLog


def logs_in_file(path: Path, options: ImportOptions, voice: Voice, scribe: Scribe, progress: Told) -> list[NamedLog]:
    """Everybody's log in a file, by name. Raises Refused where something must be said or mended first."""
    if is_person_file(path):
        content = read_person_file(path)
        return [NamedLog(content.name, fold(content.entries))]
    try:
        opened = open_file(path, lambda done, total: None)
    except FileRefused as refused:
        raise Refused(problem_text(refused.problem)) from refused
    reading, remembered = read_as_before(opened, options, scribe, progress)
    good = without_bad_rows(reading) if options.keep_good else reading
    if is_held_up(reading.problems, (), keep_good=options.keep_good):
        raise Refused(_more_of([problem_text(p) for p in reading.problems]), _look(path))
    answers = {**remembered, **options.answers}
    names = read_names((f.body.as_written for f in good.sets), answers, voice.language)
    questions = [*reading.questions, *names.questions]
    logs: list[NamedLog] = []
    masses = _by_name(good.body_masses, options.lifter)
    for name, found in _by_name(good.sets, options.lifter).items():
        named = name_sets(found[1], names, answers)
        doubted = doubt(named.named, (), answers, scribe.today(), voice)
        questions += [*named.questions, *doubted.questions]
        logs.append(NamedLog(found[0], _log([f.body for f in doubted.kept], masses.get(name, ("", []))[1], names)))
    if is_held_up((), questions, keep_good=options.keep_good):
        raise Refused(_more_of([_asked(q) for q in merged_questions(questions)]), _look(path))
    return sorted(logs, key=lambda n: n.name.casefold())


def _by_name(found: Sequence[Found], default: str | None) -> dict[str, tuple[str, list[Found]]]:
    by_name: dict[str, tuple[str, list[Found]]] = {}
    for item in found:
        written = item.lifter or default or ""
        by_name.setdefault(folded(written), (written, []))[1].append(item)
    return by_name


def _log(bodies: Sequence[SetBody], masses: Sequence[FoundBodyMass], names: Names) -> TrainingLog:
    used = {body.exercise for body in bodies}
    own = {m.own.code: m.own for m in names.meanings.values() if m.own is not None and m.own.code in used}
    ordered = sorted(bodies, key=lambda b: (b.on, b.session))
    return TrainingLog(
        sets=tuple(LoggedSet(f"set-{number}", body) for number, body in enumerate(ordered)),
        check_ins=tuple(CheckInBody(on=m.on, body_mass=m.body_mass) for m in masses),
        own_exercises=tuple(own.values()),
    )


def _asked(question: Question) -> str:
    choices = tell(" or ").join(f'"{question.key}={c.answer}"' for c in question.choices)
    return f"{question.asks} --answer {choices or repr(question.key + '=...')}"


def _more_of(said: Sequence[str]) -> str:
    rest = len(said) - SHOWN
    more = [tell_count("and {count} more", "and {count} more", rest)] if rest > 0 else []
    return "; ".join([*said[:SHOWN], *more])


def _look(path: Path) -> str:
    return tell(
        "`steelyard import {file} --dry-run` shows all of it; or leave such rows out with --keep-good", file=path
    )
