"""One messy file from one seed, with the truth about it."""

from collections.abc import Sequence
from itertools import chain
from random import Random

from .columns import as_written, body_mass_kg
from .containers import SUFFIXES, contained, encoded
from .dates import order_left_open
from .groups import Group, grouped
from .layouts import Layout
from .plain_text import free_lines, json_lines
from .recipe import Recipe, draw_recipe
from .sheets import Sheet
from .training import SEVERAL, TODAY, Training, train
from .truth import Ambiguity, MessyFile, TrueSet


def messy_file(seed: int, only: str | None = None) -> MessyFile:
    """The file of a seed: the same whenever it is made, as long as the catalogue is the same."""
    return file_of(draw_recipe(seed, only))


def file_of(recipe: Recipe) -> MessyFile:
    """The file that a recipe makes."""
    rng = Random(f"messy file {recipe.seed}")
    training = train(recipe, rng)
    groups = grouped(training.bouts, recipe, rng)
    layout = Layout(recipe, rng)
    content, groups = _written(groups, layout, recipe, rng)
    sets = tuple(chain.from_iterable(g.sets for g in groups))
    return MessyFile(
        seed=recipe.seed, name=f"log-{recipe.seed}.{SUFFIXES[recipe.container]}", content=content, sets=sets,
        open_facts=left_open(recipe, training, sets, layout), today=TODAY,
        given_lifter=None if recipe.shape in SEVERAL else training.lifters[0], made=recipe.dimensions(),
        columns=layout.maker.written,
        body_masses={s.on: body_mass_kg(s.on) for s in sets} if "body-mass" in recipe.extras else {},
    )  # fmt: skip


def _written(groups: list[Group], layout: Layout, recipe: Recipe, rng: Random) -> tuple[bytes, list[Group]]:
    if recipe.shape == "json-lines":
        return encoded(json_lines(groups, layout, recipe, rng), recipe, rng), as_written(groups, layout.maker)
    if recipe.shape == "free-text":
        lines = free_lines(groups, layout, recipe, rng)
        if recipe.container == "txt":
            return encoded(lines, recipe, rng), groups
        return contained([Sheet(name="Log", rows=[[line] if line else [] for line in lines])], recipe, rng), groups
    content = contained(layout.sheets(groups), recipe, rng)
    has_counts = recipe.table in {"set-rows", "set-count-rows", "load-reps-pairs"} or recipe.is_count_columns
    return content, as_written(groups, layout.maker) if has_counts and not recipe.is_across else groups


def left_open(recipe: Recipe, training: Training, sets: Sequence[TrueSet], layout: Layout) -> tuple[Ambiguity, ...]:
    """What a person with this file alone in hand could not know, or might fairly ask."""
    used = {s.written for s in sets}
    names = (
        Ambiguity("name", name.code, must_ask=name.is_open, about=name.written)
        for name in training.names
        if name.written in used and (name.is_open or name.may_ask)
    )
    return (*_open_numbers(recipe, sets, layout), *_open_places(recipe, sets, layout), *names)


def _open_numbers(recipe: Recipe, sets: Sequence[TrueSet], layout: Layout) -> list[Ambiguity]:
    found: list[Ambiguity] = []
    if recipe.unit_place in {"none", "title"} and any(s.load is not None for s in sets):
        found.append(Ambiguity("unit", recipe.unit, must_ask=recipe.unit_place == "none"))
    if recipe.style == "8/8/7 @ 60":  # 8/8 could be the two sides
        found.append(Ambiguity("slash", "sets", must_ask=False))
    if recipe.is_light:
        found.append(Ambiguity("at-number", "load", must_ask=recipe.effort == "none"))
    elif layout.maker.sets.has_bare_effort:
        found.append(Ambiguity("at-number", "rpe", must_ask=False))
    for header, role in layout.maker.written.items():
        if role == "body-mass" and "kg" not in header.lower():
            found.append(Ambiguity("unit", "kg", must_ask=False, about=header))
        if role in {"coach", "why", "speed", "duration"}:  # initials, or the gym's own words
            found.append(Ambiguity("column", role, must_ask=False, about=header))
    return found


def _open_places(recipe: Recipe, sets: Sequence[TrueSet], layout: Layout) -> list[Ambiguity]:
    found = [*order_left_open(recipe, {s.on for s in sets})]
    if recipe.date_form == "undated":
        found.append(Ambiguity("start", "", must_ask=True))
        if recipe.weeks == "numbers":
            found.append(Ambiguity("weekdays", "", must_ask=True))
    if layout.has_bare_titles:
        found.append(Ambiguity("titles", "lifter", must_ask=False))
    if recipe.shape == "sheet-per-lifter":
        found.append(Ambiguity("sheet-names", "lifter", must_ask=False))
    return found
