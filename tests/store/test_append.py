"""Appending: once, in order, all of it or nothing, and never merged."""

from datetime import UTC, datetime

import pytest
from django.db.utils import DatabaseError
from msgspec import structs
from tests.builders import LIFTER, OTHER_LIFTER, a_set, entries, entry, entry_id

from steelyard.engine.log import Entry, LifterBody, encode_body
from steelyard.site.place import Place
from steelyard.store import commands, queries

RECEIVED = datetime(2026, 11, 2, 18, 0, tzinfo=UTC)


def sets(count: int) -> tuple[Entry, ...]:
    """So many different entries."""
    return entries(*(a_set("2026-11-02", "squat", 100, n % 12) for n in range(count)))


@pytest.mark.usefixtures("log_place")
def test_an_entry_comes_back_as_it_was_sent() -> None:
    odd = Entry(
        id=entry_id(7),
        person=LIFTER,
        author="Coach Brandt",
        device="0" * 16,
        kind="of-a-later-version",
        schema=9,
        hlc="0" * 24,
        wall_time="2026-11-02T18:00:00+05:45",
        replaces=(entry_id(1), entry_id(2)),
        body='{ "spaces" : "ä €", "and": [1e5, "\\u0000"] }'.encode(),
    )
    commands.append([odd], RECEIVED)
    assert list(queries.all_entries()) == [odd]


@pytest.mark.usefixtures("log_place")
def test_appending_again_stores_nothing() -> None:
    batch = sets(5)
    assert commands.append(batch, RECEIVED).count("stored") == 5
    again = commands.append((*batch[3:], *batch), RECEIVED)
    assert again.outcomes == ("known",) * 7
    assert list(queries.all_entries()) == list(batch)


@pytest.mark.usefixtures("log_place")
def test_one_entry_twice_in_a_batch_is_stored_once() -> None:
    batch = sets(2)
    assert commands.append((batch[0], batch[1], batch[0]), RECEIVED).count("stored") == 2
    assert queries.count_entries() == 2


@pytest.mark.usefixtures("log_place")
def test_a_known_id_with_another_body_is_set_aside_and_nothing_is_merged() -> None:
    first = sets(1)[0]
    other = structs.replace(first, body=encode_body(a_set("2026-11-02", "squat", 140, 1)))
    commands.append([first], RECEIVED)
    assert commands.append([other], RECEIVED).outcomes == ("set-aside",)
    assert list(queries.all_entries()) == [first]
    assert queries.count_set_aside() == 1


@pytest.mark.usefixtures("log_place")
def test_two_bodies_under_one_id_in_one_batch_keep_the_first_and_set_the_second_aside() -> None:
    first, new = sets(2)
    other = structs.replace(first, body=encode_body(a_set("2026-11-02", "squat", 140, 1)))
    appended = commands.append([first, other, new], RECEIVED)
    assert appended.outcomes == ("stored", "set-aside", "stored")
    assert list(queries.all_entries()) == [first, new]
    assert queries.count_set_aside() == 1


@pytest.mark.usefixtures("log_place")
def test_a_batch_that_fails_late_leaves_nothing() -> None:
    kept, *rest = sets(1200)
    commands.append([kept], RECEIVED)
    conflict = structs.replace(kept, body=encode_body(LifterBody(name="another")))
    impossible = structs.replace(rest[-1], hlc=None)  # no column takes it
    with pytest.raises(DatabaseError):
        commands.append([conflict, *rest[:-1], impossible], RECEIVED)
    assert list(queries.all_entries()) == [kept]
    assert queries.count_set_aside() == 0
    assert commands.append(rest, RECEIVED).count("stored") == len(rest)


@pytest.mark.usefixtures("log_place")
def test_numbers_count_on_from_the_latest_without_gaps() -> None:
    from steelyard.store.models import StoredEntry  # noqa: PLC0415 - what only this test may see

    batch = sets(7)
    commands.append(batch[:3], RECEIVED)
    commands.append(batch[2:5], RECEIVED)
    commands.append(batch[5:], RECEIVED)
    found = list(StoredEntry.objects.order_by("number").values_list("number", "entry_id"))
    assert found == [(n, e.id) for n, e in enumerate(batch, start=1)]


@pytest.mark.usefixtures("log_place")
def test_each_person_gets_their_own_entries() -> None:
    mine = entry(a_set("2026-11-02", "squat", 100, 5), id=entry_id(1))
    theirs = entry(a_set("2026-11-02", "squat", 60, 5), id=entry_id(2), person=OTHER_LIFTER)
    named = entry(LifterBody(name="Ada"), id=entry_id(3), person=OTHER_LIFTER)
    commands.append([mine, theirs, named], RECEIVED)
    assert queries.entries_of(LIFTER) == [mine]
    assert queries.entries_of(OTHER_LIFTER) == [theirs, named]
    assert queries.entries_of_kind("lifter") == [named]
    assert {e.id for e in queries.entries_of(OTHER_LIFTER)} == {theirs.id, named.id}


def test_what_was_written_is_there_for_who_opens_the_log_next(log_place: Place) -> None:
    from steelyard.site.wiring import open_log  # noqa: PLC0415

    batch = sets(3)
    commands.append(batch, RECEIVED)
    open_log(log_place)
    assert list(queries.all_entries()) == list(batch)
    assert queries.latest_hlc() == max(e.hlc for e in batch)
