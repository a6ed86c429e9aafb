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

    def text(answer: Past, _voice: object) -> str:
        if not answer.sessions:
            return f"{answer.lifter}: nothing is logged."
        language = setting.voice.language
        parts = [f"{strong(answer.lifter)}, {len(answer.sessions)} of {answer.sessions_in_all} sessions"]
        disputed = {i for versions in answer.two_versions for i in versions}
        for session in answer.sessions:
            lines = [f"  {set_text(s)}{'   two versions' if s.id in disputed else ''}" for s in session.sets]
            parts.append("\n".join([strong(long_date(date.fromisoformat(session.date), language)), *lines]))
        if answer.unread:
            parts.append(f"{len(answer.unread)} entries of a newer Steelyard are kept and not shown.")
        return "\n\n".join(parts)

    show(setting, past(lifter, exercise, last), text)
