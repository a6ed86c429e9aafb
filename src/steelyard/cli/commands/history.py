"""`steelyard history`."""

import click

from steelyard.cli.shared import Setting, open_log, shared_options, show


@click.command("history")
@click.argument("lifter", required=False)
@click.option("--exercise", metavar="NAME", help="Only this exercise.")
@click.option("--last", default=5, show_default=True, type=click.IntRange(1, 10_000), help="So many sessions.")
@shared_options
def command(setting: Setting, lifter: str | None, exercise: str | None, last: int) -> None:
    """What was lifted, newest last; each set with the end of its id for `amend`.

    \b
    Examples:
      steelyard history
      steelyard history "Ines Falk" --exercise squat --last 20
    """
    open_log(setting)
    from datetime import date

    from steelyard.cli.paragraph import strong
    from steelyard.cli.past_text import set_text
    from steelyard.services.past import Past, past
    from steelyard.wording.labels import long_date
    from steelyard.wording.message import tell, tell_count

    def text(answer: Past, _voice: object) -> str:
        if not answer.sessions:
            return tell("{lifter}: nothing is logged.", lifter=answer.lifter)
        language = setting.voice.language
        head = tell_count(
            "{lifter}, {shown} of {count} session",
            "{lifter}, {shown} of {count} sessions",
            answer.sessions_in_all,
            lifter=strong(answer.lifter),
            shown=len(answer.sessions),
        )
        parts = [head]
        two_versions = tell("two versions")
        disputed = {i for versions in answer.two_versions for i in versions}
        for session in answer.sessions:
            lines = [f"  {set_text(s)}{f'   {two_versions}' if s.id in disputed else ''}" for s in session.sets]
            parts.append("\n".join([strong(long_date(date.fromisoformat(session.date), language)), *lines]))
        if answer.unread:
            parts.append(
                tell_count(
                    "{count} entry of a newer Steelyard is kept and not shown.",
                    "{count} entries of a newer Steelyard are kept and not shown.",
                    len(answer.unread),
                )
            )
        return "\n\n".join(parts)

    show(setting, past(lifter, exercise, last), text)
