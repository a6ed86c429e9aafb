"""What the operating system and SQLite say when they refuse, in the language chosen."""

import errno

from .message import tell

SYSTEM_ERRORS = {
    errno.ENOENT: "No such file or directory",
    errno.EACCES: "Permission denied",
    errno.EPERM: "Operation not permitted",
    errno.ENOSPC: "No space left on device",
    errno.EROFS: "Read-only file system",
    errno.ENOTDIR: "Not a directory",
    errno.EISDIR: "Is a directory",
    errno.ENAMETOOLONG: "File name too long",
    errno.EFBIG: "File too large",
    errno.EIO: "Input/output error",
}
DATABASE_ERRORS = (
    "attempt to write a readonly database",
    "database disk image is malformed",
    "database is locked",
    "database or disk is full",
    "disk I/O error",
    "file is not a database",
    "unable to open database file",
)


def tell_system_error(error: OSError) -> str:
    """Why the operating system refused; what is not known here is given as it says it."""
    known = SYSTEM_ERRORS.get(error.errno or 0)
    return tell(known) if known is not None else error.strerror or str(error)


def tell_database_error(error: Exception) -> str:
    """Why the database refused; what a server says is given as it says it."""
    said = str(error).strip()
    return tell(said) if said in DATABASE_ERRORS else said
