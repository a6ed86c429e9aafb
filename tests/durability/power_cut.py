"""Cut the power at random moments of a traced run, and see what the log holds afterwards."""

import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from .batches import hold_against
from .disk import Disk
from .starting import refusal_at_start
from .tracing import LOG, Acknowledged, Event

# Memory, where there is such a folder: an image is written, opened and thrown away.
MEMORY = Path("/dev/shm")  # noqa: S108 (only a folder of a random name is made in it)


@dataclass
class PowerCuts:
    """What a series of crash images has shown; images are counted, not batches."""

    images: int = 0
    acknowledged: int = 0
    during_start: int = 0
    during_checkpoint: int = 0
    with_loss: int = 0
    with_half_applied: int = 0
    unsound: list[str] = field(default_factory=list)


def cut_power(events: Sequence[Event], images: int, seed: int) -> PowerCuts:
    """So many crash images of one run, judged."""
    cuts = PowerCuts(acknowledged=sum(isinstance(event, Acknowledged) for event in events))
    moments = _moments(events, images, Random(seed))
    disk, happened = Disk(), 0
    with tempfile.TemporaryDirectory(prefix="steelyard-", dir=MEMORY if MEMORY.is_dir() else None) as folder:
        for image, moment in enumerate(moments):
            for event in events[happened:moment]:
                disk.take(event)
            happened = moment
            _judge(disk, disk.after_power_cut(Random(f"{seed} {image}")), Path(folder), cuts)
    return cuts


def _moments(events: Sequence[Event], images: int, chance: Random) -> list[int]:
    """Random moments in order: three of five anywhere, one in the first start, one in a checkpoint if there is one."""
    disk, start, checkpoint = Disk(), [], []
    for moment, event in enumerate(events, start=1):
        disk.take(event)
        if not disk.acknowledged:
            start.append(moment)
        elif disk.has_unsynced(LOG):
            checkpoint.append(moment)
    anywhere = range(1, len(events) + 1)
    parts = [anywhere, anywhere, anywhere, start, checkpoint or anywhere]
    return sorted(chance.choice(chance.choice(parts)) for _ in range(images))


def _judge(disk: Disk, image: dict[str, bytes], folder: Path, cuts: PowerCuts) -> None:
    """Let the product open an image, then read it with SQLite alone."""
    for old in folder.iterdir():
        old.unlink()
    for name, content in image.items():
        (folder / name).write_bytes(content)
    cuts.images += 1
    cuts.during_start += not disk.acknowledged
    cuts.during_checkpoint += bool(disk.acknowledged) and disk.has_unsynced(LOG)
    refusals = refusal_at_start(folder)
    found = hold_against(folder / LOG, disk.acknowledged)
    cuts.with_loss += bool(found.lost)
    cuts.with_half_applied += bool(found.half_applied)
    wrong = refusals + found.unsound
    if wrong:
        cuts.unsound.append(f"image {cuts.images}, after {len(disk.acknowledged)} batches: {'; '.join(wrong)}")
