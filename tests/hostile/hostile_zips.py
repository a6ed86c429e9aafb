"""Zip bombs and their relatives, built from bytes where no honest writer would build them."""

import struct
import zlib
from random import Random

from .workbooks_by_hand import zipped

_MEGABYTE = 2**20


class Part:
    """One member of a zip, free to lie about itself."""

    def __init__(self, name: bytes, packed: bytes, size: int, method: int = 8, flags: int = 0) -> None:
        self.name, self.packed, self.size, self.method, self.flags = name, packed, size, method, flags
        self.crc = 0
        self.offset: int | None = None


def raw_zip(parts: list[Part]) -> bytes:
    """A zip of these parts with the sizes that they claim; a part with an offset of its own has no bytes of its own."""
    body = bytearray()
    listing = bytearray()
    for part in parts:
        offset = len(body) if part.offset is None else part.offset
        fields = (20, part.flags, part.method, 0, 0x21, part.crc, len(part.packed), part.size % 2**32, len(part.name))
        if part.offset is None:
            body += b"PK\x03\x04" + struct.pack("<HHHHHIIIHH", *fields, 0) + part.name + part.packed
        listing += b"PK\x01\x02" + struct.pack("<H", 20) + struct.pack("<HHHHHIIIH", *fields)
        listing += struct.pack("<HHHHII", 0, 0, 0, 0, 0, offset) + part.name
    count = min(len(parts), 0xFFFF)
    end = struct.pack("<4sHHHHIIH", b"PK\x05\x06", 0, 0, count, count, len(listing), len(body), 0)
    return bytes(body + listing + end)


def zeros(megabytes: int, before: bytes = b"", after: bytes = b"", fill: bytes = b" ") -> tuple[bytes, int]:
    """Deflated text around very many equal bytes, made without ever holding them, and its size."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    head = packer.compress(before) + packer.flush(zlib.Z_FULL_FLUSH)
    block = packer.compress(fill * _MEGABYTE) + packer.flush(zlib.Z_FULL_FLUSH)
    tail = packer.compress(after) + packer.flush()
    return head + block * megabytes + tail, len(before) + megabytes * _MEGABYTE + len(after)


def deflated(content: bytes) -> bytes:
    """Raw deflate."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    return packer.compress(content) + packer.flush()


def honest_parts(parts: dict[str, bytes]) -> list[Part]:
    """Parts that claim what is true, but for their sums."""
    made = [Part(name.encode(), deflated(content), len(content)) for name, content in parts.items()]
    for part, content in zip(made, parts.values(), strict=True):
        part.crc = zlib.crc32(content)
    return made


def bomb_in_a_sheet(parts: dict[str, bytes], name: str, megabytes: int) -> bytes:
    """A workbook whose sheet goes on in blanks for very long."""
    made = [part for part in honest_parts(parts) if part.name != name.encode()]
    cut = parts[name].find(b">", 200) + 1
    packed, size = zeros(megabytes, parts[name][:cut], parts[name][cut:])
    return raw_zip([*made, Part(name.encode(), packed, size)])


def bomb_that_lies(parts: dict[str, bytes], name: str, megabytes: int, claimed: int) -> bytes:
    """The same, with a small size in its directory."""
    made = [part for part in honest_parts(parts) if part.name != name.encode()]
    packed, _ = zeros(megabytes, parts[name])
    return raw_zip([*made, Part(name.encode(), packed, claimed)])


def many_parts(parts: dict[str, bytes], count: int) -> bytes:
    """A workbook with very many empty parts."""
    more = [Part(f"xl/x{n}".encode(), b"\x03\x00", 0) for n in range(count)]
    return raw_zip([*honest_parts(parts), *more])


def overlapping_parts(parts: dict[str, bytes], count: int, megabytes: int) -> bytes:
    """Very many parts that all claim the same packed bytes."""
    packed, size = zeros(megabytes)
    first = Part(b"xl/a0", packed, size)
    made = honest_parts(parts)
    place = len(raw_zip(made)) - len(_listing_of(made))
    others = []
    for n in range(1, count):
        other = Part(f"xl/a{n}".encode(), packed, size)
        other.offset = place
        others.append(other)
    return raw_zip([*made, first, *others])


def _listing_of(parts: list[Part]) -> bytes:
    whole = raw_zip(parts)
    return whole[whole.index(b"PK\x01\x02") :]


def empty_blocks(parts: dict[str, bytes], megabytes: int, count: int) -> bytes:
    """Parts of deflate blocks that hold nothing, claimed many times over: work without bytes."""
    packed = b"\x00\x00\x00\xff\xff" * (megabytes * _MEGABYTE // 5) + b"\x03\x00"
    made = honest_parts(parts)
    place = len(raw_zip(made)) - len(_listing_of(made))
    others = [Part(f"xl/e{n}".encode(), packed, 0) for n in range(count)]
    for other in others[1:]:
        other.offset = place
    return raw_zip([*made, *others])


def nested(content: bytes, depth: int) -> bytes:
    """A zip in a zip in a zip."""
    for level in range(depth):
        content = zipped({f"level{level}.zip": content})
    return content


def odd_names(parts: dict[str, bytes], rng: Random) -> bytes:
    """Parts that would go elsewhere if anybody unpacked them, or that are locked or packed in unusual ways."""
    name = rng.choice((b"../../../../tmp/x", b"/etc/x", b"C:\\x", b"xl/\xff\xfe", b"", b"xl/" + b"a" * 60_000))
    odd = Part(name, deflated(b"x"), 1, method=rng.choice((8, 0, 12, 14, 93, 99)), flags=rng.choice((0, 1, 8, 0x41)))
    return raw_zip([*honest_parts(parts), odd])
