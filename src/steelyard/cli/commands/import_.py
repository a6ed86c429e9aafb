"""`steelyard import`."""

from pathlib import Path

import click

from steelyard.cli.shared import Setting, open_log, shared_options, show

PROBLEMS_SHOWN = 20


@click.command("import")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--lifter", metavar="NAME", help="Whose sets they are, where the file has no lifter column.")
@shared_options
def command(setting: Setting, file: Path, lifter: str | None) -> None:
    """Take in a CSV file, a set a row; read again it adds nothing, with any problem nothing is added.

    The first row names the columns: date, exercise, kg (or lb), reps, and if you have them lifter, RIR, note, pain,
    technique. Dates are year-month-day; three equal rows are three sets; 0 repetitions is a missed lift.

    \b
    Example:
      date,exercise,kg,reps,RIR
      2026-11-02,Bench press,60,8,
      2026-11-02,Bench press,60,8,2
    \b
      steelyard import log.csv --lifter "Ines Falk"
    """
    scribe = open_log(setting)
    from steelyard.cli.progress import Progress
    from steelyard.services.importing import Imported, import_file, problem_text

    def text(answer: Imported, _voice: object) -> str:
        if answer.problems:
            shown = "\n".join(f"  {problem_text(p)}" for p in answer.problems[:PROBLEMS_SHOWN])
            more = len(answer.problems) - PROBLEMS_SHOWN
            rest = f"\n  and {more} more (--json lists all)" if more > 0 else ""
            return f"Nothing was added: {len(answer.problems)} problems in {answer.file}.\n{shown}{rest}"
        return (
            f"{answer.file}: {answer.rows_read} rows read, {answer.entries_added} added, {answer.entries_known} known; "
            f"{', '.join(answer.lifters)}."
        )

    with Progress(file.name) as progress:
        answer = import_file(file, lifter, scribe, progress)
    show(setting, answer, text)
    if answer.problems:
        raise click.exceptions.Exit(1)
