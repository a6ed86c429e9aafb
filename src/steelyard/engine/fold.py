"""State is a replay: the fold gives one history whatever order entries arrive in, however often."""

from collections.abc import Iterable
from typing import TypeVar

from msgspec import Struct

from .body import Body
from .health import AttestBody, ClearanceBody, EpisodeBody, RestrictionBody, ScreeningBody
from .log import (
    CheckInBody,
    Entry,
    EquipmentBody,
    FileAnswersBody,
    LifterBody,
    NamingBody,
    OldSheetBody,
    OverruleBody,
    OwnExerciseBody,
    PolicyBody,
    SetBody,
    SheetBody,
    TrainedAsWrittenBody,
    decode_body,
)

TOMBSTONE = "tombstone"
Health = TypeVar("Health", ScreeningBody, AttestBody, ClearanceBody, EpisodeBody, RestrictionBody)


class Logged(Struct, frozen=True, kw_only=True):
    """A current entry: its id, its place in time, and what it says."""

    id: str
    hlc: str
    author: str
    body: Body


class LoggedSet(Struct, frozen=True):
    """A current set with the id of its entry."""

    id: str
    body: SetBody


class Dispute(Struct, frozen=True):
    """Versions of one entry written without knowledge of each other; the first is the one shown."""

    versions: tuple[str, ...]


class TrainingLog(Struct, frozen=True, kw_only=True):
    """One person's history as it stands now."""

    sets: tuple[LoggedSet, ...] = ()
    check_ins: tuple[CheckInBody, ...] = ()
    lifter: LifterBody | None = None
    overrules: tuple[OverruleBody, ...] = ()
    equipment: tuple[EquipmentBody, ...] = ()
    policy_changes: tuple[PolicyBody, ...] = ()
    trained_as_written: tuple[TrainedAsWrittenBody, ...] = ()
    own_exercises: tuple[OwnExerciseBody, ...] = ()
    namings: tuple[NamingBody, ...] = ()
    file_answers: tuple[FileAnswersBody, ...] = ()
    sheets: tuple[tuple[str, SheetBody], ...] = ()
    old_sheets: tuple[OldSheetBody, ...] = ()
    screenings: tuple[tuple[str, ScreeningBody], ...] = ()
    attests: tuple[tuple[str, AttestBody], ...] = ()
    clearances: tuple[tuple[str, ClearanceBody], ...] = ()
    episodes: tuple[tuple[str, EpisodeBody], ...] = ()
    restrictions: tuple[tuple[str, RestrictionBody], ...] = ()
    disputes: tuple[Dispute, ...] = ()
    unread: tuple[str, ...] = ()


def fold(entries: Iterable[Entry]) -> TrainingLog:
    """The current history of one person's entries, in a fixed order."""
    unique = _by_id(entries)
    current, disputes = _current(unique)
    logged, unread = [], []
    for entry in current:
        body = decode_body(entry.kind, entry.schema, entry.body)
        if body is None:
            unread.append(entry.id)
        else:
            logged.append(Logged(id=entry.id, hlc=entry.hlc, author=entry.author, body=body))
    logged.sort(key=lambda item: (item.hlc, item.author, item.id))
    return _sorted_out(logged, disputes, tuple(sorted(unread)))


def versions_of(entries: Iterable[Entry], entry_id: str) -> tuple[str, ...]:
    """Every known version of what an entry says, so that a correction can name them all."""
    unique = _by_id(entries)
    return tuple(sorted({entry_id}.union(*(g for g in _groups(unique) if entry_id in g))))


def _by_id(entries: Iterable[Entry]) -> dict[str, Entry]:
    """One entry an id; should bytes differ under one id, the same one is taken everywhere."""
    unique: dict[str, Entry] = {}
    for entry in entries:
        known = unique.setdefault(entry.id, entry)
        if known is not entry and _identity(entry) < _identity(known):
            unique[entry.id] = entry
    return unique


def _identity(entry: Entry) -> tuple[str, ...]:
    return (entry.body.hex(), entry.hlc, entry.author, entry.kind, str(entry.schema), entry.person, *entry.replaces)


def _links(unique: dict[str, Entry]) -> dict[str, set[str]]:
    """Which entries each one replaces, as far as it may: the same person's, the same kind or a tombstone."""
    links: dict[str, set[str]] = {}
    for entry in unique.values():
        for target in entry.replaces:
            old = unique.get(target)
            if old is None or old.id == entry.id or old.person != entry.person:
                continue
            if entry.kind == old.kind or TOMBSTONE in {entry.kind, old.kind}:
                links.setdefault(entry.id, set()).add(target)
    return links


def _groups(unique: dict[str, Entry]) -> list[set[str]]:
    """Versions of one thing, directly or through others, with the tombstones that withdraw any of them.

    A tombstone may withdraw several things at once, so it never makes one of them a version of another.
    """
    links = _links(unique)
    tombstones = {i for i in links if unique[i].kind == TOMBSTONE}
    group_of: dict[str, set[str]] = {}
    for entry_id in links.keys() - tombstones:
        joined = {entry_id, *(t for t in links[entry_id] if unique[t].kind != TOMBSTONE)}
        for member in tuple(joined):
            joined |= group_of.get(member, set())
        for member in joined:
            group_of[member] = joined
    for entry_id in tombstones:
        for target in links[entry_id]:
            if unique[target].kind != TOMBSTONE:
                group_of.setdefault(target, {target}).add(entry_id)
    return list({id(group): group for group in group_of.values()}.values())


def _current(unique: dict[str, Entry]) -> tuple[list[Entry], tuple[Dispute, ...]]:
    """The version to show of each entry, and where there is more than one."""
    links, groups = _links(unique), _groups(unique)
    grouped: set[str] = set().union(*groups)
    current = [entry for entry in unique.values() if entry.id not in grouped and entry.kind != TOMBSTONE]
    disputes = []
    for group in groups:
        replaced = set().union(*(links.get(member, set()) for member in group))
        heads = group - replaced or group  # entries that replace each other in a ring: all stay
        ranked = sorted(heads, key=lambda i: (unique[i].hlc, unique[i].author, i), reverse=True)
        living = [i for i in ranked if unique[i].kind != TOMBSTONE]
        if living:
            current.append(unique[living[0]])
            if len(ranked) > 1:
                others = [i for i in ranked if i != living[0]]
                disputes.append(Dispute((living[0], *others)))
    return current, tuple(sorted(disputes, key=lambda d: d.versions))


def _sorted_out(logged: list[Logged], disputes: tuple[Dispute, ...], unread: tuple[str, ...]) -> TrainingLog:
    """Current entries by kind; sets by day, session and order of entry."""
    sets = [LoggedSet(item.id, item.body) for item in logged if isinstance(item.body, SetBody)]
    sets.sort(key=lambda s: (s.body.on, s.body.session))
    bodies = [item.body for item in logged]
    lifters = [body for body in bodies if isinstance(body, LifterBody)]
    return TrainingLog(
        sets=tuple(sets),
        check_ins=tuple(b for b in bodies if isinstance(b, CheckInBody)),
        lifter=lifters[-1] if lifters else None,
        overrules=tuple(b for b in bodies if isinstance(b, OverruleBody)),
        equipment=tuple(b for b in bodies if isinstance(b, EquipmentBody)),
        policy_changes=tuple(b for b in bodies if isinstance(b, PolicyBody)),
        trained_as_written=tuple(b for b in bodies if isinstance(b, TrainedAsWrittenBody)),
        own_exercises=tuple(b for b in bodies if isinstance(b, OwnExerciseBody)),
        namings=tuple(b for b in bodies if isinstance(b, NamingBody)),
        file_answers=tuple(b for b in bodies if isinstance(b, FileAnswersBody)),
        sheets=tuple((item.id, item.body) for item in logged if isinstance(item.body, SheetBody)),
        old_sheets=tuple(b for b in bodies if isinstance(b, OldSheetBody)),
        screenings=_by_day(logged, ScreeningBody),
        attests=_by_day(logged, AttestBody),
        clearances=_by_day(logged, ClearanceBody),
        episodes=_by_day(logged, EpisodeBody),
        restrictions=_by_day(logged, RestrictionBody),
        disputes=disputes,
        unread=unread,
    )


def _by_day(logged: list[Logged], kind: type[Health]) -> tuple[tuple[str, Health], ...]:
    """Entries of one kind with their ids, by day and then by order of entry: the last one holds."""
    found = [(item.id, item.body) for item in logged if isinstance(item.body, kind)]
    return tuple(sorted(found, key=lambda pair: pair[1].on))
