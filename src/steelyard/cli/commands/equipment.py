"""`steelyard equipment`."""

from collections.abc import Callable
from typing import Any

import click

from steelyard.cli.masses import mass, plate_pairs, racks
from steelyard.cli.shared import Setting, open_log, shared_options, show


@click.command("equipment")
@click.option("--place", metavar="NAME", help="Which place (the only one, else `gym`).")
@click.option("--bar", metavar="MASS", help="The empty bar with what is always on it, such as 20kg or 45lb.")
@click.option("--plates", metavar="LIST", help="Pairs of plates: 20kg, or 4x20kg for four pairs; commas between.")
@click.option("--dumbbells", metavar="RACK", help="Such as 2kg-10kg/1kg,12.5kg-40kg/2.5kg (from-to/step).")
@click.option("--kettlebells", metavar="RACK", help="Such as 8kg-32kg/4kg.")
@click.option("--stack", metavar="RACK", help="Pin stack, such as 5kg-100kg/5kg.")
@click.option("--alone", type=click.Choice(["yes", "no", "unknown"]), help="Whether people lift alone there.")
@click.option("--safeties", type=click.Choice(["yes", "no", "unknown"]), help="Whether the rack catches the bar.")
@shared_options
def command(setting: Setting, place: str | None, **said: Any) -> None:
    """What a place can load; prescriptions are rounded down to it. Without options it is shown.

    \b
    Examples:
      steelyard equipment
      steelyard equipment --bar 20kg --plates 2x20kg,15kg,10kg,5kg,2.5kg,1.25kg
      steelyard equipment --place home --bar 45lb --plates 2x45lb,25lb,10lb,5lb,2.5lb --alone yes --safeties no
    """
    unit = setting.voice.unit
    read: dict[str, Callable[[str], Any]] = {
        "bar": lambda text: mass(text, unit),
        "plates": lambda text: plate_pairs(text, unit),
        "dumbbells": lambda text: racks(text, unit),
        "kettlebells": lambda text: racks(text, unit),
        "stack": lambda text: racks(text, unit)[0],
    }
    changes: dict[str, Any] = {name: read.get(name, str)(text) for name, text in said.items() if text}
    scribe = open_log(setting)
    from steelyard.cli.gear_text import gear_text
    from steelyard.services.gear import GearChange, change_gear, show_gear

    answer = change_gear(place, GearChange(**changes), scribe) if changes else show_gear(place)
    show(setting, answer, gear_text)
