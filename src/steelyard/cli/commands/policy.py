"""`steelyard policy`."""

from datetime import date

import click

from steelyard.cli.shared import Day, Setting, open_log, shared_options, show
from steelyard.wording.code_words import code_word
from steelyard.wording.message import spoken, tell


@click.command("policy")
@click.argument("lifter", required=False)
@click.option("--set", "changes", multiple=True, metavar="NAME=VALUE", help="Change a setting for this lifter.")
@click.option("--on", type=Day(), help="In force from that day instead of today.")
@shared_options
def command(setting: Setting, lifter: str | None, changes: tuple[str, ...], on: date | None) -> None:
    """Every setting that the rules read, with bounds, source and mark; or change some for a lifter.

    \b
    Examples:
      steelyard policy
      steelyard policy "Ines Falk" --set weekly_ceiling=0.02 --set trained_since=2026-09-01
    """
    if any("=" not in c for c in changes):
        raise click.UsageError(tell("--set takes NAME=VALUE, such as weekly_ceiling=0.02"))
    scribe = open_log(setting)
    from steelyard.cli.paragraph import quiet, strong, wrapped
    from steelyard.services.policies import PolicyShown, SettingShown, change_policy, show_policy

    def text(answer: PolicyShown, _voice: object) -> str:
        title = tell("Policy of {lifter}", lifter=answer.lifter) if answer.lifter else tell("Policy (defaults)")
        parts = [strong(title)]
        for s in answer.settings:
            changed = f" {tell('(default {value})', value=s.default)}" if s.value != s.default else ""
            bounds = f"   {s.bounds}" if s.bounds else ""
            bounds += f"   {s.remark}" if s.remark else ""
            parts.append(
                f"{strong(f'{s.name} = {s.value}')}{changed}{bounds}\n{wrapped(s.meaning)}\n"
                + quiet(wrapped(_source(s)))
            )
        return "\n".join(parts)

    def _source(s: SettingShown) -> str:
        mark = code_word("mark", s.mark, spoken())
        return s.source if s.source.startswith(mark) else f"{mark}: {s.source}"

    pairs = dict(change.split("=", 1) for change in changes)
    answer = change_policy(lifter, pairs, on, scribe) if pairs else show_policy(lifter, on, scribe)
    show(setting, answer, text)
