"""A backup file: whole, or refused; damage never comes through as something else."""

import gzip
import random
import stat
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.builders import a_set, entries
from tests.strategies import bodies

from steelyard.engine.body import Body
from steelyard.engine.log import Entry, LifterBody
from steelyard.exchange.backup_file import BackupRefused, read_backup, write_backup

MADE = "2026-11-02T18:00:00+01:00"
DAMAGES = 1000


def some_entries() -> tuple[Entry, ...]:
    """A small log with text of many kinds in it."""
    sets = (a_set("2026-11-02", "squat", 100 + n, n % 9, note=f"{'äß€ x' * (n % 5)}{n}") for n in range(40))
    return entries(LifterBody(name="Ada Brandt"), *sets)


def test_what_is_written_is_read(tmp_path: Path) -> None:
    wanted = some_entries()
    assert write_backup(tmp_path / "b.gz", wanted, MADE) == len(wanted)
    assert read_backup(tmp_path / "b.gz") == list(wanted)
    assert stat.S_IMODE((tmp_path / "b.gz").stat().st_mode) == 0o600


def test_an_empty_log_can_be_kept_too(tmp_path: Path) -> None:
    assert write_backup(tmp_path / "b.gz", [], MADE) == 0
    assert read_backup(tmp_path / "b.gz") == []


@given(st.lists(bodies(), max_size=5))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_entries_of_every_kind_come_back_byte_for_byte(tmp_path: Path, generated: list[Body]) -> None:
    file = tmp_path / "b.gz"
    file.unlink(missing_ok=True)
    wanted = entries(*generated)
    write_backup(file, wanted, MADE)
    assert read_backup(file) == list(wanted)


def test_the_same_log_gives_the_same_bytes(tmp_path: Path) -> None:
    for name in ("one.gz", "two.gz"):
        write_backup(tmp_path / name, some_entries(), MADE)
    assert (tmp_path / "one.gz").read_bytes() == (tmp_path / "two.gz").read_bytes()


def test_an_existing_file_is_never_written_over(tmp_path: Path) -> None:
    (tmp_path / "b.gz").write_text("mine")
    with pytest.raises(FileExistsError):
        write_backup(tmp_path / "b.gz", some_entries(), MADE)
    assert (tmp_path / "b.gz").read_text() == "mine"


def damaged(whole: bytes, rng: random.Random) -> bytes:
    """The file with a bit the other way round, cut off, with a byte too many or a piece missing or repeated."""
    place = rng.randrange(len(whole))
    match rng.randrange(5):
        case 0:
            return whole[:place] + bytes([whole[place] ^ (1 << rng.randrange(8))]) + whole[place + 1 :]
        case 1:
            return whole[:place]
        case 2:
            return whole[:place] + rng.randbytes(1) + whole[place:]
        case 3:
            return whole[:place] + whole[place + rng.randrange(1, 40) :]
        case _:
            return whole + whole[place : place + rng.randrange(1, 40)]


def test_any_damage_is_refused_or_reads_back_the_same(tmp_path: Path) -> None:
    """Bits that say nothing (the time in gzip's head) may change; content may not."""
    file, wanted = tmp_path / "b.gz", list(some_entries())
    write_backup(file, wanted, MADE)
    whole, rng, refused = file.read_bytes(), random.Random(20261102), 0
    for number in range(DAMAGES):
        file.write_bytes(damaged(whole, rng))
        try:
            assert read_backup(file) == wanted, number
        except BackupRefused as why:
            assert str(file) in str(why)
            refused += 1
    assert refused > DAMAGES * 0.9


def test_damage_inside_the_compression_is_refused_too(tmp_path: Path) -> None:
    """gzip's own sum is right here, so only the hash over the lines can tell."""
    file, wanted = tmp_path / "b.gz", list(some_entries())
    write_backup(file, wanted, MADE)
    plain, rng = gzip.decompress(file.read_bytes()), random.Random(7)
    for number in range(DAMAGES):
        changed = damaged(plain, rng)
        if changed == plain:
            continue
        file.write_bytes(gzip.compress(changed, 1, mtime=0))
        with pytest.raises(BackupRefused):
            pytest.fail(f"{number}: {len(read_backup(file))} entries came through")


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"date,exercise,kg,reps\n",
        gzip.compress(b"", mtime=0),
        gzip.compress(b"\n\n\n", mtime=0),
        gzip.compress(b'{"steelyard_backup":1,"made":""}\n', mtime=0),
        gzip.compress(b'{"steelyard_backup":2,"made":""}\n{"entries":0,"sha256":""}\n', mtime=0),
        gzip.compress(b"[" * 100_000 + b"\n", mtime=0),
        gzip.compress(b"x" * 9_000_000, mtime=0),
    ],
)
def test_what_is_no_backup_is_refused(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "b.gz").write_bytes(content)
    with pytest.raises(BackupRefused, match=r"b\.gz"):
        read_backup(tmp_path / "b.gz")


def test_lines_left_out_put_in_or_in_another_order_are_refused(tmp_path: Path) -> None:
    file = tmp_path / "b.gz"
    write_backup(file, some_entries(), MADE)
    lines = gzip.decompress(file.read_bytes()).splitlines(keepends=True)
    for changed in (
        lines[:3] + lines[4:],
        [*lines[:4], *lines[3:]],
        [lines[0], lines[2], lines[1], *lines[3:]],
        lines[:-1],
    ):
        file.write_bytes(gzip.compress(b"".join(changed), mtime=0))
        with pytest.raises(BackupRefused):
            read_backup(file)


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BackupRefused, match="nowhere"):
        read_backup(tmp_path / "nowhere")
