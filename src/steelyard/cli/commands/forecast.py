"""`steelyard forecast`."""

import re
from datetime import date
from typing import TYPE_CHECKING

import click

from steelyard.cli.masses import mass
from steelyard.cli.shared import Day, Setting, for_lifter, open_log, shared_options, show
from steelyard.wording.message import tell
from steelyard.wording.quantity import Voice

if TYPE_CHECKING:
    from steelyard.engine.quantities import Load


@click.command("forecast")
@click.argument("lifter")
@click.argument("exercise")
@click.option("--load", metavar="LOAD", help="How many repetitions to expect at this load, such as 80kg.")
@click.option("--line", metavar="SETSxREPS", help="The chance to complete such a line at the load, such as 3x5.")
@click.option(
    "--reserve", default=0, show_default=True, type=click.IntRange(0, 10), help="Left in reserve in each set."
)
@click.option("--goal", metavar="LOAD", help="When to expect this load for one repetition.")
@click.option("--on", type=Day(), metavar="DATE", help="As it was believed on that day (else today).")
@shared_options
def command(
    setting: Setting,
    lifter: str,
    exercise: str,
    load: str | None,
    line: str | None,
    reserve: int,
    goal: str | None,
    on: date | None,
) -> None:
    """What to expect of an exercise: repetitions at a load, a line, a level in weeks, a goal.

    Ranges, not promises: they hold if training goes on as it did. What to do next is for `steelyard next`.

    \b
    Examples:
      steelyard forecast "Ines Falk" squat
      steelyard forecast "Ines Falk" squat --load 80kg --line 3x5 --reserve 2
      steelyard forecast "Ines Falk" bench --goal 70kg
    """
    scribe = open_log(setting)
    from steelyard.cli.progress import Progress
    from steelyard.cli.strength_text import forecast_text
    from steelyard.services.strength_shown import ForecastAsked, show_forecast

    setting = for_lifter(setting, lifter)
    sets, repetitions = _line(line) if line is not None else (1, None)
    if line is not None and load is None:
        raise click.UsageError(tell("--line needs a --load, such as --load 80kg"))
    asked = ForecastAsked(
        name=lifter,
        exercise=exercise,
        on=on,
        load=_load(load, setting.voice) if load is not None else None,
        sets=sets,
        repetitions=repetitions,
        reserve=reserve,
        goal=_load(goal, setting.voice) if goal is not None else None,
    )
    with Progress(tell("reading the log")) as progress:
        answer = show_forecast(asked, setting.voice, scribe, progress)
    show(setting, answer, forecast_text)


def _load(text: str, voice: Voice) -> "Load":
    """A load; less than nothing is help, as an assisted chin-up has it."""
    from steelyard.engine.quantities import Load

    if not text.strip().startswith("-"):
        return mass(text, voice.unit)
    help_given = mass(text.strip().removeprefix("-"), voice.unit)
    return Load(-help_given.value, help_given.unit)


def _line(text: str) -> tuple[int, int]:
    match = re.fullmatch(r"\s*(\d{1,2})\s*[x×]\s*(\d{1,2})\s*", text)
    if match is None or not (1 <= int(match[1]) <= 20 and 1 <= int(match[2]) <= 50):
        raise click.UsageError(tell("{text!r} is no line; write sets x repetitions, such as 3x5", text=text))
    return int(match[1]), int(match[2])
