"""A power cut loses nothing acknowledged and leaves a sound log; with weaker syncing the same test must see losses."""

from pathlib import Path
from random import Random

import pytest

from .disk import SECTOR, Disk
from .power_cut import cut_power
from .tracing import Acknowledged, Cut, Removed, Synced, TraceRefused, Written, event_of, record

IMAGES = 1000
CONTROL_IMAGES = 150
# Enough pages for a checkpoint, which SQLite makes after 1,000 of them.
BATCHES = 200
IMPORT_EVERY = 8


@pytest.mark.usefixtures("tracer")
def test_full_sync_loses_nothing_in_a_power_cut(tmp_path: Path) -> None:
    events = record(tmp_path / "log", BATCHES, IMPORT_EVERY, "FULL")
    disk = Disk()
    for event in events:
        disk.take(event)
    really = {name: (tmp_path / "log" / name).read_bytes() for name in disk.with_everything()}
    assert disk.with_everything() == really, "the trace does not tell all that was written"

    cuts = cut_power(events, IMAGES, 2026)
    assert (cuts.images, cuts.acknowledged) == (IMAGES, BATCHES)
    assert cuts.during_start > 0
    assert cuts.during_checkpoint > 0
    assert (cuts.with_loss, cuts.with_half_applied, cuts.unsound) == (0, 0, [])


@pytest.mark.usefixtures("tracer")
def test_normal_sync_loses_acknowledged_batches(tmp_path: Path) -> None:
    cuts = cut_power(record(tmp_path / "log", BATCHES, IMPORT_EVERY, "NORMAL"), CONTROL_IMAGES, 2026)
    assert cuts.with_loss > 0


@pytest.mark.usefixtures("tracer")
def test_no_sync_damages_the_log(tmp_path: Path) -> None:
    cuts = cut_power(record(tmp_path / "log", BATCHES, IMPORT_EVERY, "OFF"), CONTROL_IMAGES, 2026)
    assert cuts.with_loss > 0
    assert cuts.unsound


def test_what_was_synced_is_on_the_disk_and_the_rest_in_any_part() -> None:
    disk = Disk()
    old, new = b"o" * 2 * SECTOR, b"n" * 2 * SECTOR
    for event in (Written("a", 0, old), Synced("a"), Written("a", 0, new), Acknowledged("log-1")):
        disk.take(event)
    assert disk.has_unsynced("a")
    assert disk.with_everything() == {"a": new}
    halves = {disk.after_power_cut(Random(seed))["a"] for seed in range(100)}
    assert halves == {a * SECTOR + b * SECTOR for a in (b"o", b"n") for b in (b"o", b"n")}
    disk.take(Synced("a"))
    assert {disk.after_power_cut(Random(seed))["a"] for seed in range(100)} == {new}
    disk.take(Cut("a", 3))
    assert {disk.after_power_cut(Random(seed))["a"] for seed in range(100)} == {new, b"nnn"}
    disk.take(Removed("a"))
    assert disk.with_everything() == {}


def test_a_trace_that_hides_a_write_is_refused() -> None:
    folder = Path("/d")
    path = "".join(f"\\x{byte:02x}" for byte in b"/d/log.sqlite3")
    assert event_of(f'7 pwrite64(3<{path}>, "\\x61\\x62", 2, 5) = 2', folder) == Written("log.sqlite3", 5, b"ab")
    assert event_of(f'7 pwrite64(3<{path}>, "\\x61\\x62", 2, 5) = 1', folder) == Written("log.sqlite3", 5, b"a")
    assert event_of(f"7 fdatasync(3<{path}>) = 0", folder) == Synced("log.sqlite3")
    for hidden in (
        f'7 pwrite64(3<{path}>, "\\x61"..., 4096, 0) = 4096',
        f'7 write(3<{path}>, "\\x61", 1) = 1',
        f"7 fallocate(3<{path}>, 0, 0, 4096) = 0",
        f"7 fdatasync(3<{path}>) = -1 EIO (Input/output error)",
        f"7 fdatasync(3<{path}> <unfinished ...>",
    ):
        with pytest.raises(TraceRefused):
            event_of(hidden, folder)
