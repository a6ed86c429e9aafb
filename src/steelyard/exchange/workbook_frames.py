"""What the process that reads a workbook and the one that asked for it say to each other."""

from collections.abc import Iterator
from enum import IntEnum
from struct import Struct
from typing import IO

_HEAD = Struct("<BII")


class Frame(IntEnum):
    """What a frame holds: the kind of file; name, height, place and number of a sheet; a row; why not; nothing more."""

    KIND = 1
    SHEET = 2
    ROW = 3
    REFUSED = 4
    END = 5


def write_frame(out: IO[bytes], frame: Frame, number: int = 0, content: bytes = b"") -> None:
    """One frame; the number is that of a row."""
    out.write(_HEAD.pack(frame, number, len(content)))
    out.write(content)


def read_frames(stream: IO[bytes]) -> Iterator[tuple[Frame, int, bytes]]:
    """All whole frames up to the end, which comes without the last frame where the writer has died."""
    while len(head := stream.read(_HEAD.size)) == _HEAD.size:
        frame, number, length = _HEAD.unpack(head)
        content = stream.read(length)
        if len(content) < length:
            return
        yield Frame(frame), number, content
