"""What the database or the disk refuses, in one sentence for the user."""

from __future__ import annotations

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from shutil import disk_usage

from sqlalchemy.exc import DBAPIError, OperationalError

from evenhand.terms.records import Refusal

__all__ = ["refusing"]

FULL_DISK, IO_ERROR, NOT_OPENED = "database or disk is full", "disk I/O error", "unable to open database file"
# The words are those of SQLite's own messages; the first that occurs decides.
SENTENCES = (
    ("file is not a database", "is not a database, or is damaged; put back a backup of it"),
    ("malformed", "is damaged; put back a backup of it"),
    ("database is locked", "is locked by another program that has been writing for too long; let it end and try again"),
    ("readonly", "may only be read; allow writing to the file and to its folder"),
    (FULL_DISK, "cannot grow, since the disk is full; nothing was stored: free some space and try again"),
    (IO_ERROR, "could not be read or written on this disk; nothing was stored: check the disk and its space"),
    (NOT_OPENED, "cannot be opened; check that the folder exists and may be written to"),
)
WORKING_ROOM = 1 << 16
NO_RIGHT = (errno.EACCES, errno.EPERM, errno.EROFS)
FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
SERVER_FULL = "53100"  # PostgreSQL's SQLSTATE disk_full
SERVER_READ_ONLY = "25006"
SERVER_NO_RIGHT = "42501"  # insufficient_privilege
NO_PLACE = (errno.ENAMETOOLONG, errno.ENOTDIR, errno.EISDIR, errno.ELOOP, errno.ENOENT, errno.EIO, errno.EINVAL)


@contextmanager
def refusing(where: str) -> Iterator[None]:
    """Turn faults of the database or disk at `where` into a Refusal; every other exception passes unchanged."""
    try:
        yield
    except DBAPIError as fault:
        sentence = _sentence(fault, where)
        if sentence is None:
            raise
        raise Refusal(f"{where} {sentence}.") from fault
    except OSError as fault:
        if fault.errno in NO_RIGHT:
            raise Refusal(
                f"{_place(fault, where)} cannot be read or written ({fault.strerror}); allow both and try again."
            ) from fault
        if fault.errno in NO_PLACE and fault.filename is not None:
            raise Refusal(
                f"{_place(fault, where)} cannot be read or written ({fault.strerror}); look at its name and folder."
            ) from fault
        if fault.errno not in FULL:
            raise
        raise Refusal(
            f"{fault.filename or where} cannot be written, since the disk is full; "
            "nothing was stored: free some space and try again."
        ) from fault


def _place(fault: OSError, where: str) -> Path:
    """Return what could not be read or written: what is half written stands for its folder."""
    place = Path(fault.filename or where)
    return place.parent if place.name.endswith(".part") else place


def _sentence(fault: DBAPIError, where: str) -> str | None:
    message = str(fault.orig)
    # A full disk shows itself as a failed read or opening where SQLite cannot lay out its working files.
    if message in (IO_ERROR, NOT_OPENED) and Path(where).is_file() and disk_usage(where).free < WORKING_ROOM:
        message = FULL_DISK
    for words, sentence in SENTENCES:
        if words in message:
            return sentence
    state = getattr(fault.orig, "sqlstate", None)
    if state == SERVER_FULL:
        return "cannot grow, since the server's disk is full; nothing was stored: free some space and try again"
    if state == SERVER_NO_RIGHT:
        return (
            "does not let this account do what is asked (" + message.splitlines()[0] + "); give it the right to make "
            "and change tables, functions and triggers in its schema"
        )
    if state == SERVER_READ_ONLY:
        return "may only be read; give the address of a server that may be written to"
    if type(fault.orig).__module__.startswith("psycopg") and isinstance(fault, OperationalError):
        return f"does not answer ({message.splitlines()[0]}); check its address and that it is running"
    return None
