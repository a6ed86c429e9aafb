"""Signs of the writer's own for technique, such as A, B, C: said by a legend above the table, or asked."""

import re
from collections.abc import Iterable, Mapping, Sequence

from steelyard.engine.log import Technique
from steelyard.wording.message import tell

from . import cells
from .cell_text import text_of
from .cells import CellRefused
from .findings import Findings
from .found import Choice
from .groups import cell_of
from .survey import Survey

LONGEST_SIGN = 2
MOST_SIGNS = 6
# What each sign says of technique; None where it says nothing, and is kept as a note.
Signs = Mapping[str, Technique | None]


def find_signs(surveys: Sequence[Survey], findings: Findings) -> dict[str, Signs]:
    """For each column of technique with signs of its own what they mean; a column that must be asked is not in it."""
    shown: dict[str, dict[str, None]] = {}
    for survey in surveys:
        for column in (c for c in survey.block.columns if c.word.role == "technique"):
            texts = (text_of(cell_of(row.row, column)) for row in survey.rows)
            shown.setdefault(column.base, {}).update(dict.fromkeys(t for t in texts if t and not _is_known(t)))
    legends = [text_of(title.text) for survey in surveys for title in survey.block.titles]
    out: dict[str, Signs] = {}
    for name, held in shown.items():
        signs = [text for text in held if len(text) <= LONGEST_SIGN]
        if not 0 < len(signs) <= MOST_SIGNS:
            continue
        found = _of_legends(signs, legends)
        found = found if len(found) == len(signs) else _asked(name, signs, findings)
        if found:
            out[name] = found
    return out


def _is_known(text: str) -> bool:
    try:
        cells.technique(text)
    except CellRefused:
        return False
    return True


def _of_legends(signs: Sequence[str], legends: Iterable[str]) -> dict[str, Technique | None]:
    """What a legend such as `A = good, B = rough` says, by its first word after each sign."""
    out: dict[str, Technique | None] = {}
    for legend in legends:
        for sign in signs:
            match = re.search(rf"(?:^|[,;:(]\s*){re.escape(sign)}\s*(?:[=:]\s*|\s)(\w+)", legend)
            if match is not None and _is_known(match[1]):
                out[sign] = cells.technique(match[1])
    return out


def _asked(name: str, signs: Sequence[str], findings: Findings) -> dict[str, Technique | None]:
    asks = tell(
        "What does each sign in {column} say of technique? Answer such as {example}; good, rough, broke or note.",
        column=name,
        example=",".join(f"{sign}={word}" for sign, word in zip(signs, ("good", "rough", "broke"), strict=False)),
    )
    choices = (Choice("note", tell("nothing of technique: keep them as notes")),)
    answer = findings.ask(f"signs:{name}", asks, tuple(signs), choices, lambda said: bool(_answered(said, signs)))
    return _answered(answer, signs) if answer is not None else {}


def _answered(said: str, signs: Sequence[str]) -> dict[str, Technique | None]:
    """What an answer says of each sign; empty where it leaves one out or names another."""
    if said == "note":
        return dict.fromkeys(signs)
    meant: dict[str, Technique | None] = {}
    for part in said.split(","):
        sign, _, word = (piece.strip() for piece in part.rpartition("="))
        if sign not in signs or not (word == "note" or _is_known(word)):
            return {}
        meant[sign] = None if word == "note" else cells.technique(word)
    return meant if len(meant) == len(signs) else {}
