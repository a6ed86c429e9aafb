"""Whose sets stand in a file: known lifters, new ones, and names that only look like a known one."""

from collections.abc import Iterable, Mapping
from difflib import get_close_matches

from msgspec import Struct

from steelyard.engine.log import Entry
from steelyard.exchange.found import Choice, FoundBodyMass, FoundSet, Question
from steelyard.exchange.problems import Problem
from steelyard.wording.message import tell

from .lifters import Lifter, all_lifters, folded, new_lifter
from .refusal import Refused
from .scribe import Scribe

NEW = "new"


class People(Struct, kw_only=True):
    """The lifter behind each written name, entries for those who are new, and what must be asked."""

    lifters: dict[str, Lifter]
    default: str | None
    entries: list[Entry]
    questions: list[Question]
    problems: list[Problem]

    def of(self, written: str) -> Lifter | None:
        """The lifter that a written name means, or None."""
        return self.lifters.get(folded(written or self.default or ""))


def people_in_file(
    found: Iterable[FoundSet | FoundBodyMass], default: str | None, answers: Mapping[str, str], scribe: Scribe
) -> People:
    """Everybody named in a file; `default` is whoever was named where the file names nobody."""
    known = {folded(lifter.name): lifter for lifter in all_lifters()}
    people = People(lifters={}, default=default, entries=[], questions=[], problems=[])
    names: dict[str, tuple[str, FoundSet | FoundBodyMass]] = {}
    for item in found:
        if written := item.lifter or default:
            names.setdefault(folded(written), (written, item))
    for name, (written, item) in names.items():
        answer = answers.get(f"lifter:{written}", "")
        meant = known.get(folded(answer)) or known.get(name)
        near = [] if meant is not None or answer == NEW else _near(name, known)
        if meant is not None:
            people.lifters[name] = meant
        elif near:
            people.questions.append(_ask(written, [known[n].name for n in near]))
        else:
            _add(name, written, item, people, scribe)
    return people


def _add(name: str, written: str, item: FoundSet | FoundBodyMass, people: People, scribe: Scribe) -> None:
    try:
        people.lifters[name], entry = new_lifter(written, scribe)
    except Refused as refused:
        people.problems.append(
            Problem(
                sheet=item.place.sheet,
                row=item.place.row,
                column="",
                value=written,
                problem=refused.message,
                remedy=refused.remedy,
            )
        )
    else:
        people.entries.append(entry)


def _near(name: str, known: Mapping[str, Lifter]) -> list[str]:
    """Known names of which this one looks like a slip or a part."""
    parts = [other for other in known if other.startswith(f"{name} ") or name in other.split()]
    return parts or get_close_matches(name, list(known), n=2, cutoff=0.85)


def _ask(written: str, near: list[str]) -> Question:
    return Question(
        key=f"lifter:{written}",
        asks=tell("Who is {written!r}?", written=written),
        choices=(
            *(Choice(name, tell("{name}, who is known", name=name)) for name in near),
            Choice(NEW, tell("somebody new")),
        ),
    )
