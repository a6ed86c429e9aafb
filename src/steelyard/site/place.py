"""Where the data lie: a folder of this machine, or a PostgreSQL server by one setting; and what is refused."""

import os
from pathlib import Path

import platformdirs
from msgspec import Struct

from steelyard.wording.message import tell
from steelyard.wording.outside_errors import tell_system_error

DATA = "STEELYARD_DATA"
DATABASE = "STEELYARD_DATABASE"
LOG_FILE = "log.sqlite3"
# File systems that other machines share: their locks cannot be trusted with a database (SQLite, "How To Corrupt").
SHARED_FILE_SYSTEMS = frozenset(
    {"nfs", "nfs4", "cifs", "smb3", "smbfs", "afs", "9p", "ceph", "glusterfs", "lustre", "beegfs", "davfs", "ncpfs"}
    | {"fuse.sshfs", "fuse.glusterfs", "fuse.rclone", "fuse.davfs2", "fuse.s3fs", "fuse.gvfsd-fuse", "fuse.cephfs"}
)
MOUNTS = Path("/proc/self/mountinfo")


class PlaceRefused(Exception):
    """A place where a log would not be safe."""


class Place(Struct, frozen=True):
    """A data folder, and the PostgreSQL server that holds the log if one is set."""

    folder: Path
    database: str | None = None

    @property
    def log_file(self) -> Path:
        """The embedded database."""
        return self.folder / LOG_FILE


def place_from(folder: str | None = None) -> Place:
    """The folder that was asked for, else the one of STEELYARD_DATA, else this platform's usual one."""
    chosen = folder or os.environ.get(DATA) or platformdirs.user_data_dir("steelyard", appauthor=False)
    try:
        return Place(Path(chosen).expanduser().absolute(), os.environ.get(DATABASE) or None)
    except RuntimeError as refused:
        raise PlaceRefused(
            tell("{folder} begins with the home of nobody who is known here", folder=chosen)
        ) from refused


def make_ready(place: Place) -> None:
    """Make the folder for its owner only; refuse one on a shared file system."""
    try:
        existing = next(p for p in (place.folder, *place.folder.parents) if p.exists())
    except OSError as refused:
        raise PlaceRefused(
            tell("cannot reach the folder {folder}: {why}", folder=place.folder, why=tell_system_error(refused))
        ) from refused
    if not existing.is_dir():
        raise PlaceRefused(tell("{file} is a file, not a folder; name a folder with --data", file=existing))
    mounts = MOUNTS.read_text(encoding="utf-8") if MOUNTS.exists() else ""
    kind = file_system_of(existing.resolve(), mounts)
    if kind in SHARED_FILE_SYSTEMS and place.database is None:
        raise PlaceRefused(
            tell(
                "{folder} lies on a network file system ({kind}), where a log can be damaged; "
                "use a folder on this machine, or a PostgreSQL server by {variable}",
                folder=place.folder,
                kind=kind,
                variable=DATABASE,
            )
        )
    try:
        place.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as refused:
        raise PlaceRefused(
            tell("cannot make the folder {folder}: {why}", folder=place.folder, why=tell_system_error(refused))
        ) from refused
    if not os.access(place.folder, os.W_OK):
        raise PlaceRefused(tell("may not write in {folder}; name another folder with --data", folder=place.folder))


def file_system_of(path: Path, mounts: str) -> str:
    """The kind of file system that holds a path, from Linux's mountinfo text; empty where that says nothing."""
    best, kind = -1, ""
    for line in mounts.splitlines():
        before, _, after = line.partition(" - ")
        fields, rest = before.split(), after.split()
        if len(fields) < 5 or not rest:
            continue
        mounted = Path(fields[4].replace("\\040", " "))
        # Of mounts over one another the latest holds.
        if path.is_relative_to(mounted) and len(mounted.parts) >= best:
            best, kind = len(mounted.parts), rest[0]
    return kind
