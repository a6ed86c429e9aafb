"""Free lines such as `Bench 3x8 60kg`, cut into the exercise and its sets, so that they read as a table."""

import re
from collections.abc import Callable

from msgspec import structs

from steelyard.wording.message import tell

from .blocks import Block, Column, filled
from .cell_text import text_of
from .date_words import is_day
from .dittos import AGAIN
from .findings import Findings
from .found import Place
from .grid import Cell, Row
from .headers import HeaderWord
from .set_tokens import looks_like_sets

_CELL_START = re.compile(
    r"(?:[+-]?\d|(?:bw|kgw?|körpergewicht|eigengewicht|bodyweight)\s*(?:[+-]\s*\d|x\s*\d|:?\s*\d)|(?:amrap|mark|stufe|tempo|rpe|l|r)\s*\d)",
    re.IGNORECASE,
)
_DATED = re.compile(r"^(?P<day>.{3,32}?)(?:\s*[-–—:,(]\s*|\s+)(?P<rest>[^\d].*)$")
_BODY_MASS = re.compile(
    r"^(?P<name>body ?(?:weight|mass|wt\.?)|bw|weigh-?in|körpergewicht|koerpergewicht|körpermasse|kgw)\s*[:=]?\s*"
    r"(?P<mass>\d{2,3}(?:[.,]\d{1,2})?\s*(?:kg|lbs?)?)$",
    re.IGNORECASE,
)
_NO_NAME = re.compile(
    r"[@:/]\s*\d|\d\s*(?:kg|lb)|@$|\d\s*[x×*]$|[\s:](?:bw|kgw?|eigengewicht|körpergewicht|body ?weight)$", re.IGNORECASE
)
_NUMBERED = re.compile(
    r"^(?P<name>[^\d:]*[^\W\d][^\d:]*?\s(?:#\s?\d{1,3}|(?:nr|no|gerät|geraet|maschine|machine|station|turm)\.?\s?\d{1,3}"
    r"(?!\d|\s?(?:[x×*@,./]|kgs?\b|lbs?\b|kgx|lbsx|lbx|s\b|sec|sek|m\b|min|reps?\b|wdh))|"
    r"(?:1[0-5]|\d)(?=\s?:.*(?:\d\s?(?:kg|lb)|@|x.*x|bw|\d\s?:)|\s+\d+\s?x\s?\d+\s?[@x])))"
    r"\s*:?\s*(?P<rest>.+)$",
    re.IGNORECASE,
)
_HOURS = re.compile(r"\d+(?:[.,]\d+)?\s*(?:h|hrs?|hours?|std|stunden?|uhr)\b", re.IGNORECASE)
_COUNTS = re.compile(r"[\dx,;/\s]+(?:s|sec|m|reps?|wdh)?\W*$|\d+\s*(?:s|sec|m|reps?|wdh)\b", re.IGNORECASE)
_WARM_UP = re.compile(
    r"\W*(?:warm[- ]?(?:up|ing up)|aufwärmen|einlaufen|einrudern)\b[^\d]*\d+\s*(?:mins?|minutes?|minuten|')\W*$",
    re.IGNORECASE,
)
COLUMNS = [
    Column(index=0, name="exercise", word=HeaderWord(role="exercise")),
    Column(index=1, name="sets", word=HeaderWord(role="set-cell")),
]


def as_table(block: Block, is_exercise: Callable[[str], bool], findings: Findings) -> Block:
    """The lines as rows of an exercise and a cell of sets; titles stay single cells."""
    rows: list[Row] = []
    for row in block.rows:
        cells = [c for _, c in filled(row)]
        line: Cell = cells[0] if len(cells) == 1 else ", ".join(map(text_of, cells))
        day, rest = _day_first(line) if isinstance(line, str) else ("", "")
        if isinstance(line, str) and _WARM_UP.match(line) and not looks_like_sets(line):
            findings.pass_over(Place(block.sheet, row.number, ""), line, tell("this is a warm-up and no set"))
        elif not day:
            rows.append(Row(row.number, _split(line, is_exercise)))
        else:
            rows.append(Row(row.number, (day,)))
            if any(map(str.isdigit, rest)):
                rows.append(Row(row.number, _split(rest, is_exercise)))
            else:
                findings.pass_over(Place(block.sheet, row.number, ""), rest, tell("these words stand beside a day"))
    return structs.replace(block, rows=rows, columns=list(COLUMNS), beyond=2)


def _split(line: Cell, is_exercise: Callable[[str], bool]) -> tuple[Cell, ...]:
    if not isinstance(line, str):
        return (line,)
    text = line.strip().lstrip("•*·").strip()
    text = re.sub(r"^-\s+(?=[^\W\d])", "", text)
    if text.startswith(("#", "//")) or is_day(text) or not any(map(str.isdigit, text)):
        again = _again(text, is_exercise)
        return again or ((text.rstrip(":"),) if is_exercise(text.rstrip(":")) else (text,))
    if mass := _BODY_MASS.match(text):
        return mass["name"], mass["mass"]
    name, cell = cut_line(text, is_exercise)
    return (name, cell) if cell else (text,)


def _again(text: str, is_exercise: Callable[[str], bool]) -> tuple[Cell, ...]:
    """`Squat same as last time`, cut into the exercise and the words; nothing for any other line."""
    for word in list(re.finditer(r"\S+", text))[1:]:
        name, rest = text[: word.start()].strip(" :-–—,"), text[word.start() :]
        if AGAIN.fullmatch(rest) and is_exercise(name):
            return name, rest
    return ()


def _day_first(line: str) -> tuple[str, str]:
    """`3 Nov 2026 - push`, a day with words after it; two empty texts where it is none."""
    text = line.strip()
    words = text.split(" ")
    for count in range(min(5, len(words) - 1), 0, -1):
        day = " ".join(words[:count]).strip(" -–—:,(")
        rest = " ".join(words[count:]).strip(" -–—:,")
        # `2 Nov (push)` is one bracket; the last one of `2 Nov Squat 8@60kg (RIR 2)` belongs to its sets.
        rest = rest.strip("() ") if rest.startswith("(") else rest
        is_whole = is_day(day) and (count > 1 or re.search(r"[.\-/].*[.\-/]|^\d{8}$", day))
        if is_whole and rest and not rest[0].isdigit() and not rest.casefold().startswith(("x ", "x", "kg", "@")):
            return day, rest
    return "", ""


def cut_line(text: str, is_exercise: Callable[[str], bool]) -> tuple[str, str]:
    """The exercise and the rest: the longest known name before sets, else everything before the first number."""
    numbered = _NUMBERED.match(text)
    if numbered is not None:
        # `Machine 4: 3 x 11 x 50kg` and `Machine #4 ...` are its number, not its load.
        return numbered["name"], numbered["rest"]
    words = list(re.finditer(r"\S+", text))
    for word in reversed(words[:8]):
        name, rest = text[: word.end()].rstrip(" :-–—,"), text[word.end() :].lstrip(" :–—,").removeprefix("- ").lstrip()
        # `leg curl 12 @ 30` is no twelfth leg curl.
        is_numbered = name.rpartition(" ")[2].isdecimal() and is_exercise(name.rpartition(" ")[0])
        is_whole = not looks_like_sets(name) and not _NO_NAME.search(name)
        if rest and is_whole and not is_numbered and _CELL_START.match(rest) and is_exercise(name):
            return name, rest
    for word in words:
        if _CELL_START.match(text, word.start()):
            if not looks_like_sets(text) and (
                _HOURS.match(text, word.start()) or (not word.start() and not _COUNTS.match(text))
            ):
                # `3 h sleep` and `nur 5 h geschlafen` count nothing that was lifted.
                return text, ""
            return text[: word.start()].strip().rstrip(" :-–—,@"), text[word.start() :]
    return text, ""
