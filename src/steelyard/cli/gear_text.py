"""What a place can load, as text."""

from decimal import Decimal

from steelyard.engine.equipment import Steps
from steelyard.services.gear import Gear
from steelyard.wording.message import tell
from steelyard.wording.quantity import Voice

from .health_text import answer_word


def gear_text(gear: Gear, voice: Voice) -> str:
    """The bar, its plates, the racks, and how people lift there."""
    said = " " + tell("(assumed; nobody said yet)") if gear.is_assumed else ""
    plated = ", ".join(f"{p.pairs} × 2 × {voice.load(p.plate)}" for p in gear.plates)
    rows = [
        (tell("bar"), voice.load(gear.bar)),
        (tell("plates"), plated),
        (tell("dumbbells"), _runs(gear.dumbbells, voice)),
        (tell("kettlebells"), _runs(gear.kettlebells, voice)),
        (tell("stack"), _runs((gear.stack,), voice)),
        (tell("lifting alone"), answer_word(gear.alone or tell("not said"))),
        (tell("safeties"), answer_word(gear.safeties or tell("not said"))),
    ]
    made = gear.bar_loads_kg
    loads = tell(
        "The bar makes {count} loads from {least} to {most} kg.",
        count=len(made),
        least=voice.number(Decimal(str(made[0]))),
        most=voice.number(Decimal(str(made[-1]))),
    )
    return "\n".join([f"{gear.place}{said}", *(f"  {word:<13} {text}" for word, text in rows), f"  {loads}"])


def _runs(runs: tuple[Steps, ...], voice: Voice) -> str:
    return ", ".join(
        tell(
            "{lightest} to {heaviest} by {step}",
            lightest=voice.load(run.lightest),
            heaviest=voice.load(run.heaviest),
            step=voice.load(run.step),
        )
        for run in runs
    )
