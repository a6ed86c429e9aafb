"""A disk whose power can be cut: what was synced is there, of the rest any part may be."""

from collections import defaultdict
from collections.abc import Callable
from itertools import pairwise
from random import Random

from .tracing import Acknowledged, Cut, Event, Removed, Synced, Written

# What a disk writes as one piece at least; a longer write can be torn between any two of them.
SECTOR = 512
Keeps = Callable[[], bool]


class Disk:
    """The files of a log, fed with what a writer did; files appear and vanish at once, their bytes do not."""

    def __init__(self) -> None:
        self.acknowledged: list[str] = []
        self._synced: dict[str, bytearray] = defaultdict(bytearray)
        self._unsynced: dict[str, list[Written | Cut]] = defaultdict(list)

    def take(self, event: Event) -> None:
        """Let one more thing happen."""
        match event:
            case Written() | Cut():
                self._synced[event.file]  # from here on the file is there, if empty
                self._unsynced[event.file].append(event)
            case Synced(file):
                for change in self._unsynced.pop(file, []):
                    _apply(self._synced[file], change)
            case Removed(file):
                self._synced.pop(file, None)
                self._unsynced.pop(file, None)
            case Acknowledged(mark):
                self.acknowledged.append(mark)

    def has_unsynced(self, file: str) -> bool:
        """Whether a power cut could now cost some of this file's bytes."""
        return bool(self._unsynced.get(file))

    def after_power_cut(self, chance: Random) -> dict[str, bytes]:
        """The files as they may be found: of the unsynced writes nothing, all, or any part, whole or torn."""
        share = chance.choice((0.0, 1.0, chance.random()))
        is_torn = chance.random() < 0.75
        return self._image(lambda: chance.random() < share, SECTOR if is_torn else None)

    def with_everything(self) -> dict[str, bytes]:
        """The files as a reader sees them without a power cut."""
        return self._image(lambda: True, None)

    def _image(self, keeps: Keeps, piece: int | None) -> dict[str, bytes]:
        image = {}
        for file, synced in self._synced.items():
            content = bytearray(synced)
            for change in self._unsynced.get(file, ()):
                for part in [change] if piece is None or isinstance(change, Cut) else _torn(change, piece):
                    if keeps():
                        _apply(content, part)
            image[file] = bytes(content)
        return image


def _torn(written: Written, piece: int) -> list[Written]:
    """The pieces of a write, divided where the disk divides it."""
    end = written.offset + len(written.content)
    first = written.offset - written.offset % piece + piece
    edges = [written.offset, *range(first, end, piece), end]
    return [
        Written(written.file, start, written.content[start - written.offset : stop - written.offset])
        for start, stop in pairwise(edges)
    ]


def _apply(content: bytearray, change: Written | Cut) -> None:
    if isinstance(change, Cut):
        del content[change.length :]
        content.extend(bytes(change.length - len(content)))
        return
    content.extend(bytes(max(change.offset - len(content), 0)))
    content[change.offset : change.offset + len(change.content)] = change.content
