"""Masses and racks of masses as people type them in options."""

import re
from decimal import Decimal
from typing import TYPE_CHECKING

import click

from steelyard.wording.message import tell, tell_refused

if TYPE_CHECKING:
    from steelyard.engine.equipment import PlatePair, Steps
    from steelyard.engine.quantities import Load, Unit

_MASS = re.compile(r"^(\d+(?:[.,]\d+)?)\s*(kg|lb)?$", re.IGNORECASE)


def mass(text: str, unit: "Unit") -> "Load":
    """A mass such as 20kg; without its own unit in the one given."""
    from steelyard.engine.quantities import Load, QuantityRefused

    match = _MASS.match(text.strip())
    if match is None:
        raise click.UsageError(tell("{text!r} is no mass; write one such as 20kg or 45lb", text=text))
    try:
        return Load(Decimal(match[1].replace(",", ".")), "lb" if (match[2] or unit).casefold() == "lb" else "kg")
    except QuantityRefused as refused:
        raise click.UsageError(tell_refused(refused)) from refused


def plate_pairs(text: str, unit: "Unit") -> "tuple[PlatePair, ...]":
    """Pairs of plates: 20kg, or 4x20kg for four pairs, with commas between."""
    from steelyard.engine.equipment import PlatePair
    from steelyard.engine.quantities import QuantityRefused

    try:
        return tuple(PlatePair(*_pair(part, unit)) for part in text.split(","))
    except QuantityRefused as refused:
        raise click.UsageError(tell_refused(refused)) from refused


def racks(text: str, unit: "Unit") -> "tuple[Steps, ...]":
    """Runs of equal steps such as 2kg-40kg/2kg, with commas between."""
    from steelyard.engine.equipment import Steps
    from steelyard.engine.quantities import QuantityRefused

    try:
        return tuple(Steps(*_rack(part, unit)) for part in text.split(","))
    except QuantityRefused as refused:
        raise click.UsageError(tell_refused(refused)) from refused


def _pair(text: str, unit: "Unit") -> "tuple[Load, int]":
    count, times, each = text.strip().partition("x")
    if not times:
        return mass(text, unit), 1
    if not count.strip().isdigit() or not 1 <= int(count) <= 30:
        raise click.UsageError(tell("{text!r}: write pairs as 4x20kg, at most 30 of one kind", text=text))
    return mass(each, unit), int(count)


def _rack(text: str, unit: "Unit") -> "tuple[Load, Load, Load]":
    match = re.match(r"^\s*([^-/]+)-([^-/]+)/([^-/]+)\s*$", text)
    if match is None:
        raise click.UsageError(tell("{text!r} is no rack; write from-to/step, such as 2kg-40kg/2kg", text=text))
    lightest, heaviest, step = (mass(part, unit) for part in match.groups())
    return lightest, step, heaviest
