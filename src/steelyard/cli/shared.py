"""What every command shares: its options, opening the log, printing an answer for people or for scripts."""

import functools
import getpass
import os
from collections.abc import Callable
from datetime import date, datetime
from typing import Any, NoReturn

import click
from msgspec import Struct

from steelyard.wording.message import speak, tell
from steelyard.wording.outside_errors import tell_database_error
from steelyard.wording.quantity import Language, Voice

from .tongue import usual_language

LONGEST_AUTHOR = 100


class Setting(Struct, frozen=True):
    """How one command was called: where the data lie, how to speak, whether a script listens."""

    data: str | None
    is_json: bool
    voice: Voice
    is_unit_said: bool = False


def shared_options(function: Callable[..., Any]) -> Callable[..., Any]:
    """--data, --json, --unit and --language; the command gets them as one Setting, and its refusals end well."""

    @click.option("--data", metavar="DIR", help="The data folder.")
    @click.option("--json", "is_json", is_flag=True, help="For scripts: JSON, as its schema in docs/schemas says.")
    @click.option(
        "--unit",
        type=click.Choice(["kg", "lb"]),
        envvar="STEELYARD_UNIT",
        default=None,
        help="Show and read masses in (else the lifter's own unit, else kg).",
    )
    @click.option("--language", type=click.Choice(["en", "de"]), default=None, help="Speak English or German.")
    @click.pass_context  # type: ignore[arg-type] # functools.wraps hides what the wrapper takes
    @functools.wraps(function)
    def wrapped(
        ctx: click.Context, data: str | None, is_json: bool, unit: Any, language: Language | None, **options: Any
    ) -> None:
        setting = Setting(data or ctx.obj, is_json, Voice(language or usual_language(), unit or "kg"), unit is not None)
        speak(setting.voice.language)
        with_refusals(setting, lambda: function(setting, **options))

    decorated: Callable[..., Any] = wrapped
    return decorated


def with_refusals(setting: Setting, run: Callable[[], None]) -> None:
    """Run a command; a refusal is a message and exit code 1."""
    from steelyard.services.refusal import Refused
    from steelyard.site.place import PlaceRefused

    try:
        run()
    except Refused as refused:
        refuse(setting, refused.message, refused.remedy)
    except PlaceRefused as refused:
        refuse(setting, str(refused), "")
    except UnicodeEncodeError:
        refuse(setting, tell("what was typed is not UTF-8 text"), tell("Type it anew"))
    except _database_failure() as failed:
        refuse(
            setting,
            tell("the log could not be read or written ({why}); what it held is safe", why=tell_database_error(failed)),
            tell(
                "See that the disk has room and nothing else holds the log, look at `steelyard history`, then try again"
            ),
        )


def _database_failure() -> type[Exception]:
    """What a database fails with where the program is not at fault: full disk, lock, no server; imported only then."""
    from django.db.utils import OperationalError

    return OperationalError


def refuse(setting: Setting, message: str, remedy: str) -> NoReturn:
    """Say that nothing was done, and what to try."""
    if setting.is_json:
        import msgspec

        from steelyard.services.refusal import RefusalShown

        click.echo(msgspec.json.encode(RefusalShown(refused=message, remedy=remedy)).decode())
    else:
        click.echo(click.style(tell("Refused: "), bold=True) + message + ".", err=True)
        if remedy:
            click.echo(remedy[:1].upper() + remedy[1:] + ("" if remedy.endswith("?") else "."), err=True)
    raise click.exceptions.Exit(1)


def open_log(setting: Setting) -> Any:
    """Open the log of this command's data folder; a scribe who writes in the caller's name."""
    from steelyard.site.place import place_from

    return open_place(place_from(setting.data))


def for_lifter(setting: Setting, name: str | None) -> Setting:
    """The same in the lifter's own unit, unless --unit or STEELYARD_UNIT says another; the log must be open."""
    from msgspec import structs

    from steelyard.services.roster import unit_of

    unit = None if setting.is_unit_said else unit_of(name)
    return setting if unit is None else structs.replace(setting, voice=structs.replace(setting.voice, unit=unit))


def open_place(place: Any) -> Any:
    """Open the log of a place; a scribe who writes in the caller's name."""
    from steelyard.site import wiring

    wiring.open_log(place)
    from steelyard.services.scribe import Scribe

    return Scribe(author_name(), wiring.device_of(place), lambda: datetime.now().astimezone())


def author_name() -> str:
    """STEELYARD_AUTHOR, else the name of the account on this machine."""
    try:
        return (os.environ.get("STEELYARD_AUTHOR") or getpass.getuser())[:LONGEST_AUTHOR]
    except (KeyError, OSError):
        return "unnamed"


def show(setting: Setting, answer: Struct, human: Callable[[Any, Voice], str]) -> None:
    """Print an answer: JSON for scripts, else text."""
    if setting.is_json:
        import msgspec

        click.echo(msgspec.json.format(msgspec.json.encode(answer), indent=2).decode())
    else:
        click.echo(human(answer, setting.voice))


class Day(click.ParamType[date]):
    """A day as year-month-day."""

    name = "date"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> date:
        """The day, or a usage error that says how to write one."""
        if isinstance(value, date):
            return value
        from steelyard.exchange import cells

        try:
            return cells.day(value)
        except cells.CellRefused as refused:
            self.fail(f"{value!r} {refused.problem}; {refused.remedy}", param, ctx)
