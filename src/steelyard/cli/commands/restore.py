"""`steelyard restore`."""

from pathlib import Path

import click

from steelyard.cli.shared import Setting, open_log, shared_options, show


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
        same = "is the same as in the backup" if answer.is_same_as_backup else "DIFFERS from the backup"
        return (
            f"{answer.file}: {answer.entries_added} entries added, {answer.entries_known} known, "
            f"{answer.people} lifters.\n"
            f"What it holds {same}; hash of the log {answer.hash[:16]}."
        )

    show(setting, restore(file, scribe), text)
