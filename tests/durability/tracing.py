"""What a writer really did, from strace: its writes, syncs and acknowledgements in the order they were made."""

import re
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from .starting import WRITER, start

LOG = "log.sqlite3"
ACKNOWLEDGEMENTS = "acknowledgements"
# The index in shared memory (-shm) is not here: SQLite builds it anew from the log after a crash.
FOLLOWED = (LOG, f"{LOG}-wal", f"{LOG}-journal")
UNDERSTOOD = ("openat", "write", "pwrite64", "fsync", "fdatasync", "ftruncate", "unlink", "unlinkat")
# Other ways to change a file; the writer that uses one is refused, as its trace would not tell the truth.
OTHERS = (
    *("mmap", "writev", "pwritev", "pwritev2", "fallocate", "truncate", "sendfile", "copy_file_range"),
    *("rename", "renameat", "renameat2", "link", "linkat", "io_uring_setup"),
)
_CALL = re.compile(r"^\d+ +(\w+)\((.*)\) += (-?\w+)(?:<.*>)?(?: E\w+ .*)?$", re.DOTALL)
_OPENED = re.compile(r'^[^,]*, "([^"]*)", ([A-Z_|]+)')
_WRITTEN = re.compile(r'^\d+<([^>]*)>, "([^"]*)", \d+(?:, (\d+))?$')
_ON_FILE = re.compile(r"^\d+<([^>]*)>(?:, (\d+))?$")
_REMOVED = re.compile(r'^(?:AT_FDCWD<[^>]*>, )?"([^"]*)"')


@dataclass(frozen=True)
class Written:
    """Bytes handed to the system at a place of a file."""

    file: str
    offset: int
    content: bytes


@dataclass(frozen=True)
class Cut:
    """A file made so long."""

    file: str
    length: int


@dataclass(frozen=True)
class Synced:
    """All of a file's bytes until here are on the disk."""

    file: str


@dataclass(frozen=True)
class Removed:
    """A file taken away."""

    file: str


@dataclass(frozen=True)
class Acknowledged:
    """A batch that the writer has said is kept."""

    mark: str


Event = Written | Cut | Synced | Removed | Acknowledged


class TraceRefused(Exception):
    """A trace that cannot be trusted to say all that happened."""


def missing_tracer() -> str | None:
    """Why a process cannot be traced here, or None."""
    if shutil.which("strace") is None:
        return "strace is not installed"
    tried = subprocess.run(["strace", "-o", "/dev/null", "true"], capture_output=True, text=True, check=False)
    return f"strace may not trace: {tried.stderr.strip()}" if tried.returncode else None


def record(folder: Path, batches: int, import_every: int, synchronous: str) -> list[Event]:
    """Run a writer on a new log in a folder, traced, until it has acknowledged so many batches."""
    folder.mkdir(parents=True)
    calls = ",".join((*UNDERSTOOD, *OTHERS))
    trace = folder / "trace"
    command = ["strace", "-f", "-y", "-xx", "-s", "1000000", "-e", f"trace={calls}", "-o", str(trace), *WRITER]
    options = ["--batches", str(batches), "--import-every", str(import_every), "--synchronous", synchronous]
    with (folder / ACKNOWLEDGEMENTS).open("wb") as said, start([*command, str(folder), *options], said) as writer:
        complaints = writer.communicate()[1].decode()
    if writer.returncode:
        raise TraceRefused(f"the writer ended with {writer.returncode}: {complaints}")
    events = list(_events(trace, folder))
    trace.unlink()
    return events


def _events(trace: Path, folder: Path) -> Iterator[Event]:
    ours = _escaped(str(folder.resolve()) + "/")
    with trace.open(encoding="ascii") as lines:
        for line in lines:
            if ours in line and (event := event_of(line.rstrip("\n"), folder.resolve())) is not None:
                yield event


def event_of(line: str, folder: Path) -> Event | None:
    """What one line says of a followed file; a call that is not understood is refused."""
    called = _CALL.match(line)
    if called is None:
        raise TraceRefused(f"not understood: {line[:200]}")
    name, arguments, result = called[1], called[2], int(called[3], 0)
    match name:
        case "openat":
            return _opened(arguments, result, folder)
        case "write" | "pwrite64":
            return _written(arguments, result, folder)
        case "fsync" | "fdatasync" | "ftruncate":
            return _on_file(name, arguments, result, folder)
        case "unlink" | "unlinkat":
            removed = _REMOVED.match(arguments)
            file = _followed(removed[1], folder) if removed else None
            return Removed(file) if file and result == 0 else None
        case _:
            if any(f"{_escaped(str(folder / file))}{end}" in arguments for file in FOLLOWED for end in '>"'):
                raise TraceRefused(f"{name} on a file of the log: {arguments[:200]}")
            return None


def _opened(arguments: str, result: int, folder: Path) -> Event | None:
    opened = _OPENED.match(arguments)
    file = _followed(opened[1], folder) if opened else None
    return Cut(file, 0) if opened and file and result >= 0 and "O_TRUNC" in opened[2] else None


def _written(arguments: str, result: int, folder: Path) -> Event | None:
    written = _WRITTEN.match(arguments)
    if written is None:
        raise TraceRefused(f"not understood: {arguments[:200]}")
    content = bytes.fromhex(written[2].replace("\\x", ""))[: max(result, 0)]
    if _plain(written[1]) == str(folder / ACKNOWLEDGEMENTS):
        return Acknowledged(content.decode().strip())
    file = _followed(written[1], folder)
    if file is None:
        return None
    if written[3] is None:
        raise TraceRefused(f"a write without a place: {arguments[:200]}")
    return Written(file, int(written[3]), content)


def _on_file(name: str, arguments: str, result: int, folder: Path) -> Event | None:
    called = _ON_FILE.match(arguments)
    if called is None:
        raise TraceRefused(f"not understood: {name}({arguments[:200]}")
    file = _followed(called[1], folder)
    if file is None:
        return None
    if result != 0:
        raise TraceRefused(f"{name} failed: {arguments[:200]}")
    return Cut(file, int(called[2])) if name == "ftruncate" else Synced(file)


def _followed(path: str, folder: Path) -> str | None:
    """The name of a file of the log, from its path as strace writes it."""
    plain = Path(_plain(path))
    return plain.name if plain.parent == folder and plain.name in FOLLOWED else None


def _plain(path: str) -> str:
    return bytes.fromhex(path.replace("\\x", "")).decode()


def _escaped(text: str) -> str:
    return "".join(f"\\x{byte:02x}" for byte in text.encode())
