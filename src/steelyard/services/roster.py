"""Who the lifters are: taking them in, what is known of each, changing it."""

import re
from datetime import date
from typing import Literal

from msgspec import UNSET, Struct, UnsetType, structs

from steelyard.engine.fold import fold, versions_of
from steelyard.engine.log import Aim, Entry, LifterBody, Weekday
from steelyard.exchange import cells
from steelyard.exchange.cells import CellRefused
from steelyard.store import queries
from steelyard.wording.message import tell

from .gear import places
from .lifters import Lifter, all_lifters, checked_name, find_lifter, folded, new_person
from .refusal import Refused
from .scribe import Scribe

EARLIEST_BIRTH = 1900
MOST_SESSIONS = 14
Forgettable = Literal["unit", "born", "trained-since", "days", "sessions", "place", "aim", "aim-words"]
_FIELDS: dict[str, str] = {
    "unit": "unit",
    "born": "birth_year",
    "trained-since": "trained_since",
    "days": "training_days",
    "sessions": "sessions_per_week",
    "place": "place",
    "aim": "aims",
    "aim-words": "aim_words",
}
_DAYS: dict[Weekday, tuple[str, ...]] = {
    "mon": ("monday", "mo", "montag"),
    "tue": ("tues", "tuesday", "di", "dienstag"),
    "wed": ("wednesday", "mi", "mittwoch"),
    "thu": ("thur", "thurs", "thursday", "do", "donnerstag"),
    "fri": ("friday", "fr", "freitag"),
    "sat": ("saturday", "sa", "samstag", "sonnabend"),
    "sun": ("sunday", "so", "sonntag"),
}
_MONTH = re.compile(r"(\d{4})-(\d{2})")


class About(Struct, frozen=True, kw_only=True):
    """What to say of a lifter; what is unset stays as it was."""

    unit: Literal["kg", "lb"] | UnsetType = UNSET
    birth_year: int | UnsetType = UNSET
    trained_since: date | UnsetType = UNSET
    training_days: tuple[Weekday, ...] | UnsetType = UNSET
    sessions_per_week: int | UnsetType = UNSET
    place: str | UnsetType = UNSET
    aims: tuple[Aim, ...] | UnsetType = UNSET
    aim_words: str | UnsetType = UNSET


class LifterKept(Struct, frozen=True, kw_only=True):
    """A lifter as the log knows them now, after adding or changing."""

    lifter: str
    was: str
    is_new: bool
    unit: str | None
    birth_year: int | None
    trained_since: str | None
    training_days: tuple[str, ...]
    sessions_per_week: int | None
    place: str
    is_place_known: bool
    aims: tuple[str, ...]
    aim_words: str


def add_lifter(name: str, about: About, scribe: Scribe, *, is_again: bool = False) -> LifterKept:
    """Take somebody in; `is_again` says that an erased name belongs to somebody else now, or came back."""
    _refuse_known(name, but=None)
    lifter = new_person(name, scribe, is_again=is_again)
    body = _changed(LifterBody(name=lifter.name), about, scribe)
    scribe.write([scribe.entry(lifter.person, body)])
    return _kept(body, was=lifter.name, is_new=True)


def change_lifter(name: str | None, about: About, forget: tuple[Forgettable, ...], scribe: Scribe) -> LifterKept:
    """Say something anew of a lifter, or forget it; what was said before stays in the log as an older version."""
    lifter = find_lifter(name)
    entries = queries.entries_of(lifter.person)
    empty = LifterBody(name=lifter.name)
    before = fold(entries).lifter or empty
    forgotten = {_FIELDS[code]: getattr(empty, _FIELDS[code]) for code in forget}
    body = _changed(structs.replace(before, **forgotten), about, scribe)
    if body == before:
        raise Refused(tell("nothing was to be changed"), tell("Say what, such as: --unit lb"))
    scribe.write([_next_version(lifter, entries, body, scribe)])
    return _kept(body, was=lifter.name, is_new=False)


def rename_lifter(name: str, new_name: str, scribe: Scribe) -> LifterKept:
    """Give a lifter another name; everything else stays theirs."""
    lifter = find_lifter(name)
    written = checked_name(new_name)
    _refuse_known(written, but=lifter)
    entries = queries.entries_of(lifter.person)
    body = structs.replace(fold(entries).lifter or LifterBody(name=lifter.name), name=written)
    scribe.write([_next_version(lifter, entries, body, scribe)])
    return _kept(body, was=lifter.name, is_new=False)


def about_lifter(lifter: Lifter) -> LifterBody:
    """What the log says of a lifter."""
    return fold(queries.entries_of(lifter.person)).lifter or LifterBody(name=lifter.name)


def unit_of(name: str | None) -> Literal["kg", "lb"] | None:
    """The unit that a lifter reads and types; None where nobody said, or nobody is meant."""
    lifters = all_lifters()
    meant = [x for x in lifters if name is None or folded(x.name) == folded(name)]
    return about_lifter(meant[0]).unit if len(meant) == 1 else None


def read_days(text: str) -> tuple[Weekday, ...]:
    """Days of the week as people write them, such as mon,wed,fri; in the order of the week."""
    known = {word: day for day, words in _DAYS.items() for word in (day, *words)}
    found = set()
    for word in re.split(r"[\s,;]+", text.strip().casefold()):
        if word not in known:
            raise Refused(tell("{word!r} is no day of the week", word=word), tell("Write them as mon,wed,fri"))
        found.add(known[word])
    return tuple(day for day in _DAYS if day in found)


def read_since(text: str) -> date:
    """A day, or the first of a month such as 2024-05."""
    try:
        return cells.day(f"{text}-01" if _MONTH.fullmatch(text) else text)
    except CellRefused as refused:
        raise Refused(
            tell("{text!r} {problem}", text=text, problem=refused.problem),
            tell("Write year-month or year-month-day, such as 2024-05"),
        ) from refused


def _refuse_known(name: str, but: Lifter | None) -> None:
    for other in all_lifters():
        if folded(other.name) == folded(name) and other != but:
            raise Refused(
                tell("there is a lifter called {name!r} already", name=other.name),
                tell("Tell them apart by a second name, or see `steelyard lifter show`"),
            )


def _next_version(lifter: Lifter, entries: list[Entry], body: LifterBody, scribe: Scribe) -> Entry:
    older = {i for e in entries if e.kind == "lifter" for i in versions_of(entries, e.id)}
    return scribe.entry(lifter.person, body, replaces=sorted(older))


def _changed(body: LifterBody, about: About, scribe: Scribe) -> LifterBody:
    said = {n: getattr(about, n) for n in about.__struct_fields__ if getattr(about, n) is not UNSET}
    for field in ("place", "aim_words"):
        if field in said:
            said[field] = _words(field, said[field])
    changed = structs.replace(body, **said)
    _check(changed, scribe.today())
    return changed


def _words(field: str, text: str) -> str:
    try:
        return " ".join(cells.text(text).split())
    except CellRefused as refused:
        what = tell("the place") if field == "place" else tell("the aim")
        raise Refused(f"{what} {refused.problem}", refused.remedy) from refused


def _check(body: LifterBody, today: date) -> None:
    if body.birth_year is not None and not EARLIEST_BIRTH <= body.birth_year <= today.year:
        raise Refused(tell("nobody here is born in {year}", year=body.birth_year), tell("Check the year"))
    if body.trained_since is not None and body.trained_since > today:
        raise Refused(tell("training cannot begin after today"), tell("Check the day"))
    if body.birth_year is not None and body.trained_since is not None and body.trained_since.year < body.birth_year:
        raise Refused(tell("nobody trains before they are born"), tell("Check both years"))
    if body.sessions_per_week is not None and not 1 <= body.sessions_per_week <= MOST_SESSIONS:
        raise Refused(tell("a week has 1 to {most} sessions", most=MOST_SESSIONS), tell("Check the number"))


def _kept(body: LifterBody, was: str, *, is_new: bool) -> LifterKept:
    return LifterKept(
        lifter=body.name,
        was=was,
        is_new=is_new,
        unit=body.unit,
        birth_year=body.birth_year,
        trained_since=body.trained_since.isoformat() if body.trained_since is not None else None,
        training_days=body.training_days,
        sessions_per_week=body.sessions_per_week,
        place=body.place,
        is_place_known=body.place in places(),
        aims=body.aims,
        aim_words=body.aim_words,
    )
