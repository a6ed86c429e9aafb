"""`steelyard backup`."""

from pathlib import Path

import click

from steelyard.cli.shared import Setting, open_log, shared_options, show
from steelyard.wording.message import tell


@click.command("backup")
@click.option(
    "--out", type=click.Path(dir_okay=False, path_type=Path), help="The new file (a dated name unless given)."
)
@shared_options
def command(setting: Setting, out: Path | None) -> None:
    """Write every entry to one file and prove it: it is restored into an empty log and compared by hash.

    The file holds health data in plain form: keep it where only you can read it.

    \b
    Example:
      steelyard backup --out /media/stick/steelyard.jsonl.gz
    """
    scribe = open_log(setting)
    from steelyard.services.backing_up import BackedUp, back_up
    from steelyard.site.wiring import scratch_log

    def text(answer: BackedUp, _voice: object) -> str:
        held = tell(
            "{file}: {entries} entries of {people} lifters.",
            file=answer.file,
            entries=answer.entries,
            people=answer.people,
        )
        proof = tell("Proved: restored into an empty log, hash {hash} is the same.", hash=answer.hash[:16])
        return f"{held}\n{proof}"

    file = out or Path(f"steelyard-backup-{scribe.now():%Y-%m-%d-%H%M%S}.jsonl.gz")
    show(setting, back_up(file, scratch_log, scribe), text)
