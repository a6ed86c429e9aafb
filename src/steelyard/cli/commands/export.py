"""`steelyard export`."""

from pathlib import Path

import click

from steelyard.cli.shared import Setting, open_log, refuse, shared_options
from steelyard.wording.message import tell, tell_count
from steelyard.wording.outside_errors import tell_system_error


@click.command("export")
@click.argument("lifter", required=False)
@click.option("--format", "form", type=click.Choice(["jsonl", "csv"]), default="jsonl", show_default=True)
@click.option(
    "--out", type=click.Path(dir_okay=False, path_type=Path), help="Into this new file instead of the screen."
)
@shared_options
def command(setting: Setting, lifter: str | None, form: str, out: Path | None) -> None:
    """Every set in an open format: JSON lines of everybody or one lifter, or CSV of one lifter that `import` reads.

    \b
    Examples:
      steelyard export --format jsonl > sets.jsonl
      steelyard export "Ines Falk" --format csv --out ines.csv
    """
    open_log(setting)
    from steelyard.services.past import export_lines

    lines = export_lines(lifter, "jsonl" if setting.is_json else form)
    if out is None:
        for line in lines:
            click.echo(line, nl=False)
        return
    text = list(lines)
    try:
        with out.open("x", encoding="utf-8", newline="") as file:
            file.writelines(text)
    except FileExistsError:
        refuse(setting, tell("{file} exists already", file=out), tell("Give another name with --out"))
    except OSError as refused:
        refuse(
            setting,
            tell("cannot write {file}: {problem}", file=out, problem=tell_system_error(refused)),
            tell("Give another place with --out"),
        )
    if not setting.is_json:
        click.echo(tell_count("{count} line in {file}.", "{count} lines in {file}.", len(text), file=out))
