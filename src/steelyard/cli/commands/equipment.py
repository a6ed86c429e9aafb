"""`steelyard equipment`."""

import re
from decimal import Decimal
from typing import Any

import click

from steelyard.cli.shared import Setting, open_log, shared_options, show

_MASS = re.compile(r"^(\d+(?:[.,]\d+)?)\s*(kg|lb)?$", re.IGNORECASE)


@click.command("equipment")
@click.option("--place", metavar="NAME", help="Which place (the only one, else `gym`).")
@click.option("--bar", metavar="MASS", help="The empty bar with what is always on it, such as 20kg or 45lb.")
@click.option("--plates", metavar="LIST", help="Pairs of plates: 20kg, or 4x20kg for four pairs; commas between.")
@click.option("--dumbbells", metavar="RACK", help="Such as 2kg-10kg/1kg,12.5kg-40kg/2.5kg (from-to/step).")
@click.option("--kettlebells", metavar="RACK", help="Such as 8kg-32kg/4kg.")
@click.option("--stack", metavar="RACK", help="Pin stack, such as 5kg-100kg/5kg.")
@shared_options
def command(
    setting: Setting,
    place: str | None,
    bar: str | None,
    plates: str | None,
    dumbbells: str | None,
    kettlebells: str | None,
    stack: str | None,
) -> None:
    """What a place can load; prescriptions are rounded down to it. Without options it is shown.

    \b
    Examples:
      steelyard equipment
      steelyard equipment --bar 20kg --plates 2x20kg,15kg,10kg,5kg,2.5kg,1.25kg
      steelyard equipment --place home --bar 45lb --plates 2x45lb,25lb,10lb,5lb,2.5lb
    """
    from steelyard.engine.equipment import PlatePair, Steps
    from steelyard.engine.quantities import QuantityRefused

    unit = setting.voice.unit

    def racks(text: str | None) -> tuple[Steps, ...] | None:
        return tuple(Steps(*_rack(part, unit)) for part in text.split(",")) if text else None

    try:
        pairs = tuple(PlatePair(*_pair(part, unit)) for part in plates.split(",")) if plates else None
        bells, kettles, stacks = racks(dumbbells), racks(kettlebells), racks(stack)
    except QuantityRefused as refused:
        raise click.UsageError(str(refused)) from refused
    scribe = open_log(setting)
    from steelyard.services.gear import Gear, GearChange, change_gear, show_gear

    change = GearChange(
        bar=_mass(bar, unit) if bar else None,
        plates=pairs,
        dumbbells=bells,
        kettlebells=kettles,
        stack=stacks[0] if stacks else None,
    )
    changes_something = any(getattr(change, n) is not None for n in change.__struct_fields__)
    answer = change_gear(place, change, scribe) if changes_something else show_gear(place)

    def text(gear: Gear, voice: Any) -> str:
        said = " (assumed; nobody said yet)" if gear.is_assumed else ""
        plated = ", ".join(f"{p.pairs} × 2 × {voice.load(p.plate)}" for p in gear.plates)
        runs = {"dumbbells": gear.dumbbells, "kettlebells": gear.kettlebells, "stack": (gear.stack,)}
        lines = [f"{gear.place}{said}", f"  bar          {voice.load(gear.bar)}", f"  plates       {plated}"]
        for name, steps in runs.items():
            shown = ", ".join(
                f"{voice.load(s.lightest)} to {voice.load(s.heaviest)} by {voice.load(s.step)}" for s in steps
            )
            lines.append(f"  {name:<12} {shown}")
        made = gear.bar_loads_kg
        lines.append(f"  The bar makes {len(made)} loads from {made[0]:g} to {made[-1]:g} kg.")
        return "\n".join(lines)

    show(setting, answer, text)


def _mass(text: str, unit: Any) -> Any:
    from steelyard.engine.quantities import Load, QuantityRefused

    match = _MASS.match(text.strip())
    if match is None:
        raise click.UsageError(f"{text!r} is no mass; write one such as 20kg or 45lb")
    try:
        return Load(Decimal(match[1].replace(",", ".")), "lb" if (match[2] or unit).casefold() == "lb" else "kg")
    except QuantityRefused as refused:
        raise click.UsageError(str(refused)) from refused


def _pair(text: str, unit: Any) -> tuple[Any, int]:
    count, times, mass = text.strip().partition("x")
    if not times:
        return _mass(text, unit), 1
    if not count.strip().isdigit() or not 1 <= int(count) <= 30:
        raise click.UsageError(f"{text!r}: write pairs as 4x20kg, at most 30 of one kind")
    return _mass(mass, unit), int(count)


def _rack(text: str, unit: Any) -> tuple[Any, Any, Any]:
    match = re.match(r"^\s*([^-/]+)-([^-/]+)/([^-/]+)\s*$", text)
    if match is None:
        raise click.UsageError(f"{text!r} is no rack; write from-to/step, such as 2kg-40kg/2kg")
    lightest, heaviest, step = (_mass(part, unit) for part in match.groups())
    return lightest, step, heaviest
