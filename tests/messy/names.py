"""Names of exercises and people as they stand in notebooks: right, abbreviated, noisy, mistyped, invented."""

import re
from functools import cache
from random import Random
from typing import NamedTuple

from rapidfuzz.distance import OSA

from steelyard.catalogue import catalogue
from steelyard.engine.exercises import Exercise, folded_name

from .recipe import Recipe

# All invented.
LIFTERS = (
    "Ines Falk", "Anna Berg", "Jonas Weiß", "Pelle Lind", "Rosa Díaz", "Tariq N.", "Oda Brühl", "O'Hale, Finn",
    "Mirela Kost", "Wim de Haan", "K. Osei", "Lindqvist, Maja", "Bo Ek", "Zoë van Dam",
)  # fmt: skip
INVENTED = {
    "en": ("Harbour hoist", "Moonlight twist", "Kettle snake", "Garden gate push", "Windmill step-through"),
    "de": ("Hafenheber", "Mondscheindreher", "Wandsitzrutsche", "Gartentordrücker", "Windmühlenschritt"),
}
MACHINES = ("stack", "plate-machine")
_LETTERS = "abcdefghijklmnoprstuw"


class Name(NamedTuple):
    """One exercise as this file writes it."""

    code: str
    written: str
    implement: str = ""
    is_open: bool = False  # a person would have to be asked what it is
    may_ask: bool = False  # a person could tell, but asking is no nuisance


def exercises() -> tuple[Exercise, ...]:
    """The catalogue's exercises that can be written without knowing a sign (assistance needs its minus)."""
    return catalogue().exercises


def name_of(exercise: Exercise, recipe: Recipe, rng: Random) -> Name:
    """How this file writes an exercise: mostly by the file's own habit."""
    plain = exercise.name[recipe.language]
    habit = recipe.naming if rng.random() < 0.75 else "catalogue"
    if habit == "written":
        return Name(exercise.code, _abbreviation(exercise, rng))
    if habit == "noise":
        return Name(exercise.code, _noise(plain, rng))
    if habit == "typo":
        typed = _typo(plain, exercise, rng)
        return Name(exercise.code, typed or plain, may_ask=typed is not None)
    if habit == "machine" and exercise.implement in MACHINES:
        number = rng.randint(1, 6)
        word = {"en": "machine", "de": "Gerät"}[recipe.language]
        # In a line of text `Leg press 3 3x8` would be a riddle.
        forms = ["{n} #{i}"] if recipe.shape == "free-text" else ["{n} #{i}", "{n} {i}"]
        form = rng.choice(forms if _is_made_by_machine(exercise, plain) else [*forms, "{n} {w} {i}", "{n} ({w} {i})"])
        return Name(exercise.code, form.format(n=plain, i=number, w=word), implement=str(number), may_ask=True)
    return Name(exercise.code, plain)


def invented(recipe: Recipe, rng: Random) -> Name:
    """A name that nobody but this gym knows."""
    written = rng.choice(INVENTED[recipe.language])
    return Name(written, written, is_open=True)


def _abbreviation(exercise: Exercise, rng: Random) -> str:
    # A number in a name is fair in a column of its own, but "45-degree leg press 3x8" is nobody's line.
    options = [w for w in exercise.written if not re.search(r"\d", w)]
    written = rng.choice(options)
    return rng.choice((written, written.title(), written.upper() if len(written) < 5 else written.capitalize()))


def _noise(plain: str, rng: Random) -> str:
    written = rng.choice((plain.upper(), plain.lower(), plain.title()))
    if rng.random() < 0.5:
        written = written.replace("-", " ") if "-" in written else written.replace(" ", "-")
    return written if rng.random() < 0.7 else f" {written.replace(' ', '  ') if rng.random() < 0.3 else written} "


def _typo(plain: str, exercise: Exercise, rng: Random) -> str | None:
    """One letter wrong, where no other exercise is anywhere near; None where that cannot be."""
    for _ in range(20):
        at = rng.randrange(1, max(2, len(plain) - 1))
        kind = rng.choice(("drop", "double", "swap", "other"))
        if not plain[at].isalpha() or len(plain) < 7:
            continue
        before, here, after = plain[:at], plain[at], plain[at + 1 :]
        typed = {
            "drop": before + after,
            "double": before + here + here + after,
            "swap": before + after[:1] + here + after[1:],
            "other": before + rng.choice(_LETTERS) + after,
        }[kind]
        if catalogue().named(typed) is None and _is_clear(typed, exercise):
            return typed
    return None


def _is_made_by_machine(exercise: Exercise, plain: str) -> bool:
    """Whether a word like machine makes another exercise of this one: seated row, machine row."""
    kind = folded_name(plain).split()[-1]
    words = [(set(name.split()), code) for name, code in _all_names() if code != exercise.code]
    return any(kind in w and w & {"machine", "gerat", "maschine"} for w, _ in words)


@cache
def _all_names() -> list[tuple[str, str]]:
    return [(folded_name(n), e.code) for e in catalogue().exercises for n in (*e.name.values(), *e.written)]


def _is_clear(typed: str, exercise: Exercise) -> bool:
    folded = folded_name(typed)
    distances = [(OSA.distance(folded, name), code) for name, code in _all_names()]
    own = min(d for d, code in distances if code == exercise.code)
    return own <= 2 and min(d for d, code in distances if code != exercise.code) >= own + 3
