"""What a reading gathers on its way: sets, what was passed over, what is wrong, what must be asked."""

from collections.abc import Callable, Mapping
from datetime import date

from steelyard.engine.log import SetBody
from steelyard.engine.quantities import Load
from steelyard.wording.message import tell, tell_count

from .found import Choice, ColumnRead, FoundBodyMass, FoundSet, PassedOver, Place, Question
from .problems import Problem

MOST_PROBLEMS = 200
SHOWN = 200


class Findings:
    """Collects in the order of the file; a question is asked once, and answered from `answers` by its key."""

    def __init__(self, answers: Mapping[str, str]) -> None:
        self.answers = answers
        self.sets: list[FoundSet] = []
        self.body_masses: list[FoundBodyMass] = []
        self.passed_over: list[PassedOver] = []
        self.columns: list[ColumnRead] = []
        self.questions: dict[str, Question] = {}
        self._answered: dict[str, str] = {}
        self._problems: list[Problem] = []
        self._more_problems = 0

    def add_set(self, place: Place, lifter: str, body: SetBody) -> None:
        """One set."""
        self.sets.append(FoundSet(place=place, lifter=lifter, body=body))

    def add_body_mass(self, place: Place, lifter: str, on: date, body_mass: Load) -> None:
        """A body mass of a day."""
        self.body_masses.append(FoundBodyMass(place=place, lifter=lifter, on=on, body_mass=body_mass))

    def pass_over(self, place: Place, value: str, why: str) -> None:
        """Content that holds no set, and why."""
        self.passed_over.append(PassedOver(place=place, value=value[:SHOWN], why=why))

    def wrong(self, place: Place, value: str, problem: str, remedy: str) -> None:
        """Something that cannot be read; beyond the first 200 they are only counted."""
        if len(self._problems) >= MOST_PROBLEMS - 1:
            self._more_problems += 1
            return
        self._problems.append(
            Problem(
                row=place.row,
                column=place.column,
                value=value[:SHOWN],
                problem=problem,
                remedy=remedy,
                sheet=place.sheet,
            )
        )

    @property
    def problems(self) -> tuple[Problem, ...]:
        """All that is wrong; the last one counts those that are not kept."""
        if not self._more_problems:
            return tuple(self._problems)
        more = tell_count(
            "and {count} more problem of this kind of file",
            "and {count} more problems in this file",
            self._more_problems,
        )
        last = Problem(
            row=0, column="", value="", problem=more, remedy=tell("mend those above and read the file again")
        )
        return (*self._problems, last)

    def waits_for(self, *kinds: str) -> bool:
        """Whether a question of one of these kinds stands open."""
        return any(key.partition(":")[0] in kinds for key in self.questions)

    def ask(
        self,
        key: str,
        asks: str,
        examples: tuple[str, ...] = (),
        choices: tuple[Choice, ...] = (),
        is_answer: Callable[[str], bool] | None = None,
    ) -> str | None:
        """The answer that was given, or None; then the question stands. An answer that is no choice is a problem."""
        if key in self._answered:
            return self._answered[key]
        if key in self.questions:
            return None
        given = self.answers.get(key)
        allowed = is_answer or (lambda said: said in {choice.answer for choice in choices})
        if given is not None and allowed(given.strip()):
            self._answered[key] = given.strip()
            return self._answered[key]
        if given is not None:
            wanted = ", ".join(choice.answer for choice in choices) or tell("what the question asks for")
            self.wrong(
                Place("", 0, key),
                given,
                tell("is no answer to this question: {asks}", asks=asks),
                tell("answer one of: {choices}", choices=wanted),
            )
        self.questions[key] = Question(key=key, asks=asks, examples=examples[:6], choices=choices)
        return None
