"""Words above columns, English and German, and what they say of the cells below."""

import re
from functools import cache
from typing import Literal

from msgspec import Struct

from steelyard.engine.exercises import folded_name
from steelyard.engine.log import SetKind
from steelyard.engine.quantities import Unit

Role = Literal[
    "date", "week", "day", "lifter", "exercise", "sets", "set-number", "set-cell", "reps", "load", "unit", "rpe", "rir",
    "effort", "percent", "rest", "tempo", "note", "pain", "technique", "body-mass", "made", "missed", "session", "kind",
    "seconds",
    "metres", "side", "implement", "cluster", "cluster-pause", "pair", "phase", "load-typed", "exercise-code",
    "load-kg", "effort-typed", "as-written", "ignore", "unknown",
]  # fmt: skip
# Where nothing of a row is about sets, such columns alone make no header.
CORE: frozenset[Role] = frozenset({"exercise", "sets", "set-number", "set-cell", "reps", "load", "seconds", "metres"})

_WORDS: dict[Role, str] = {
    "date": "date|datum|trainingstag|trainingsdatum|training date|session date|when|wann|performed on",
    "week": "week|woche|kw|wk|trainingswoche|kalenderwoche|training week",
    "day": "day|tag|wochentag|weekday|training day",
    "lifter": "lifter|name|athlet in|athlete|athlet|athletin|sportler|sportlerin|sportler in|person|who|wer|client|"
    "kunde|kundin|"
    "trainee|member|mitglied|teilnehmer|teilnehmerin|lifter name|athlete name|heber|heberin",
    "exercise": "exercise|exercises|ex|exercise variation|ubung variante|exercise name variation|lift|lifts|movement|"
    "ubung|ubungen|uebung|uebungen|exercise name|bewegung|what|"
    "ubungsname|hebung|main lift",
    "sets": "sets|satze|saetze|set count|no of sets|number of sets|anzahl satze|serien|sets done|satzzahl",
    "set-number": "set|satz|set no|set nr|set number|satz nr|satznr|satznummer|set index|set order|serie",
    "set-cell": "work|workout|sets x reps|sets reps|satze x wdh|satze wdh|scheme|result|results|ergebnis|performed|"
    "done|"
    "actual|geschafft|gemacht|ausgefuhrt|ausgefuehrt|executed|completed|absolviert|leistung|work sets|work set|"
    "working sets|arbeitssatze|arbeitssatz|training|ist|log|"
    "sets and reps|sets reps load|sets reps weight",
    "reps": "reps|rep|rep count|wiederhol|wiederh|wdhlg|repetitions|repetition|wdh|wdhs|wdhl|wh|wiederholungen|"
    "wiederholung|reps done|actual reps|"
    "reps performed|wdh ist|reps per set|wdh pro satz|repeats",
    "load": "load|weight|gewicht|last|belastung|wt|wgt|gew|working weight|working load|weight used|arbeitsgewicht|"
    "zusatzgewicht|added load|"
    "added weight|gewicht last|load weight|kilogramm|resistance|widerstand",
    "unit": "unit|units|weight unit|load unit|masseinheit|gewichtseinheit",
    "rpe": "rpe|set rpe|rpe actual|rpe ist",
    "rir": "rir|reps in reserve|repetitions in reserve|wdh in reserve|reserve",
    "effort": "effort|anstrengung|difficulty|schwierigkeit|exertion",
    "percent": "percent|prozent|1rm percent|percent 1rm|of 1rm|vom 1rm|percentage|intensity|intensitat",
    "rest": "rest|pause|rest interval|rest time|satzpause|pausenzeit|rest s|rest sec|rest seconds|pause s|pause sek|"
    "rest interval s|rest min|pause min",
    "tempo": "tempo|cadence|kadenz",
    "note": "note|notes|notes feel|feel|hinweis|hinweise|comment|comments|remark|remarks|bemerkung|bemerkungen|"
    "notiz|notizen|kommentar|kommentare|"
    "anmerkung|anmerkungen|feedback|how it felt|gefuhl|sonstiges",
    "pain": "pain|schmerz|schmerzen|pain 0 10|schmerz 0 10|aches|beschwerden",
    "technique": "technique|technik|form|ausfuhrung|ausfuehrung",
    "body-mass": "body mass|bodymass|bodyweight|body weight|bw|korpergewicht|koerpergewicht|korpermasse|"
    "eigengewicht|kgw|"
    "body wt|bodywt|weigh in",
    "missed": "missed|missed reason|missed because|reason missed|reason for miss|warum nicht geschafft|"
    "nicht geschafft|"
    "grund fehlversuch|fehlversuch grund|grund fur fehlversuch|nicht geschafft weil|why not|reason|grund|why|warum|"
    "fehlversuch|verfehlt|failed|fail|why missed|missed why",
    "made": "made|made it|ok|good lift|success|successful|lift made|gultig|gelungen|versuch gultig",
    "session": "session|einheit|trainingseinheit|session no|session number|te",
    "kind": "kind|set type|type|art|satzart|satztyp|type of set",
    "seconds": "seconds|second|sekunden|sec|secs|sek|duration s|dauer s|zeit sek|haltezeit s|hold|"
    "haltezeit|time under load|time s|zeit s|s",
    "metres": "metres|meters|metre|meter|distance|distanz|strecke|strecke m|distance m|distanz m|m",
    "side": "side|seite|side l r|seite l r|l r|left right|links rechts",
    "implement": "implement|machine|maschine|gerat|geraet|grip|griff",
    "cluster": "cluster|clusters",
    "cluster-pause": "cluster pause s|cluster pause",
    "pair": "pair|superset|supersatz|paar",
    "phase": "phase",
    "load-typed": "load typed",
    "exercise-code": "exercise code",
    "effort-typed": "effort typed",
    "as-written": "as written",
    "ignore": "e1rm|1rm|rm|one rm|est 1rm|estimated 1rm|e 1rm|max|1 rm|volume|volumen|vol|gesamtlast|bpm|m s|speed|"
    "bar speed|bar speed m s|"
    "velocity|geschwindigkeit|volume load|load volume|lastvolumen|total|totals|gesamt|"
    "summe|tonnage|workload|total volume|total load|gesamtvolumen|pb|pr|best|bestleistung|rekord|id|no|nr|index|"
    "row|zeile|sleep|schlaf|sleep h|mood|stimmung|laune|weather|wetter|energy|energie|stress|steps|schritte|calories|"
    "kalorien|heart rate|hr|hf|avg hr|average hr|avg heart rate|max hr|1rm geschatzt|geschatztes 1rm|"
    "geschatzter 1rm|herzfrequenz|pulse|puls|initials|kurzel|kuerzel|total kg|total lb|location|ort|gym|studio|"
    "coach|trainer|trainerin|start|end|ende|uhrzeit|time|zeit|"
    "planned|plan|target|soll|ziel|goal|target reps|target sets|target load|target weight|reps target|planned reps|"
    "planned sets|planned load|planned weight|soll wdh|soll gewicht|soll satze|wdh soll|gewicht soll|prescribed|"
    "target rpe|target rir|muscle|muskel|muscle group|muskelgruppe|order|reihenfolge",
}  # fmt: skip
_ROLE_OF: dict[str, Role] = {word: role for role, words in _WORDS.items() for word in words.split("|")}
_UNIT_OF: dict[str, Unit] = {
    "kg": "kg", "kgs": "kg", "kilo": "kg", "kilos": "kg", "kilogram": "kg", "kilograms": "kg",
    "lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb", "pfund": "lb",
}  # fmt: skip
_KIND_OF: dict[str, SetKind] = {
    "warm up": "warm-up", "warmup": "warm-up", "warm ups": "warm-up", "aufwarmen": "warm-up", "aufwaermen": "warm-up",
    "aufwarmsatz": "warm-up", "aufwarmsatze": "warm-up", "wu": "warm-up", "ramp": "ramp", "top": "top",
    "top set": "top", "topsatz": "top", "back off": "back-off", "backoff": "back-off", "back offs": "back-off",
    "back off sets": "back-off", "work": "work", "work set": "work", "arbeitssatz": "work",
}  # fmt: skip
_PLANNED = re.compile(
    r"^(planned|plan|target|soll|ziel|goal|prescribed|vorgabe)\b|\b(target|soll|plan|planned|vorgabe)$"
)
_SET_WORD = re.compile(r"^(?:set|satz|s|serie|work set|arbeitssatz)$")
_COUNTED: frozenset[Role] = frozenset({
    "reps", "load", "rpe", "rir", "seconds", "metres", "note", "rest", "effort",
})  # fmt: skip
LONGEST_HEADER = 60


class HeaderWord(Struct, frozen=True, kw_only=True):
    """What one word above a column says: role, unit of its numbers, which set, which kind of set."""

    role: Role
    unit: Unit | None = None
    set_number: int | None = None
    kind: SetKind | None = None


def unit_named(text: str) -> Unit | None:
    """The unit that a word names, or None."""
    return _UNIT_OF.get(text.strip().strip(".").casefold())


def kind_named(text: str) -> SetKind | None:
    """The kind of set that a word names, or None."""
    return _KIND_OF.get(folded_name(text))


@cache
def _header_word(text: str) -> HeaderWord | None:
    if "%" in text and len(text) < 12:
        return HeaderWord(role="percent")
    folded = folded_name(re.sub(r"[()\[\]:#*/|,;]+", " ", text))
    if folded in _ROLE_OF:
        return HeaderWord(role=_ROLE_OF[folded], unit=None)
    if folded == "load kg":
        return HeaderWord(role="load-kg", unit="kg")
    words = folded.split()
    unit = next((_UNIT_OF[word] for word in words if word in _UNIT_OF), None)
    numbers = [int(word) for word in words if word.isdecimal() and len(word) < 3]
    bare = " ".join(w for w in words if w not in _UNIT_OF and not w.isdecimal() and w not in {"in", "the", "of"})
    number = numbers[0] if len(numbers) == 1 and 1 <= numbers[0] <= 30 else None
    if not bare and (numbers or not all(word in _UNIT_OF for word in words)):
        # `kg 1` numbers a column, `1 kg` and `62.5 kg` are loads.
        is_numbered = number is not None and words[-1].isdecimal() and len(words) == 2
        return HeaderWord(role="load", unit=unit, set_number=number) if unit is not None and is_numbered else None
    return _composed(bare, unit, number)


def _composed(bare: str, unit: Unit | None, number: int | None) -> HeaderWord | None:
    """A header of several parts: `Set 2 kg`, `Gewicht (lb)`, `reps 1`."""
    if match := re.fullmatch(r"(s|set|satz|reps|rep|wdh|kg|lb|rpe|rir)(\d{1,2})", bare):
        inner = _header_word(match[1])
        role: Role = "set-cell" if match[1] in {"s", "set", "satz"} or inner is None else inner.role
        return HeaderWord(role=role, unit=None if inner is None else inner.unit, set_number=int(match[2]))
    if number is not None and (of_set := _of_set(bare, unit, number)) is not None:
        return of_set
    if bare in _KIND_OF:
        return HeaderWord(role="set-cell", kind=_KIND_OF[bare], set_number=number)
    if _PLANNED.search(bare):
        return HeaderWord(role="ignore")
    known: Role | None = "load" if not bare and unit is not None else _ROLE_OF.get(bare)
    # `Week 3` and `Day 1` are titles, and `exercise 2` is nothing that a header says.
    if known is None or (number is not None and known not in _COUNTED):
        return None
    return HeaderWord(role=known, unit=unit, set_number=number)


def _of_set(bare: str, unit: Unit | None, number: int) -> HeaderWord | None:
    """`Set 2`, `Set 2 kg`, `Set 2 reps`."""
    first, _, rest = bare.partition(" ")
    if _SET_WORD.match(bare):
        return HeaderWord(role="load" if unit else "set-cell", unit=unit, set_number=number)
    if _SET_WORD.match(first) and rest in _ROLE_OF:
        return HeaderWord(role=_ROLE_OF[rest], unit=unit, set_number=number)
    return None


def unknown_word(text: str) -> HeaderWord:
    """A header of which no word is known: still its unit, and its number if it ends in one."""
    words = folded_name(re.sub(r"[()\[\]:#*/|,;]+", " ", text)).split()
    unit = next((_UNIT_OF[word] for word in words if word in _UNIT_OF), None)
    ends = len(words) > 1 and words[-1].isdecimal() and 1 <= int(words[-1]) <= 30
    return HeaderWord(role="unknown", unit=unit, set_number=int(words[-1]) if ends else None)


def names_plan(text: str) -> bool:
    """Whether a header says that plans stand below."""
    return _PLANNED.search(folded_name(text)) is not None


def header_word(text: str) -> HeaderWord | None:
    """What a header cell says, or None where no word of it is known."""
    return _header_word(text.strip()) if 0 < len(text) <= LONGEST_HEADER else None
