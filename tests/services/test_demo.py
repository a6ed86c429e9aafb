"""The demo takes the club in once, and shows the same again."""

from pathlib import Path

import pytest
from msgspec import structs

from steelyard.services.demo import Demo, demo, write_demo_files
from steelyard.services.demo_club import club_members
from steelyard.services.lifters import all_lifters, find_lifter, log_of
from steelyard.services.refusal import Refused
from steelyard.services.scribe import Scribe
from steelyard.wording.quantity import Voice

VOICE = Voice("en", "kg")


@pytest.fixture
def shown(scribe: Scribe) -> Demo:
    return demo(VOICE, scribe)


def test_again_adds_nothing_and_shows_the_same(shown: Demo, scribe: Scribe) -> None:
    assert all(file.entries_added == file.sets and file.entries_known == 0 for file in shown.files)
    again = demo(VOICE, scribe)
    assert all(file.entries_known == file.sets and file.entries_added == 0 for file in again.files)
    assert structs.replace(again, files=()) == structs.replace(shown, files=())


def test_what_is_known_of_the_members_stands_in_their_logs(shown: Demo) -> None:
    assert {lifter.name for lifter in all_lifters()} == {member.name for member in club_members()}
    assert len(shown.files) == 8
    for member in club_members():
        log = log_of(find_lifter(member.name))
        assert log.lifter is not None
        assert (log.lifter.birth_year, log.lifter.place) == (member.about.birth_year, member.place.name)
        assert len(log.screenings) == 1
        assert len(log.clearances) == len(member.cleared)
        assert len(log.episodes) + len(log.restrictions) == len(member.notes)
    knee = log_of(find_lifter("Odile Marchetti"))
    assert [body.status for _, body in knee.episodes] == ["open", "open", "open", "closed"]
    assert len({body.episode for _, body in knee.episodes}) == 1


def test_the_sheets_are_of_people_who_may_train(shown: Demo) -> None:
    for sheet in (shown.next, *(short.next for short in shown.short)):
        assert sheet.date == "2026-09-28"
        assert sheet.lines
        assert all(line.sets for line in sheet.lines)


def test_the_files_can_be_written_and_are_never_written_over(tmp_path: Path) -> None:
    written = write_demo_files(tmp_path / "club")
    assert sorted(written.files) == sorted(path.name for path in (tmp_path / "club").iterdir())
    assert write_demo_files(tmp_path / "club") == written
    (tmp_path / "club" / "ewan-tresk.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(Refused, match="is there already"):
        write_demo_files(tmp_path / "club")
