"""`steelyard restore`."""

from pathlib import Path

import click

from steelyard.cli.shared import Setting, open_log, shared_options, show
from steelyard.wording.message import tell, tell_count


@click.command("restore")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@shared_options
def command(setting: Setting, file: Path) -> None:
    """Bring back what this log does not hold of a backup; nothing is overwritten, a damaged file changes nothing.

    \b
    Example:
      steelyard restore steelyard.jsonl.gz --data /new/folder
    """
    scribe = open_log(setting)
    from steelyard.services.backing_up import Restored, restore

    def text(answer: Restored, _voice: object) -> str:
        brought = tell(
            "{file}: {added} entries added, {known} known, {people} lifters.",
            file=answer.file,
            added=answer.entries_added,
            known=answer.entries_known,
            people=answer.people,
        )
        short = answer.hash[:16]
        if answer.is_same_as_backup:
            proof = tell("What it holds is the same as in the backup; hash of the log {hash}.", hash=short)
        else:
            proof = tell("What it holds DIFFERS from the backup; hash of the log {hash}.", hash=short)
        erased = tell_count(
            "{count} lifter in it was erased and stays out.",
            "{count} lifters in it were erased and stay out.",
            answer.people_erased,
        )
        return "\n".join([brought, *([erased] if answer.people_erased else []), proof])

    show(setting, restore(file, scribe), text)
