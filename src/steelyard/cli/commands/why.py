"""`steelyard why`."""

from datetime import date

import click

from steelyard.cli.shared import Day, Setting, for_lifter, open_log, shared_options, show


@click.command("why")
@click.argument("exercise", required=False)
@click.option("--lifter", metavar="NAME", help="Whose sheet.")
@click.option("--on", type=Day(), help="The sheet of that day instead of the latest.")
@shared_options
def command(setting: Setting, exercise: str | None, lifter: str | None, on: date | None) -> None:
    """Every reason behind a line that was shown, or that would be: drivers, limits, what was not taken, sources.

    \b
    Examples:
      steelyard why bench
      steelyard why squat --lifter "Ines Falk" --on 2026-09-28
    """
    scribe = open_log(setting)
    from steelyard.cli.why_text import why_text
    from steelyard.services.explaining import why

    setting = for_lifter(setting, lifter)
    show(setting, why(lifter, exercise, on, setting.voice, scribe), why_text)
