"""Who people are now who stood on the roster under their numbers when something was taken or decided about them.

A roster without identifiers lists people by their numbers. Where a later one gives a number's person an identifier,
what is kept under the number (decisions, rates, consents, schedules) is that person's. It is read so, and stays stored
as it was, so that it is the number's again where that roster is taken back.
"""

from __future__ import annotations

import polars as pl
import sqlalchemy as sa

from evenhand.store.tables import STORED
from evenhand.terms.columns import Frame, Table

__all__ = ["under_identifiers"]


def under_identifiers(conn: sa.Connection, table: Table, frame: Frame) -> Frame:
    """Return the rows of `table`, by its key, with everybody's identifier of now in `person`, and in `holder`.

    Of two rows that then have one key, the one that was written under the identifier stays.
    """
    people = STORED["people"].c
    known_as = sa.select(people.person, people.known_as).where(people.known_as.is_not(None))
    now: dict[str, str] = dict(iter(conn.execute(known_as)))
    if not now or frame.is_empty():
        return frame
    renamed = frame["person"].is_in(list(now))
    named = [pl.col(name).replace(now) for name in ("person", "holder") if name in frame.columns]
    frame = frame.with_columns(*named, renamed=renamed).sort("renamed", maintain_order=True)
    return frame.unique(table.key, keep="first", maintain_order=True).drop("renamed").sort(table.key)
