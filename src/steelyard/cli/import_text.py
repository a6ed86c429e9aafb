"""What `import` says: how the file was read, what is new, what is wrong, what must be asked."""

from collections.abc import Iterator

import click

from steelyard.exchange.found import ColumnRead, Question
from steelyard.services.importing import Imported, problem_text
from steelyard.services.naming import NameRead
from steelyard.wording.code_words import code_word
from steelyard.wording.message import spoken, tell, tell_count
from steelyard.wording.quantity import Voice

from .paragraph import wrapped

SHOWN = 20


def import_text(answer: Imported, _voice: Voice) -> str:
    """The whole answer as text."""
    parts = [*_problems(answer), *_questions(answer)] if answer.is_stopped else []
    reading = list(_reading(answer)) if answer.is_dry_run or answer.questions else []
    return "\n".join([*reading, *parts, *_outcome(answer)])


def _reading(answer: Imported) -> Iterator[str]:
    parted = {",": tell("commas"), ";": tell("semicolons"), "\t": tell("tabs"), "|": tell("bars")}.get(answer.separator)
    how = [code_word("file", answer.kind, spoken())]
    how += [answer.encoding.upper()] if answer.encoding else []
    how += [tell("cells parted by {marks}", marks=parted)] if parted else []
    rows = tell_count("{count} row read", "{count} rows read", answer.rows_read)
    yield f"{answer.file}: {', '.join(how)}; {rows}."
    if answer.columns:
        yield click.style(tell("How it was read"), bold=True)
        yield from (line for column in answer.columns for line in _column(column))
    if answer.remembered:
        said = ", ".join(f"{key}={value}" for key, value in answer.remembered.items())
        yield tell("Remembered from a file of this shape: {answers}", answers=said)
    names = [name for name in answer.names if name.how != "exact"]
    if answer.names:
        yield click.style(tell("Exercises"), bold=True)
        exact = len(answer.names) - len(names)
        yield "  " + tell_count("{count} name stands in the catalogue.", "{count} names stand in the catalogue.", exact)
        yield from map(_name, names[:SHOWN])
    if answer.passed_over:
        yield click.style(tell("Passed over"), bold=True)
        for item in answer.passed_over[:SHOWN]:
            where = f"{item.place.sheet} " if item.place.sheet else ""
            yield f"  {where}{tell('row {row}', row=item.place.row)}: {item.value[:60]!r} ({item.why})"
        yield from _more(len(answer.passed_over))


def _column(column: ColumnRead) -> Iterator[str]:
    where = f"{column.sheet}: " if column.sheet else ""
    yield wrapped(f"{where}{column.column or '-'}: {column.how}")
    for written, understood in column.examples[:2]:
        yield f"      {written!r} -> {understood}"


def _name(name: NameRead) -> str:
    also = tell("; else {names}", names=", ".join(name.alternatives)) if name.alternatives else ""
    machine = f" [{name.implement}]" if name.implement else ""
    return f"  {name.written!r} = {name.exercise}{machine} ({_how(name)}){also}"


def _how(name: NameRead) -> str:
    match name.how:
        case "near":
            return tell("score {score}", score=round(name.score))
        case "remembered":
            return tell("confirmed before")
        case "answered":
            return tell("as you said")
        case "own":
            return tell("nothing nearer is known")
        case "left out":
            return tell("left out")
        case _:
            return name.how


def _problems(answer: Imported) -> Iterator[str]:
    if answer.problems:
        count = len(answer.problems)
        yield click.style(tell_count("{count} problem", "{count} problems", count), bold=True)
        yield from (f"  {problem_text(problem)}" for problem in answer.problems[:SHOWN])
        yield from _more(count)


def _questions(answer: Imported) -> Iterator[str]:
    for question in answer.questions:
        yield click.style(question.asks, bold=True)
        yield from (f"    {example}" for example in question.examples)
        yield from _choices(question)


def _choices(question: Question) -> Iterator[str]:
    for choice in question.choices:
        yield f'  --answer "{question.key}={choice.answer}"   {choice.meaning}'
    if not question.choices:
        yield f'  --answer "{question.key}=..."'


def _outcome(answer: Imported) -> Iterator[str]:
    if answer.is_stopped:
        yield _stopped(answer)
        return
    would = answer.is_dry_run
    yield tell("{file}: {counts}; {lifters}.", file=answer.file, counts=_counts(answer), lifters=_lifters(answer))
    yield from (f"  {line}" for line in answer.amended[:SHOWN])
    yield from _more(len(answer.amended))
    if answer.attested:
        yield tell("Recorded: {names} may train by a coach's word, until screened.", names=", ".join(answer.attested))
    for path in answer.files_to_mend:
        yield tell("To be mended and imported again: {path}", path=path)
    if would:
        yield tell("Nothing was added: this was a dry run.")


def _stopped(answer: Imported) -> str:
    if not answer.problems:
        return tell("Nothing was added. Answer with --answer, or at a terminal without it.")
    nothing = tell_count(
        "Nothing was added: {count} problem in {file}.",
        "Nothing was added: {count} problems in {file}.",
        len(answer.problems),
        file=answer.file,
    )
    return f"{nothing} {tell('Mend them, or take in the good rows with --keep-good.')}"


def _lifters(answer: Imported) -> str:
    names = list(answer.lifters[:8])
    rest = len(answer.lifters) - len(names)
    return ", ".join([*names, *([tell("and {count} more", count=rest)] if rest > 0 else [])]) or tell("nobody")


def _counts(answer: Imported) -> str:
    parts = [
        tell_count("{count} row read", "{count} rows read", answer.rows_read),
        tell("{count} added", count=answer.entries_added),
        tell("{count} known", count=answer.entries_known),
    ]
    if answer.entries_amended:
        parts.append(tell("{count} amended", count=answer.entries_amended))
    if answer.entries_withdrawn:
        parts.append(tell("{count} withdrawn", count=answer.entries_withdrawn))
    if answer.entries_held_back:
        parts.append(tell("{count} held back", count=answer.entries_held_back))
    if answer.entries_left_out:
        parts.append(tell("{count} left out", count=answer.entries_left_out))
    if answer.body_masses_added:
        parts.append(tell_count("{count} body mass added", "{count} body masses added", answer.body_masses_added))
    return ", ".join(parts)


def _more(count: int) -> Iterator[str]:
    if count > SHOWN:
        yield "  " + tell("and {count} more (--json lists all)", count=count - SHOWN)
