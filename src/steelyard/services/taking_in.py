"""From what a file says to entries: who is meant, which exercise, what is doubtful, new, corrected or gone."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct, structs

from steelyard.engine.fold import TrainingLog, fold
from steelyard.engine.health import AttestBody
from steelyard.engine.log import CheckInBody, Entry, NamingBody, SetBody, encode_body
from steelyard.exchange.found import FoundBodyMass, FoundSet, Question, Reading
from steelyard.exchange.problems import Problem
from steelyard.store import queries
from steelyard.wording.message import tell
from steelyard.wording.quantity import Voice

from .doubts import Held, doubt
from .file_changes import FileWord, amend_from, ask_vanished
from .known_sets import FreshSet, KnownSets
from .lifters import Lifter
from .named_sets import name_sets
from .naming import NameRead, Names, read_names
from .own_exercises import own_exercise_entry
from .people_in_file import People, people_in_file
from .reconciling import Reconciled, reconcile
from .scribe import Scribe, content_id


class TakenIn(Struct, kw_only=True):
    """Entries that a file leads to, and what was found on the way."""

    entries: list[Entry] = []
    added: int = 0
    known: int = 0
    left_out: int = 0
    masses_added: int = 0
    amended: list[str] = []
    withdrawn: int = 0
    vanished: list[str] = []
    held: list[Held] = []
    people: People
    names: tuple[NameRead, ...] = ()
    confirmed: tuple[NamingBody, ...] = ()
    attested: list[str] = []
    problems: list[Problem] = []
    questions: list[Question] = []


class Taking(Struct, frozen=True, kw_only=True):
    """How a file is taken in: its name, what was answered, who vouches, how to speak."""

    source: str
    lifter: str | None
    answers: Mapping[str, str]
    attested_by: str
    voice: Voice


def take_in(reading: Reading, how: Taking, scribe: Scribe) -> TakenIn:
    """Everything that is to be written for a file, nothing of it written yet."""
    names = read_names((f.body.as_written for f in reading.sets), how.answers, how.voice.language)
    people = people_in_file((*reading.sets, *reading.body_masses), how.lifter, how.answers, scribe)
    out = TakenIn(people=people, names=names.read, confirmed=names.confirmed)
    out.entries += people.entries
    out.questions += [*names.questions, *people.questions]
    out.problems += people.problems
    sets, masses = _by_person(reading, people, out)
    for lifter in {x.person: x for x in people.lifters.values()}.values():
        _take_lifter(lifter, sets[lifter.person], masses[lifter.person], names, how, scribe, out)
    out.questions = merged_questions(out.questions)
    return out


def _by_person(
    reading: Reading, people: People, out: TakenIn
) -> tuple[dict[str, list[FoundSet]], dict[str, list[FoundBodyMass]]]:
    sets: defaultdict[str, list[FoundSet]] = defaultdict(list)
    masses: defaultdict[str, list[FoundBodyMass]] = defaultdict(list)
    for found in reading.sets:
        lifter = people.of(found.lifter)
        if lifter is None:
            out.held.append(Held(found, tell("nobody is named")))
        else:
            sets[lifter.person].append(found)
    for mass in reading.body_masses:
        lifter = people.of(mass.lifter)
        if lifter is not None:
            masses[lifter.person].append(mass)
    return sets, masses


def _take_lifter(
    lifter: Lifter,
    sets: Sequence[FoundSet],
    masses: Sequence[FoundBodyMass],
    names: Names,
    how: Taking,
    scribe: Scribe,
    out: TakenIn,
) -> None:
    stored = queries.entries_of(lifter.person)
    log = fold(stored)
    named = name_sets(sets, names, how.answers)
    doubted = doubt(named.named, [s.body for s in log.sets], how.answers, scribe.today(), how.voice)
    out.left_out += named.left_out + doubted.left_out
    out.held += [*named.held, *doubted.held]
    out.questions += [*named.questions, *doubted.questions]
    bodies = [structs.replace(f.body, source=how.source) for f in doubted.kept]
    result = reconcile(KnownSets(lifter.person, stored), bodies, how.source)
    out.known += result.known
    out.entries += _own_exercises(lifter, bodies, names, log, scribe)
    _add(lifter, result.added, scribe, out)
    _change(lifter, result, log, how, scribe, out)
    _add_masses(lifter, masses, log, stored, scribe, out)
    if how.attested_by and not (log.screenings or log.attests):
        out.entries.append(scribe.entry(lifter.person, AttestBody(on=scribe.today(), by=how.attested_by)))
        out.attested.append(lifter.name)


def _own_exercises(
    lifter: Lifter, bodies: Iterable[SetBody], names: Names, log: TrainingLog, scribe: Scribe
) -> list[Entry]:
    used = {body.exercise for body in bodies} - {own.code for own in log.own_exercises}
    own = {m.own.code: m.own for m in names.meanings.values() if m.own is not None and m.own.code in used}
    return [own_exercise_entry(lifter.person, body, scribe) for body in own.values()]


def _add(lifter: Lifter, added: Iterable[FreshSet], scribe: Scribe, out: TakenIn) -> None:
    for fresh in added:
        out.entries.append(scribe.entry(lifter.person, fresh.body, entry_id=fresh.entry_id))
        out.added += 1


def _change(lifter: Lifter, result: Reconciled, log: TrainingLog, how: Taking, scribe: Scribe, out: TakenIn) -> None:
    word = FileWord(source=how.source, answers=how.answers, voice=how.voice)
    for changes in (
        amend_from(result.changed, lifter, log, word, scribe),
        ask_vanished(result.vanished, lifter, word, scribe),
    ):
        out.entries += changes.entries
        out.amended += changes.amended
        out.withdrawn += changes.withdrawn
        out.vanished += changes.vanished
        out.questions += changes.questions


def _add_masses(
    lifter: Lifter,
    masses: Iterable[FoundBodyMass],
    log: TrainingLog,
    stored: Sequence[Entry],
    scribe: Scribe,
    out: TakenIn,
) -> None:
    ids = {entry.id for entry in stored}
    said = {(c.on, c.body_mass.magnitude) for c in log.check_ins if c.body_mass is not None}
    for mass in masses:
        body = CheckInBody(on=mass.on, body_mass=mass.body_mass)
        entry_id = content_id(lifter.person, mass.on, encode_body(body), 1)
        if entry_id in ids or (mass.on, mass.body_mass.magnitude) in said:
            continue
        ids.add(entry_id)
        out.entries.append(scribe.entry(lifter.person, body, entry_id=entry_id))
        out.masses_added += 1


def merged_questions(questions: Iterable[Question]) -> list[Question]:
    """Questions of several lifters that are one question, with the examples of all."""
    by_key: dict[str, Question] = {}
    counts = Counter(q.key for q in questions)
    for question in questions:
        known = by_key.get(question.key)
        if known is None:
            by_key[question.key] = question
        else:
            by_key[question.key] = structs.replace(
                known,
                asks=f"{known.asks} {question.asks}" if counts[question.key] <= 3 else known.asks,
                examples=(*known.examples, *question.examples),
            )
    return list(by_key.values())
