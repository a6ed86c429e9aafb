"""A written name as words that can be compared, whatever its case, accents, hyphens, plurals and abbreviations."""

import re
import unicodedata
from functools import cache

Words = tuple[str, ...]

_WORD = re.compile(r"[^\W_]+")
_WITH = re.compile(r"\bw/")
_FROM_TO = re.compile(r"\b(low|high)\W+to\W+(low|high)\b")
_APOSTROPHES = re.compile(r"['’`\u00b4]")
_DIGRAPHS = (("ae", "a"), ("oe", "o"), ("ue", "u"))
_HISSING = ("sses", "shes", "ches", "xes")
_NO_PLURAL = ("ss", "us", "is")
# One spelling for what is written in many ways; the left side is as `_stem` leaves it. Common practice, no source.
_SAME = {
    **dict.fromkeys(("bb", "bbs", "lh", "langhantel"), "barbell"),
    **dict.fromkeys(("db", "dbs", "kh", "kurzhantel", "dumbell", "dumbel"), "dumbbell"),
    **dict.fromkeys(("kb", "kbs", "kugelhantel"), "kettlebell"),
    **dict.fromkeys(("kabel", "kabelzug", "seilzug"), "cable"),
    **dict.fromkeys(("maschin", "masch", "gerat", "machin"), "machine"),
    **dict.fromkeys(("smith", "multipress"), "guided"),
    **dict.fromkeys(("sz", "szstang", "szhantel", "ezbar"), "ez"),
    **dict.fromkeys(("paused", "pausiert", "paus"), "pause"),
    **dict.fromkeys(("einarmig", "sa"), "onearm"),
    **dict.fromkeys(("einbeinig", "sl"), "oneleg"),
    **dict.fromkeys(("bw", "korpergewicht", "eigengewicht"), "bodyweight"),
    "ups": "up",
    "abs": "ab",
    "flye": "fly",
    "pre": "press",
    "dl": "deadlift",
    "dls": "deadlift",
    "sq": "squat",
    "bp": "bench",
    "ext": "extensio",
    "inc": "inclin",
    "dec": "declin",
    "alt": "alternating",
    "conv": "conventional",
    "tri": "tricep",
    "bi": "bicep",
    "tibiali": "tib",
}
_LONG = {
    "rdl": ("romania", "deadlift"),
    "sldl": ("stiff", "leg", "deadlift"),
    "ohp": ("overhead", "press"),
    "cg": ("close", "grip"),
    "rg": ("reverse", "grip"),
    "wg": ("wide", "grip"),
}
# Pairs that are also written as one word.
_COMPOUNDS = frozenset(
    {
        *("pullup", "pushup", "chinup", "stepup", "situp", "pressup", "muscleup", "getup", "rollout", "pulldown"),
        *("pushdown", "pressdown", "stepdown", "pullover", "pullthrough", "crossover", "deadlift", "deadbug"),
        *(
            "woodchop",
            "facepull",
            "hipthrust",
            "skullcrusher",
            "benchpress",
            "goodmorning",
            "trapbar",
            "hexbar",
            "tbar",
        ),
        *("birddog", "pecdeck", "ezbar", "szstang", "szhantel", "smithmachin", "smithmachine", "guidedmachine"),
        *("multipress", "guidedbar", "splitsquat", "bodyweight", "bodymass", "latzug", "latzieh"),
    }
)
_AFTER_COMPOUND = {
    "benchpress": "bench",
    **dict.fromkeys(("smithmachin", "smithmachine", "guidedmachine", "guidedbar", "multipress"), "guided"),
    "bodymass": "bodyweight",
    **dict.fromkeys(("ezbar", "szstang", "szhantel"), "ez"),
}
_ONE = frozenset({"one", "singl", "1", "ein"})
_LIMB = {"arm": "onearm", "armed": "onearm", "hand": "onearm", "handed": "onearm", "leg": "oneleg", "legged": "oneleg"}
_PREFIXES = ("langhantel", "kurzhantel", "kettlebell", "kabelzug", "kabel", "seilzug", "multipresse")
_EMPTY_WORDS = frozenset(
    {
        *("the", "a", "an", "with", "of", "on", "off", "at", "to", "and", "for", "my", "exercise", "only"),
        *(
            "mit",
            "der",
            "die",
            "das",
            "dem",
            "den",
            "des",
            "am",
            "auf",
            "im",
            "zum",
            "zur",
            "und",
            "von",
            "ubung",
            "nur",
        ),
    }
)


def words_of(text: str) -> Words:
    """The words of a name in order, each in one spelling; empty for a text without letters or digits."""
    found: list[str] = []
    for word in _WORD.findall(_FROM_TO.sub(r"\1to\2", _plain(text))):
        if word not in _EMPTY_WORDS:
            found += _one_word(_without_digraphs(word))
    return settled(tuple(_limbs(_pairs(found))))


def settled(words: Words) -> Words:
    """A bench is flat and for pressing unless something else is said: `flat DB bench` is `DB bench press`."""
    return tuple(w for w in words if w not in {"press", "flat", "flach"}) if "bench" in words else words


def _plain(text: str) -> str:
    """Lower case without accents and apostrophes."""
    decomposed = unicodedata.normalize("NFKD", _WITH.sub(" ", _APOSTROPHES.sub("", text.casefold())))
    return "".join(c for c in decomposed if not unicodedata.combining(c))


def _without_digraphs(word: str) -> str:
    """What is left of an umlaut: ä, ae and a become the same."""
    for two, one in _DIGRAPHS:
        word = word.replace(two, one)
    return word


@cache
def _one_word(word: str) -> tuple[str, ...]:
    """One written word as one or more."""
    for prefix in _PREFIXES:
        if word.startswith(prefix) and len(word) > len(prefix) + 3:
            return (*_one_word(prefix), *_one_word(word.removeprefix(prefix)))
    stem = _stem(word)
    return _LONG.get(stem) or (_SAME.get(stem, stem),)


def _stem(word: str) -> str:
    """Without the endings of plurals and of German adjectives and verbs; the same on both sides is all that counts."""
    if len(word) > 3 and word.endswith("s") and not word.endswith(_NO_PLURAL):
        if word.endswith(_HISSING):
            word = word[:-2]
        else:
            word = word[:-3] + "y" if word.endswith("ies") and len(word) > 4 else word[:-1]
    for ending in ("en", "e", "n"):
        if word.endswith(ending) and len(word) - len(ending) >= 5:
            return word.removesuffix(ending)
    return word


def _pairs(words: list[str]) -> list[str]:
    """Two words that are also written as one become one."""
    out: list[str] = []
    for word in words:
        joined = _stem(out.pop() + word) if out and out[-1] + word in _COMPOUNDS else word
        out.append(_AFTER_COMPOUND.get(joined, joined))
    return out


def _limbs(words: list[str]) -> list[str]:
    """`single arm` becomes one word, so that it cannot be taken for an arm of something else."""
    out: list[str] = []
    for word in words:
        if out and out[-1] in _ONE and word in _LIMB:
            out[-1] = _LIMB[word]
        else:
            out.append(word)
    return out
