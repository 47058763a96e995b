"""Files for payroll and their record as one: all or none, whenever the program is stopped.

The files lie whole beside their places before the record is committed, and are put in place after. What a killed
program left beside is put in place where the store names it, and removed where it does not.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

import sqlalchemy as sa

from evenhand.store.database import Store
from evenhand.store.faults import refusing
from evenhand.store.replacing import place_of_half, sync_folder, write_beside
from evenhand.store.tables import STORED

__all__ = ["digest_of", "handing", "put_in_place"]


def digest_of(content: bytes) -> str:
    """Return the SHA-256 by which a file is known. Source: FIPS 180-4."""
    return hashlib.sha256(content).hexdigest()


@contextmanager
def handing(store: Store, folder: Path, contents: Mapping[str, bytes]) -> Iterator[sa.Connection]:
    """Yield a writing transaction in which the files `contents`, by name in `folder`, are put on record.

    They are there once it is committed, and only then.
    """
    try:
        with refusing(str(folder)):
            for name, content in contents.items():
                write_beside(folder / name, content)
            sync_folder(folder)
        with store.writing() as conn:
            yield conn
    finally:
        put_in_place(store, folder)


def put_in_place(store: Store, folder: Path) -> None:
    """Put the files that lie beside their places there where the store names them, and remove the others."""
    halves = sorted(folder.glob(".*.part"))
    if not halves:
        return
    with store.reading() as conn:
        texts = conn.scalars(sa.select(STORED["handoffs"].c.files)).all()
    named = {name: digest for text in texts for name, digest in json.loads(text).items()}
    for half in halves:
        place = place_of_half(half)
        if named.get(place.name) == digest_of(half.read_bytes()):
            half.replace(place)
        else:
            half.unlink()
    sync_folder(folder)
