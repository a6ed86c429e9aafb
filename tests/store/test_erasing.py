"""The ledger: an erasure is whole or not at all, and what is in the ledger stays out."""

import sqlite3
from datetime import UTC, date, datetime

import pytest
from django.db import DatabaseError, connections
from msgspec import structs
from tests.builders import LIFTER, OTHER_LIFTER, a_set, entries, entry, entry_id

from steelyard.engine.erased import Erased, HashedName
from steelyard.engine.log import Entry, LifterBody, encode_body
from steelyard.site.place import Place
from steelyard.store import commands, queries
from steelyard.store.erasing import erase
from steelyard.store.ledger import kept_out, ledger
from steelyard.store.scrubbing import scrub

NOW = datetime(2026, 11, 2, 18, 0, tzinfo=UTC)
NAME = HashedName("00ff", "aa11")
GONE = Erased(person=LIFTER, on=date(2026, 11, 2), names=(NAME,), entries=(entry_id(90),))


def filled() -> tuple[list[Entry], list[Entry]]:
    """Entries of two people, one of them waiting beside the log for each, and a shared one; theirs, the others."""
    mine = list(entries(*(a_set("2026-11-02", "squat", 100, n) for n in range(1, 7))))
    theirs = [structs.replace(e, id=entry_id(50 + n), person=OTHER_LIFTER) for n, e in enumerate(mine)]
    shared = entry(LifterBody(name="shared"), id=entry_id(90), person=OTHER_LIFTER)
    commands.append([*mine, *theirs, shared], NOW)
    for one in (mine[0], theirs[0]):
        commands.append([structs.replace(one, body=encode_body(a_set("2026-11-02", "squat", 140, 1)))], NOW)
    return mine, theirs


@pytest.mark.usefixtures("log_place")
def test_one_person_goes_and_the_others_stay() -> None:
    mine, theirs = filled()
    anew = entry(LifterBody(name="anew"), id=entry_id(91), person=OTHER_LIFTER)
    removed = erase(GONE, NOW, rewritten=[anew])
    assert (removed.entries, removed.set_aside) == (len(mine), 1)
    assert list(queries.all_entries()) == [*theirs, anew]
    assert [e.person for _, e in queries.all_set_aside()] == [OTHER_LIFTER]
    assert ledger() == [GONE]
    out = kept_out()
    assert (set(out.people), set(out.entries), out.latest_number) == ({LIFTER}, {entry_id(90)}, 13)


@pytest.mark.usefixtures("log_place")
def test_set_aside_entries_that_are_named_go_too() -> None:
    filled()
    (number,) = [n for n, e in queries.all_set_aside() if e.person == OTHER_LIFTER]
    erase(GONE, NOW, aside=[number])
    assert queries.count_set_aside() == 0


@pytest.mark.usefixtures("log_place")
def test_an_erasure_that_fails_late_leaves_everything() -> None:
    filled()
    before = list(queries.all_entries())
    impossible = structs.replace(before[0], id=entry_id(91), hlc=None)  # no column takes it
    with pytest.raises(DatabaseError):
        erase(GONE, NOW, rewritten=[impossible])
    assert list(queries.all_entries()) == before
    assert queries.count_set_aside() == 2
    assert ledger() == []
    assert scrub()


@pytest.mark.usefixtures("log_place")
def test_erasing_again_adds_to_what_is_known() -> None:
    filled()
    erase(GONE, NOW)
    later = Erased(person=LIFTER, on=date(2027, 1, 1), names=(NAME, HashedName("11", "22")), entries=(entry_id(91),))
    erase(later, NOW)
    (found,) = ledger()
    assert found == Erased(
        person=LIFTER, on=GONE.on, names=(NAME, HashedName("11", "22")), entries=(entry_id(90), entry_id(91))
    )


@pytest.mark.usefixtures("log_place")
def test_what_is_in_the_ledger_is_refused_or_skipped_and_a_shared_entry_is_always_skipped() -> None:
    mine, theirs = filled()
    (shared,) = [e for e in queries.all_entries() if e.id == entry_id(90)]
    erase(GONE, NOW)
    new = structs.replace(theirs[0], id=entry_id(80))
    with pytest.raises(commands.PersonErased):
        commands.append([new, mine[0]], NOW)
    assert list(queries.all_entries()) == theirs
    assert commands.append([mine[0], shared, theirs[0], new], NOW, skip_erased=True).outcomes == (
        "erased", "erased", "known", "stored",
    )  # fmt: skip
    assert commands.append([shared], NOW).outcomes == ("erased",)


@pytest.mark.usefixtures("log_place")
def test_the_same_entry_is_set_aside_once() -> None:
    first = entry(a_set("2026-11-02", "squat", 100, 5))
    other = structs.replace(first, body=encode_body(a_set("2026-11-02", "squat", 140, 1)))
    later = structs.replace(other, hlc="9")
    commands.append([first], NOW)
    for again in (other, other, later, other):
        assert commands.append([again], NOW).outcomes == ("set-aside",)
    assert [e for _, e in queries.all_set_aside()] == [other, later]
    assert queries.set_aside_of(LIFTER) == [other, later]


def test_bytes_stay_until_they_are_scrubbed_and_not_after(log_place: Place) -> None:
    """Without the scrubbing they are found, so that the test can tell."""
    if log_place.database is not None:
        pytest.skip("the embedded database only")
    marked = [entry(a_set("2026-11-02", "squat", 100, 5, note=f"Qx7{n}" * 300), id=entry_id(n)) for n in range(300)]
    commands.append(marked, NOW)
    with connections["default"].cursor() as cursor:
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")

    def found() -> bool:
        return any(b"Qx7" in file.read_bytes() for file in log_place.folder.iterdir())

    erase(GONE, NOW)
    assert found()
    assert scrub()
    assert not found()
    assert queries.count_entries() == 0
    connections["default"].close()
    with sqlite3.connect(log_place.log_file) as reader:
        assert reader.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert reader.execute("PRAGMA freelist_count").fetchall() == [(0,)]
        assert reader.execute("SELECT to_scrub FROM log_erased_person").fetchall() == [(0,)]


def test_on_a_server_the_tables_are_written_anew(log_place: Place) -> None:
    if log_place.database is None:
        pytest.skip("a server only")
    filled()

    def files() -> list[str]:
        with connections["default"].cursor() as cursor:
            cursor.execute("SELECT pg_relation_filepath('log_entry'), pg_relation_filepath('log_set_aside')")
            return list(cursor.fetchone())

    before = files()
    erase(GONE, NOW)
    assert scrub()
    assert not set(before) & set(files())
