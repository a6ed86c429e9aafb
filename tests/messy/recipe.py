"""How one file is made: a value for every dimension, drawn from a seed and made to fit together."""

from collections.abc import Sequence
from random import Random
from typing import TypeVar

from msgspec import Struct, structs

T = TypeVar("T")

SHAPES = (
    "set-rows", "set-count-rows", "set-cell-rows", "set-columns", "load-reps-pairs", "date-columns", "exercise-columns",
    "lifter-column", "lifter-blocks", "side-by-side", "sheet-per-lifter", "sheet-per-week", "free-text", "json-lines",
)  # fmt: skip
TABLES = ("set-rows", "set-count-rows", "set-cell-rows", "set-columns", "load-reps-pairs")
WORKBOOKS = ("xlsx", "ods")
TEXT_TABLES = ("csv", "tsv", "semicolon", "pipe", "fixed")
ENCODINGS = ("utf-8", "utf-8-bom", "utf-16-le", "utf-16-be", "cp1252")
LINE_ENDS = ("lf", "crlf", "cr", "mixed")
UNIT_PLACES = ("header-kg", "header-lb", "cells-kg", "cells-lb", "both", "mixed", "title", "none")
STYLES = (
    "3x8@60kg", "3 x 8 x 60", "60kg 8,8,7", "8/8/7 @ 60", "60x8 60x8 60x7", "60kg x 8", "3×8 @ 60 kg", "3X8@60KG",
    "3 sets of 8 @ 60kg", "60kg: 8, 8, 7", "8@60 8@60 7@60",
)  # fmt: skip
NAMINGS = ("catalogue", "written", "noise", "typo", "machine", "unknown")
EVERYWHERE = (
    "iso",
    "dot",
    "slash-dmy",
    "dash-dmy",
    "dot-2",
    "slash-dmy-2",
    "words",
    "weekday",
    "datetime",
    "iso-slash",
    "long",
    "weekday-full",
    "iso-dot",
    "compact",
)
NOISE = ("totals", "averages", "comments", "empty", "headers-again", "signature", "goal")
EXTRAS = ("e1rm", "volume", "heart-rate", "coach", "set-number", "body-mass", "duration", "speed", "rest",
          "tempo", "target")  # fmt: skip
REMARKS = ("note", "pain", "technique", "side", "why")


class Recipe(Struct, frozen=True, kw_only=True):
    """One file's dimensions."""

    seed: int
    shape: str
    table: str  # the table inside of blocks and sheets
    container: str
    encoding: str
    line_end: str
    language: str
    date_form: str
    only_early_days: bool
    unit_place: str
    unit: str
    decimal: str
    style: str
    naming: str
    header_row: int
    noise: tuple[str, ...]
    carry: str
    extras: tuple[str, ...]
    remarks: tuple[str, ...]
    effort: str
    effort_place: str
    miss_word: str
    bare: str  # how a load of body mass alone is written in a column of loads
    weeks: str  # days of an undated week: weekdays or numbers
    is_light: bool = False  # nothing above 10 kg: a bare @ 8 could be load or effort

    @property
    def is_workbook(self) -> bool:
        """Whether cells have types and there are several sheets."""
        return self.container in WORKBOOKS

    @property
    def has_load_header(self) -> bool:
        """Whether a column of its own holds the load."""
        if self.is_across:
            return False
        return self.table in {"set-rows", "set-count-rows", "load-reps-pairs"} or self.is_count_columns

    @property
    def is_across(self) -> bool:
        """Whether a cell or line holds all sets of a bout and there is nothing beside it."""
        return self.shape in {"date-columns", "exercise-columns", "free-text"}

    @property
    def is_nested(self) -> bool:
        """Whether a JSON record holds a list of sets."""
        return self.shape == "json-lines" and self.table == "set-cell-rows" and self.seed % 2 == 0

    @property
    def is_count_columns(self) -> bool:
        """Whether the columns of a table with a column a set hold repetitions only."""
        return self.table == "set-columns" and self.style not in {"60x8 60x8 60x7", "60kg x 8"}

    def dimensions(self) -> dict[str, str]:
        """What the report counts by."""
        return {
            "shape": self.shape,
            "container": self.container,
            "encoding": self.encoding,
            "line ends": self.line_end,
            "language": self.language,
            "date": self.date_form,
            "unit": self.unit_place,
            "decimal mark": self.decimal,
            "cell style": "-" if self.has_load_header else self.style,
            "names": self.naming,
            "rows above": "0" if not self.header_row else "1-5" if self.header_row < 6 else "6-15",
            "noise": "none" if not self.noise else " + ".join(self.noise) if len(self.noise) == 1 else "several",
            "carry-down": self.carry,
            "extra columns": "some" if self.extras else "none",
            "remarks": "some" if self.remarks else "none",
            "effort": f"{self.effort} {self.effort_place}".strip(),
        }


def some(rng: Random, options: Sequence[T], chance: float) -> tuple[T, ...]:
    """Each option by itself with this chance, in a drawn order."""
    kept = [o for o in options if rng.random() < chance]
    rng.shuffle(kept)
    return tuple(kept)


def draw_recipe(seed: int, only: str | None = None) -> Recipe:
    """The recipe of a seed; shapes take turns, so that each is met equally often."""
    rng = Random(f"messy {seed}")
    shape = only or SHAPES[seed % len(SHAPES)]
    table = shape if shape in TABLES else rng.choice(TABLES if shape != "json-lines" else ("set-rows", "set-cell-rows"))
    language = rng.choice(("en", "de"))
    container = _container(rng, shape)
    is_text = container not in WORKBOOKS
    date_form = _date_form(rng, shape, container, language)
    decimal = rng.choice(("point", "point", "comma") if language == "en" else ("comma", "comma", "point"))
    draft = Recipe(
        seed=seed, shape=shape, table=table, container=container,
        encoding=rng.choice(ENCODINGS) if is_text else "-", line_end=rng.choice(LINE_ENDS) if is_text else "-",
        language=language, date_form=date_form, only_early_days=rng.random() < 0.3,
        unit_place="", unit="", decimal="point" if shape == "json-lines" else decimal,
        style=rng.choice(STYLES), naming=rng.choice(NAMINGS),
        header_row=rng.choice((0, 0, 1, 2, 3, 5, 8, 15)) if shape not in {"free-text", "json-lines"} else 0,
        noise=() if rng.random() < 0.3 or shape == "json-lines" else some(rng, NOISE, 0.35),
        carry=rng.choice(("none", "date", "date+exercise")), extras=some(rng, EXTRAS, 0.16),
        remarks=some(rng, REMARKS, 0.3), effort=rng.choice(("none", "rir", "rpe")),
        effort_place=rng.choice(("column", "suffix")),
        miss_word=rng.choice(("0", "x", "miss", "fail") if language == "en" else ("0", "x", "fehlversuch", "0")),
        bare=rng.choice(("BW", "bw", "", "0") if language == "en" else ("BW", "Körpergewicht", "", "0")),
        weeks=rng.choice(("weekdays", "weekdays", "numbers")),
    )  # fmt: skip
    return _fit(draft, rng)


def _container(rng: Random, shape: str) -> str:
    if shape == "json-lines":
        return "jsonl"
    if shape == "free-text":
        return rng.choice(("txt", "txt", "txt", "xlsx"))
    if shape in {"sheet-per-lifter", "sheet-per-week"}:
        return rng.choice(WORKBOOKS)
    return rng.choice((*TEXT_TABLES, *WORKBOOKS))


def _date_form(rng: Random, shape: str, container: str, language: str) -> str:
    forms: list[str] = [*EVERYWHERE]
    if language == "en":
        forms += ["slash-mdy", "slash-mdy", "slash-mdy-2", "month-dash"]
    if shape == "sheet-per-week":
        return rng.choice(("undated", "undated", *forms))
    if container in WORKBOOKS and shape != "free-text":
        forms += ["true-date"] * 6 + ["serial"] * 2
    elif shape not in {"free-text", "json-lines"}:
        forms += ["serial"]
    return rng.choice(forms)


def _fit(draft: Recipe, rng: Random) -> Recipe:
    """Take out what could not stand together in one file."""
    fitted = structs.replace(draft, **_fit_table(draft))
    fitted = structs.replace(fitted, **_fit_unit(fitted, rng))
    changes: dict[str, object] = {}
    if fitted.carry != "none" and fitted.bare == "":
        changes["bare"] = "BW"  # an empty load under a filled one could be the same load again
    if fitted.unit_place == "title" and not fitted.header_row:
        changes["header_row"] = 2
    if fitted.date_form == "undated":
        changes["noise"] = tuple(n for n in fitted.noise if n != "headers-again")
    if fitted.effort == "none":
        changes["effort_place"] = ""
    elif fitted.is_across:
        changes["effort_place"] = "suffix"
    elif fitted.has_load_header:
        changes["effort_place"] = "column"
    return structs.replace(fitted, **changes)


def _fit_table(draft: Recipe) -> dict[str, object]:
    if draft.is_across:
        return {"table": "set-cell-rows", "carry": "none", "extras": (), "remarks": ()}
    changes: dict[str, object] = {}
    if draft.table != "set-rows":
        changes["remarks"] = tuple(r for r in draft.remarks if r not in {"why", "side"})
        changes["extras"] = tuple(e for e in draft.extras if e != "set-number")
    if draft.shape == "json-lines":
        kept = {"note"} if draft.is_nested else {"note", "pain", "technique"}
        kept |= {"side"} if draft.table == "set-rows" else set()
        changes |= {"carry": "none", "remarks": tuple(r for r in draft.remarks if r in kept)}
    return changes


def _fit_unit(draft: Recipe, rng: Random) -> dict[str, object]:
    places = list(UNIT_PLACES)
    if not draft.has_load_header:
        places = [p for p in places if p not in {"both", "mixed", "header-kg", "header-lb"}]
    if draft.shape in {"free-text", "json-lines"}:
        places.remove("title")
    place, style = rng.choice(places), draft.style
    named = {"header-kg": "kg", "header-lb": "lb", "cells-kg": "kg", "cells-lb": "lb"}
    if place in {"none", "title"}:  # `60 8,8,7` could be anything, and so could `60 x 8`
        style = {"60kg x 8": "3x8@60kg", "60kg 8,8,7": "8/8/7 @ 60"}.get(style, style)
    is_light = place == "none" and not draft.has_load_header and draft.table == "set-cell-rows"
    return {
        "unit_place": place, "unit": named.get(place) or rng.choice(("kg", "kg", "lb")), "style": style,
        "is_light": is_light and style in {"3x8@60kg", "8/8/7 @ 60", "3×8 @ 60 kg"} and rng.random() < 0.3,
    }  # fmt: skip
