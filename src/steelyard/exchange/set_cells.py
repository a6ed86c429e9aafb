"""The grammar of one cell of sets, such as `3x8 @ 60kg`, `60kg 8,8,7` or `60x8, 62.5x7`; nothing in it is dropped."""

import re
from decimal import Decimal

from msgspec import structs

from steelyard.engine.effort import Effort, EffortRefused
from steelyard.wording.message import tell, tell_refused

from .cells import CellRefused
from .loads_ahead import before_dashes, loads_of_one
from .remarks import is_not_done, missed_reason, remark
from .set_counts import said_by
from .set_order import without_load
from .set_reading import LeftOut, ReadingOf, Said
from .set_style import Clue, SaidCell, SaidSet, SetStyle
from .set_tokens import MISS, NUM, SET_LIKE, Beside, operands, plain_signs, refuse_endless, take_beside

_NOTHING = {"", "-", "--", "---", ".", "/", "n/a", "na", "none", "kein", "keine", "nix", "entf.", "entf", "_", "?"}
_DONE_NOTHING = re.compile(
    r"^(?:x|0|f|fail(?:ed)?|miss(?:ed)?|verfehlt|gescheitert|nicht geschafft|fehlversuch|not made|no lift|ungültig)$",
    re.I,
)
_MISSED_PART = re.compile(rf"^{MISS}$|\bx\s*{MISS}(?!\w)", re.IGNORECASE)
_SET_START = rf"(?:{NUM}\s*(?:kg|lbs?)?|(?:bw|kgw|kg)(?:\s*[+-]\s*{NUM}\s*(?:kg|lbs?)?)?)\s*x"
_HARD_PARTS = re.compile(
    r"\s*(?:;|\n|>|\||\bthen\b|\bdann\b|\bdanach\b|\bdrop(?:[- ]?set)?(?:\s+to)?\b(?=\s*\d))\s*", re.IGNORECASE
)
_SOFT_PARTS = re.compile(
    rf"(?:\s*,\s*|\s+/\s+|/|\s*\+\s*|\s+&\s+|(?<=[\dsmgbw)])\s+)(?={_SET_START})|"
    rf"(?:,\s+(?={NUM}\s*(?:kgs?|lbs?)\s+\d+\s*x\s*\d))|"
    r"(?:,\s+|(?<=[\dsmgbw)])\s+)(?=\d+\s?@\s?(?:\d|bw|kg|[+-])|\d+\s?(?:sets?|sätze|saetze|satz)\b)",
    re.IGNORECASE,
)
_GROUP = re.compile(
    r"x\s*[\dfx(]|\d\s*(?:s|sec|m|min)\b|\d\s?@\s?(?:\d|bw|kg|[+-])|:\s*\d|(?:sets?|sätze|saetze|satz)\s+\d",
    re.IGNORECASE,
)
# What is counted on each side is no load: `10 each side x3`.
_EACH_TIMES = re.compile(
    r"^(\d{1,2})\s*((?:each|every|per|je|pro)\s+(?:side|leg|arm|seite|bein))\s*x\s*(\d{1,2})(?!\d)", re.IGNORECASE
)
_TIMES_GROUP = re.compile(r"^(\d{1,2})\s*x\s*\(([^()]+)\)\s*(.*)$", re.DOTALL)
_GROUP_TIMES = re.compile(r"^\(([^()]+)\)\s*x\s*(\d{1,2})\b\s*(.*)$", re.DOTALL)
# What leaves the meaning to a line before, or to the reader, is no remark.
_NO_REMARK = re.compile(
    r"(?:x\b|(?:and|und|plus|&|or|oder|to|bis)\s+\d)|.*\b(?:same|ditto|dito|dto)\b", re.IGNORECASE | re.DOTALL
)
# A single small number in brackets after the repetitions; `3x(8/8/7)` and `140 kg (308)` are others.
_BRACKETED = re.compile(r"(.*x\s?\d{1,2})\s?\((10|\d(?:[.,]5)?|-)\)", re.IGNORECASE | re.DOTALL)
_ONE_BY_ONE = re.compile(r"((?:\s+x\d+){2,})(?=\s|$|[,;])")
LONGEST_CELL = 400
EXAMPLE = "3x8 @ 60kg"
_NOT_AT_ALL = re.compile(r"(?:no|nein|not?|nicht|nichts|nothing)\s*(?:$|[-–—,:;(.])", re.IGNORECASE)


def read_set_cell(
    text: str, style: SetStyle, *, gives_load: bool, is_count: bool, clues: list[Clue] | None = None
) -> SaidCell:
    """The sets of a cell; raises CellRefused for any part that is not understood.

    `gives_load`: the load stands in another cell of the row. `is_count`: the column holds repetitions, so that a bare
    number is one. `clues` gathers what the cell shows of its writer's ways.
    """
    refuse_endless(text)
    plain = plain_signs(text)
    if len(plain) > LONGEST_CELL:
        raise CellRefused(tell("is longer than a cell of sets"), tell("write one exercise a cell"))
    if plain.casefold() in _NOTHING:
        return SaidCell(left_out=tell("says that nothing was done"))
    if _DONE_NOTHING.match(plain):
        return SaidCell(sets=(SaidSet(reps=0, missed="unsaid"),))
    if not re.search(r"\d", plain) and not re.search(rf"\bx\s*{MISS}$", plain, re.IGNORECASE):
        return _words_only(plain)
    reading = ReadingOf(style, gives_load=gives_load, is_count=is_count, clues=[] if clues is None else clues)
    said: list[Said] = []
    try:
        whole, words = loads_of_one(before_dashes(plain, reading), reading)
        for part in _parts(whole):
            if re.search(r"\d", part) or _MISSED_PART.search(part):
                said += _part(part, reading)
            elif said:
                words.append(part)
            else:
                raise _not_understood(part)
    except LeftOut as left_out:
        return SaidCell(left_out=str(left_out), doubts=frozenset(reading.doubts))
    return _whole(said, " ".join(words), reading)


def _words_only(plain: str) -> SaidCell:
    """A cell without any number: a lift that was missed or left out with the reason, else it is no set."""
    if is_not_done(plain):
        return SaidCell(sets=(SaidSet(reps=0, missed="not-done", note=plain),))
    if _NOT_AT_ALL.match(plain):
        return SaidCell(left_out=tell("says that nothing was done"))
    missed = re.match(r"(?:x|fail(?:ed)?|miss(?:ed)?|verfehlt|nicht geschafft)\b[\s:,(-]*(.*)", plain, re.IGNORECASE)
    if missed is None:
        raise CellRefused(tell("says nothing of repetitions"), tell("write sets such as {example}", example=EXAMPLE))
    why = missed[1].rstrip(") ")
    found = remark(why)
    one = SaidSet(
        reps=0, missed=missed_reason(why) or "unsaid", pain=found.pain, technique=found.technique, note=found.note
    )
    return SaidCell(sets=(one,))


def _not_understood(part: str) -> CellRefused:
    return CellRefused(
        tell("has a part that is not understood: {part}", part=part[:60]),
        tell("write sets such as {example}, and remarks in words after them", example=EXAMPLE),
    )


def _parts(plain: str) -> list[str]:
    """The cell cut where one group of sets ends and the next begins."""
    out: list[str] = []
    for hard in _HARD_PARTS.split(plain):
        start = 0
        for cut in _SOFT_PARTS.finditer(hard):
            left = hard[start : cut.start()]
            # A cut needs a whole group of sets on its left, not the `82` of `82,5x8` nor the `60kg` of `60kg 3x8`.
            if _is_group(left, hard[cut.end() :]):
                out.append(left)
                start = cut.end()
        out.append(hard[start:])
    return [part.strip() for part in out if part.strip()]


def _is_group(left: str, right: str) -> bool:
    if left.count("(") != left.count(")") or not _GROUP.search(left):
        return False
    if re.match(r"\d+\s?@", right) and "@" not in left:
        # `3x10/10 @ 20kg` goes on; `7@60 6@60` begins anew.
        return False
    # `3x8,8,7x60`: as many numbers as sets belong together.
    listed = re.match(r"^(\d{1,2})\s*x\s*(\d+(?:[,/]\d+)*)$", left.strip())
    rest = re.match(r"^(\d+(?:[,/]\d+)*)\s*x", right)
    if listed is None or rest is None or not re.search(r"[,/]", listed[2] + rest[1]):
        return True
    return int(listed[1]) != len(re.split(r"[,/]", f"{listed[2]},{rest[1]}"))


def _part(part: str, reading: ReadingOf) -> list[Said]:
    part = _EACH_TIMES.sub(r"\3 sets \1 \2", _GROUP_TIMES.sub(r"\2x(\1) \3", part))
    group = _TIMES_GROUP.match(part)
    if group is not None and (repeated := _repeated(group, reading)) is not None:
        return repeated
    if group is not None:
        part = f"{group[2]} {group[3]}"
    part, bracketed = _bracketed(part, reading)
    core, beside = take_beside(_ONE_BY_ONE.sub(_as_list, without_load(part, reading)))
    found, rest = operands(core)
    words = f"{_words(rest, beside)} {bracketed}".strip()
    said = said_by(found, beside, reading)
    return [structs.replace(said, words=words, tempo=beside.tempo, rest_interval_s=beside.rest_interval_s)]


def _bracketed(part: str, reading: ReadingOf) -> tuple[str, str]:
    """`40x8 (2)` with the number in brackets as the effort or the remark that it is in this file; (-) says none."""
    match = _BRACKETED.fullmatch(part)
    if match is None:
        return part, ""
    counts, said = match.groups()
    meaning = reading.choose("bracket", "note")
    if said == "-":
        return counts, ""
    return (counts, said) if meaning == "note" else (f"{counts} {meaning} {said}", "")


def _as_list(match: re.Match[str]) -> str:
    return " x " + ",".join(re.findall(r"\d+", match[1]))


def _repeated(group: re.Match[str], reading: ReadingOf) -> list[Said] | None:
    """`2x(60x8)` as the inner sets twice; None for `3x(8/8/7)`, where the brackets list one number a set."""
    inner = [part for p in _parts(group[2]) for part in _part(p, reading)]
    count = int(group[1])
    if "x" not in group[2].casefold() and sum(len(s.sets) for s in inner) == count > 1:
        return None
    core, beside = take_beside(group[3])
    words = _words(core, beside)
    if beside.percent is not None or beside.both_sides or not 1 <= count <= 30:
        raise _not_understood(group[0])
    out = inner * count
    out[-1] = structs.replace(out[-1], words=words, efforts=beside.efforts or out[-1].efforts)
    return out


def _words(rest: str, beside: Beside) -> str:
    """What follows the numbers, as a remark; a part that looks like sets is none."""
    words = re.sub(r"^(?:[\s,;/|>.-]|:\s)+", "", rest).rstrip(" ,;:-/|>")
    bracketed = beside.words
    if words and (words[0].isdigit() or words[0] in "@+%=" or SET_LIKE.search(words)):
        raise _not_understood(rest)
    if _NO_REMARK.match(words):
        raise _not_understood(rest)
    return f"{words} {bracketed}".strip() if words else bracketed


def _whole(said: list[Said], words: str, reading: ReadingOf) -> SaidCell:
    """All parts as one cell: remarks go to the last set of their part."""
    left_out = next((s.left_out for s in said if s.left_out), "")
    if left_out:
        return SaidCell(left_out=left_out, doubts=frozenset(reading.doubts))
    if words:
        said[-1] = structs.replace(said[-1], words=f"{said[-1].words} {words}".strip())
    sets: list[SaidSet] = []
    for part in said:
        sets += _remarked(part)
    if not sets:
        raise CellRefused(tell("says nothing of repetitions"), tell("write sets such as {example}", example=EXAMPLE))
    if len(sets) > 60:
        raise CellRefused(tell("holds more than 60 sets"), tell("check the numbers"))
    return SaidCell(
        sets=tuple(sets),
        tempo=next((s.tempo for s in said if s.tempo), None),
        rest_interval_s=next((s.rest_interval_s for s in said if s.rest_interval_s is not None), None),
        doubts=frozenset(reading.doubts),
    )


def _remarked(part: Said) -> list[SaidSet]:
    sets = _with_effort(list(part.sets), part)
    if not sets:
        return []
    found = remark(part.words)
    note = ", ".join(text for text in (*part.notes, found.note) if text)
    sets[-1] = structs.replace(sets[-1], pain=found.pain, technique=found.technique, note=note)
    reason = missed_reason(part.words) if part.words else None
    return [structs.replace(s, missed=reason or "unsaid") if s.missed == "unsaid" else s for s in sets]


def _with_effort(sets: list[SaidSet], part: Said) -> list[SaidSet]:
    """The effort on the last set, or one effort a set where as many are named."""
    if not part.efforts or not sets:
        return sets
    if len(part.efforts) not in {1, len(sets)}:
        raise CellRefused(
            tell("names another number of efforts than of sets"), tell("write one effort, or one for each set")
        )
    start = len(sets) - len(part.efforts)
    for i, (value, scale) in enumerate(part.efforts, start=start):
        try:
            sets[i] = structs.replace(sets[i], effort=Effort(Decimal(value.replace(",", ".")), scale))
        except EffortRefused as refused:
            raise CellRefused(
                tell_refused(refused), tell("write repetitions in reserve, 0 to 10, or RPE 5 to 10")
            ) from refused
    return sets
