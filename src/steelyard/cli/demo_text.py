"""What `demo` says: what was taken in, one sheet in full, two in short, and how to go on."""

from datetime import date

from steelyard.services.demo import Demo, DemoFileTaken, DemoShort, FilesWritten
from steelyard.services.sheets import LineShown, SetShown
from steelyard.wording.labels import label, long_date
from steelyard.wording.message import tell
from steelyard.wording.quantity import Voice
from steelyard.wording.say import course_word, lever_word

from .paragraph import INDENT, quiet, strong, wrapped
from .screen import SAID_FIRST, next_text


def demo_text(answer: Demo, voice: Voice, command: str) -> str:
    """The whole demo; `command` is how the program is called on the demo's own log."""
    told = {caution.text for caution in answer.next.cautions}
    told |= {r.text for line in answer.next.lines for r in line.reasons if r.role == "caution"}
    parts = [
        _taken_in(answer),
        wrapped(answer.story, ""),
        next_text(answer.next, Voice(voice.language, "kg")),
        *(_short(short, voice, told) for short in answer.short),
        _go_on(command),
    ]
    return "\n\n".join(parts)


def written_text(answer: FilesWritten, _voice: Voice) -> str:
    """Where the files lie, and what to try with them."""
    lines = [tell("The demo's files lie in {folder}:", folder=answer.folder)]
    lines += [f"{INDENT}{name}" for name in answer.files]
    first = f"{answer.folder.rstrip('/')}/{answer.files[0]}"
    lines.append(tell("Try: {command}", command=f'steelyard import {first} --lifter "Somebody New" --dry-run'))
    return "\n".join(lines)


def _taken_in(answer: Demo) -> str:
    added = sum(file.entries_added for file in answer.files)
    known = sum(file.entries_known for file in answer.files)
    head = tell(
        "A club of {count}, all invented, and its logs as people keep them: {added} sets added, {known} known, "
        "{earliest} to {latest}.",
        count=len(answer.files),
        added=added,
        known=known,
        earliest=answer.earliest,
        latest=answer.latest,
    )
    widest = max(len(file.file) for file in answer.files)
    return "\n".join([wrapped(head, ""), *(_file(file, widest) for file in answer.files)])


def _file(file: DemoFileTaken, widest: int) -> str:
    line = f"{INDENT}{file.file.ljust(widest)}  {file.sets:>4}  {quiet(file.about)}"
    if not file.answers:
        return line
    said = ", ".join(f"{key}={answer}" for key, answer in file.answers.items())
    return f"{line}\n{INDENT}{' ' * (widest + 8)}{quiet(tell('asked and answered: {answers}', answers=said))}"


def _short(short: DemoShort, voice: Voice, told: set[str]) -> str:
    """A sheet in short: what to do and the first reason of each line, cautions that were not said above."""
    own = Voice(voice.language, short.unit)
    title = f"{short.next.lifter} · {long_date(date.fromisoformat(short.next.date), voice.language)}"
    lines = [strong(title), wrapped(short.story), *(_line(line, own) for line in short.next.lines)]
    cautions = [*short.next.cautions, *(r for line in short.next.lines for r in line.reasons if r.role == "caution")]
    fresh = dict.fromkeys(r.text for r in cautions if r.text not in told and r.code not in SAID_FIRST)
    return "\n".join([*lines, *(quiet(wrapped(text)) for text in fresh)])


def _line(line: LineShown, voice: Voice) -> str:
    word = lever_word(line.lever, voice) if line.lever else course_word(line.course, voice)
    work = [planned for planned in line.sets if planned.kind == "work"]
    what = f"{len(work)} × {_count(work[0])} {_load(work[0], voice)}" if work else label("nothing", voice.language)
    why = next((r.text for r in line.reasons if r.role != "caution"), "")
    return f"{INDENT}{strong(line.exercise)}  {what}  [{word}]\n{quiet(wrapped(why, INDENT * 2))}"


def _count(planned: SetShown) -> str:
    if planned.reps is not None:
        return str(planned.reps)
    return f"{planned.seconds} s" if planned.seconds is not None else f"{planned.metres:g} m"


def _load(planned: SetShown, voice: Voice) -> str:
    return f"{label('at', voice.language)} {planned.load_text}" if planned.load_kg else f"({planned.load_text})"


def _go_on(command: str) -> str:
    tries = (
        ("lifter", tell("who they are")),
        ('next "Odile Marchetti"', tell("anybody's next session")),
        ('why bench --lifter "Ines Falk"', tell("every reason, every source")),
    )
    widest = max(len(typed) for typed, _ in tries)
    lines = [f"{INDENT}{typed.ljust(widest)}  {quiet(why)}" for typed, why in tries]
    head = tell("Go on with `{command}` and", command=command)
    files = tell("`steelyard demo --files club` writes the eight files, for `steelyard import --dry-run`.")
    return "\n".join([head, *lines, files])
