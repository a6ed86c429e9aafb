"""`steelyard amend`."""

import click

from steelyard.cli.shared import Setting, open_log, shared_options, show
from steelyard.wording.message import tell


@click.command("amend", context_settings={"ignore_unknown_options": True})
@click.argument("set_id", metavar="ID")
@click.argument("words", nargs=-1)
@click.option("--withdraw", is_flag=True, help="The set was never lifted.")
@click.option("--why", default="", help="Why it is withdrawn.")
@shared_options
def command(setting: Setting, set_id: str, words: tuple[str, ...], withdraw: bool, why: str) -> None:
    """Write a set anew, or withdraw it; the older version stays in the log. ID is the end of its id in `history`.

    \b
    Examples:
      steelyard amend 3f9a2c1b bench 9 @ 62.5kg rir 1
      steelyard amend 3f9a2c1b --withdraw --why "logged twice"
    """
    if bool(words) == withdraw:
        raise click.UsageError(tell("write the set anew, such as: amend ID bench 9 @ 62.5kg; or give --withdraw"))
    scribe = open_log(setting)
    from steelyard.cli.past_text import set_text
    from steelyard.services.amending import Amended, amend

    def text(answer: Amended, _voice: object) -> str:
        return tell(
            "{lifter}, {date}:\n  was  {before}\n  now  {after}",
            lifter=answer.lifter,
            date=answer.before.date,
            before=set_text(answer.before),
            after=set_text(answer.after) if answer.after is not None else tell("withdrawn"),
        )

    unit = setting.voice.unit if setting.is_unit_said else None
    show(setting, amend(set_id, " ".join(words) or None, why, unit, scribe), text)
