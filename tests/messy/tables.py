"""Tables of sets: a row a set, a row an exercise, dates or exercises as columns."""

from collections.abc import Sequence
from datetime import date
from itertools import groupby

from .columns import Column
from .dates import DayWriter
from .groups import Group
from .headers import Headers
from .recipe import Recipe
from .set_cells import SetWriter
from .sheets import Cell, Cells, Part, Table


def table_of(groups: Sequence[Group], columns: Sequence[Column], recipe: Recipe) -> Table:
    """Rows of groups under a header of one or two rows, with what is carried down left empty."""
    parts: list[Part] = []
    for on, same_day in groupby(groups, key=lambda g: (g.one.on, g.one.lifter)):
        before: Group | None = None
        rows: list[Cells] = []
        for group in same_day:
            rows.append([None if _is_carried(c, group, before, recipe) else c.cell(group) for c in columns])
            before = group
        parts.append(Part(on=on[0], rows=rows))
    header: list[Cells] = [[c.header for c in columns]]
    if any(c.above for c in columns):
        above: Cells = []
        for c in columns:
            above.append(c.above if c.above and c.role == "load" else None)
        header.insert(0, above)
    return Table(header=header, days=parts)


def _is_carried(column: Column, group: Group, before: Group | None, recipe: Recipe) -> bool:
    if before is None or recipe.carry == "none":
        return False
    if column.role in {"date", "lifter"}:
        return True
    is_same = (group.one.exercise, group.one.lifter) == (before.one.exercise, before.one.lifter)
    return column.role == "exercise" and recipe.carry == "date+exercise" and is_same


def dates_across(groups: Sequence[Group], headers: Headers, days: DayWriter, sets: SetWriter) -> Table:
    """A row an exercise, a column a date."""
    on_days = sorted({g.one.on for g in groups})
    names = list(dict.fromkeys(g.one.written for g in groups))
    cell = {(g.one.written, g.one.on): sets.cell(g.sets) for g in groups}
    header: Cells = [headers.word("exercise"), *(days.cell(d) for d in on_days)]
    rows: list[Cells] = [[name, *(cell.get((name, d)) for d in on_days)] for name in names]
    return Table(header=[header], days=[Part(on=on_days[0], rows=rows)])


def exercises_across(groups: Sequence[Group], headers: Headers, days: DayWriter, sets: SetWriter) -> Table:
    """A row a date, a column an exercise."""
    names = list(dict.fromkeys(g.one.written for g in groups))
    cell = {(g.one.written, g.one.on): sets.cell(g.sets) for g in groups}
    header: Cells = [headers.word("date"), *names]

    def row(on: date) -> Cells:
        across: list[Cell] = [cell.get((name, on)) for name in names]
        return [days.cell(on), *across]

    parts = [Part(on=on, rows=[row(on)]) for on in sorted({g.one.on for g in groups})]
    return Table(header=[header], days=parts)
