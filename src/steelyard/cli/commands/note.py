"""`steelyard note`."""

from datetime import date
from typing import Any

import click

from steelyard.cli.shared import Day, Setting, for_lifter, open_log, shared_options, show


@click.command("note", context_settings={"ignore_unknown_options": True})
@click.argument("lifter")
@click.argument("words", nargs=-1, required=True)
@click.option("--provoked-by", multiple=True, metavar="EXERCISE", help="Pain: what provokes it; may be repeated.")
@click.option("--nature", type=click.Choice(["tendon", "kneecap", "other"]), help="Pain: of what kind, as diagnosed.")
@click.option("--guided-by", default="", metavar="NAME", help="Pain: the clinician who guides.")
@click.option("--since", type=Day(), help="Pain: since when.")
@click.option("--why", default="", metavar="TEXT", help="Restriction, withdrawal: why.")
@click.option("--until", type=Day(), help="Restriction: the first day without it.")
@click.option("--review", type=Day(), help="Restriction: when it is to be looked at.")
@click.option("--by", default="", metavar="NAME", help="Who says so (a restriction needs it; else you).")
@click.option("--words", "is_words", is_flag=True, help="Keep only the words, whatever they begin with.")
@click.option("--on", type=Day(), help="On that day instead of today.")
@shared_options
def command(setting: Setting, lifter: str, words: tuple[str, ...], on: date | None, **said: Any) -> None:
    """Keep what is noted of a lifter; what stops training is answered at once.

    Begin with pain, restrict, lift, sign, fever or blood-pressure; anything else is kept as words. A word on a pain
    that is open follows it; `closed` ends it. `withdraw ID` takes back what was noted by mistake.

    \b
    Examples:
      steelyard note "Ines Falk" pain left knee 4 --provoked-by squat --nature kneecap --guided-by "Dr Lund"
      steelyard note "Ines Falk" pain left knee 2 next-morning settled
      steelyard note "Ines Falk" pain left knee closed
      steelyard note "Ines Falk" restrict bench press leave-out --by "Dr Lund" --why "shoulder" --review 2026-12-01
      steelyard note "Ines Falk" restrict knee at-most 40kg --by "Coach Brandt" --why "after the fall"
      steelyard note "Ines Falk" lift bench press --by "Dr Lund" --why "healed"
      steelyard note "Ines Falk" sign chest
      steelyard note "Ines Falk" fever over
      steelyard note "Ines Falk" blood-pressure 125/80
      steelyard note "Ines Falk" slept badly all week
    """
    scribe = open_log(setting)
    setting = for_lifter(setting, lifter)
    from steelyard.cli.health_text import note_text
    from steelyard.services.noting import Note, note
    from steelyard.services.pain_notes import AboutPain
    from steelyard.services.restriction_notes import AboutRestriction

    wanted = Note(
        line=" ".join(words),
        is_words=said["is_words"],
        about_pain=AboutPain(
            by=said["by"],
            provoked_by=said["provoked_by"],
            nature=said["nature"],
            guided_by=said["guided_by"],
            since=said["since"],
        ),
        about_restriction=AboutRestriction(by=said["by"], why=said["why"], until=said["until"], review=said["review"]),
    )
    show(setting, note(lifter, wanted, setting.voice, scribe, on), note_text)
