"""Which exercise a written name means: surely, or with what a person should choose from.

A wrong merge mixes two histories and is worse than a question. So only these are sure: the same words in any order,
case, accent, plural and language of the implement; a slip of the pen in a word that is no other word; and either of
them with a machine, grip or other variation, which then keeps a history of its own.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import product
from math import log

from msgspec import Struct
from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

from steelyard.engine.exercises import Catalogue, Exercise, folded_name

from .spelling import Words, settled, words_of
from .variations import VARIATION_WORDS, Part, Side, readings, said_otherwise, side_of

MOST_ALTERNATIVES = 5
NEAR_SCORE = 95.0
# From here on a text is taken for the name of some exercise, though not of which (our judgement).
NAME_FROM = 85.0
# Below this an exercise says too little of an unknown one to be its parent (our judgement).
PARENT_FROM = 40.0
# A name of which all written words are part is at least as near as this (our judgement).
PART_FROM = 75.0
_FAR = 80.0
_SHORTEST_NAME, _SHORTEST_WORD, _LONG_WORD, _LONG_NAME = 3, 4, 8, 7
_IMPLEMENTS = frozenset({"barbell", "dumbbell", "kettlebell", "cable", "machine", "guided", "ez", "bodyweight"})
# Words of training that name no exercise here: never a slip of the pen.
_OTHER_WORDS = frozenset(
    word
    for text in (
        *("half", "quarter", "full", "high", "low", "jump", "jumping", "squad", "plant", "plane", "clear", "blank"),
        *("band", "ball", "medicine", "sandbag", "rower", "rowing", "bike", "run", "running", "treadmill", "bound"),
        *("hop", "throw", "slam", "stretch", "stretching", "yoga"),
    )
    for word in words_of(text)
)


class Alternative(Struct, frozen=True):
    """An exercise that may be meant, and the name of it that is nearest; the score is of 100."""

    code: str
    score: float
    name: str


class NameMatch(Struct, frozen=True, kw_only=True):
    """What a written name means; only a sure one may be taken without asking."""

    written: str
    exercise: str | None = None
    score: float = 0.0
    sure: bool = False
    implement: str | None = None
    side: Side | None = None
    alternatives: tuple[Alternative, ...] = ()
    parent: str | None = None


class _Index:
    """The names of one catalogue by their words; made once a catalogue."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.names: list[tuple[str, str]] = []
        self.words: list[frozenset[str]] = []
        self.in_order: defaultdict[str, set[str]] = defaultdict(set)
        self.in_any_order: defaultdict[Words, set[str]] = defaultdict(set)
        self.places: defaultdict[str, list[int]] = defaultdict(list)
        self.exercises = {e.code: e for e in catalogue.exercises}
        self.implements: dict[str, frozenset[str]] = {}
        for exercise in catalogue.exercises:
            said = {word for name in dict.fromkeys(exercise.said) for word in self._add(exercise.code, name)}
            self.implements[exercise.code] = _IMPLEMENTS & said
        counts = Counter(word for words in self.words for word in words)
        self.weights = {word: log(1 + len(self.names) / count) for word, count in counts.items()}
        self.heaviest = log(1 + len(self.names))
        self.sums = [self.weight(words) for words in self.words]
        self.known_words = frozenset(counts)
        self.joined = ["".join(words_of(name)) for _, name in self.names]
        self.long_words = tuple(w for w in counts if len(w) >= _SHORTEST_WORD and not any(map(str.isdigit, w)))

    def _add(self, code: str, name: str) -> Words:
        words = words_of(name)
        if not words:
            return words
        self.in_order["".join(words)].add(code)
        self.in_any_order[tuple(sorted(words))].add(code)
        for word in set(words):
            self.places[word].append(len(self.names))
        self.names.append((code, name))
        self.words.append(frozenset(words))
        return words

    def weight(self, words: frozenset[str]) -> float:
        """How much these words tell: rare ones more."""
        return sum(self.weights.get(w, self.heaviest) for w in words)

    def meant(self, words: Words) -> set[str]:
        """The exercises of exactly these words; an implement that goes without saying may be said."""
        found = self._exactly(words)
        if found:
            return found
        return {
            code
            for said in _IMPLEMENTS.intersection(words)
            for code in self._exactly(tuple(w for w in words if w != said))
            if self._goes_with(code, said)
        }

    def _exactly(self, words: Words) -> set[str]:
        return self.in_any_order.get(tuple(sorted(words))) or self.in_order.get("".join(words)) or set()

    def _goes_with(self, code: str, said: str) -> bool:
        return self.exercises[code].implement == said or said in self.implements[code]


@lru_cache(maxsize=8)
def _index(catalogue: Catalogue) -> _Index:
    return _Index(catalogue)


def looks_like_exercise(text: str, catalogue: Catalogue) -> bool:
    """Whether a text is the name of an exercise, or near enough to some that a person would take it for one."""
    match = match_name(text, catalogue)
    is_long = sum(map(str.isalpha, text)) >= _SHORTEST_NAME
    return match.sure or bool(is_long and match.alternatives and match.alternatives[0].score >= NAME_FROM)


def match_name(
    written: str, catalogue: Catalogue, known: Mapping[str, tuple[str, str | None]] | None = None
) -> NameMatch:
    """What a written name means; `known` holds what was confirmed earlier, by folded name, and always wins."""
    confirmed = (known or {}).get(folded_name(written))
    side = side_of(words_of(written))[1]
    if confirmed is not None:
        code, implement = confirmed
        parent = code if code in catalogue else None
        return NameMatch(
            written=written, exercise=code, implement=implement, score=100.0, sure=True, side=side, parent=parent
        )
    named = catalogue.named(written)
    if named is not None:
        return NameMatch(written=written, exercise=named.code, score=100.0, sure=True, side=side, parent=named.code)
    index = _index(catalogue)
    parts = readings(written, index.known_words)
    return (
        _exact(written, parts, index, side) or _near(written, parts, index, side) or _asked(written, parts, index, side)
    )


def _exact(written: str, parts: tuple[Part, ...], index: _Index, side: Side | None) -> NameMatch | None:
    for part in parts:
        codes = index.meant(part.words)
        if len(codes) == 1:
            (code,) = codes
            if others := _otherwise(part.whole, index) - codes:
                return _between(written, part, (*sorted(others), code), index, side)
            return _found(written, index.exercises[code], part, index, side, 100.0)
        if codes:
            return None
    return None


def _near(written: str, parts: tuple[Part, ...], index: _Index, side: Side | None) -> NameMatch | None:
    """One slip of the pen, when all that it can stand for is one exercise."""
    for part in parts:
        meant = {code for words in _corrected(part.words, index) for code in index.meant(words)}
        if len(meant) == 1:
            (code,) = meant
            whole = {c for words in _corrected(part.whole, index) for c in _otherwise(words, index)}
            if others := whole - meant:
                return _between(written, part, (*sorted(others), code), index, side)
            return _found(written, index.exercises[code], part, index, side, NEAR_SCORE)
        if meant:
            return None
    return None


def _otherwise(whole: Words, index: _Index) -> set[str]:
    """The exercises that a name means whose variation is said in another way, or was a slip of the pen."""
    return {code for words in said_otherwise(whole, index.known_words) for code in index.meant(settled(words))}


def _between(written: str, part: Part, codes: tuple[str, ...], index: _Index, side: Side | None) -> NameMatch:
    """An exercise with a variation, where a word nearly names another exercise: a person chooses."""
    nearest = _alternatives(part.words, index)
    chosen = tuple(Alternative(c, NEAR_SCORE, index.exercises[c].name["en"]) for c in codes)
    rest = tuple(a for a in nearest if a.code not in codes and a.score < NEAR_SCORE)
    return NameMatch(
        written=written,
        score=NEAR_SCORE,
        implement=", ".join(part.apart) or None,
        side=side,
        alternatives=(*chosen, *rest)[:MOST_ALTERNATIVES],
        parent=codes[0],
    )


def _found(written: str, exercise: Exercise, part: Part, index: _Index, side: Side | None, score: float) -> NameMatch:
    """A reading that fits one exercise; a number is a machine's only where there is a machine."""
    apart = part.apart
    if side is not None and not exercise.per_side:
        exercise, apart = _one_sided(exercise, part, index)
    is_sure = not part.is_numbered or exercise.implement in {"stack", "plate-machine"}
    return NameMatch(
        written=written,
        exercise=exercise.code,
        score=score,
        sure=is_sure,
        implement=", ".join(apart) or None,
        side=side,
        alternatives=() if is_sure and score >= 100 else _alternatives(part.words, index),
        parent=exercise.code,
    )


def _one_sided(exercise: Exercise, part: Part, index: _Index) -> tuple[Exercise, tuple[str, ...]]:
    """One side of what both do together: the exercise of one arm or leg, else a history apart."""
    for limb in ("oneleg", "onearm"):
        codes = index.meant((limb, *part.words))
        if len(codes) == 1:
            return index.exercises[next(iter(codes))], part.apart
    return exercise, (*part.apart, "one side")


def _asked(written: str, parts: tuple[Part, ...], index: _Index, side: Side | None) -> NameMatch:
    part = parts[-1]
    alternatives = _alternatives(next(iter(_corrected(part.words, index)), part.words), index)
    best = alternatives[0] if alternatives else None
    return NameMatch(
        written=written,
        score=best.score if best else 0.0,
        implement=", ".join(part.apart) or None,
        side=side,
        alternatives=alternatives,
        parent=best.code if best and best.score >= PARENT_FROM else None,
    )


def _corrected(words: Words, index: _Index) -> Iterator[Words]:
    """The words with each one that nobody knows replaced by what it may be a slip of; nothing where one cannot be."""
    choices: list[tuple[str, ...]] = []
    for word in words:
        if word in index.known_words or word in VARIATION_WORDS or word in _OTHER_WORDS:
            choices.append((word,))
        else:
            choices.append(_slips_of(word, index, is_alone=len(words) == 1))
    if sum(choice != (word,) for choice, word in zip(choices, words, strict=True)) not in {1, 2}:
        return
    yield from map(settled, product(*choices))


def _slips_of(word: str, index: _Index, *, is_alone: bool) -> tuple[str, ...]:
    """What a word may be meant for: one edit away, two if long, or cut off; short and alone only swapped letters."""
    if len(word) < _SHORTEST_WORD or any(map(str.isdigit, word)):
        return ()
    most = 2 if len(word) >= _LONG_WORD and not is_alone else 1
    near = process.extract(word, index.long_words, scorer=OSA.distance, score_cutoff=most, limit=None)
    close = [right for right, _, _ in near if _begin_alike(word, right) and abs(len(right) - len(word)) < 2]
    close += [right for right in index.long_words if right.startswith(word) and right not in close]
    if is_alone and len(word) < _LONG_NAME:
        return tuple(right for right in close if sorted(right) == sorted(word) or _doubled(word) == _doubled(right))
    return tuple(close)


def _begin_alike(word: str, right: str) -> bool:
    """Whether the first letter is right, or is all that is wrong."""
    return word[0] == right[0] or word[1:] == right or right[1:] == word


def _doubled(word: str) -> str:
    """Without letters that repeat the one before."""
    return "".join(c for i, c in enumerate(word) if i == 0 or c != word[i - 1])


def _alternatives(words: Words, index: _Index) -> tuple[Alternative, ...]:
    """The nearest exercises, best first, each by its nearest name."""
    best: dict[str, tuple[float, str]] = {}
    for place, score in _scores(frozenset(words), "".join(words), index):
        code, name = index.names[place]
        if code not in best or score > best[code][0]:
            best[code] = (score, name)
    ranked = sorted(best.items(), key=lambda item: (-item[1][0], len(item[1][1]), item[0]))
    return tuple(Alternative(code, round(score, 1), name) for code, (score, name) in ranked[:MOST_ALTERNATIVES])


def _scores(words: frozenset[str], joined: str, index: _Index) -> Iterator[tuple[int, float]]:
    """Names that share a word, by how much of both it is; names that merely look alike where none does."""
    shared: defaultdict[int, float] = defaultdict(float)
    for word in words:
        for place in index.places.get(word, ()):
            shared[place] += index.weights[word]
    total = index.weight(words)
    for place, weight in shared.items():
        score = 200 * weight / (total + index.sums[place])
        is_part = weight > total - 1e-9
        yield place, max(score, PART_FROM + score / 5) if is_part else score
    if not shared and len(joined) >= _SHORTEST_WORD:
        for _, ratio, place in process.extract(joined, index.joined, scorer=fuzz.ratio, score_cutoff=_FAR, limit=40):
            yield place, ratio
