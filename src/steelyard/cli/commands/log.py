"""`steelyard log`."""

from datetime import date
from decimal import Decimal

import click

from steelyard.cli.shared import Day, Setting, for_lifter, open_log, shared_options, show


@click.command("log", context_settings={"ignore_unknown_options": True})
@click.argument("words", nargs=-1, required=True)
@click.option("--lifter", metavar="NAME", help="Who lifted; a new name is taken in.")
@click.option("--new", "is_new", is_flag=True, help="The lifter is new, though the name looks like a known one.")
@click.option("--on", type=Day(), help="On that day instead of today.")
@shared_options
def command(setting: Setting, words: tuple[str, ...], lifter: str | None, is_new: bool, on: date | None) -> None:
    """Keep what was lifted, as one line; when this returns it is on the disk.

    Exercise, sets, load, then words: rir or rpe (of the last set), pain, technique good/rough/broke, missed, tempo,
    left, right, each, rest, pair, machine, top, back-off, warm-up, ramp, on DATE, and note last.

    \b
    Examples:
      steelyard log bench 3x8 @ 62.5kg rir 2
      steelyard log squat 5,5,4 @ 100kg technique rough note knees in on the last
      steelyard log pull-up 3x6 @ +10kg
      steelyard log plank 3x45s
      steelyard log "overhead press 0 @ 42.5kg missed strength"
      steelyard log body mass 81.5kg
    """
    scribe = open_log(setting)
    setting = for_lifter(setting, lifter)
    from steelyard.services.set_logging import Logged, log_line

    def text(answer: Logged, _voice: object) -> str:
        from steelyard.cli.paragraph import wrapped
        from steelyard.cli.past_text import set_text
        from steelyard.wording.message import tell

        new = "".join(tell("{name} is new in this log.", name=name) + "\n" for name in answer.lifters_added)
        if answer.body_mass_kg is not None:
            mass = setting.voice.number(Decimal(str(answer.body_mass_kg)))
            said = tell("{lifter}, {date}: body mass {mass} kg.", lifter=answer.lifter, date=answer.date, mass=mass)
            return new + said
        sets = "\n".join(f"  {set_text(s)}" for s in answer.sets)
        said = "".join(f"\n{wrapped(caution)}" for caution in answer.cautions)
        kept = tell(
            "{lifter}, {date}: {count} kept.", lifter=answer.lifter, date=answer.date, count=answer.entries_added
        )
        return f"{new}{kept}\n{sets}{said}"

    show(setting, log_line(" ".join(words), lifter, on, setting.voice, scribe, is_new=is_new), text)
