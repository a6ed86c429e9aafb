"""Logs that are no tables: lines as people type them into a phone, and JSON, a record a line."""

import json
import re
from collections.abc import Sequence
from decimal import Decimal
from itertools import groupby
from random import Random

from .groups import Group
from .layouts import Layout
from .noise import SIGNATURES, Noise
from .recipe import Recipe
from .sheets import Cell
from .truth import TrueSet


def free_lines(groups: Sequence[Group], layout: Layout, recipe: Recipe, rng: Random) -> list[str]:
    """Day headings with a line an exercise below, or a line an exercise that begins with its day."""
    noise = Noise(recipe, rng)
    is_headed, between = rng.random() < 0.65, rng.choice((" ", ": ", " "))
    bullet = rng.choice(("", "", "- ", "* ")) if is_headed else ""
    lines: list[str] = []
    for on, same_day in groupby(groups, key=lambda g: g.one.on):
        day = layout.days.text(on)
        if is_headed:
            lines += [*([""] if lines else []), day + rng.choice(("", "", ":"))]
        for group in same_day:
            line = f"{group.one.written.strip()}{between}{layout.maker.sets.cell(group.sets)}"
            lines.append(f"{bullet}{line}" if is_headed else f"{day} {line}")
        if "comments" in recipe.noise and rng.random() < 0.3:
            lines.append(noise.comment())
    if "signature" in recipe.noise:
        lines += ["", SIGNATURES[recipe.language][0]]
    return lines


def json_lines(groups: Sequence[Group], layout: Layout, recipe: Recipe, rng: Random) -> list[str]:
    """A record a set, or a record an exercise with a text or a list of its sets."""
    is_ascii = rng.random() < 0.5
    if recipe.is_nested:
        return [json.dumps(_nested(g, layout, recipe), ensure_ascii=is_ascii) for g in groups]
    columns = layout.maker.make(groups, with_date=True, with_lifter=False)
    keys = [_key(c.header) for c in columns]
    layout.maker.written |= dict(zip(keys, (c.role for c in columns), strict=True))
    lines = []
    for group in groups:
        record = dict(zip(keys, (_value(c.cell(group)) for c in columns), strict=True))
        kept = record if recipe.seed % 3 else {k: v for k, v in record.items() if v is not None}
        lines.append(json.dumps(kept, ensure_ascii=is_ascii))
    return lines


def _nested(group: Group, layout: Layout, recipe: Recipe) -> dict[str, object]:
    word = layout.headers.word
    one = group.sets[-1]
    record: dict[str, object] = {
        _key(word("date")): layout.days.text(one.on),
        _key(word("exercise")): one.written,
        "sets" if recipe.language == "en" else "sätze": [_nested_set(s, layout, recipe) for s in group.sets],
    }
    if one.effort is not None:
        record[recipe.effort] = _value(one.effort[1])
    if one.note:
        record[_key(word("note"))] = one.note
    return record


def _nested_set(one: TrueSet, layout: Layout, recipe: Recipe) -> dict[str, object]:
    count = {"reps": one.reps, "seconds": one.seconds, "metres": one.metres}
    counted: dict[str, object] = {k: v for k, v in count.items() if v is not None}
    if one.load is None:
        return counted
    if recipe.unit_place in {"cells-kg", "cells-lb"}:
        return {one.unit: _value(one.load)} | counted
    return {_key(layout.headers.word("load")): _value(one.load)} | counted


def _key(header: str) -> str:
    return re.sub(r"\W+", "_", header.lower()).strip("_")


def _value(cell: Cell) -> object:
    if isinstance(cell, Decimal):
        return int(cell) if cell == cell.to_integral() else float(cell)
    return cell
