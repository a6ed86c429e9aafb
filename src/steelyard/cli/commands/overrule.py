"""`steelyard overrule`."""

from datetime import date
from decimal import Decimal, InvalidOperation

import click
from msgspec import structs

from steelyard.cli.shared import Day, Setting, open_log, shared_options, show
from steelyard.wording.code_words import code_word
from steelyard.wording.message import spoken, tell
from steelyard.wording.quantity import Voice


@click.command("overrule")
@click.argument("exercise")
@click.option("--limit", type=click.Choice(["weekly-limit", "step-limit", "twelve-week-limit"]), required=True)
@click.option("--to", "ceiling", metavar="PERCENT", help="Put the limit there; without it the limit is off.")
@click.option("--until", type=Day(), help="The first day it holds again (7 days unless given).")
@click.option("--on", type=Day(), help="From that day instead of today.")
@click.option("--by", required=True, metavar="NAME", help="Who decides.")
@click.option("--why", required=True, help="Why.")
@click.option("--lifter", metavar="NAME", help="For whom.")
@shared_options
def command(
    setting: Setting,
    exercise: str,
    limit: str,
    ceiling: str | None,
    until: date | None,
    on: date | None,
    by: str,
    why: str,
    lifter: str | None,
) -> None:
    """Set a limit of one exercise aside for some days. It is kept with who and why, and shown as such.

    A coach's responsibility: limits are caution, not proof, and no overruling opens a gate for pain or technique.

    \b
    Example:
      steelyard overrule squat --limit weekly-limit --to 6 --by "Coach Brandt" --why "old level, back after exams"
    """
    share = _share(ceiling)
    scribe = open_log(setting)
    from steelyard.services.overruling import Overruled, overrule

    def text(answer: Overruled, voice: Voice) -> str:
        facts = structs.asdict(answer) | {"limit": code_word("limit", answer.limit, spoken())}
        if answer.ceiling is None:
            return tell("{lifter}, {exercise}: {limit} is off from {on} until {until}, by {by}: {why}.", **facts)
        facts["ceiling"] = f"{answer.ceiling:.1%}" if spoken() == "en" else voice.percent(Decimal(str(answer.ceiling)))
        return tell("{lifter}, {exercise}: {limit} is at {ceiling} from {on} until {until}, by {by}: {why}.", **facts)

    answer = overrule(
        lifter,
        exercise,
        limit,  # type: ignore[arg-type] # click has checked the choice
        ceiling=share,
        on=on,
        until=until,
        by=by,
        why=why,
        scribe=scribe,
    )
    show(setting, answer, text)


def _share(percent: str | None) -> Decimal | None:
    if percent is None:
        return None
    try:
        return Decimal(percent.rstrip(" %").replace(",", ".")) / 100
    except InvalidOperation:
        raise click.UsageError(
            tell("--to {percent!r} is no percentage; write one such as 6", percent=percent)
        ) from None
