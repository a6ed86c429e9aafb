"""What else stands in such files: titles, totals, averages, comments, empty rows, headers again, signatures."""

from collections.abc import Sequence
from decimal import Decimal
from random import Random

from .recipe import Recipe
from .sheets import Cell, Cells, Part, Table

TITLES = {
    "en": (
        "Training log",
        "Autumn block",
        "Garage gym",
        "Bars of 20, plates 1.25 to 25",
        "Page 1",
        "blank = not done",
        "last edited by M. Brandt",
        "Plan: three days a week",
        "-----",
        "v2",
        "Log 2025/26",
        "Block 2 of 4",
        "3 days x 4 weeks",
    ),
    "de": (
        "Trainingstagebuch",
        "Herbstblock",
        "Kellerstudio",
        "Stangen zu 20, Scheiben 1,25 bis 25",
        "Seite 1",
        "leer = nicht gemacht",
        "zuletzt geändert von M. Brandt",
        "Plan: drei Tage die Woche",
        "-----",
        "v2",
        "Protokoll 2025/26",
        "Block 2 von 4",
        "3 Tage x 4 Wochen",
    ),
}
UNIT_TITLES = {
    "en": ("All weights in {u}", "loads in {u}", "Unit: {u}"),
    "de": ("Alle Gewichte in {u}", "Lasten in {u}", "Einheit: {u}"),
}
COMMENTS = {
    "en": (
        "Slept badly",
        "Deload next week",
        "Coach away",
        "# travelling",
        "gym closed early",
        "felt strong today",
        "3 h sleep",
        "week 3 of 4",
        "bench felt heavy",
        "PB today!",
        "no spotter",
    ),
    "de": (
        "Schlecht geschlafen",
        "Nächste Woche Entlastung",
        "Trainerin im Urlaub",
        "# auf Reisen",
        "Halle zu",
        "heute stark",
        "nur 5 h geschlafen",
        "Woche 3 von 4",
        "Kniebeuge war schwer",
        "Bestleistung!",
        "ohne Sicherung",
    ),
}
GOALS = {"en": "Goal for spring: bench 100 kg x 5", "de": "Ziel Frühjahr: Bankdrücken 100 kg x 5"}
TOTALS = {"en": ("Total", "Total volume", "Sum"), "de": ("Summe", "Gesamt", "Gesamtvolumen")}
AVERAGES = {"en": ("Average", "Avg", "Mean"), "de": ("Durchschnitt", "Mittelwert", "Ø")}
SIGNATURES = {
    "en": ("Signed: M. Brandt", "Coach: ____________"),
    "de": ("Unterschrift: M. Brandt", "Trainerin: ________"),
}


class Noise:
    """The noise of one file."""

    def __init__(self, recipe: Recipe, rng: Random) -> None:
        self._recipe, self._rng = recipe, rng

    def above(self) -> list[Cells]:
        """The rows above everything."""
        language = self._recipe.language
        rows: list[Cells] = []
        for _ in range(self._recipe.header_row):
            is_blank = self._rng.random() < 0.3
            rows.append([] if is_blank else [self._rng.choice(TITLES[language])])
        if self._recipe.unit_place == "title":
            rows[self._rng.randrange(len(rows))] = [self._rng.choice(UNIT_TITLES[language]).format(u=self._recipe.unit)]
        if "goal" in self._recipe.noise and rows and self._recipe.unit_place not in {"none", "title"}:
            rows.insert(0, [GOALS[language]])
        return rows

    def laid(self, table: Table, roles: Sequence[str]) -> list[Cells]:
        """The rows of a table with noise between its days."""
        rows = [list(r) for r in table.header]
        for part in table.days:
            rows += [list(r) for r in part.rows]
            rows += self._between(table, roles, part)
        return rows

    def below(self) -> list[Cells]:
        """What stands under everything."""
        if "signature" not in self._recipe.noise:
            return []
        return [[], [self._rng.choice(SIGNATURES[self._recipe.language])]]

    def comment(self) -> str:
        """A remark on a day."""
        return self._rng.choice(COMMENTS[self._recipe.language])

    def _between(self, table: Table, roles: Sequence[str], part: Part) -> list[Cells]:
        language, rows = self._recipe.language, list[Cells]()
        for kind in ("totals", "averages", "comments", "empty", "headers-again"):
            if kind not in self._recipe.noise or self._rng.random() > 0.25:
                continue
            if kind == "totals":
                rows.append(
                    self._summary(self._rng.choice(TOTALS[language]), roles, table.width, 1200 + 10 * part.on.day)
                )
            elif kind == "averages":
                rows.append(self._summary(self._rng.choice(AVERAGES[language]), roles, table.width, Decimal("7.5")))
            elif kind == "comments":
                rows.append([self.comment()])
            elif kind == "empty":
                rows.append([])
            elif part is not table.days[-1]:
                rows += [list(r) for r in table.header]
        return rows

    def _summary(self, word: str, roles: Sequence[str], width: int, number: Cell) -> Cells:
        """`Total | | | 1230`: the number under the load, or in the last column."""
        cells: Cells = [None] * width
        cells[0 if self._rng.random() < 0.7 or "exercise" not in roles else roles.index("exercise")] = word
        at = roles.index("load") if "load" in roles else width - 1
        cells[at] = number
        return cells
