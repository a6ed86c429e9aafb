"""`steelyard strength`."""

from datetime import date

import click

from steelyard.cli.shared import Day, Setting, for_lifter, open_log, shared_options, show
from steelyard.wording.message import tell


@click.command("strength")
@click.argument("lifter", required=False)
@click.option("--exercise", metavar="NAME", help="Only this exercise, with a picture of its course.")
@click.option("--on", type=Day(), metavar="DATE", help="As it was believed on that day (else today).")
@click.option("--all", "is_all", is_flag=True, help="Exercises not trained for twelve weeks too.")
@shared_options
def command(setting: Setting, lifter: str | None, exercise: str | None, on: date | None, is_all: bool) -> None:
    """How strong today in each exercise, how sure that is, and whether it rises.

    From every set: what was done, what was left in reserve, what was missed. A range, since one day differs from the
    next; estimated, not tested.

    \b
    Examples:
      steelyard strength
      steelyard strength "Ines Falk" --exercise squat
      steelyard strength --on 2026-06-01 --json
    """
    scribe = open_log(setting)
    from steelyard.cli.progress import Progress
    from steelyard.cli.strength_text import strength_text
    from steelyard.services.strength_shown import show_strength

    setting = for_lifter(setting, lifter)
    with Progress(tell("reading the log")) as progress:
        answer = show_strength(lifter, exercise, on, setting.voice, scribe, is_all=is_all, told=progress)
    is_pictured = exercise is not None
    show(setting, answer, lambda shown, voice: strength_text(shown, voice, is_pictured=is_pictured))
