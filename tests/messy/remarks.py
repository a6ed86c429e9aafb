"""What is said of a row of sets besides load and count: effort, pain, technique, side, why it was missed, a note."""

from collections.abc import Sequence
from decimal import Decimal
from random import Random

from msgspec import structs

from steelyard.catalogue import catalogue

from .recipe import Recipe
from .truth import TrueSet, row_wide

RIR = ("0", "1", "2", "3", "4")
RPE = ("6", "7", "7.5", "8", "8.5", "9", "9.5", "10")
NOTES = {
    "en": ("moved well", "new shoes", "belt on", "grip slipped", "last one slow", "bar path better", "paused"),
    "de": ("lief gut", "neue Schuhe", "mit Gürtel", "Griff gerutscht", "letzte langsam", "Stange besser", "pausiert"),
}
SLIPS = ("grip slipped", "Griff gerutscht")
PLACES = {"en": ("left knee", "right elbow", "lower back"), "de": ("linkes Knie", "rechter Ellbogen", "unterer Rücken")}
TECHNIQUE = {
    "en": {"good": "good", "ok": "good", "clean": "good", "rough": "rough", "broke": "broke"},
    "de": {"gut": "good", "sauber": "good", "unsauber": "rough", "eingebrochen": "broke"},
}
SIDES = {"en": {"left": "left", "L": "left", "right": "right", "R": "right", "each": "each"},
         "de": {"links": "left", "L": "left", "rechts": "right", "R": "right", "je": "each"}}  # fmt: skip
WHY = {"en": {"strength": "strength", "technique": "technique", "pain": "pain", "not done": "not-done"},
       "de": {"Kraft": "strength", "Technik": "technique", "Schmerz": "pain", "nicht gemacht": "not-done"}}  # fmt: skip


def remark(sets: Sequence[TrueSet], line: int, recipe: Recipe, rng: Random) -> tuple[TrueSet, ...]:
    """The sets of one written row with what this file says of it."""
    said: dict[str, object] = {}
    if recipe.effort != "none" and rng.random() < 0.7:
        said["effort"] = (
            recipe.effort,
            Decimal(rng.choice(RPE)) if recipe.effort == "rpe" else Decimal(rng.randint(0, 4)),
        )
    if "note" in recipe.remarks and rng.random() < 0.2:
        said["note"] = rng.choice(NOTES[recipe.language])
    if "pain" in recipe.remarks and rng.random() < 0.1:
        said["pain"] = (rng.randint(1, 6), rng.choice(("", *PLACES[recipe.language])))
    if "technique" in recipe.remarks and rng.random() < 0.3:
        said["technique"] = rng.choice(("good", "good", "rough", "broke"))
    if "side" in recipe.remarks and sets[0].exercise in catalogue() and catalogue()[sets[0].exercise].per_side:
        said["side"] = rng.choice(("left", "right", "each"))
    if "why" in recipe.remarks and sets[-1].missed and rng.random() < 0.7:
        said["missed"] = rng.choice(("strength", "technique", "pain", "not-done"))
    return row_wide(sets, line, **said)


def effort_of_each(sets: Sequence[TrueSet], line: int, recipe: Recipe, rng: Random) -> tuple[TrueSet, ...]:
    """Where each set has its own cell, effort belongs to that cell, all else still to the row."""
    with_row = remark(sets, line, structs.replace(recipe, effort="none"), rng)
    efforts = [remark((s,), line, structs.replace(recipe, remarks=()), rng)[0].effort for s in sets]
    return tuple(
        structs.replace(s, effort=effort, effort_line=line * 100 + n)
        for n, (s, effort) in enumerate(zip(with_row, efforts, strict=True))
    )


def word_for(meaning: str | None, words: dict[str, str], rng: Random) -> str:
    """One of the words that mean this, or nothing."""
    return rng.choice([w for w, m in words.items() if m == meaning]) if meaning is not None else ""
