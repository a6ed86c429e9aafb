"""Take in a file of sets: all of it or nothing, and nothing twice."""

from collections import Counter, defaultdict
from collections.abc import Callable
from pathlib import Path

from msgspec import Struct

from steelyard.catalogue import catalogue
from steelyard.engine.log import Entry, SetBody
from steelyard.exchange.csv_sets import SetRow, read_csv
from steelyard.exchange.problems import Problem
from steelyard.store import queries

from .known_sets import KnownSets, content_of
from .lifters import Lifter, all_lifters, folded, new_lifter
from .scribe import Scribe, content_id


class Imported(Struct, frozen=True, kw_only=True):
    """What became of a file; with any problem nothing was added."""

    file: str
    rows_read: int
    entries_added: int = 0
    entries_known: int = 0
    lifters: tuple[str, ...] = ()
    lifters_added: int = 0
    problems: tuple[Problem, ...] = ()


def import_file(
    path: Path, lifter: str | None, scribe: Scribe, progress: Callable[[int, int], None] = lambda done, total: None
) -> Imported:
    """Add the sets of a file that the log does not hold yet, in one transaction; `progress` hears how far it is."""
    # Reading takes about half of the time, telling new sets from known ones the other half.
    reading = read_csv(path, catalogue(), lifter, lambda done, size: progress(done, 2 * size))
    if reading.problems:
        return Imported(file=path.name, rows_read=reading.rows_read, problems=reading.problems)
    lifters, entries = _people(reading.rows, scribe)
    created = len(entries)
    bodies: defaultdict[str, list[SetBody]] = defaultdict(list)
    for row in reading.rows:
        bodies[folded(row.lifter)].append(row.body)
    done = reading.rows_read
    for name, person in lifters.items():
        entries += _new_sets(person, bodies[name], scribe)
        done += len(bodies[name])
        progress(done, 2 * reading.rows_read)
    added = len(entries) - created
    if entries:
        scribe.write(entries)
    return Imported(
        file=path.name,
        rows_read=reading.rows_read,
        entries_added=added,
        entries_known=reading.rows_read - added,
        lifters=tuple(person.name for person in lifters.values()),
        lifters_added=created,
    )


def _people(rows: tuple[SetRow, ...], scribe: Scribe) -> tuple[dict[str, Lifter], list[Entry]]:
    """The lifter behind each name in the file, and entries for those who are new."""
    known = {folded(lifter.name): lifter for lifter in all_lifters()}
    found: dict[str, Lifter] = {}
    entries: list[Entry] = []
    for row in rows:
        name = folded(row.lifter)
        if name in found:
            continue
        if name in known:
            found[name] = known[name]
        else:
            found[name], entry = new_lifter(row.lifter, scribe)
            entries.append(entry)
    return found, entries


def _new_sets(lifter: Lifter, bodies: list[SetBody], scribe: Scribe) -> list[Entry]:
    """Entries for the sets that are not in the log; equal rows of a day are told apart by their count."""
    known = KnownSets(queries.entries_of(lifter.person))
    wanted: Counter[bytes] = Counter()
    fresh: list[tuple[SetBody, bytes, str]] = []
    for body in bodies:
        content = content_of(body)
        wanted[content] += 1
        entry_id = content_id(lifter.person, body.on, content, wanted[content])
        if not known.take_id(entry_id, content):
            fresh.append((body, content, entry_id))
    # What is in the log as it stands goes before what was amended since.
    fresh = [row for row in fresh if not known.take_current(row[1])]
    fresh = [row for row in fresh if not known.take_amended(row[1])]
    return [scribe.entry(lifter.person, body, entry_id=entry_id) for body, _, entry_id in fresh]


def problem_text(problem: Problem) -> str:
    """A problem as a line for people."""
    where = f"row {problem.row}" if problem.row else "the file"
    column = f", column {problem.column}" if problem.column else ""
    value = f" {problem.value!r}" if problem.value else ""
    return f"{where}{column}:{value} {problem.problem}; {problem.remedy}"
