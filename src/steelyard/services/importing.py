"""Take in a file of sets as people keep them: shown, asked about, all of it or what is good, never twice."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from msgspec import Struct, field, structs

from steelyard.catalogue import catalogue
from steelyard.catalogue.matching import looks_like_exercise
from steelyard.engine.fold import fold
from steelyard.engine.log import THE_HOUSE, Entry, FileAnswersBody
from steelyard.engine.quantities import Unit
from steelyard.exchange.found import ColumnRead, PassedOver, Question, Reading
from steelyard.exchange.grid import FileRefused, Opened
from steelyard.exchange.mend_file import write_mend_files
from steelyard.exchange.opening import open_file
from steelyard.exchange.problems import Problem
from steelyard.exchange.reading import read_grids
from steelyard.store import queries
from steelyard.wording.message import tell
from steelyard.wording.outside_errors import tell_system_error
from steelyard.wording.quantity import Voice

from .naming import NameRead
from .person_file import is_person_file, read_person_file
from .person_file import take_in as take_in_person
from .refusal import Refused
from .scribe import Scribe
from .taking_in import TakenIn, Taking, take_in

# Questions of these kinds are about rows: the good ones need not wait for them.
ABOUT_ROWS = frozenset({
    "start-of-weeks", "year", "year-of-weeks", "date", "days-of-week", "lifter", "name", "names", "vanished",
    "amended-by-hand", "no-load", "future-day", "lone-day", "tenfold", "tenth", "far-above", "many-repetitions",
})  # fmt: skip
# Answers of these kinds hold for one file; all others are about its layout and are remembered for the club.
FOR_ONE_FILE = ABOUT_ROWS | {"sheet"}
# How far each step brings it, roughly: opening, reading, telling new sets from known ones.
OPENED, READ, ALL = 100, 600, 1000
Told = Callable[[int, int], None]


class ImportOptions(Struct, frozen=True, kw_only=True):
    """How a file is to be taken in; answers go by the keys of questions."""

    lifter: str | None = None
    answers: dict[str, str] = field(default_factory=dict)
    unit: Unit | None = None
    is_dry_run: bool = False
    keep_good: bool = False
    mend_to: Path | None = None
    attested_by: str = ""


class Imported(Struct, frozen=True, kw_only=True):
    """What became of a file, or would become of it; with an open question or a problem nothing is added."""

    file: str
    kind: str = ""
    encoding: str = ""
    separator: str = ""
    is_dry_run: bool = False
    rows_read: int = 0
    entries_added: int = 0
    entries_known: int = 0
    entries_amended: int = 0
    entries_withdrawn: int = 0
    entries_held_back: int = 0
    entries_left_out: int = 0
    body_masses_added: int = 0
    lifters: tuple[str, ...] = ()
    lifters_added: int = 0
    attested: tuple[str, ...] = ()
    columns: tuple[ColumnRead, ...] = ()
    names: tuple[NameRead, ...] = ()
    amended: tuple[str, ...] = ()
    vanished: tuple[str, ...] = ()
    passed_over: tuple[PassedOver, ...] = ()
    problems: tuple[Problem, ...] = ()
    questions: tuple[Question, ...] = ()
    remembered: dict[str, str] = field(default_factory=dict)
    files_to_mend: tuple[str, ...] = ()

    @property
    def is_stopped(self) -> bool:
        """Whether something must be said or mended before anything is taken in."""
        return bool(self.problems or self.questions) and not self.files_to_mend


def import_file(
    path: Path, options: ImportOptions, voice: Voice, scribe: Scribe, progress: Told = lambda done, total: None
) -> Imported:
    """Add what the log does not hold yet, in one transaction; `progress` hears how far it is."""
    if path.is_file() and is_person_file(path):
        return _import_person(path, options, scribe)
    try:
        opened = open_file(path, _part(progress, 0, OPENED))
    except FileRefused as refused:
        return Imported(file=path.name, is_dry_run=options.is_dry_run, problems=(refused.problem,))
    reading, remembered = read_as_before(opened, options, scribe, _part(progress, OPENED, READ))
    good = without_bad_rows(reading) if options.keep_good else reading
    answers = {**remembered, **options.answers}
    how = Taking(source=path.name, lifter=options.lifter, answers=answers, attested_by=options.attested_by, voice=voice)
    taken = take_in(good, how, scribe)
    answer = _answer(path, opened, reading, taken, options, remembered)
    if is_held_up(answer.problems, answer.questions, keep_good=options.keep_good):
        return answer if options.is_dry_run else _nothing_added(answer)
    if not options.is_dry_run:
        scribe.write([*taken.entries, *_to_remember(reading, taken, options.answers, scribe)])
        answer = structs.replace(answer, files_to_mend=_write_rest(opened, reading, taken, options))
    progress(ALL, ALL)
    return answer


def _import_person(path: Path, options: ImportOptions, scribe: Scribe) -> Imported:
    """One person's whole log, as another Steelyard gave it away."""
    content = read_person_file(path)
    here = {entry.id for entry in queries.entries_of(content.person)}
    known = sum(entry.id in here for entry in content.entries)
    answer = Imported(
        file=path.name,
        kind=tell("one person's log"),
        is_dry_run=options.is_dry_run,
        rows_read=len(content.entries),
        entries_added=len(content.entries) - known,
        entries_known=known,
        lifters=(content.name,),
        lifters_added=int(not here),
    )
    if not options.is_dry_run:
        taken = take_in_person(path, scribe)
        answer = structs.replace(answer, entries_added=taken.entries_added, entries_known=taken.entries_known)
    return answer


def _nothing_added(answer: Imported) -> Imported:
    """The same answer where something must be said or mended first."""
    return structs.replace(
        answer,
        entries_added=0,
        entries_amended=0,
        entries_withdrawn=0,
        body_masses_added=0,
        lifters_added=0,
        attested=(),
    )


def read_as_before(
    opened: Opened, options: ImportOptions, scribe: Scribe, told: Told
) -> tuple[Reading, dict[str, str]]:
    """The reading; where questions are open, once more with what the club answered about this layout before."""

    def read(answers: Mapping[str, str]) -> Reading:
        return read_grids(
            opened,
            lifter=options.lifter,
            answers=answers,
            is_exercise=lambda text: looks_like_exercise(text, catalogue()),
            today=scribe.today(),
            unit=options.unit,
            progress=told,
        )

    reading = read(options.answers)
    known = {q.key for q in reading.questions}
    remembered = {k: a for k, a in _remembered(reading.layout).items() if k in known}
    return (read({**remembered, **options.answers}), remembered) if remembered else (reading, {})


def _remembered(layout: str) -> dict[str, str]:
    answers: dict[str, str] = {}
    for body in fold(queries.entries_of(THE_HOUSE)).file_answers:
        if body.layout == layout:
            answers |= body.answers
    return answers


def _to_remember(reading: Reading, taken: TakenIn, answers: Mapping[str, str], scribe: Scribe) -> list[Entry]:
    """What was confirmed about names and about files of this layout, for the whole club."""
    lasting = {k: a for k, a in answers.items() if k.partition(":")[0] not in FOR_ONE_FILE}
    entries = [scribe.entry(THE_HOUSE, naming) for naming in taken.confirmed]
    if lasting and lasting != _remembered(reading.layout):
        entries.append(scribe.entry(THE_HOUSE, FileAnswersBody(layout=reading.layout, answers=lasting)))
    return entries


def without_bad_rows(reading: Reading) -> Reading:
    """Without anything from rows that have a problem."""
    bad = {(p.sheet, p.row) for p in reading.problems}
    return structs.replace(
        reading,
        sets=tuple(s for s in reading.sets if (s.place.sheet, s.place.row) not in bad),
        body_masses=tuple(m for m in reading.body_masses if (m.place.sheet, m.place.row) not in bad),
    )


def is_held_up(problems: Sequence[Problem], questions: Sequence[Question], *, keep_good: bool) -> bool:
    """Whether nothing may be taken in: problems or questions, of which good rows can wait for the rest only."""
    if not keep_good:
        return bool(problems or questions)
    is_about_rows = all(q.key.partition(":")[0] in ABOUT_ROWS for q in questions)
    is_whole_file = any(p.row == 0 for p in problems)
    return is_whole_file or not is_about_rows


def _write_rest(opened: Opened, reading: Reading, taken: TakenIn, options: ImportOptions) -> tuple[str, ...]:
    why: dict[tuple[str, int], str] = {}
    for held in taken.held:
        why.setdefault((held.found.place.sheet, held.found.place.row), held.why)
    for problem in (*reading.problems, *taken.problems):
        why[problem.sheet, problem.row] = f"{problem.column}: {problem.problem}; {problem.remedy}"
    if not why or options.mend_to is None:
        return ()
    places = [*(s.place for s in reading.sets), *(m.place for m in reading.body_masses)]
    full = {(place.sheet, place.row) for place in places} - why.keys()
    try:
        return write_mend_files(opened, reading.columns, full, why, options.mend_to)
    except OSError as refused:
        said = tell("cannot write {path}: {reason}", path=options.mend_to, reason=tell_system_error(refused))
        raise Refused(said, tell("The good rows are kept; say another place with --mend-to")) from refused


def _answer(
    path: Path,
    opened: Opened,
    reading: Reading,
    taken: TakenIn,
    options: ImportOptions,
    remembered: dict[str, str],
) -> Imported:
    return Imported(
        file=path.name,
        kind=opened.kind,
        encoding=opened.encoding,
        separator=opened.separator,
        is_dry_run=options.is_dry_run,
        rows_read=reading.rows_read,
        entries_added=taken.added,
        entries_known=taken.known,
        entries_amended=len(taken.amended),
        entries_withdrawn=taken.withdrawn,
        entries_held_back=len(taken.held),
        entries_left_out=taken.left_out,
        body_masses_added=taken.masses_added,
        lifters=tuple(dict.fromkeys(x.name for x in taken.people.lifters.values())),
        lifters_added=len(taken.people.entries),
        attested=tuple(taken.attested),
        columns=reading.columns,
        names=taken.names,
        amended=tuple(taken.amended),
        vanished=tuple(taken.vanished),
        passed_over=reading.passed_over,
        problems=(*reading.problems, *taken.problems),
        questions=(*reading.questions, *taken.questions),
        remembered=remembered,
    )


def _part(progress: Told, begin: int, end: int) -> Told:
    """The progress of one step as a part of the whole."""
    return lambda done, total: progress(begin + (end - begin) * min(done, total) // max(total, 1), ALL)


def problem_text(problem: Problem) -> str:
    """A problem as a line for people."""
    sheet = tell("sheet {sheet}, ", sheet=problem.sheet) if problem.sheet else ""
    where = sheet + (tell("row {row}", row=problem.row) if problem.row else tell("the file"))
    column = tell(", column {column}", column=problem.column) if problem.column else ""
    value = f" {problem.value!r}" if problem.value else ""
    return f"{where}{column}:{value} {problem.problem}; {problem.remedy}"
