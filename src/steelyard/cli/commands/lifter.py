"""`steelyard lifter` and what can be done with one."""

import sys
from pathlib import Path
from typing import Any

import click

from steelyard.cli.shared import Setting, for_lifter, open_log, shared_options, show
from steelyard.cli.tongue import in_tongue
from steelyard.wording.message import tell

AIMS = ["strength", "size", "health", "sport", "return", "meet"]
FORGETTABLE = ["unit", "born", "trained-since", "days", "sessions", "place", "aim", "aim-words"]


class _Group(click.Group):
    """Its commands speak the language that is spoken."""

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        found = super().get_command(ctx, cmd_name)
        return in_tongue(found) if found is not None else None


@click.group("lifter", cls=_Group, invoke_without_command=True)
@shared_options
def command(setting: Setting) -> None:
    """Who the lifters are; without a further word all are listed.

    \b
    Examples:
      steelyard lifter
      steelyard lifter add "Ines Falk" --unit kg --days mon,wed,fri --aim strength
      steelyard lifter show "Ines Falk"
    """
    context = click.get_current_context()
    context.obj = setting.data
    if context.invoked_subcommand is not None:
        if setting.is_json or _is_typed("unit"):
            raise click.UsageError(tell("write options after the last word, such as: lifter show NAME --json"))
        return
    scribe = open_log(setting)
    from steelyard.cli.people_text import roster_text
    from steelyard.services.lifter_shown import roster

    show(setting, roster(scribe), roster_text)


def _is_typed(option: str) -> bool:
    """Whether an option was typed, and not set in the environment."""
    source = click.get_current_context().get_parameter_source(option)
    return source is click.core.ParameterSource.COMMANDLINE


def _about_options(function: Any) -> Any:
    """What can be said of a lifter, as options."""
    for option in (
        click.option("--born", type=int, metavar="YEAR", help="Year of birth."),
        click.option("--trained-since", metavar="MONTH", help="Since when they train, such as 2024-05."),
        click.option("--days", metavar="LIST", help="Days they train on, such as mon,wed,fri."),
        click.option("--sessions", type=int, metavar="N", help="Sessions a week."),
        click.option("--place", metavar="NAME", help="Where they usually train."),
        click.option("--aim", "aims", multiple=True, type=click.Choice(AIMS), help="What for; may be repeated."),
        click.option("--aim-words", metavar="TEXT", help="What for, in their own words."),
    ):
        function = option(function)
    return function


def _about(unit: str, said: dict[str, Any]) -> Any:
    """What was said, as the service takes it; a --unit that was typed is kept as the lifter's own."""
    from msgspec import UNSET

    from steelyard.services.roster import About, read_days, read_since

    plain = {
        "unit": unit if _is_typed("unit") else None,
        "birth_year": said["born"],
        "trained_since": read_since(said["trained_since"]) if said["trained_since"] else None,
        "training_days": read_days(said["days"]) if said["days"] else None,
        "sessions_per_week": said["sessions"],
        "place": said["place"],
        "aims": tuple(dict.fromkeys(said["aims"])) or None,
        "aim_words": said["aim_words"],
    }
    return About(**{name: UNSET if value is None else value for name, value in plain.items()})


@command.command("add")
@click.argument("name")
@_about_options
@click.option("--again", "is_again", is_flag=True, help="The name was erased: somebody else, or back again.")
@shared_options
def add(setting: Setting, name: str, is_again: bool, **said: Any) -> None:
    """Take a lifter in; --unit is kept as the one that they read and type.

    \b
    Example:
      steelyard lifter add "Ines Falk" --unit kg --born 1988 --days mon,wed,fri --place home --aim strength
    """
    scribe = open_log(setting)
    from steelyard.cli.people_text import kept_text
    from steelyard.services.roster import add_lifter

    show(setting, add_lifter(name, _about(setting.voice.unit, said), scribe, is_again=is_again), kept_text)


@command.command("change")
@click.argument("name")
@_about_options
@click.option("--forget", multiple=True, type=click.Choice(FORGETTABLE), help="Say nothing of this any more.")
@shared_options
def change(setting: Setting, name: str, forget: tuple[Any, ...], **said: Any) -> None:
    """Say something anew of a lifter; --unit is kept as the one that they read and type.

    \b
    Example:
      steelyard lifter change "Ines Falk" --unit lb --trained-since 2024-05 --forget place
    """
    scribe = open_log(setting)
    from steelyard.cli.people_text import kept_text
    from steelyard.services.roster import change_lifter

    show(setting, change_lifter(name, _about(setting.voice.unit, said), forget, scribe), kept_text)


@command.command("rename")
@click.argument("name")
@click.argument("new_name")
@shared_options
def rename(setting: Setting, name: str, new_name: str) -> None:
    """Give a lifter another name; everything else stays theirs.

    \b
    Example:
      steelyard lifter rename "Ines Falk" "Ines Falk-Moor"
    """
    scribe = open_log(setting)
    from steelyard.cli.people_text import kept_text
    from steelyard.services.roster import rename_lifter

    show(setting, rename_lifter(name, new_name, scribe), kept_text)


@command.command("show")
@click.argument("name", required=False)
@shared_options
def show_one(setting: Setting, name: str | None) -> None:
    """All that is known of a lifter but the sets: aims, body mass over time, screening, pain, restrictions.

    \b
    Example:
      steelyard lifter show "Ines Falk"
    """
    scribe = open_log(setting)
    from steelyard.cli.people_text import lifter_text
    from steelyard.services.lifter_shown import show_lifter

    show(for_lifter(setting, name), show_lifter(name, scribe), lifter_text)


@command.command("export")
@click.argument("name", required=False)
@click.option("--out", required=True, type=click.Path(dir_okay=False, path_type=Path), help="The new file.")
@click.option("--sets-out", type=click.Path(dir_okay=False, path_type=Path), help="A second new file: the sets as CSV.")
@shared_options
def export(setting: Setting, name: str | None, out: Path, sets_out: Path | None) -> None:
    """Write everything that the log holds of a lifter to one file in an open format; `import` reads it again.

    The file holds health data in plain form: keep it where only they can read it.

    \b
    Example:
      steelyard lifter export "Ines Falk" --out ines.jsonl --sets-out ines.csv
    """
    scribe = open_log(setting)
    from steelyard.cli.people_text import exported_text
    from steelyard.services.person_file import export_person

    show(setting, export_person(name, out, sets_out, scribe), exported_text)


@command.command("erase")
@click.argument("name")
@click.option("--yes-erase", "typed", metavar="NAME", help="The name once more, instead of being asked for it.")
@click.option("--with-place", is_flag=True, help="Their usual place and its equipment too, where nobody else trains.")
@shared_options
def erase(setting: Setting, name: str, typed: str | None, with_place: bool) -> None:
    """Remove everything that the log holds of a lifter, for good; it cannot be undone.

    A later import or backup does not bring them back. Give them their file first: `lifter export`.

    \b
    Example:
      steelyard lifter erase "Ines Falk"
    """
    from steelyard.site.place import place_from

    scribe, place = open_log(setting), place_from(setting.data)
    from steelyard.cli.people_text import erasure_text
    from steelyard.services.erasing import Surroundings, erase_lifter
    from steelyard.services.lifters import find_lifter

    if typed is None and sys.stdin.isatty() and not setting.is_json:
        lifter = find_lifter(name)
        click.echo(tell("Everything of {name} is removed for good; it cannot be undone.", name=lifter.name))
        typed = click.prompt(tell("Type the name to go on"), default="", show_default=False)
    around = Surroundings(folders=tuple({place.folder, Path.cwd()}), is_server=place.database is not None)
    show(setting, erase_lifter(name, typed or "", scribe, around, with_place=with_place), erasure_text)
