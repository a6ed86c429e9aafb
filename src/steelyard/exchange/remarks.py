"""Words beside a set: pain, technique, why a lift was missed; everything else is a note."""

import re

from msgspec import Struct

from steelyard.engine.log import Missed, Pain, Technique

from . import cells
from .cells import CellRefused

_BODY_PARTS = (
    r"knees?|elbows?|shoulders?|wrists?|backs?|hips?|ankles?|necks?|hamstrings?|groin|calf|achilles|biceps|pec|"
    r"knien?|ellenbogen|schultern?|handgelenke?|rücken|ruecken|hüften?|hueften?|knöchel|nacken|leisten?|wade|lws|isg"
)
_PAIN = re.compile(
    r"\b(pains?|painful|hurts?|hurting|aches?|aching|achy|twinges?|tweaks?|tweaked|sharp|stinging|pinch(?:ing|es|ed)?|"
    r"niggles?|injur\w*|inflamed|schmerz\w*|weh|zwickt|zwicken|sticht|stechen|stich|zieht|ziehen|zwackt|entzünd\w*|"
    r"verletz\w*)\b"
    rf"|\b(?:sore|stiff)\s+(?:\w+\s+)?(?:{_BODY_PARTS})\b|\b(?:{_BODY_PARTS})\s+(?:\w+\s+){{0,2}}(?:sore|weird|bad|"
    rf"\d+\s*/\s*10)\b",
    re.IGNORECASE,
)
_NO_PAIN = re.compile(
    r"\b(no|without|zero|pain[- ]?free|painless|free of|keine?|ohne|nichts?)\b[\w\s-]{0,12}?(pains?|schmerz\w*|weh|"
    r"aches?)|"
    r"\bpain[- ]?free\b|\bpainless\b|\bschmerzfrei\b|\bpain\s*[:=]?\s*(0|none|no)\b(?!\s*[.,]\d)|"
    r"\bschmerz\w*\s*[:=]?\s*(0|keine?)\b",
    re.IGNORECASE,
)
_BROKE = re.compile(
    r"\b(form|technique|technik|haltung)\s+(broke|broke down|broken|went|gone|lost|bricht|eingebrochen|weg|kaputt)\b|"
    r"\b(knees? (?:caved|cave)|rounded|rund(?:er rücken)?|hips? shot up|eingebrochen)\b",
    re.IGNORECASE,
)
_ROUGH = re.compile(
    r"\b(rough|sloppy|ugly|messy|unsauber\w*|unrund|wacklig|wackelig|wobbly|grindy)\b|"
    r"\b(form|technique|technik)\s+(off|meh|bad|poor|not great|schlecht\w*|mies)\b|\b(bad|poor|schlechte)\s+(form|"
    r"technique|technik)\b",
    re.IGNORECASE,
)
_GOOD = re.compile(r"\b(clean|crisp|sauber\w*|good form|good technique|saubere technik|gute technik)\b", re.IGNORECASE)
_NOT_DONE = re.compile(
    r"\b(not done|skipped|skip|did ?n[o']t do|no time|ran out of time|out of time|ausgefallen|entfällt|entfallen|"
    r"nicht gemacht|ausgelassen|keine zeit|weggelassen|dropped it|left out|fehlt|cancelled|canceled)\b",
    re.IGNORECASE,
)
_STRENGTH = re.compile(
    r"\b(too heavy|zu schwer|stuck|stalled|strength|kraft\w*|no strength|gave out|could ?n[o']t|didn[’']?t go|"
    r"ging nicht|"
    r"failed|fail|failure|muscle failure|muskelversagen|nicht geschafft|pinned|weak|tired|müde)\b",
    re.IGNORECASE,
)
_TECHNIQUE = re.compile(
    r"\b(technique|technik|lost (?:the )?balance|balance|gleichgewicht|form|depth|tiefe|ungültig|grip slipped|"
    r"slipped|abgerutscht|misgroove\w*|out of position|out of the groove)\b",
    re.IGNORECASE,
)
_PRAISE = re.compile(r"\b(better|good|great|clean|crisp|besser|gut\w*|sauber\w*|solid)\b", re.IGNORECASE)


class Remark(Struct, frozen=True):
    """What a note says: pain, technique, and the words that remain."""

    pain: Pain | None = None
    technique: Technique | None = None
    note: str = ""


def remark(words: str) -> Remark:
    """Pain and technique in free words; of pain, its height where one number stands."""
    if not words:
        return Remark()
    if _PAIN.search(words) and not _NO_PAIN.search(words):
        return Remark(pain=_pain(words), technique=technique_in(words))
    return Remark(technique=technique_in(words), note=words)


def _pain(words: str) -> Pain:
    try:
        found = cells.pain(words)
    except CellRefused:
        found = None
    return found or Pain(None, words)


def technique_in(words: str) -> Technique | None:
    """What the words say of technique, if anything."""
    if _BROKE.search(words):
        return "broke"
    if _ROUGH.search(words):
        return "rough"
    return "good" if _GOOD.search(words) and not re.search(r"\b(not|nicht)\b", words, re.IGNORECASE) else None


def missed_reason(words: str) -> Missed | None:
    """Why a lift was missed, by the words beside it; None where they do not say."""
    folded = words.strip().casefold()
    if folded in {"strength", "technique", "pain", "not-done", "unsaid"}:
        return {"strength": "strength", "technique": "technique", "pain": "pain", "not-done": "not-done"}.get(
            folded, "unsaid"
        )  # type: ignore[return-value] # get() of words that are the type's own
    if _PAIN.search(words) and not _NO_PAIN.search(words):
        return "pain"
    if _NOT_DONE.search(words):
        return "not-done"
    if (_TECHNIQUE.search(words) and not _PRAISE.search(words)) or _BROKE.search(words):
        return "technique"
    return "strength" if _STRENGTH.search(words) else None


def is_not_done(words: str) -> bool:
    """Whether the words say that nothing was done."""
    return _NOT_DONE.search(words) is not None
