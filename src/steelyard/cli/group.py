"""All commands by name; a command's module is imported only when it runs."""

from importlib import import_module
from typing import Any

import click

from steelyard import __version__
from steelyard.wording.message import tell

from .tongue import in_tongue, speak_as_asked

# Name, module, and the line that --help shows: help must not import what it describes.
COMMANDS: dict[str, tuple[str, str]] = {
    "demo": ("demo", "See it work: a demo log, and the next session with its reasons."),
    "import": ("import_", "Take in a training log as it was kept."),
    "next": ("next_", "What to do next, and why."),
    "log": ("log", "Keep what was lifted, as one line."),
    "amend": ("amend", "Correct or withdraw a set."),
    "history": ("history", "What was lifted."),
    "why": ("why", "Every reason behind a line."),
    "overrule": ("overrule", "Set a limit aside, with who and why."),
    "lifter": ("lifter", "Who the lifters are: add, show, change, export, erase."),
    "screen": ("screen", "Questions before training, and what opens."),
    "note": ("note", "Pain, restrictions, signs, fever: what is noted."),
    "equipment": ("equipment", "What a place can load."),
    "strength": ("strength", "How strong today, and how sure that is."),
    "forecast": ("forecast", "What to expect of an exercise."),
    "backtest": ("backtest", "Which rule would have foreseen the sessions."),
    "tune": ("tune", "Learn from this club how noisy its logs are."),
    "policy": ("policy", "The settings that the rules read."),
    "exercises": ("exercises", "The exercises that are known."),
    "export": ("export", "Give all sets away in an open format."),
    "backup": ("backup", "Write a backup and prove it."),
    "restore": ("restore", "Bring a backup back."),
}


class _Group(click.Group):
    """Finds a command by importing its module."""

    def make_context(
        self, info_name: str | None, args: list[str], parent: click.Context | None = None, **extra: Any
    ) -> click.Context:
        speak_as_asked(args)
        return super(_Group, in_tongue(self)).make_context(info_name, args, parent, **extra)

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        module = import_module(f"steelyard.cli.commands.{COMMANDS[cmd_name][0]}")
        command: click.Command = module.command
        return in_tongue(command)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section(tell("Commands")):
            formatter.write_dl([(name, tell(line)) for name, (_, line) in COMMANDS.items()])


@click.group(
    cls=_Group,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Begin with `steelyard demo`, or `steelyard import FILE` and `steelyard next`. Each command has --help.",
)
@click.version_option(__version__, prog_name="steelyard")
@click.option("--data", metavar="DIR", help="The data folder (else STEELYARD_DATA, else this platform's usual one).")
@click.pass_context
def steelyard(ctx: click.Context, data: str | None) -> None:
    """A training log that says what to lift next, and why.

    Advice for healthy adults, no replacement for a coach or a doctor. Pain in the chest, fainting or sudden weakness:
    stop and see a doctor.
    """
    ctx.obj = data
