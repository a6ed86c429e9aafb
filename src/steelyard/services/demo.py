"""The main job in one go: a club's eight files are taken in, and the next sessions come out with their reasons."""

import random
import tempfile
from pathlib import Path
from typing import Literal

from msgspec import Struct

from steelyard.wording.message import tell
from steelyard.wording.outside_errors import tell_system_error
from steelyard.wording.quantity import Voice

from .demo_club import COACH, DEMO_DAY, SEED, DemoFile, DemoMember, club_files, club_members
from .gear import GearChange, change_gear, places
from .importing import ImportOptions, import_file, problem_text
from .lifters import all_lifters, find_lifter, log_of
from .next_session import Asked, NextSession, next_session
from .noting import note
from .refusal import Refused
from .roster import add_lifter
from .screening import clear, keep_answers
from .scribe import Scribe
from .set_logging import log_line

IN_FULL = "Ines Falk"
IN_SHORT = ("Tomas Veldkamp", "Warren Teague")


class DemoFileTaken(Struct, frozen=True, kw_only=True):
    """What became of one file of the club."""

    file: str
    about: str
    lifter: str
    sets: int
    entries_added: int
    entries_known: int
    answers: dict[str, str]


class DemoShort(Struct, frozen=True, kw_only=True):
    """A session that is shown in short, and in which unit its lifter reads."""

    story: str
    unit: Literal["kg", "lb"]
    next: NextSession


class Demo(Struct, frozen=True, kw_only=True):
    """What the demo did."""

    files: tuple[DemoFileTaken, ...]
    earliest: str
    latest: str
    story: str
    next: NextSession
    short: tuple[DemoShort, ...]


class FilesWritten(Struct, frozen=True, kw_only=True):
    """Where the eight files lie now."""

    folder: str
    files: tuple[str, ...]


def demo(voice: Voice, scribe: Scribe) -> Demo:
    """Take in the club and plan for three of its lifters; run again, nothing is added and the sheets are the same."""
    members = {member.name: member for member in club_members()}
    _describe(tuple(members.values()), voice, scribe)
    files = _take_in(voice, scribe)
    days = [s.body.on for name in members for s in log_of(find_lifter(name)).sets]
    return Demo(
        files=files,
        earliest=min(days).isoformat(),
        latest=max(days).isoformat(),
        story=tell(members[IN_FULL].story),
        next=_next(members[IN_FULL], voice, scribe),
        short=tuple(_short(members[name], voice, scribe) for name in IN_SHORT),
    )


def write_demo_files(folder: Path) -> FilesWritten:
    """Write the eight files into a folder; refuses where one of them lies there already and is another."""
    files = _club()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for file in files:
            path = folder / file.name
            if path.exists() and path.read_bytes() != file.content:
                raise Refused(tell("{path} is there already", path=path), tell("Name another folder"))
            path.write_bytes(file.content)
    except OSError as refused:
        problem = tell("cannot write into {folder}: {reason}", folder=folder, reason=tell_system_error(refused))
        raise Refused(problem, tell("Name another folder")) from refused
    return FilesWritten(folder=str(folder), files=tuple(file.name for file in files))


def _club() -> tuple[DemoFile, ...]:
    return club_files(random.Random(SEED))  # noqa: S311 - a demo, seeded on purpose


def _describe(members: tuple[DemoMember, ...], voice: Voice, scribe: Scribe) -> None:
    """Say of places and lifters what the log does not hold yet."""
    known = places()
    for place in {member.place.name: member.place for member in members}.values():
        if place.name not in known:
            said = GearChange(
                bar=place.equipment.bar,
                plates=place.equipment.plates,
                dumbbells=place.equipment.dumbbells,
                kettlebells=place.equipment.kettlebells,
                stack=place.equipment.stack,
                alone=place.alone,
                safeties=place.safeties,
            )
            change_gear(place.name, said, scribe)
    names = {lifter.name for lifter in all_lifters()}
    for member in members:
        if member.name not in names:
            add_lifter(member.name, member.about, scribe)
        _health(member, voice, scribe)


def _health(member: DemoMember, voice: Voice, scribe: Scribe) -> None:
    """Screening, clearances, pain and restrictions, body mass, each on its day."""
    log = log_of(find_lifter(member.name))
    if not log.screenings:
        keep_answers(member.name, member.answers, COACH, voice, scribe, member.screened)
    if not log.clearances:
        for on, cleared in member.cleared:
            clear(member.name, cleared, voice, scribe, on)
    if not log.episodes:
        for on, noted in member.notes:
            note(member.name, noted, voice, scribe, on)
    if member.body_mass and not log.check_ins:
        log_line(f"body mass {member.body_mass}", member.name, member.screened, voice, scribe)


def _take_in(voice: Voice, scribe: Scribe) -> tuple[DemoFileTaken, ...]:
    with tempfile.TemporaryDirectory() as folder:
        return tuple(_taken(Path(folder), file, voice, scribe) for file in _club())


def _taken(folder: Path, file: DemoFile, voice: Voice, scribe: Scribe) -> DemoFileTaken:
    path = folder / file.name
    path.write_bytes(file.content)
    got = import_file(path, ImportOptions(lifter=file.lifter, answers=file.answers), voice, scribe)
    if got.is_stopped:
        why = "; ".join([*map(problem_text, got.problems[:3]), *(q.asks for q in got.questions[:3])])
        raise Refused(tell("{file} was not taken in: {why}", file=file.name, why=why))
    return DemoFileTaken(
        file=file.name,
        about=tell(file.about),
        lifter=file.lifter,
        sets=got.entries_added + got.entries_known,
        entries_added=got.entries_added,
        entries_known=got.entries_known,
        answers=file.answers,
    )


def _next(member: DemoMember, voice: Voice, scribe: Scribe) -> NextSession:
    asked = Asked(name=member.name, on=DEMO_DAY, place=member.place.name)
    return next_session(asked, Voice(voice.language, _unit(member)), scribe)


def _short(member: DemoMember, voice: Voice, scribe: Scribe) -> DemoShort:
    return DemoShort(story=tell(member.story), unit=_unit(member), next=_next(member, voice, scribe))


def _unit(member: DemoMember) -> Literal["kg", "lb"]:
    return "lb" if member.about.unit == "lb" else "kg"
