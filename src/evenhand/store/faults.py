"""What the database or the disk refuses, in one sentence for the user."""

from __future__ import annotations

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from shutil import disk_usage

from sqlalchemy.exc import DBAPIError, OperationalError

from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import Sentence, sentence, told
from evenhand.terms.records import Refusal

__all__ = ["refusing"]

FULL_DISK, IO_ERROR, NOT_OPENED = "database or disk is full", "disk I/O error", "unable to open database file"
# The words are those of SQLite's own messages; the first that occurs decides.
SENTENCES = (
    ("file is not a database", sentence("{where} is not a database, or is damaged; put back a backup of it.")),
    ("malformed", sentence("{where} is damaged; put back a backup of it.")),
    (
        "database is locked",
        sentence("{where} is locked by another program that has been writing for too long; let it end and try again."),
    ),
    ("readonly", sentence("{where} may only be read; allow writing to the file and to its folder.")),
    (
        FULL_DISK,
        sentence("{where} cannot grow, since the disk is full; nothing was stored: free some space and try again."),
    ),
    (
        IO_ERROR,
        sentence(
            "{where} could not be read or written on this disk; nothing was stored: check the disk and its space."
        ),
    ),
    (NOT_OPENED, sentence("{where} cannot be opened; check that the folder exists and may be written to.")),
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
        says = _sentence(fault, where)
        if says is None:
            raise
        raise Refusal(says) from fault
    except OSError as fault:
        if fault.errno in NO_RIGHT:
            raise Refusal(
                told(
                    "{place} cannot be read or written ({strerror}); allow both and try again.",
                    place=_place(fault, where),
                    strerror=why_of(fault),
                )
            ) from fault
        if fault.errno in NO_PLACE and fault.filename is not None:
            raise Refusal(
                told(
                    "{place} cannot be read or written ({strerror}); look at its name and folder.",
                    place=_place(fault, where),
                    strerror=why_of(fault),
                )
            ) from fault
        if fault.errno not in FULL:
            raise
        raise Refusal(
            told(
                "{place} cannot be written, since the disk is full; nothing was stored: free some space and try again.",
                place=fault.filename or where,
            )
        ) from fault


def _place(fault: OSError, where: str) -> Path:
    """Return what could not be read or written: what is half written stands for its folder."""
    place = Path(fault.filename or where)
    return place.parent if place.name.endswith(".part") else place


def _sentence(fault: DBAPIError, where: str) -> Sentence | None:
    message = str(fault.orig)
    # A full disk shows itself as a failed read or opening where SQLite cannot lay out its working files.
    if message in (IO_ERROR, NOT_OPENED) and Path(where).is_file() and disk_usage(where).free < WORKING_ROOM:
        message = FULL_DISK
    for words, says in SENTENCES:
        if words in message:
            return told(says, where=where)
    first = message.partition("\n")[0]
    state = getattr(fault.orig, "sqlstate", None)
    if state == SERVER_FULL:
        return told(
            "{where} cannot grow, since the server's disk is full; nothing was stored: free some space and try again.",
            where=where,
        )
    if state == SERVER_NO_RIGHT:
        return told(
            "{where} does not let this account do what is asked ({says}); give it the right to make and change tables, "
            "functions and triggers in its schema.",
            where=where,
            says=first,
        )
    if state == SERVER_READ_ONLY:
        return told(
            "{where} may only be read; give the address of a server that may be written to.",
            where=where,
        )
    if type(fault.orig).__module__.startswith("psycopg") and isinstance(fault, OperationalError):
        return told(
            "{where} does not answer ({says}); check its address and that it is running.",
            where=where,
            says=first,
        )
    return None
