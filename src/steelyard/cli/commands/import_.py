"""`steelyard import`."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from steelyard.cli.answers import read_answers
from steelyard.cli.shared import Setting, open_log, shared_options, show
from steelyard.wording.message import tell

if TYPE_CHECKING:
    from steelyard.exchange.found import Question


@click.command("import")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--lifter", metavar="NAME", help="Whose sets they are, where the file names nobody.")
@click.option("--dry-run", is_flag=True, help="Only show how the file is read and what would be added.")
@click.option("--answer", "answers", metavar="KEY=ANSWER", multiple=True, help="Answer a question; may be repeated.")
@click.option("--keep-good", is_flag=True, help="Take in what is good; the other rows go to a file to be mended.")
@click.option("--mend-to", type=click.Path(dir_okay=False, path_type=Path), help="Where rows to be mended go.")
@click.option("--attest", metavar="NAME", help="A coach's recorded word that these lifters may train.")
@shared_options
def command(
    setting: Setting,
    file: Path,
    lifter: str | None,
    dry_run: bool,
    answers: tuple[str, ...],
    keep_good: bool,
    mend_to: Path | None,
    attest: str | None,
) -> None:
    """Take in a training log as it was kept: CSV, XLSX, ODS, text or JSON lines, of any shape.

    How each column was read is shown; what cannot be known from the file is asked, and the answer is remembered for
    the next file of that shape. With an open question or a problem nothing is added. Read again, a file adds nothing;
    corrected, it amends what it brought before.

    \b
    Examples:
      steelyard import log.csv --dry-run
      steelyard import log.xlsx --lifter "Ines Falk"
      steelyard import squad.csv --answer "date-order:Day=day-first" --attest "Coach Berg"
    """
    scribe = open_log(setting)
    from steelyard.cli.import_text import import_text
    from steelyard.cli.progress import Progress
    from steelyard.services.importing import Imported, ImportOptions, import_file

    def run(said: dict[str, str]) -> Imported:
        options = ImportOptions(
            lifter=lifter,
            answers=said,
            is_dry_run=dry_run,
            keep_good=keep_good,
            mend_to=mend_to or Path(f"{file.stem}.to-mend.csv"),
            attested_by=attest or "",
        )
        with Progress(file.name) as progress:
            return import_file(file, options, setting.voice, scribe, progress)

    said = read_answers(answers)
    answer = run(said)
    while _may_ask(setting, answer, dry_run=dry_run):
        said |= {question.key: _ask(question) for question in answer.questions}
        answer = run(said)
    show(setting, answer, import_text)
    if answer.is_stopped and not dry_run:
        raise click.exceptions.Exit(1)


def _may_ask(setting: Setting, answer: Any, *, dry_run: bool) -> bool:
    """Whether somebody sits at the terminal who can answer; problems come first, since answers would be in vain."""
    is_terminal = sys.stdin.isatty() and sys.stdout.isatty()
    return bool(answer.questions) and not answer.problems and is_terminal and not setting.is_json and not dry_run


def _ask(question: "Question") -> str:
    """Ask one question at the terminal; a choice may be given by its number."""
    click.echo("\n" + click.style(question.asks, bold=True))
    for example in question.examples:
        click.echo(f"    {example}")
    for number, choice in enumerate(question.choices, start=1):
        click.echo(f"  {number}  {choice.answer}: {choice.meaning}")
    given: str = click.prompt(tell("Your answer")).strip()
    if given.isdigit() and 1 <= int(given) <= len(question.choices):
        return question.choices[int(given) - 1].answer
    return given
