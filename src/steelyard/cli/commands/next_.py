"""`steelyard next`."""

from datetime import date

import click

from steelyard.cli.shared import Day, Setting, for_lifter, open_log, shared_options, show


@click.command("next")
@click.argument("lifter", required=False)
@click.option("--on", type=Day(), help="For that day instead of today.")
@click.option("--exercise", "exercises", multiple=True, metavar="NAME", help="These exercises instead of the rotation.")
@click.option("--deload", "is_deload", is_flag=True, help="Take the deload: fewer sets, a little less load.")
@click.option("--trained", "did_train", is_flag=True, help="Days without entries were trained as written.")
@click.option("--new", "is_new", is_flag=True, help="Take in a lifter who has no log yet.")
@click.option("--place", metavar="NAME", help="Where the lifter trains.")
@shared_options
def command(
    setting: Setting,
    lifter: str | None,
    on: date | None,
    exercises: tuple[str, ...],
    is_deload: bool,
    did_train: bool,
    is_new: bool,
    place: str | None,
) -> None:
    """What to do next, every number with its reason. What is shown is kept as shown.

    \b
    Examples:
      steelyard next
      steelyard next "Ines Falk" --on 2026-11-30
      steelyard next Ada --new --exercise squat --exercise "bench press"
    """
    scribe = open_log(setting)
    from steelyard.cli.screen import next_text
    from steelyard.services.next_session import Asked, next_session

    asked = Asked(
        name=lifter,
        on=on,
        exercises=exercises,
        is_deload=is_deload,
        is_new=is_new,
        did_train=did_train,
        place=place,
    )
    setting = for_lifter(setting, lifter)
    show(setting, next_session(asked, setting.voice, scribe), next_text)
