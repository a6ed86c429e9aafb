"""How a command ends when it does not end well: words for people, an exit code for scripts."""

import sys

import click

from steelyard.wording.message import tell

REFUSED, WRONG_USAGE, INTERRUPTED = 1, 2, 130


def status_of(ended: BaseException) -> int:
    """Say what happened; the exit code."""
    if isinstance(ended, click.exceptions.Exit):
        return int(ended.exit_code)
    if isinstance(ended, click.ClickException):
        ended.show()
        return WRONG_USAGE if isinstance(ended, click.UsageError) else REFUSED
    if isinstance(ended, (click.Abort, KeyboardInterrupt)):
        click.echo(tell("Stopped; nothing was changed."), err=True)
        return INTERRUPTED
    if isinstance(ended, SystemExit):
        return int(ended.code or 0)
    return _unforeseen(ended)


def _unforeseen(ended: BaseException) -> int:
    """A fault of ours: no traceback, but what a report needs."""
    place = ended.__traceback__
    while place is not None and place.tb_next is not None:
        place = place.tb_next
    where = f" ({place.tb_frame.f_code.co_name}:{place.tb_lineno})" if place is not None else ""
    click.echo(tell("Steelyard failed: {what}.", what=f"{type(ended).__name__}: {ended}{where}"), err=True)
    click.echo(
        tell("What was acknowledged before is safe in the log. Please report this with the command you ran:"), err=True
    )
    click.echo("  steelyard " + " ".join(sys.argv[1:]), err=True)
    return REFUSED
