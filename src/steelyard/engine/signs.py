"""Stop signs that people write in their notes, in English and German.

The list of signs: Riebe et al. 2015 (preparticipation signs), further items from memory. The words are our own choice.
A sign that is named and denied in one breath ("no chest pain") is none; what trains the chest is none either.
"""

import re
import unicodedata
from collections.abc import Iterator

from .health import Sign

# Words of pain, after accents are stripped.
_HURT = r"(?:pain\w*|ache\w*|aching|hurt\w*|pressure|tight(?:ness)?|discomfort|schmerz\w*|druck|enge\w*|stechen|sticht)"
_UP_TO_THREE = r"(?:\s+\w+){0,3}?\s+"
_URINE = r"(?:urine|pee|piss|wee|urin|harn)"
_DARK = r"(?:dark|brown|black|cola|coke|tea|red|bloody|dunkel\w*|dunkle\w*|braun\w*|rot\w*|blutig\w*)"

_WORDS: dict[Sign, tuple[str, ...]] = {
    "chest": (
        rf"(?:chest|breastbone|sternum)\s+{_HURT}",
        r"chest\s+(?:is|was|felt|feels|got)\s+(?:very |really )?(?:tight|painful)",
        rf"{_HURT}{_UP_TO_THREE}(?:chest|breastbone|sternum|jaw|brust|brustkorb|brustbein|kiefer)",
        r"pain\s+(?:radiat\w+|going|spreading)\s+(?:in)?to\s+(?:\w+\s+)?(?:arm|jaw|neck)",
        r"(?:brust|brustkorb|herz)\s*(?:schmerz\w*|enge|stechen)",
        r"brust(?:korb)?\s+(?:tut|tat|schmerzt\w*)",
        r"heart\s+(?:pain|attack)|engegefuehl|engegefuhl|herzinfarkt",
    ),
    "breathless": (
        r"(?:cannot|can't|cant|could\s?n[o']?t|could not)\s+(?:get\s+(?:my\s+)?breath|breathe)",
        r"(?:unusual\w*|strange\w*|suddenly|very)\s+(?:breathless\w*|short\s+of\s+breath)",
        r"(?:breathless\w*|short(?:ness)?\s+of\s+breath)\s+(?:at\s+rest|lying|in\s+bed|at\s+night|climbing|walking)",
        r"struggl\w+\s+to\s+breathe|(?:kurzatmig|atemlos)\s+in\s+ruhe|(?:bekomm\w*|bekam|krieg\w*)\s+kaum\s+luft",
        r"(?:atemnot|luftnot)|keine\s+luft\s+(?:mehr\s+)?(?:bekommen|gekriegt)|(?:bekam|kriegte)\s+keine\s+luft",
    ),
    "faint": (
        r"faint(?:ed|ing)|(?:felt|feel|feeling|nearly|almost)\s+faint|pass(?:ed|ing)\s+out|black(?:ed|ing)\s+out",
        r"lost\s+consciousness|(?:fell|was|went)\s+unconscious|dizz(?:y|iness)|light[ -]?headed\w*",
        r"ohnmaecht\w*|ohnmacht\w*|bewusstlos\w*|umgekippt|schwind(?:el|lig)\w*|schwarz\s+vor\s+(?:den\s+)?augen",
    ),
    "palpitations": (
        r"palpitation\w*|heart\s+(?:was\s+|is\s+)?(?:pound\w*\s+and\s+)?(?:rac\w+|flutter\w*|skip\w*|stumbl\w*)|(?:irregular|uneven)\s+(?:heart|pulse)\w*",
        r"herz(?:rasen|stolpern)|herz\s+(?:rast\w*|stolpert\w*)|(?:puls|herzschlag)\s+unregelmaessig|unregelmaessiger\s+(?:puls|herzschlag)",
    ),
    "leg-swelling": (
        r"swollen\s+(?:ankles|legs|feet)|(?:ankles|legs|feet)\s+(?:are\s+|were\s+)?(?:swollen|swelling|swelled)",
        r"geschwollene\s+(?:beine|fuesse|fusse|knoechel)|(?:beine|fuesse|fusse|knoechel)\s+(?:sind\s+|waren\s+)?geschwollen",
    ),
    "calf-pain": (
        r"swollen\s+cal(?:f|ves)|cal(?:f|ves)\s+(?:is\s+|was\s+|are\s+)?swollen|calf\s+(?:pain|hurt\w*)|pain\s+in\s+(?:\w+\s+)?calf",
        r"geschwollene\s+wade|wade\s+(?:ist\s+|war\s+)?geschwollen|wade\s+schmerzt\w*|wadenschmerz\w*|schmerz\w*\s+in\s+(?:\w+\s+){1,2}wade",
    ),
    "severe-headache": (
        r"(?:sudden|severe|worst|thunderclap|explosive|splitting|terrible|very\s+bad)\s+(?:\w+\s+)?headache",
        r"(?:ploetzlich\w*|plotzlich\w*|heftig\w*|stark\w*|schlimm\w*|rasend\w*)\s+(?:\w+\s+)?kopf(?:schmerz|weh)\w*",
    ),
    "vision-or-speech": (
        r"(?:blurr\w*|double|lost|loss\s+of)\s+(?:my\s+)?vision|vision\s+(?:went|was|got)|(?:saw|see|seeing)\s+double|slurr\w+\s+speech",
        r"(?:trouble|difficulty|could\s?n[o']?t|could not)\s+(?:seeing|speaking|see|speak)\b",
        r"doppelbild\w*|sehstoerung\w*|sehstorung\w*|sprachstoerung\w*|sprachstorung\w*|(?:konnte|kann)\s+kaum\s+(?:sprechen|sehen)|verschwommen\s+gesehen|sah\s+verschwommen|lallt\w*",
    ),
    "pop": (
        r"(?:felt|heard|feel|hear)\s+(?:a\s+|something\s+)?(?:\w+\s+)?pop(?:ped)?\b|something\s+(?:popped|snapped|tore)",
        r"there\s+was\s+a\s+(?:\w+\s+)?pop\b|(?:felt|heard)\s+something\s+(?:snap|tear|rip)\b",
        r"(?:muscle|tendon|ligament|biceps|pec)\s+(?:tore|torn|ripped|snapped)|torn\s+(?:muscle|tendon|ligament|biceps|pec)\b",
        r"(?:muskel|sehne|band|bizeps)\s+(?:ist\s+)?gerissen|(?:knall|schnalzen)\s+(?:gespuert|gespurt|gehoert|gehort)|es\s+hat\s+geknallt",
    ),
    "joint-locking": (
        r"(?:knee|elbow|shoulder|hip|ankle|joint)\s+(?:\w+\s+)?(?:lock(?:ed|s)\s+up|got\s+stuck|(?:and\s+)?gave\s+(?:way|out)|gives\s+way|giving\s+way)",
        r"(?:knee|shoulder|hip|ankle|joint)\s+(?:just\s+|suddenly\s+)?locked(?!\s+out)",
        r"(?:knie|ellbogen|schulter|huefte|hufte|gelenk)\s+(?:\w+\s+)?(?:blockiert\w*|weggeknickt|knickt\w*\s+weg|gibt\s+nach|gab\s+nach)",
    ),
    "numbness-or-weakness": (
        r"numb(?:ness)?|pins\s+and\s+needles|sudden\s+weakness|lost\s+(?:all\s+)?feeling\s+in|(?:arm|leg|foot|hand)\s+suddenly\s+weak|paralys\w+|no\s+feeling\s+in",
        r"(?:arm|leg|foot|hand)\s+(?:is|was|went|feels|felt|got)\s+(?:\w+\s+)?weak",
        r"taub(?:heit\w*)?|taubes|taube[rn]?|gelaehmt|gelahmt|laehmung\w*|lahmung\w*|kein\s+gefuehl\s+in|ploetzliche\s+schwaeche",
    ),
    "bladder-or-bowel": (
        r"(?:lost|loss\s+of|no)\s+(?:\w+\s+){0,3}(?:bladder|bowel)\w*|(?:bladder|bowel)\s+control|incontinen\w+|wet\s+myself|(?:cannot|can't|cant|could\s?n[o']?t|could\s+not)\s+(?:control|hold)\s+(?:my\s+)?(?:bladder|bowel)\w*",
        r"kontrolle\s+(?:\w+\s+){0,3}(?:blase|darm)|(?:blase|darm|stuhl|harn)\s+nicht\s+(?:mehr\s+)?(?:halten|kontrollieren)|inkontinen\w+|eingenaesst|eingenasst",
    ),
    "dark-urine": (
        rf"{_DARK}(?:[ -]?(?:colou?red|farben\w*|farbig\w*))?\s+{_URINE}",
        rf"{_URINE}{_UP_TO_THREE}{_DARK}|{_URINE}\s+{_DARK}",
        r"cola[ -]?(?:colou?red|farben\w*|farbig\w*)|blood\s+in\s+(?:\w+\s+)?(?:urine|pee)|blut\s+im\s+(?:urin|harn)",
    ),
    "swelling-with-weakness": (
        r"swoll?en\s+and\s+(?:\w+\s+)?weak\w*|weak\w*\s+and\s+(?:\w+\s+)?swollen|swelling\s+(?:and|with)\s+(?:\w+\s+)?weak\w*",
        r"geschwollen\s+und\s+(?:\w+\s+)?(?:schwach|kraftlos)|(?:schwach|kraftlos)\s+und\s+(?:\w+\s+)?geschwollen|schwellung\s+(?:und|mit)\s+(?:\w+\s+)?schwaeche",
    ),
    "pelvic-heaviness": (
        r"pelvi[cs]\s+(?:floor\s+)?(?:heav\w+|pressure|bulg\w+)|(?:heav\w+|pressure|bulg\w+)\s+(?:\w+\s+){0,2}pelvi[cs]|prolapse\w*",
        r"(?:heav\w+|pressure)\s+(?:feeling\s+)?(?:in\s+(?:my\s+|the\s+)?pelvi[cs]|down\s+(?:there|below))",
        r"(?:druck|schwere\w*)\s+(?:im|auf\s+dem|in\s+dem)\s+becken\w*|beckenboden\s*(?:druck|schwer\w*)|senkungsgefuehl|senkungsgefuhl",
    ),
    "leakage": (
        r"leak(?:ed|ing|age|s)?\s+(?:\w+\s+){0,2}(?:urine|pee)|(?:urine|pee)\s+leak\w*|peed\s+(?:a\s+bit|myself)|leakage",
        r"leaked\s+(?:a\s+)?(?:little|bit|some)|\bi\s+leak\b|\bleak\s+(?:when|while)\s+i\b|\bleak\s+during\s+(?:lift|jump|squat|deadlift)",
        r"(?:urin|harn)verlust|urin\s+verloren|verlier\w*\s+(?:\w+\s+)?urin",
    ),
    "bleeding": (
        r"vaginal\w*\s+(?:bleed\w*|blutung\w*)|spotting|es\s+blutet|(?:\w*blutung(?:en)?)\b(?!\s+(?:an|am)\s+)",
        # Torn skin of hands and shins bleeds and is no sign.
        r"(?<!callus )(?<!calluses )(?<!hand )(?<!hands )(?<!shin )(?<!shins )(?<!finger )(?<!nose )(?<!knuckles )"
        r"bleeding\b(?!\s+(?:from\s+)?(?:the\s+|my\s+)?(?:hand|callus|shin|nose|finger|knuckle))",
    ),
    "wound": (
        r"(?:wound|scar|stitches|incision)\s+(?:\w+\s+)?(?:pain\w*|hurt\w*|open\w*|weep\w*|ooz\w*|red|tore|torn)",
        r"(?:wund|narben)schmerz\w*|(?:wunde|narbe|naht)\s+(?:\w+\s+)?(?:schmerzt\w*|offen|aufgegangen|naesst|nasst|geroetet|gerotet)",
    ),
    "fluid-leak": (
        r"waters?\s+broke|leak(?:ed|ing)?\s+(?:of\s+)?(?:amniotic\s+)?fluid|fluid\s+(?:is\s+|was\s+)?leak\w*|fruchtwasser|blasensprung",
    ),
    "contractions": (
        r"(?:regular|painful)\s+(?:\w+\s+)?contractions|having\s+contractions|regelmaessige\s+wehen|\bwehen\b",
    ),
    "abdominal-pain": (
        r"(?:severe|strong|sharp|sudden)\s+(?:abdominal|belly|stomach)\s+(?:pain|cramp)\w*",
        r"(?:starke|heftige|ploetzliche|plotzliche)\s+(?:bauch|unterleib)\w*schmerz\w*",
    ),
}
_SIGNS = {
    sign: re.compile(r"\b(?:" + "|".join(f"(?:{p})" for p in patterns) + r")") for sign, patterns in _WORDS.items()
}
_ANY = re.compile("|".join(pattern.pattern for pattern in _SIGNS.values()))
_BREAKS = re.compile(r"[.;!?\n]|\b(?:but|aber|sondern|however|then|dann)\b")
# A denial reaches over at most three words, and over none that begins a reason or a circumstance, nor over "never so".
_DENIED_BEFORE = re.compile(
    r"\b(?:no|not|never|without|zero|neither|nor|any|denies|kein\w*|ohne|nicht|nie|niemals|weder|noch|if|falls|wenn|keep)\s+"
    r"(?:(?!so\b|such\b|because|due|after|with|from|when|while|wegen|weil|nach|mit|seit|since|finish|fertig)\w+\s+){0,3}$"
)
_DENIED_AFTER = re.compile(r"^\s*[:=-]?\s*(?:no|none|nein|negative?|keine[rsn]?|nicht|gone)\b")
_JOINED = re.compile(r"^[\s,/]*(?:(?:or|nor|and|any|oder|noch|und|keine?\w?)\s+)?$")
_OWN_DENIAL = re.compile(r"^(?:no|kein\w*|could|cannot|can't|cant)\b")
_SPELLED = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "’": "'", "-": " ", "_": " "})


def signs_in(text: str) -> tuple[Sign, ...]:
    """The stop signs that a note names and does not deny, in the order of the list."""
    plain = _plain(text)
    if not _ANY.search(plain):
        return ()
    found = {sign for clause in _BREAKS.split(plain) for sign in _in_clause(clause)}
    return tuple(sign for sign in _SIGNS if sign in found)


def _plain(text: str) -> str:
    """Lower case, umlauts as ae, oe, ue, other accents stripped, typographic apostrophes as typed ones."""
    if text.isascii():
        return text.casefold().replace("-", " ").replace("_", " ")
    spelled = unicodedata.normalize("NFC", text.casefold()).translate(_SPELLED)
    return "".join(c for c in unicodedata.normalize("NFKD", spelled) if not unicodedata.combining(c))


def _in_clause(clause: str) -> Iterator[Sign]:
    """Signs of one clause; a list behind a denial ("no chest pain, dizziness or numbness") is denied as a whole."""
    hits = sorted(
        (match.start(), match.end(), sign) for sign, pattern in _SIGNS.items() for match in pattern.finditer(clause)
    )
    denied_up_to: int | None = None
    for start, end, sign in hits:
        before = clause[:start]
        goes_on = denied_up_to is not None and _JOINED.match(clause[denied_up_to:start])
        own = _OWN_DENIAL.match(clause[start:end])
        is_denied = goes_on or (not own and _DENIED_BEFORE.search(before.rpartition(",")[2]))
        if is_denied:
            denied_up_to = max(end, denied_up_to or 0)
        elif not _DENIED_AFTER.match(clause[end:]):
            yield sign
