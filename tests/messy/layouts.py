"""Where tables stand in a file: alone, one block a lifter, side by side, a sheet a lifter, a sheet a week."""

from collections.abc import Callable, Sequence
from datetime import date
from itertools import groupby, zip_longest
from random import Random

from .columns import ColumnMaker
from .dates import WEEKDAYS, DayWriter
from .groups import Group
from .headers import Headers
from .noise import Noise
from .recipe import Recipe
from .sheets import Cell, Cells, Sheet, Table
from .tables import dates_across, exercises_across, table_of

WEEK = {"en": ("Week {n}", "W{n}", "week {n}"), "de": ("Woche {n}", "W{n}", "Woche {n}")}
DAY = {"en": "Day {n}", "de": "Tag {n}"}
PERSON = {"en": ("{n}", "Athlete: {n}", "Lifter: {n}"), "de": ("{n}", "Athlet: {n}", "Name: {n}")}


class Layout:
    """Lays the groups of one file out on sheets."""

    def __init__(self, recipe: Recipe, rng: Random) -> None:
        self._recipe, self._rng = recipe, rng
        self.headers, self.days = Headers(recipe, rng), DayWriter(recipe, rng)
        self.maker = ColumnMaker(recipe, self.headers, self.days, rng)
        self._noise = Noise(recipe, rng)
        self._person = rng.choice(PERSON[recipe.language])
        self.has_bare_titles = self._person == "{n}" and recipe.shape in {"lifter-blocks", "side-by-side"}
        self._ways: dict[str, Callable[[Sequence[Group]], list[Sheet]]] = {
            "lifter-blocks": self._blocks, "side-by-side": self._side_by_side,
            "sheet-per-lifter": self._sheet_each, "sheet-per-week": self._weeks,
        }  # fmt: skip

    def sheets(self, groups: Sequence[Group]) -> list[Sheet]:
        """All sheets of the file."""
        return self._ways.get(self._recipe.shape, self._alone)(groups)

    def _table(self, groups: Sequence[Group], *, with_date: bool = True) -> tuple[Table, list[str]]:
        if self._recipe.shape in {"date-columns", "exercise-columns"}:
            make = dates_across if self._recipe.shape == "date-columns" else exercises_across
            table = make(groups, self.headers, self.days, self.maker.sets)
            return table, [""] * table.width
        with_lifter = self._recipe.shape == "lifter-column"
        columns = self.maker.make(groups, with_date=with_date, with_lifter=with_lifter)
        if with_lifter:
            groups = sorted(groups, key=lambda g: g.one.on)
        return table_of(groups, columns, self._recipe), [c.role for c in columns]

    def _rows(self, groups: Sequence[Group], *, with_date: bool = True) -> list[Cells]:
        table, roles = self._table(groups, with_date=with_date)
        return self._noise.laid(table, roles)

    def _alone(self, groups: Sequence[Group]) -> list[Sheet]:
        rows = [*self._noise.above(), *self._rows(groups), *self._noise.below()]
        return [_with_merges("Log" if self._recipe.language == "en" else "Tabelle1", rows)]

    def _blocks(self, groups: Sequence[Group]) -> list[Sheet]:
        rows = self._noise.above()
        for lifter, mine in _by_lifter(groups):
            rows += [[self._person.format(n=lifter)], *self._rows(mine), []]
        return [_with_merges("Log", rows + self._noise.below())]

    def _side_by_side(self, groups: Sequence[Group]) -> list[Sheet]:
        blocks: list[list[Cells]] = []
        for lifter, mine in _by_lifter(groups):
            blocks.append([[self._person.format(n=lifter)], *self._rows(mine)])
        widths = [max(len(row) for row in block) for block in blocks]
        gap = self._rng.choice((1, 1, 2))
        rows = self._noise.above()
        for across in zip_longest(*blocks, fillvalue=list[Cell]()):
            row: Cells = []
            for cells, width in zip(across, widths, strict=True):
                row += [*cells, *[None] * (width - len(cells) + gap)]
            rows.append(row[: len(row) - gap])
        return [_with_merges("Log", rows)]

    def _sheet_each(self, groups: Sequence[Group]) -> list[Sheet]:
        sheets = []
        for lifter, mine in _by_lifter(groups):
            rows = [*self._noise.above(), *self._rows(mine), *self._noise.below()]
            sheets.append(_with_merges(lifter, rows))
        return sheets

    def _weeks(self, groups: Sequence[Group]) -> list[Sheet]:
        word = self._rng.choice(WEEK[self._recipe.language])
        sheets = []
        for n, (_, of_week) in enumerate(groupby(groups, key=lambda g: g.one.on.isocalendar()[:2]), 1):
            rows = self._noise.above()
            for nth, (on, of_day) in enumerate(groupby(of_week, key=lambda g: g.one.on), 1):
                rows += [[self._day_title(on, nth)], *self._rows(list(of_day), with_date=False), []]
            sheets.append(_with_merges(word.format(n=n), rows + self._noise.below()))
        return sheets

    def _day_title(self, on: date, nth: int) -> Cell:
        weekday = WEEKDAYS[self._recipe.language][on.weekday()]
        if self._recipe.date_form == "undated":
            return weekday if self._recipe.weeks == "weekdays" else DAY[self._recipe.language].format(n=nth)
        written = self.days.cell(on)
        is_plain = not isinstance(written, str) or self._recipe.date_form in {
            "weekday",
            "datetime",
            "long",
            "weekday-full",
        }
        return written if is_plain or self._recipe.seed % 2 else f"{weekday}, {written}"


def _by_lifter(groups: Sequence[Group]) -> list[tuple[str, list[Group]]]:
    return [(lifter, list(mine)) for lifter, mine in groupby(groups, key=lambda g: g.one.lifter)]


def _with_merges(name: str, rows: list[Cells]) -> Sheet:
    """A sheet whose titles are merged over the table, and the upper cells of a header of two rows over their pair."""
    width = max((len(r) for r in rows), default=1)
    merged = []
    for n, row in enumerate(rows):
        filled = [at for at, cell in enumerate(row) if cell is not None]
        if len(row) == 1 and width > 1:
            merged.append((n, 0, width - 1))
        elif len(filled) > 1 and _is_upper_header(row, filled, rows[n + 1 : n + 2]):
            merged += [(n, at, at + 1) for at in filled]
    return Sheet(name=name, rows=rows, merged=merged)


def _is_upper_header(row: Cells, filled: list[int], below: list[Cells]) -> bool:
    """`Set 1 | | Set 2 |` over `kg | reps | kg | reps`: each filled cell spans two of those below."""
    if not below or filled[0] == 0 or any(not isinstance(row[at], str) for at in filled):
        return False
    return all(
        at + 1 < len(row) and row[at + 1] is None and at + 1 < len(below[0]) and below[0][at] and below[0][at + 1]
        for at in filled
    ) and all(str(row[at])[-1:].isdigit() or "Satz" in str(row[at]) for at in filled)
