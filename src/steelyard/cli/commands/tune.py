"""`steelyard tune`."""

import click

from steelyard.cli.shared import Setting, open_log, shared_options, show
from steelyard.wording.message import tell


@click.command("tune")
@click.option("--dry-run", is_flag=True, help="Only show what would be kept.")
@click.option("--seed", default=1, show_default=True, type=click.IntRange(0), help="The same seed, the same answer.")
@click.option("--processes", type=click.IntRange(1, 256), help="So many at once (else one a processor).")
@shared_options
def command(setting: Setting, dry_run: bool, seed: int, processes: int | None) -> None:
    """Learn from this club's logs how noisy its sets are and how quickly its lifters change.

    Found on some of the lifters and tried on those left out; kept only if these are foreseen better. It takes minutes
    and changes nothing but the estimates of strength.

    \b
    Examples:
      steelyard tune --dry-run
      steelyard tune
    """
    scribe = open_log(setting)
    from steelyard.cli.progress import Progress
    from steelyard.cli.tune_text import tune_text
    from steelyard.services.tuning import tune_club

    with Progress(tell("tuning")) as progress:
        answer = tune_club(scribe, seed=seed, processes=processes, is_dry_run=dry_run, progress=progress)
    show(setting, answer, tune_text)
