"""A backup is proved, and brings the same log back; a damaged one changes nothing."""

import random
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from msgspec import structs
from tests.services.training import MONDAY, ask, month, train

from steelyard.engine.log import SetBody, encode_body
from steelyard.services.amending import amend
from steelyard.services.backing_up import back_up, content_hash, restore
from steelyard.services.gear import GearChange, change_gear
from steelyard.services.lifters import find_lifter, log_of
from steelyard.services.refusal import Refused
from steelyard.services.scribe import Scribe
from steelyard.site.place import Place
from steelyard.site.wiring import open_log, scratch_log
from steelyard.store import commands, queries


@pytest.fixture
def filled(scribe: Scribe) -> Scribe:
    """A log with two lifters, a sheet, equipment, a correction and a withdrawal."""
    train(scribe, "Ada", month())
    train(scribe, "Bo", month("squat", "100"))
    ask(scribe, name="Ada")
    change_gear("home", GearChange(plates=()), scribe)
    first, second, *_ = log_of(find_lifter("Ada")).sets
    amend(first.id[-12:], "bench 9 @ 60kg note äöü", "", "kg", scribe)
    amend(second.id[-12:], None, "never", "kg", scribe)
    return scribe


def test_a_backup_brings_the_same_log_back_into_an_empty_one(filled: Scribe, tmp_path: Path) -> None:
    entries = list(queries.all_entries())
    made = back_up(tmp_path / "b.gz", scratch_log, filled)
    assert made.is_proved
    assert (made.entries, made.people, made.hash) == (len(entries), 2, content_hash(entries))
    open_log(Place(tmp_path / "other"))
    assert queries.count_entries() == 0
    restored = restore(tmp_path / "b.gz", filled)
    assert restored.is_same_as_backup
    assert (restored.entries_added, restored.entries_known, restored.hash) == (len(entries), 0, made.hash)
    assert list(queries.all_entries()) == entries


def test_restoring_again_adds_nothing_and_later_entries_stay(filled: Scribe, tmp_path: Path) -> None:
    made = back_up(tmp_path / "b.gz", scratch_log, filled)
    train(filled, "Cy", month("squat", "60"))
    before = list(queries.all_entries())
    restored = restore(tmp_path / "b.gz", filled)
    assert (restored.entries_added, restored.entries_known) == (0, made.entries)
    assert restored.is_same_as_backup
    assert restored.hash != made.hash
    assert list(queries.all_entries()) == before


def test_an_entry_with_other_content_is_set_aside_and_said(filled: Scribe, tmp_path: Path) -> None:
    back_up(tmp_path / "b.gz", scratch_log, filled)
    changed = next(e for e in queries.all_entries() if e.kind == "set")
    open_log(Place(tmp_path / "other"))
    other = structs.replace(changed, body=encode_body(SetBody(on=MONDAY, exercise="squat", reps=1)))
    commands.append([other], filled.now())
    with pytest.raises(Refused, match=r"1 entry of .* has other content"):
        restore(tmp_path / "b.gz", filled)
    assert next(iter(queries.all_entries())) == other
    assert queries.count_set_aside() == 1


def test_a_damaged_file_changes_nothing(filled: Scribe, tmp_path: Path) -> None:
    back_up(tmp_path / "b.gz", scratch_log, filled)
    whole, rng = (tmp_path / "b.gz").read_bytes(), random.Random(5)
    open_log(Place(tmp_path / "other"))
    for number in range(50):
        # Not the last bytes: a bit there may pad the compressed data and say nothing.
        place = rng.randrange(12, len(whole) - 40)
        bad = whole[:place] if number % 2 else whole[:place] + bytes([whole[place] ^ 4]) + whole[place + 1 :]
        (tmp_path / "bad.gz").write_bytes(bad)
        with pytest.raises(Refused, match=r"bad\.gz is damaged"):
            restore(tmp_path / "bad.gz", filled)
        assert queries.count_entries() == 0


def test_a_file_that_is_there_is_not_written_over(filled: Scribe, tmp_path: Path) -> None:
    (tmp_path / "b.gz").write_text("mine")
    with pytest.raises(Refused, match="exists already"):
        back_up(tmp_path / "b.gz", scratch_log, filled)
    assert (tmp_path / "b.gz").read_text() == "mine"
    with pytest.raises(Refused, match="cannot write"):
        back_up(tmp_path / "nowhere" / "b.gz", scratch_log, filled)


def test_a_backup_that_fails_its_proof_is_removed_and_said(filled: Scribe, tmp_path: Path) -> None:
    """The proof is real: with an entry in the empty log that the backup lacks, the hashes differ."""

    @contextmanager
    def not_empty() -> Iterator[str]:
        with scratch_log() as alias:
            extra = filled.entry("somebody", SetBody(on=MONDAY, exercise="squat", reps=1))
            commands.append([extra], filled.now(), using=alias)
            yield alias

    with pytest.raises(Refused, match="could not be proved"):
        back_up(tmp_path / "b.gz", not_empty, filled)
    assert not (tmp_path / "b.gz").exists()


def test_the_hash_sees_every_part_of_an_entry_and_no_order(filled: Scribe) -> None:
    entries = list(queries.all_entries())
    hashed = content_hash(entries)
    assert content_hash(reversed(entries)) == hashed
    assert content_hash(entries[:-1]) != hashed
    one = entries[3]
    for field in ("id", "person", "author", "device", "hlc", "wall_time", "kind"):
        assert content_hash([*entries[:3], structs.replace(one, **{field: "other"}), *entries[4:]]) != hashed, field
    for changed in (
        structs.replace(one, schema=2),
        structs.replace(one, replaces=("x",)),
        structs.replace(one, body=one.body + b" "),
    ):
        assert content_hash([*entries[:3], changed, *entries[4:]]) != hashed
