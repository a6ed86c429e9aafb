"""What in a written name keeps a history of its own within an exercise: machine, grip, stance, tempo; and the side."""

import re
from collections.abc import Iterator
from typing import Literal

from msgspec import Struct
from rapidfuzz import process
from rapidfuzz.distance import OSA

from .spelling import Words, words_of

Side = Literal["left", "right"]

# Label: the ways it is written. Common practice, no source.
_WRITTEN = {
    "wide": "wide grip, wide, wide stance",
    "narrow": "narrow grip, narrow, narrow stance",
    "close grip": "close grip, close",
    "medium grip": "medium grip",
    "neutral grip": "neutral grip, neutral",
    "parallel grip": "parallel grip",
    "hammer grip": "hammer grip",
    "underhand": "underhand grip, underhand, supinated grip, supinated",
    "overhand": "overhand grip, overhand, pronated grip, pronated",
    "reverse grip": "reverse grip",
    "mixed grip": "mixed grip",
    "hook grip": "hook grip",
    "thick grip": "thick grip, fat grip, thick bar, axle",
    "rope": "rope attachment, rope",
    "v-bar": "v bar, v grip, v handle",
    "straight bar": "straight bar",
    "single handle": "single handle, d handle",
    "heels raised": "heels elevated, heel elevated, heels raised",
    "feet high": "feet high, high feet, high foot placement, feet up",
    "feet low": "feet low, low feet, low foot placement",
    "paused": "with pause, pause",
    "tempo": "tempo",
    "slow": "slow eccentric, slow",
    "eccentric": "eccentric",
    "deficit": "deficit",
    "chains": "with chains, chains",
    "banded": "banded, with bands, against bands",
    "beltless": "beltless, no belt, raw",
    "alternating": "alternating, alternate",
    "single arm": "one arm",
    "single leg": "one leg",
    "unilateral": "unilateral",
    # Said for clearness only: nothing is kept apart.
    "": "both arms, both legs, both sides, both hands, both, two arm, beidarmig, beidbeinig, beidseitig",
    "breit": "breiter griff, breitem griff, breit, weiter griff, weitem griff, weit, breiter stand",
    "eng": "enger griff, engem griff, eng, enge, enger stand",
    "neutral": "neutraler griff, neutralem griff",
    "Parallelgriff": "parallelgriff",
    "Hammergriff": "hammergriff",
    "Obergriff": "obergriff",
    "Untergriff": "untergriff",
    "Seil": "seil",
    "V-Griff": "v griff",
    "langsam": "langsam",
    "Defizit": "defizit",
    "Ketten": "ketten",
    "alternierend": "alternierend, abwechselnd",
}
_PHRASES: tuple[tuple[Words, str], ...] = tuple(
    sorted(
        ((words_of(phrase), label) for label, phrases in _WRITTEN.items() for phrase in phrases.split(",")),
        key=lambda pair: -len(pair[0]),
    )
)
VARIATION_WORDS = frozenset(word for phrase, _ in _PHRASES for word in phrase)
# Remarks on a set or a day: no machine and no place, so what stands in brackets with one of them keeps nothing apart.
_REMARKS = frozenset(
    word
    for text in (
        *("warmup", "topset", "top", "backoff", "work", "deload", "amrap", "heavy", "light", "easy", "hard", "failed"),
        *("pr", "max", "test", "kg", "lb", "reps", "sets", "rir", "rpe", "min", "sec", "new", "skipped"),
        *("aufwärmen", "leicht", "schwer", "satz", "wdh", "neu"),
    )
    for word in words_of(text)
)
_MACHINE = r"(?:machine|maschine|station|stack|ger(?:ä|ae|a)t)"
_NUMBER = re.compile(
    rf"(?P<named>\b{_MACHINE})?\W*(?:#|\bno\b\.?|\bnr\b\.?|\bnumber\b|\bnummer\b)\s*(?P<marked>\d{{1,3}}[a-z]?)\b"
    rf"|(?P<machine>\b{_MACHINE})\s*(?P<plain>\d{{1,3}}[a-z]?)\b|(?<=\w)\s+\(?(?P<last>\d{{1,2}})\)?\s*(?=$|[(\[])",
    re.IGNORECASE,
)
_SHORTEST_SLIP = 4
_BRACKETS = re.compile(r"[(\[{]([^()\[\]{}]*)[)\]}]")
_SIDES: dict[str, Side] = {
    **dict.fromkeys(("left", "links", "link", "linker", "l"), "left"),
    **dict.fromkeys(("right", "rechts", "recht", "rechter", "r"), "right"),
}


class Part(Struct, frozen=True):
    """The words that may name the exercise, and what is kept apart from it; `whole` are both, where words are."""

    words: Words
    apart: tuple[str, ...] = ()
    is_numbered: bool = False
    whole: Words = ()


def side_of(words: Words) -> tuple[Words, Side | None]:
    """The words without left and right, and the side; a lone letter counts at the end only."""
    found: Side | None = None
    kept: list[str] = []
    for place, word in enumerate(words):
        side = _SIDES.get(word) if len(word) > 1 or place == len(words) - 1 > 0 else None
        found = side or found
        if side is None:
            kept.append(word)
    return tuple(kept), found


def readings(written: str, known_words: frozenset[str]) -> tuple[Part, ...]:
    """The ways to read a name, the one that keeps least apart first; `known_words` are those that name exercises."""
    parts: list[Part] = []
    for text, number in _numbered(written):
        apart = (number,) if number else ()
        is_numbered = number is not None
        parts.append(Part(words_of(text), apart, is_numbered))
        outside, inside = _BRACKETS.sub(" ", text), " ".join(_BRACKETS.findall(text)).strip()
        if inside and _is_foreign(words_of(inside), known_words):
            parts.append(Part(words_of(outside), (*apart, inside), is_numbered))
    plain = [Part(side_of(p.words)[0], p.apart, p.is_numbered) for p in parts]
    return (*plain, *(without_variations(p) for p in plain))


def without_variations(part: Part) -> Part:
    """The words without grips, stances, tempo, one arm and the like, which are kept apart instead."""
    words, labels = part.words, list(part.apart)
    for phrase, label in _PHRASES:
        for place in range(len(words) - len(phrase) + 1):
            if words[place : place + len(phrase)] == phrase:
                words = words[:place] + words[place + len(phrase) :]
                labels += [label] if label else []
                break
    return Part(words, tuple(dict.fromkeys(labels)), part.is_numbered, part.words if words != part.words else ())


def said_otherwise(words: Words, known_words: frozenset[str]) -> Iterator[Words]:
    """The words with one variation said in another way, or with what it may be a slip of."""
    for phrase, label in _PHRASES:
        for place in range(len(words) - len(phrase) + 1):
            if words[place : place + len(phrase)] == phrase:
                others = [other for other, meant in _PHRASES if meant == label and other != phrase]
                others += [(other,) for other in nearly(phrase[0], known_words)] if len(phrase) == 1 else []
                yield from (words[:place] + other + words[place + len(phrase) :] for other in others)


def nearly(word: str, known_words: frozenset[str]) -> list[str]:
    """The words of exercises and variations that are one edit away from a word and begin like it."""
    if len(word) < _SHORTEST_SLIP:
        return []
    near = process.extract(word, known_words | VARIATION_WORDS, scorer=OSA.distance, score_cutoff=1, limit=None)
    return sorted(other for other, distance, _ in near if distance and other[0] == word[0])


def _numbered(written: str) -> tuple[tuple[str, str | None], ...]:
    """The text as it is; and where a machine has a number, without that: first with, then without the word machine."""
    match = _NUMBER.search(written)
    if match is None:
        return ((written, None),)
    number = match["marked"] or match["plain"] or match["last"]
    before, after = written[: match.start()], written[match.end() :]
    machine = match["named"] or match["machine"] or ""
    return ((written, None), (f"{before} {machine} {after}", number), (f"{before} {after}", number))


def _is_foreign(words: Words, known_words: frozenset[str]) -> bool:
    """Whether words in brackets can only be a place or a machine: not part of an exercise, no remark, no sentence."""
    return 0 < len(words) <= 3 and not any(
        w in known_words
        or w in _REMARKS
        or w in VARIATION_WORDS
        or any(map(str.isdigit, w))
        or _abbreviates(w, known_words)
        or nearly(w, known_words)
        for w in words
    )


def _abbreviates(word: str, known_words: frozenset[str]) -> bool:
    """Whether some word of an exercise begins so."""
    return len(word) > 2 and any(known.startswith(word) for known in known_words)
