"""The parts of one set cell: what stands beside the numbers is taken out first, the numbers become operands."""

import re
from decimal import Decimal
from typing import Literal

from msgspec import Struct

from steelyard.engine.log import SetKind
from steelyard.wording.message import tell

from .cells import CellRefused
from .date_words import day_form
from .headers import kind_named, unit_named

Measure = Literal["seconds", "minutes", "metres", "reps", "sets", ""]
NUM = r"\d+(?:[.,]\d+)?"
_FORMS = str.maketrans(
    {"×": "x", "✕": "x", "✖": "x", "–": "-", "—": "-", "−": "-", "\u2012": "-", "\u00a0": " ", "\u202f": " ", "’": "'",
     "″": '"', "”": '"', "“": '"', "→": ">", "⇒": ">", "➔": ">", "\t": " ", "\r": " "}
)  # fmt: skip
MISS = r"(?:x|f|fail(?:ed)?|miss(?:ed)?|verfehlt|gescheitert|ungültig|fehlversuch)"
_ELEMENT = r"\d+(?:\.\d+)*(?:\+\d+)*"
_RUN = rf"{_ELEMENT}(?:(?:\s?[,/]\s(?!{NUM}\s*(?:kg|lb))|\s?[,/])(?:{_ELEMENT}|(?:{MISS}|-)(?!\w)))*"
_UNIT = r"(?:(?:kgs?|kilos?|lbs?|pounds?|pfund)(?!(?!x\s*\d)[^\W\d_])|#(?!\s*\d))"
_MEASURES: tuple[tuple[Measure, str], ...] = (
    ("seconds", r'(?:s|secs?|sek|seconds?|sekunden)(?!\w)|"'),
    ("minutes", r"(?:mins?|minuten?|minutes?)(?!\w)"),
    ("metres", r"(?:m|meters?|metres?|meter)(?!\w)"),
    ("reps", r"(?:reps?|wdh|wh|wiederholungen|times|mal)(?!\w)\.?"),
    ("sets", r"(?:sets?|sätze|saetze|satz|serien)(?!\w)"),
)
_BODY = r"(?:body[ -]?weight|body[ -]?mass|bw|kgw|körpergewicht|koerpergewicht|körpermasse|eigengewicht|kg)"
_TOKEN = re.compile(
    rf"(?P<time>\d{{1,2}}:[0-5]\d)(?![\d,/:])|"
    rf"(?P<range>\d+-\d+|\d+\s-\s\d+)(?![\d.,/-]|\s?-)|"
    rf"(?:mark|stufe|level|pin|loch|plate|platte)\s*(?:nr\.?|no\.?|#)?\s*(?P<mark>{NUM})(?!\w)|"
    rf"(?P<run>{_RUN})|"
    rf"(?P<body>{_BODY})(?!(?!x\s*\d)\w)(?:\s*(?P<sign>[+-])\s*(?P<added>{NUM}))?|"
    rf"(?P<signed>[+-]\s?{NUM})|"
    rf"(?P<times>x)(?=\s*[\d(+-]|\s*(?:{MISS}|{_BODY})(?!\w))|"
    rf"(?P<at>@|(?:at|with|w/|mit|bei|à)(?=\s*\d))|"
    rf"(?<!\d)(?P<miss>{MISS})(?!\w)|(?P<join>[,/:](?=\s|\w))",
    re.IGNORECASE,
)
_EFFORT = re.compile(
    rf"(?:@\s*)?\b(?P<scale>rpe|rir)\s*[:=@]?\s*(?P<many>{NUM}(?:\s?[/,]\s?{NUM})*)(?![\d-])|"
    rf"(?:@\s*)?(?P<one>{NUM})\s*(?P<after>rpe|rir|(?:reps? )?in (?:reserve|the tank))\b(?!\s*[:=@]?\s*\d)",
    re.IGNORECASE,
)
_TEMPO = re.compile(
    r"\b(?:tempo\s*[:=]?\s*(?P<named>\d[\dx]*(?:[-/]?[\dx])*)|t\s*(?P<short>\d-[\dx]-[\dx](?:-[\dx])?))|(?<![\w.,/@-])(?P<bare>\d-[\dx]-[\dx](?:-[\dx])?)(?![\w.,/-])",
    re.I,
)
_REST = re.compile(
    r"(?<![\w.,])(?P<n2>\d{1,3})\s*(?P<unit2>s|secs?|sek|mins?|minuten|minutes?|['\"])\s*(?:rest|pause|satzpause)\b|"
    r"\b(?:rest|pause|satzpause|p)\s*[:=]?\s*(?:(?P<m>\d{1,2}):(?P<s>[0-5]\d)|(?P<n>\d{1,3})\s*(?P<unit>s|secs?|sek|mins?|minuten|minutes?|['\"])?)(?!\w)",
    re.IGNORECASE,
)
_PERCENT = re.compile(rf"(?:@\s*)?(?P<n>{NUM})\s*%(?:\s*(?:of|vom|von)?\s*(?:e?1\s?rm|max|tm))?", re.IGNORECASE)
_BOTH_SIDES = re.compile(
    r"(?:\b(?:l|left|li|links)\.?\s*:?\s*(?P<l>\d+)\s*[,/;|]?\s*(?:r|right|re|rechts)\.?\s*:?\s*(?P<r>\d+)(?!\w))|"
    r"(?:(?<![\w.,])(?P<l2>\d+)\s*(?:l|left|li|links)\b\.?\s*[,/;|]?\s*(?P<r2>\d+)\s*(?:r|right|re|rechts)\b)",
    re.IGNORECASE,
)
_EACH = re.compile(
    r"\b(?:l|left|links|li)\s*(?:/|\+|&|and|und)\s*(?:r|right|rechts|re)\b(?!\s*\d)|\b(?:both sides|beide seiten)\b|"
    r"\(?(?:\b(?:per|each|every|je|pro)\s+(?:side|leg|arm|hand|seite|bein|hand)\b|\be\.?\s?s\.|/\s?(?:side|leg|arm|seite|bein)\b|"
    r"\beach\b(?=\s*(?:$|[,;@x)]))|\bp\.\s?s\.|\bbeidseitig\b|\bb/s\b)\)?",
    re.IGNORECASE,
)
_ONE_SIDE = re.compile(
    r"(?<!\w)(?P<side>left|right|links|rechts|li|re|l|r)\b\.?(?=\s*(?:$|[,;:@\d]|x\s*\d))", re.IGNORECASE
)
# A painful left knee is no left side.
_WORD_BEFORE = re.compile(r"[^\W\d_]{3,}[\s,:;]*$")
_AMRAP = re.compile(r"\b(?:amrap|max reps|as many as possible|so viele wie möglich)\b[:\s]*", re.IGNORECASE)
_ASSISTED = re.compile(r"\b(?:assist(?:ed|ance)?|unterstützt|unterstützung)\b", re.IGNORECASE)
_KIND = re.compile(
    r"^\s*(warm[- ]?ups?|wu|w/u|aufwärmen|ramp|top set|top|back[- ]?offs?|work sets?|work)\b\s*:?\s*(?=[\d+-]|bw)", re.I
)
_SETS_OF = re.compile(
    r"(\d\s*(?:sets?|sätze|saetze|satz|serien))\s*(?:of|à|a|x|von|zu je|zu|je|mit)?\s*(?=\d)", re.IGNORECASE
)
# `30s/30s/25s` says its measure once.
_SAME_MEASURE = re.compile(
    r"(\d+(?:[.,]\d+)?)\s?(s|secs?|sek|m|mins?)\s*[,/]\s*(?=\d+(?:[.,]\d+)?\s?\2\b)", re.IGNORECASE
)
_TIMES = re.compile(r"\b\d{1,2}:[0-5]\d(?:\s?[/,]\s?\d{1,2}:[0-5]\d)+\b")
SET_LIKE = re.compile(
    rf"(?:\d\s*(?:kgs?|lbs?)?|\b{_BODY})\s*[x×*]\s*(?:\d|{MISS}(?!\w))|"
    rf"@\s*(?:\d|{_BODY}(?!\w))|\d\s*:\s*\d+\s*[,/]|\d\s*(?:kg|lbs?)\b|\d+\s*/\s*\d+\s*/\s*\d+|\d+\s*,\s*\d+\s*,\s*\d+|\bbw\s*\d",
    re.IGNORECASE,
)


def looks_like_sets(text: str) -> bool:
    """Whether something in the text reads as sets; a day such as 07/09/2026 does not."""
    beginning = text[:LONGEST_SAID]
    return SET_LIKE.search(beginning) is not None and day_form(beginning) is None


def refuse_endless(text: str) -> None:
    """Refuse what is too long to be sets: it is prose, or no cell of a training log."""
    if len(text) > LONGEST_SAID:
        raise CellRefused(
            tell("is longer than sets are written ({most} characters)", most=LONGEST_SAID),
            tell("shorten it, and put remarks into a column of notes"),
        )


# Nobody writes the sets of one exercise longer than this.
LONGEST_SAID = 400
Sign = Literal["", "x", "@", ":"]
OperandKind = Literal["run", "time", "range", "mark", "body", "signed", "miss"]
_KINDS: tuple[OperandKind, ...] = ("miss", "time", "mark", "range", "body", "signed", "run")


class Operand(Struct, frozen=True, kw_only=True):
    """One number or list of a cell with the sign before it ("x", "@", ":", "" for none), its unit and its measure."""

    kind: OperandKind
    before: Sign
    raw: str = ""
    unit: Literal["kg", "lb", ""] = ""
    measure: Measure = ""


class Beside(Struct, kw_only=True):
    """What stood beside the numbers of a cell."""

    efforts: tuple[tuple[str, Literal["rpe", "rir"]], ...] = ()
    tempo: str | None = None
    rest_interval_s: int | None = None
    percent: Decimal | None = None
    side: Literal["left", "right", "each"] | None = None
    both_sides: tuple[int, int] | None = None
    kind: SetKind | None = None
    is_open_ended: bool = False
    is_assisted: bool = False
    words: str = ""


def plain_signs(text: str) -> str:
    """The text with one form of each sign, halves as .5, and `*` between numbers as x."""
    plain = text.translate(_FORMS).replace("->", ">").replace("=>", ">")
    plain = re.sub(r"(\d)\s?½", r"\1.5", plain)
    plain = _SETS_OF.sub(r"\1 ", plain)
    plain = _TIMES.sub(_as_seconds, plain)
    plain = _SAME_MEASURE.sub(r"\1 , ", plain)
    return re.sub(r"(?<=[\d\s])\*(?=\s*[\d(])", "x", plain).strip()


def _as_seconds(match: re.Match[str]) -> str:
    """`0:30/0:45` as a list of seconds."""
    clocks = re.findall(r"(\d{1,2}):(\d\d)", match[0])
    return " , ".join(str(int(minutes) * 60 + int(seconds)) for minutes, seconds in clocks) + "s"


def take_beside(text: str) -> tuple[str, Beside]:
    """The text without what stands beside its numbers, and that."""
    beside = Beside()
    rest = _open_brackets(text, beside)

    def effort(match: re.Match[str]) -> str:
        scale = (match["scale"] or match["after"]).casefold()
        named: Literal["rpe", "rir"] = "rpe" if scale == "rpe" else "rir"
        beside.efforts += tuple((said, named) for said in _listed(match["many"] or match["one"]))
        return " "

    rest = _EFFORT.sub(effort, rest)
    if match := _TEMPO.search(rest):
        beside.tempo, rest = tempo_of(match["named"] or match["short"] or match["bare"]), _without(rest, match)
    if match := _REST.search(rest):
        beside.rest_interval_s, rest = _rest(match), _without(rest, match)
    if match := _PERCENT.search(rest):
        beside.percent, rest = Decimal(match["n"].replace(",", ".")), _without(rest, match)
    if match := _BOTH_SIDES.search(rest):
        beside.both_sides = (int(match["l"] or match["l2"]), int(match["r"] or match["r2"]))
        rest = _without(rest, match)
    elif match := _EACH.search(rest):
        beside.side, rest = "each", _without(rest, match)
    elif (match := _ONE_SIDE.search(rest)) and not _WORD_BEFORE.search(rest[: match.start()]):
        beside.side = "left" if match["side"].casefold().startswith("l") else "right"
        rest = _without(rest, match)
    if match := _AMRAP.search(rest):
        beside.is_open_ended, rest = True, _without(rest, match)
    if match := _ASSISTED.search(rest):
        beside.is_assisted, rest = True, _without(rest, match)
    if match := _KIND.match(rest):
        beside.kind, rest = kind_named(match[1].replace("/", "")), rest[match.end() :]
    return rest.strip(), beside


def _without(text: str, match: re.Match[str]) -> str:
    return f"{text[: match.start()]} {text[match.end() :]}"


def _listed(many: str) -> list[str]:
    """`8, 8.5, 9` as three; `8,5` as one, for a scale has halves."""
    if re.fullmatch(r"\d+,5", many):
        return [many.replace(",", ".")]
    return [part.strip() for part in re.split(r"[/,]", many)]


def tempo_of(said: str) -> str:
    """A tempo as seconds with hyphens; raises CellRefused for anything else."""
    digits = re.sub(r"[-/]", "", said.strip())
    if not re.fullmatch(r"[\dxX]+", digits):
        raise CellRefused(tell("has a tempo that is not understood"), tell("write it as seconds, such as tempo 3-1-1"))
    if not 2 <= len(digits) <= 4 and "-" not in said:
        raise CellRefused(tell("has a tempo that is not understood"), tell("write it as seconds, such as tempo 3-1-1"))
    return said.replace("/", "-") if "-" in said or "/" in said else "-".join(said)


def _rest(match: re.Match[str]) -> int:
    if match["m"]:
        return int(match["m"]) * 60 + int(match["s"])
    count, unit = int(match["n"] or match["n2"]), (match["unit"] or match["unit2"] or "").casefold()
    if not unit and count < 15:
        raise CellRefused(tell("has a rest without a unit"), tell("write it in seconds, such as rest 90s"))
    return count * 60 if unit.startswith("m") or unit == "'" else count


def _open_brackets(text: str, beside: Beside) -> str:
    """Take remarks in brackets out as words; what means something beside numbers stays, without the brackets."""

    def opened(match: re.Match[str]) -> str:
        inner = match[1].strip()
        known = (_EFFORT, _TEMPO, _REST, _PERCENT, _EACH, _ONE_SIDE, _AMRAP, _ASSISTED)
        is_load = re.fullmatch(rf"@?\s*{NUM}\s*{_UNIT}", inner, re.IGNORECASE)
        if is_load or unit_named(inner) or any(pattern.fullmatch(inner) for pattern in known):
            return f" {inner} "
        if not inner or not re.search(r"[^\W\d_]{2}|[^\x00-\x7f]", inner) or SET_LIKE.search(inner):
            raise CellRefused(
                tell("has brackets that are not understood: {part}", part=match[0]),
                tell("write sets as 3x8 @ 60kg and remarks in words"),
            )
        beside.words = f"{beside.words} {inner}".strip()
        return " "

    return re.sub(r"[(\[]([^()\[\]]*)[)\]]", opened, text)


def operands(text: str) -> tuple[list[Operand], str]:
    """The operands that stand in a row from the start, and the words that follow them."""
    found: list[Operand] = []
    at = 0
    before: Sign = ""
    pending = 0
    while at < len(text):
        if text[at] == " ":
            at += 1
            continue
        match = _TOKEN.match(text, at)
        if match is None:
            break
        if match["times"] or match["at"] or match["join"]:
            if before in {"x", "@"} or (not found and not match["at"]):
                break
            before = "x" if match["times"] else "@" if match["at"] else ":" if match["join"] == ":" else ""
            pending, at = at, match.end()
            continue
        operand, at = _operand(match, before, text)
        found.append(operand)
        before = ""
    if 0 < at < len(text) and text[at - 1].isdigit() and text[at].isalpha():
        # `10ish` is no ten.
        return [], text
    # An x or @ that nothing follows is not understood; it stays in what is left.
    return found, (text[pending:] if before in {"x", "@"} else text[at:]).strip()


def _operand(match: re.Match[str], before: Sign, text: str) -> tuple[Operand, int]:
    """One operand, and where the text goes on after its unit and measure."""
    at = match.end()
    unit: Literal["kg", "lb", ""] = ""
    measure: Measure = ""
    kind = next(k for k in _KINDS if match[k])
    raw = match[kind].replace(" ", "") if kind in {"signed", "range"} else match[kind]
    if kind == "body":
        raw = f"{match['sign']}{match['added']}" if match["added"] else ""
    if kind in {"run", "body", "signed"}:
        unit, at = _unit(text, at)
    if kind in {"run", "time", "range"} and not unit:
        measure, at = _measure(text, at)
    return Operand(kind=kind, before=before, raw=raw, unit=unit, measure=measure), at


def _unit(text: str, at: int) -> tuple[Literal["kg", "lb", ""], int]:
    match = re.compile(rf"\s*(?P<unit>{_UNIT})\.?", re.IGNORECASE).match(text, at)
    # `80 KG+10 x 5` is nothing that people write; `KG+10` after a number would be.
    if match is None or re.match(r"\s*[+-]\s*\d", text[match.end() :]):
        return "", at
    named = "lb" if match["unit"] == "#" else unit_named(match["unit"])
    return ("lb" if named == "lb" else "kg"), match.end()


def _measure(text: str, at: int) -> tuple[Measure, int]:
    start = at
    while start < len(text) and text[start] == " ":
        start += 1
    for measure, pattern in _COMPILED:
        match = pattern.match(text, start)
        if match is not None:
            return measure, match.end()
    return "", at


_COMPILED = tuple((measure, re.compile(pattern, re.IGNORECASE)) for measure, pattern in _MEASURES)
