"""Files that are no text and no workbook, told by how they begin, and what to do instead."""

from steelyard.wording.message import tell

from .bounds import refusal
from .grid import FileRefused

ZIP = (b"PK\x03\x04", b"PK\x05\x06", b"PK\x07\x08")
COMPOUND = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
# What stands from which byte on.
_SIGNATURES = (
    ("picture", 0, (b"\x89PNG\r\n", b"\xff\xd8\xff", b"GIF8", b"II*\0", b"MM\0*", b"BM")),
    ("picture", 8, (b"WEBP",)),
    ("video", 4, (b"ftyp",)),
    ("video", 0, (b"RIFF", b"ID3", b"OggS", b"fLaC")),
    ("compressed", 0, (b"\x1f\x8b", b"7z\xbc\xaf\x27\x1c", b"Rar!\x1a", b"BZh", b"\xfd7zXZ\0", b"\x28\xb5\x2f\xfd")),
    ("program", 0, (b"\x7fELF", b"MZ", b"\xcf\xfa\xed\xfe", b"\xca\xfe\xba\xbe")),
    ("database", 0, (b"SQLite format 3\0",)),
)
_WEB = ("<!doctype html", "<html", "<head", "<table", "<body")


def refuse_by_signature(head: bytes) -> None:
    """Raise FileRefused for a file that begins as something else than text or a workbook."""
    if b"%PDF-" in head[:1024]:
        raise no_table(tell("is a PDF"))
    if not _has_control_bytes(head):
        return
    for kind, place, signatures in _SIGNATURES:
        if head[place:].startswith(signatures):
            raise no_table(_sentence(kind))


def refuse_markup(sample: str) -> None:
    """Raise FileRefused for text that is a web page, XML or RTF, whatever its name says."""
    begins = sample[:200].lstrip().casefold()
    if begins.startswith(_WEB):
        raise no_table(tell("is a web page"))
    if begins.startswith("<?xml"):
        raise no_table(tell("is XML"))
    if begins.startswith("{\\rtf"):
        raise no_table(tell("is an RTF document"))


def no_table(what: str) -> FileRefused:
    """A file of a kind that holds no table, or none that is read here."""
    return refusal(what, tell("save the table as CSV or XLSX"))


def _sentence(kind: str) -> str:
    return {
        "picture": tell("is a picture"),
        "video": tell("is a picture, a sound or a video"),
        "compressed": tell("is a compressed file; unpack it first"),
        "program": tell("is a program"),
        "database": tell("is a database"),
    }[kind]


def _has_control_bytes(head: bytes) -> bool:
    """Text may begin with the letters of a signature, but has no zero or control bytes soon after."""
    return any(byte < 9 or 13 < byte < 32 for byte in head[:512])
