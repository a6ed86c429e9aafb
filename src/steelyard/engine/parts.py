"""Which joints of the catalogue a body part means, as people write it in English and German."""

import re
import unicodedata

# From what people write to joints as the catalogue names them: common practice, no source.
_JOINTS = {
    "knee": ("knee", "knie", "patella", "quad", "leg", "bein"),
    "hip": ("hip", "groin", "huft", "huef", "leiste", "addu", "hamstring", "glute", "gesaess", "leg", "bein"),
    "ankle": ("ankle", "achilles", "foot", "calf", "knoechel", "sprunggelenk", "fuss", "wade", "leg", "bein"),
    "lower-spine": ("lower back", "lumbar", "low back", "back", "spine", "lws", "kreuz", "ruecken", "lende"),
    "upper-spine": ("upper back", "neck", "thoracic", "back", "spine", "nacken", "hals", "bws", "hws", "ruecken"),
    "neck": ("neck", "nacken", "hals", "hws", "cervical"),
    "shoulder": ("shoulder", "collarbone", "rotator", "pec", "schulter", "schluesselbein", "brustmuskel", "arm"),
    "elbow": (
        "elbow",
        "biceps",
        "triceps",
        "forearm",
        "ellbogen",
        "ellenbogen",
        "bizeps",
        "trizeps",
        "unterarm",
        "arm",
    ),
    "wrist": ("wrist", "hand", "thumb", "finger", "grip", "daumen", "forearm", "unterarm", "arm"),
}


def joints_of(part: str) -> frozenset[str]:
    """The joints that a part names; none where the words are not known."""
    plain = unicodedata.normalize("NFC", part.casefold())
    for umlaut, spelled in (("ä", "ae"), ("ö", "oe"), ("ü", "ue"), ("ß", "ss"), ("-", " ")):
        plain = plain.replace(umlaut, spelled)
    found = {joint for joint, words in _JOINTS.items() if any(re.search(rf"\b{word}", plain) for word in words)}
    if re.search(r"\b(?:lower|low|lws|lenden)", plain):
        found.discard("upper-spine")
    if re.search(r"\bupper\b", plain):
        found.discard("lower-spine")
    return frozenset(found)
