"""By what a file is known again from which somebody was erased, without a digest that tells who that was.

The digest of a small file can be worked out from what is left of it and a guess at what went. So it is kept only under
a salt, as a hash that is slow and takes memory: each guess costs some tenths of a second, as taking a file does once.
Source: RFC 7914 (scrypt), here over 64 MiB.
"""

from __future__ import annotations

import hashlib
import secrets
from functools import lru_cache

import sqlalchemy as sa

from evenhand.store.ledger import erase_seals
from evenhand.store.tables import STORED
from evenhand.store.written import change_row

__all__ = ["hidden", "hide_earlier", "known_as"]

SALT, LENGTH = 16, 32  # bytes
COST, BLOCK, LANES = 1 << 16, 8, 1  # 128 * cost * block bytes of memory
MARK = "scrypt"


def hidden(conn: sa.Connection, sha256: str) -> str:
    """Return what is kept of the digest of a file as it was before an erasure; all of a store stand under one salt."""
    return _hidden(_salt(conn) or secrets.token_hex(SALT), sha256)


def known_as(conn: sa.Connection, sha256: str) -> list[str]:
    """Return by what a file of this digest may stand in `erased_sources`: nothing where no erasure changed a file."""
    if conn.scalar(sa.select(STORED["erased_sources"].c.running).limit(1)) is None:
        return []
    salt = _salt(conn)
    return [sha256, *([_hidden(salt, sha256)] if salt else [])]


def hide_earlier(conn: sa.Connection) -> None:
    """Hide the digests that erasures of before kept as they were, within `ledger.erasing`."""
    erased = STORED["erased_sources"].c
    plain = sa.select(erased.running, erased.sha256_before).where(~erased.sha256_before.startswith(MARK))
    rows = conn.execute(plain).all()
    if not rows:
        return
    salt = _salt(conn) or secrets.token_hex(SALT)
    for running, sha256 in rows:
        change_row(conn, "erased_sources", running, {"sha256_before": _hidden(salt, sha256)})
    erase_seals(conn, "erased_sources", [running for running, _ in rows])


def _salt(conn: sa.Connection) -> str | None:
    before = STORED["erased_sources"].c.sha256_before
    found = conn.scalar(sa.select(before).where(before.startswith(MARK)).limit(1))
    return found.split("$")[1] if found else None


@lru_cache(maxsize=256)
def _hidden(salt: str, sha256: str) -> str:
    room = 2 * 128 * COST * BLOCK
    made = hashlib.scrypt(
        sha256.encode(), salt=bytes.fromhex(salt), n=COST, r=BLOCK, p=LANES, maxmem=room, dklen=LENGTH
    )
    return f"{MARK}${salt}${made.hex()}"
