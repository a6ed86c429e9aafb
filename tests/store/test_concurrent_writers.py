"""Several processes write at once: nothing is lost, numbers become visible in order."""

import subprocess
import sys

from tests.command_line import CliProcess

from steelyard.site.place import Place
from steelyard.site.wiring import open_log
from steelyard.store import queries

WRITERS, BATCHES, EACH = 4, 15, 4
# Reads the latest number before and after each batch: one that shows up later must be higher than all seen before.
WRITER = """
import os, sys
from datetime import datetime, UTC
from pathlib import Path
from steelyard.site.place import place_from
from steelyard.site.wiring import open_log
open_log(place_from())
from steelyard.engine.log import Entry
from steelyard.store import commands
from steelyard.store.models import StoredEntry

writer, batches, each = map(int, sys.argv[1:])
seen = set()
for batch in range(batches):
    ids = [f"{writer}-{batch}-{n}" for n in range(each)]
    made = [
        Entry(id=i, person="p", author="a", device="d", kind="set", schema=1, hlc="h", wall_time="w", body=b"{}")
        for i in ids
    ]
    # Everybody also sends one entry that is the same for all.
    made.append(Entry(id=f"all-{batch}", person="p", author="a", device="d", kind="set", schema=1, hlc="h",
                      wall_time="w", body=b"{}"))
    commands.append(made, datetime.now(UTC))
    now = dict(StoredEntry.objects.values_list("number", "entry_id"))
    fresh = set(now) - seen
    assert not seen or min(fresh) > max(seen), (min(fresh), max(seen))
    own = [number for number, entry_id in sorted(now.items()) if entry_id in ids]
    assert len(own) == each and own == list(range(own[0], own[0] + each)), own
    seen = set(now)
"""


def test_four_processes_write_without_loss_and_in_order(empty_place: Place) -> None:
    """Also the first start of all four at once, on a log that does not exist yet."""
    environment = CliProcess(empty_place).environment
    command = [sys.executable, "-c", WRITER]
    writers = [
        subprocess.Popen(
            [*command, str(n), str(BATCHES), str(EACH)], env=environment, stderr=subprocess.PIPE, text=True
        )
        for n in range(WRITERS)
    ]
    said = [writer.communicate(timeout=120)[1] for writer in writers]
    assert [writer.returncode for writer in writers] == [0] * WRITERS, said
    open_log(empty_place)
    stored = list(queries.all_entries())
    assert len(stored) == WRITERS * BATCHES * EACH + BATCHES
    assert len({e.id for e in stored}) == len(stored)
    assert queries.count_set_aside() == 0
    for n in range(WRITERS):
        own = [e.id for e in stored if e.id.startswith(f"{n}-")]
        assert own == [f"{n}-{batch}-{i}" for batch in range(BATCHES) for i in range(EACH)]
