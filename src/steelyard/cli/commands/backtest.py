"""`steelyard backtest`."""

import os
from pathlib import Path
from typing import Any

import click

from steelyard.cli.answers import read_answers
from steelyard.cli.shared import Setting, open_log, shared_options, show
from steelyard.wording.message import tell

# As a shell ends a command that was stopped from the keyboard.
INTERRUPTED = 130
EQUATIONS = ("epley", "brzycki", "lander", "lombardi", "mayhew", "oconner", "wathan")


@click.command("backtest")
@click.argument("log_or_lifter", required=False)
@click.option("--equation", type=click.Choice(EQUATIONS), help="Behind 1RMs (else the policy's).")
@click.option("--from-session", default=3, show_default=True, type=click.IntRange(2, 1000), help="Score from there on.")
@click.option("--predictions", type=click.Path(dir_okay=False, path_type=Path), help="Write every prediction there.")
@click.option("--model", metavar="NAME", default="latent strength", show_default=True, help="Whose predictions.")
@click.option("--seed", default=1, show_default=True, type=click.IntRange(0), help="The same seed, the same answer.")
@click.option("--processes", type=click.IntRange(1, 256), help="So many at once (else one a processor).")
@click.option("--unfinished", type=click.Path(dir_okay=False, path_type=Path), help="Kept there if interrupted.")
@click.option("--answer", "answers", metavar="KEY=ANSWER", multiple=True, help="Answer a question about the file.")
@click.option("--keep-good", is_flag=True, help="Leave out rows of the file that have a problem or a question.")
@shared_options
def command(setting: Setting, log_or_lifter: str | None, processes: int | None, answers: Any, **options: Any) -> None:
    """Which rule would have foreseen the sessions best: a log replayed, nothing stored.

    Each session is foreseen from what was before it: how many repetitions could be done at each load that was then
    lifted, and the best 1RM of the session. A lifter of the log, any file that `import` reads, or nobody named for all.

    \b
    Examples:
      steelyard backtest
      steelyard backtest "Ines Falk"
      steelyard backtest squad.csv --predictions foreseen.jsonl --model "last session, epley"
    """
    scribe = open_log(setting)
    from steelyard.cli.backtest_text import backtest_text
    from steelyard.cli.progress import Progress
    from steelyard.services.backtesting import BacktestAsked, backtest

    asked = BacktestAsked(
        source=log_or_lifter,
        answers=read_answers(answers),
        processes=processes or os.cpu_count() or 1,
        **options,
    )
    try:
        with Progress(log_or_lifter or tell("all lifters")) as progress:
            answer = backtest(asked, setting.voice, scribe, progress)
    except KeyboardInterrupt:
        if asked.unfinished is None:
            raise
        said = tell(
            "Stopped. What is finished stands in {file}; the same command goes on from there.", file=asked.unfinished
        )
        click.echo(said, err=True)
        raise click.exceptions.Exit(INTERRUPTED) from None
    show(setting, answer, backtest_text)
