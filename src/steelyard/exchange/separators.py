"""Which character parts the cells of a text, if any does."""

import re
from collections import Counter
from collections.abc import Sequence

# Where two fit equally well the one that is rarer in words and numbers goes first.
SEPARATORS = ("\t", ";", "|", ",")
_STATED = re.compile(r"sep=([\t;|,])")
_QUOTED = re.compile(r'"(?:[^"]|"")*+"')
_LETTER = re.compile(r"[^\W\d_]")
# 82,5 stands for a number; 5,5,5 and 01,82.5 do not.
_DECIMAL = re.compile(r"(?<![\d.,:/-])\d+,\d+(?![\d.,:/])")
# Marks that are no pause of a sentence and no part of a number beside words (82,5 kg or 6,5,6); after a date they are.
_FIRM = {
    "\t": re.compile("\t"),
    ";": re.compile(r";(?! )"),
    "|": re.compile(r"\|"),
    ",": re.compile(r"(?<!\d),(?! )|,(?![\d ])|(?:(?<=[-/.:]\d\d)|(?<=[-/.]\d{4})),\d"),
}
# Above titles and remarks a table shows itself by two lines with two separators; else half of the lines must have one.
LEAST_SHARE = 0.5
LEAST_LINES = LEAST_IN_A_LINE = 2
SAME_FIT = 0.1
FAR_MORE = 6


def stated_separator(first_line: str) -> str | None:
    """The separator that a file states in its first line (sep=;), as spreadsheets write and read it."""
    found = _STATED.fullmatch(first_line.strip(" "))
    return None if found is None else found[1]


def find_separator(lines: Sequence[str]) -> str | None:
    """The character that parts cells in these lines, quotes respected; None where the lines are not parted."""
    bare = [_QUOTED.sub("q", line) for line in lines if line.strip()]
    fits = {separator: _fit(separator, bare) for separator in SEPARATORS}
    best = max(fits.values())
    if best == 0:
        return None
    equal = [separator for separator in SEPARATORS if fits[separator] >= max(best - SAME_FIT, 0.001)]
    usual = {separator: max(line.count(separator) for line in bare) for separator in equal}
    # One mark a line beside very many of another stands in the words of a cell.
    return next((s for s in equal if usual[s] >= FAR_MORE * usual[equal[0]]), equal[0])


def _fit(separator: str, lines: list[str]) -> float:
    """The share of lines that have the usual number of this separator; 0 where it parts no cells."""
    counts = [line.count(separator) for line in lines]
    if not any(counts) or (separator == "," and not any("," in _DECIMAL.sub("0", line) for line in lines)):
        return 0.0
    usual, many = Counter(count for count in counts if count).most_common(1)[0]
    # A list of equally many things in each line is a table, with a blank behind each mark too.
    if many == len(lines) and usual >= LEAST_IN_A_LINE and len(lines) >= LEAST_LINES:
        return 1.0
    firm = [count for line, count in zip(lines, counts, strict=True) if count and _is_firm(line, separator)]
    strong = sum(1 for count in firm if count >= LEAST_IN_A_LINE)
    is_table = strong >= LEAST_LINES and strong >= LEAST_SHARE * sum(1 for count in counts if count)
    return many / len(lines) if is_table or len(firm) >= LEAST_SHARE * len(lines) else 0.0


def _is_firm(line: str, separator: str) -> bool:
    return _FIRM[separator].search(line) is not None or not _LETTER.search(line)
