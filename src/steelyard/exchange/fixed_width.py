"""Columns that are held apart by blanks only, each beginning at its own place in every line."""

import re
from collections.abc import Sequence
from itertools import groupby, pairwise

from msgspec import Struct

LEAST_LINES = 3
LEAST_SHARE = 0.3
LEAST_COLUMNS = 4
MOST_LINES_LOOKED_AT = 2_000
WIDEST_LINE = 1_000
# In a table with few entries all lines are blank in a gap; in another, long words may run across one.
LEAST_BLANK = (1.0, 0.9, 0.8)
LEAST_DIGITS = 0.85
LEAST_PARTED = 0.7
MOST_WITH_OTHER_GAPS = 0.2
_RULER = re.compile(r" *([-=_]+ +)+[-=_]+")
_BARE_NUMBER = re.compile(r"[\d.,:/+-]+")
_WIDE_GAP = re.compile(r"\S {2,}\S")


class Columns(Struct, frozen=True):
    """Where columns begin, in characters, and the gaps of blanks before each but the first."""

    begins: tuple[int, ...]
    gaps: tuple[tuple[int, int], ...]

    def cells(self, line: str) -> list[str]:
        """The cells of a line; a line that runs across a gap is one cell, not torn apart."""
        if any(line[begin:end].strip() for begin, end in self.gaps):
            return [line]
        ends = (*self.begins[1:], len(line))
        return [line[begin:end].strip() for begin, end in zip(self.begins, ends, strict=True)]


def find_columns(lines: Sequence[str]) -> Columns | None:
    """The columns in which nearly all of these lines stand; None where they do not."""
    filled = [line.rstrip() for line in lines if line.strip()][:MOST_LINES_LOOKED_AT]
    if any(len(line) > WIDEST_LINE or "\t" in line for line in filled):
        return None
    # Titles and remarks have no gaps and say nothing about columns.
    looked_at = [line for line in filled if _WIDE_GAP.search(line)]
    if len(looked_at) < LEAST_LINES:
        return None
    is_usual = len(looked_at) >= len(filled) * LEAST_SHARE
    ruled = _ruled(looked_at)
    if ruled and is_usual:
        return _if_it_holds(_columns(ruled), looked_at)
    found = [_columns(_gaps(looked_at, share)) for share in LEAST_BLANK]
    # Where every gap of two blanks in every line is one of the columns, nothing wider is needed and nothing torn.
    if not any(_WIDE_GAP.search(cell) for line in looked_at for cell in found[0].cells(line)):
        # A short table below many titles shows itself by all of its lines together.
        return found[0] if is_usual or len(found[0].begins) >= LEAST_COLUMNS else None
    if not is_usual:
        return None
    return _if_it_holds(max(found, key=lambda c: sum(len(_filled(c, line)) for line in looked_at)), looked_at)


def _if_it_holds(columns: Columns, looked_at: list[str]) -> Columns | None:
    """These columns, if most lines stand in them and few have other gaps too."""
    parted = [cells for line in looked_at if len(cells := _filled(columns, line)) > 1]
    torn = sum(1 for cells in parted if any(_WIDE_GAP.search(cell) for cell in cells))
    holds = len(parted) >= len(looked_at) * LEAST_PARTED and torn <= len(parted) * MOST_WITH_OTHER_GAPS
    return columns if holds else None


def _columns(gaps: list[tuple[int, int]]) -> Columns:
    return Columns(begins=(0, *(end for _, end in gaps)), gaps=tuple(gaps))


def _filled(columns: Columns, line: str) -> list[str]:
    return [cell for cell in columns.cells(line) if cell]


def _ruled(lines: list[str]) -> list[tuple[int, int]]:
    """The gaps of the first line that only rules columns, such as ----  ------."""
    ruler = next((line for line in lines if _RULER.fullmatch(line)), "")
    return [gap.span() for gap in re.finditer(r"(?<=\S) +", ruler)]


def _gaps(lines: list[str], share: float) -> list[tuple[int, int]]:
    """Runs of places that are blank in this share of the lines that go on there, with text before and behind."""
    width = max(map(len, lines))
    blank, reached = [0] * width, [0] * width
    for line in lines:
        for place, character in enumerate(line):
            reached[place] += 1
            blank[place] += character == " "
    shares = [blanks / lines_there for blanks, lines_there in zip(blank, reached, strict=True)]
    edges = [n for n in range(1, width) if (shares[n] >= share) != (shares[n - 1] >= share)]
    runs = [(begin, end) for begin, end in pairwise(edges) if shares[begin] >= share]
    runs = [run for run in runs if run[1] - run[0] > 1 or _ends_in_digits(lines, run[0])]
    begins, ends = [0, *(end for _, end in runs)], [*(begin for begin, _ in runs[1:]), width]
    apart = [
        run for run, a, z in zip(runs, begins, ends, strict=False) if run[1] - run[0] > 1 or _parts(lines, a, run[0], z)
    ]
    return [_barest(begin, end, shares) for begin, end in apart]


def _barest(begin: int, end: int, shares: list[float]) -> tuple[int, int]:
    """The longest piece of a run that is blank in the most lines: long words reach into the rest of it."""
    most = max(shares[begin:end])
    pieces = groupby(range(begin, end), key=lambda place: shares[place] == most)
    barest = max((list(places) for is_most, places in pieces if is_most), key=len)
    return barest[0], barest[-1] + 1


def _ends_in_digits(lines: list[str], place: int) -> bool:
    """Whether the column before a gap of one blank ends in digits, as dates and right-aligned numbers do."""
    before = [line[place - 1] for line in lines if line[place - 1 : place].strip()]
    return sum(1 for character in before if character.isdigit()) >= max(LEAST_LINES, len(before) * LEAST_DIGITS)


def _parts(lines: list[str], begin: int, place: int, end: int) -> bool:
    """Whether a gap of one blank parts two columns and not two words of one cell, such as 30 s or # sets.

    Then a wider gap runs across it, in some line, to text that still begins in the column behind it; or most lines
    have a date or a number before it, and none has the column before it without the one behind it.
    """
    before, behind = slice(begin, place), slice(place + 1, end)
    both = [line for line in lines if line[before].strip() and line[behind].strip()]
    if any(line[place - 1 : place + 2].count(" ") > 1 for line in both):
        return True
    bare = sum(1 for line in lines if _BARE_NUMBER.fullmatch(line[before].strip()))
    return bare >= len(lines) * LEAST_PARTED and all(line[behind].strip() for line in lines if line[before].strip())
