"""Which exercise each written name of a file means: by the catalogue, by what the club confirmed, or as an own one."""

from collections import Counter
from collections.abc import Iterable, Mapping

from msgspec import Struct, structs

from steelyard.catalogue import catalogue
from steelyard.catalogue.matching import Alternative, NameMatch, match_name
from steelyard.catalogue.variations import Side
from steelyard.engine.exercises import Exercise, folded_name, own_exercise
from steelyard.engine.fold import fold
from steelyard.engine.log import THE_HOUSE, NamingBody, OwnExerciseBody
from steelyard.exchange.found import Choice, Question
from steelyard.store import queries
from steelyard.wording.message import tell, tell_count
from steelyard.wording.quantity import Language

from .own_exercises import own_code

# Alternatives below this score are too far to be worth a question: such a name is an exercise of the lifter's own.
ASK_FROM = 55.0
OWN, LEAVE_OUT = "own", "leave-out"
SHORTEST_BEGINNING, HINTS = 3, 3


class NameRead(Struct, frozen=True, kw_only=True):
    """How one written name was understood."""

    written: str
    sets: int
    exercise: str
    implement: str | None = None
    how: str
    score: float
    alternatives: tuple[str, ...] = ()


class Meaning(Struct, frozen=True, kw_only=True):
    """What a written name stands for; `own` where it is the lifter's own exercise, nothing where it is left out."""

    exercise: Exercise | None
    implement: str | None = None
    side: Side | None = None
    own: OwnExerciseBody | None = None


class Names(Struct, frozen=True, kw_only=True):
    """All names of a file: what they mean, how that was found, what must be asked, what is to be remembered."""

    meanings: dict[str, Meaning]
    read: tuple[NameRead, ...]
    questions: tuple[Question, ...]
    confirmed: tuple[NamingBody, ...]


def known_namings() -> dict[str, NamingBody]:
    """What the club confirmed so far, by folded written name; the newest word counts."""
    return {folded_name(body.written): body for body in fold(queries.entries_of(THE_HOUSE)).namings}


def read_names(written: Iterable[str], answers: Mapping[str, str], language: Language) -> Names:
    """Match every name; a name that is near some exercise but not surely it becomes a question `name:WRITTEN`."""
    counts = Counter(written)
    confirmed = known_namings()
    reader = _NameReader(confirmed, answers, language)
    for name, count in counts.items():
        reader.read(name, count)
    return Names(
        meanings=reader.meanings,
        read=tuple(sorted(reader.names, key=lambda n: (n.how == "exact", -n.sets, n.written))),
        questions=tuple(reader.questions),
        confirmed=tuple(reader.confirmed),
    )


class _NameReader:
    """Collects what each name means."""

    def __init__(self, known: dict[str, NamingBody], answers: Mapping[str, str], language: Language) -> None:
        self.known, self.answers, self.language = known, answers, language
        self.meanings: dict[str, Meaning] = {}
        self.names: list[NameRead] = []
        self.questions: list[Question] = []
        self.confirmed: list[NamingBody] = []

    def read(self, written: str, count: int) -> None:
        """Find what one name means."""
        answer = self.answers.get(f"name:{written}")
        remembered = self.known.get(folded_name(written))
        match = _with_plain_hints(match_name(written, catalogue()))
        if answer is not None:
            self._answered(written, count, answer, match)
        elif remembered is not None:
            self._keep(written, count, _meaning(remembered), "remembered", 100, match)
        elif match.sure and match.exercise is not None:
            meaning = Meaning(exercise=catalogue()[match.exercise], implement=match.implement)
            self._keep(written, count, meaning, "exact" if match.score >= 100 else "near", match.score, match)
        elif match.parent is None or (self.answers.get("names") != OWN and self._is_near(match)):
            self._ask(written, count, match)
        else:
            self._own(written, count, match.parent, match)

    def _is_near(self, match: NameMatch) -> bool:
        return bool(match.alternatives) and match.alternatives[0].score >= ASK_FROM

    def _answered(self, written: str, count: int, answer: str, match: NameMatch) -> None:
        """Take a person's word: an exercise, `own`, `own: PARENT`, or `leave-out`."""
        word, _, parent = (part.strip() for part in answer.partition(":"))
        if word.casefold() == LEAVE_OUT:
            self.meanings[written] = Meaning(exercise=None)
            self.names.append(NameRead(written=written, sets=count, exercise="", how="left out", score=100))
            return
        if word.casefold() == OWN:
            near = catalogue().named(parent) if parent else None
            code = near.code if near is not None else match.parent
            if code is None or (parent and near is None):
                self._ask(written, count, match)
            else:
                self._own(written, count, code, match, is_confirmed=True)
            return
        exercise = catalogue().named(answer)
        if exercise is None:
            self._ask(written, count, match)
            return
        naming = NamingBody(written=written, exercise=exercise.code, implement=match.implement)
        self.confirmed.append(naming)
        self._keep(written, count, _meaning(naming), "answered", 100, match)

    def _own(self, written: str, count: int, parent: str, match: NameMatch, *, is_confirmed: bool = False) -> None:
        naming = NamingBody(written=written, exercise=own_code(written), parent=parent)
        if is_confirmed:
            self.confirmed.append(naming)
        self._keep(written, count, _meaning(naming), OWN, match.score, match)

    def _keep(self, written: str, count: int, meaning: Meaning, how: str, score: float, match: NameMatch) -> None:
        self.meanings[written] = structs.replace(meaning, side=match.side)
        exercise = meaning.exercise
        name = exercise.name[self.language] if exercise is not None else ""
        near = meaning.own.parent if meaning.own is not None else None
        if near is not None:
            name = tell("{name}, own, near {parent}", name=written, parent=catalogue()[near].name[self.language])
        alternatives = tuple(
            f"{catalogue()[a.code].name[self.language]} {a.score:.0f}"
            for a in match.alternatives
            if exercise is None or a.code != exercise.code
        )
        self.names.append(
            NameRead(
                written=written,
                sets=count,
                exercise=name,
                implement=meaning.implement,
                how=how,
                score=round(score, 1),
                alternatives=alternatives[:3] if how != "exact" else (),
            )
        )

    def _ask(self, written: str, count: int, match: NameMatch) -> None:
        names = [catalogue()[a.code].name[self.language] for a in match.alternatives]
        choices = [
            Choice(name, tell("{name} (score {score})", name=name, score=round(a.score)))
            for name, a in zip(names, match.alternatives, strict=True)
        ]
        parent = catalogue()[match.parent].name[self.language] if match.parent is not None else ""
        own = OWN if parent else f"{OWN}: {tell('EXERCISE')}"
        meaning = tell("an exercise of the lifter's own, near {parent}", parent=parent or tell("the one you name"))
        choices += [Choice(own, meaning), Choice(LEAVE_OUT, tell("take none of these sets in"))]
        self.questions.append(
            Question(
                key=f"name:{written}",
                asks=tell_count(
                    "Which exercise is {written!r} ({count} set)?",
                    "Which exercise is {written!r} ({count} sets)?",
                    count,
                    written=written,
                ),
                choices=tuple(choices),
            )
        )


def _with_plain_hints(match: NameMatch) -> NameMatch:
    """The match with what anybody sees at once: names that go on from the written one, its last words as a parent."""
    if match.sure:
        return match
    shared, written = catalogue(), folded_name(match.written)
    known = {a.code for a in match.alternatives}
    longer = [name for name in shared.names() if len(written) >= SHORTEST_BEGINNING and name.startswith(written)]
    begun = {e.code: e for name in longer if (e := shared.named(name)) is not None and e.code not in known}
    hints = [Alternative(code, ASK_FROM, e.name["en"]) for code, e in list(begun.items())[:HINTS]]
    words = written.split()
    endings = (shared.named(" ".join(words[n:])) for n in range(1, len(words)))
    ending = next((e.code for e in endings if e is not None), None)
    alternatives = sorted((*match.alternatives, *hints), key=lambda a: -a.score)
    return structs.replace(match, alternatives=tuple(alternatives), parent=ending or match.parent)


def _meaning(naming: NamingBody) -> Meaning:
    shared = catalogue()
    if naming.parent is not None and naming.parent in shared:
        own = OwnExerciseBody(code=naming.exercise, name=naming.written, parent=naming.parent)
        exercise = own_exercise(own.code, own.name, shared[own.parent])
        return Meaning(exercise=exercise, implement=naming.implement, own=own)
    return Meaning(exercise=shared[naming.exercise], implement=naming.implement)
