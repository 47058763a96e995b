"""Take apart what takes have brought, so that it can be folded together anew in the same transaction."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import sqlalchemy as sa

from evenhand.store.refused import forget_refused
from evenhand.store.tables import KEYED, PUNCH_SHIFT, STORED
from evenhand.store.written import note_rows, note_takes, note_takes_of

__all__ = ["Reach", "empty_keyed", "folding", "last_earlier", "overlapping", "spans_of", "withdraw"]

MINUTE_S = 60


@dataclass(frozen=True)
class Reach:
    """From when to when [s since 1970-01-01T00:00:00Z], both ends within, punches of a reader reach."""

    reader: str
    first_at: int
    last_at: int

    def meets(self, other: Reach) -> bool:
        """Whether a punch of one may be a punch of the other, also where one of them was written to the minute."""
        first, last = self.first_at // MINUTE_S, self.last_at // MINUTE_S
        return self.reader == other.reader and first <= other.last_at // MINUTE_S and other.first_at // MINUTE_S <= last


@contextmanager
def folding(conn: sa.Connection) -> Iterator[None]:
    """Let punches and what rows said before be deleted while the block lasts, by this transaction alone."""
    stored = STORED["folding"]
    conn.execute(stored.insert().values(running=1))
    yield
    conn.execute(stored.delete())


def last_earlier(conn: sa.Connection) -> int:
    """Return the number of the last take of before sources were kept, 0 where there is none."""
    earlier = STORED["earlier_rows"].c
    content = conn.scalar(sa.select(earlier.content).where(earlier.table == "takes"))
    return 0 if content is None else int(json.loads(content)["take"])


def empty_keyed(conn: sa.Connection, names: Collection[str]) -> None:
    """Bring keyed tables to where they were before the first take whose source is kept."""
    earlier, changes = STORED["earlier_rows"].c, STORED["changes"]
    last = last_earlier(conn)
    replaced = changes.c.table.in_(names), changes.c["take"] > last
    note_takes_of(conn, "changes", *replaced)
    conn.execute(changes.delete().where(*replaced))
    for name in KEYED.keys() & set(names):
        note_takes_of(conn, name)
        conn.execute(STORED[name].delete())
        contents = conn.scalars(sa.select(earlier.content).where(earlier.table == name).order_by(earlier.running))
        if rows := [json.loads(content) for content in contents]:
            conn.execute(STORED[name].insert(), rows)
            note_takes_of(conn, name)


def spans_of(conn: sa.Connection, takes: Collection[int] | None = None) -> dict[int, list[Reach]]:
    """Return from when to when the punches of each of these takes reach, or of all."""
    stored = STORED["take_spans"].c
    query = sa.select(stored["take"], stored.reader, stored.first_at, stored.last_at)
    found: dict[int, list[Reach]] = {}
    for take, reader, first_at, last_at in conn.execute(
        query if takes is None else query.where(stored["take"].in_(takes))
    ):
        found.setdefault(take, []).append(Reach(reader, first_at, last_at))
    return found


def overlapping(spans: dict[int, list[Reach]], region: Collection[Reach], after: int) -> list[int]:
    """Return the takes later than `after` that may hold a punch of the region."""
    return [
        take
        for take, reach in spans.items()
        if take > after and any(one.meets(other) for one in reach for other in region)
    ]


def withdraw(conn: sa.Connection, takes: Collection[int]) -> None:
    """Forget the punches that some takes brought, and their refused rows."""
    stored = STORED["takes"]
    # Else whoever reads punches meanwhile looks for those that their parts seem to lack, through every row.
    conn.execute(stored.update().where(stored.c["take"].in_(takes)).values(taken=0))
    note_rows(conn, "takes", [(take,) for take in takes])
    punches = STORED["punches"]
    for take, reach in spans_of(conn, takes).items():
        for span in reach:
            # Named with the key's first columns, the search reads the span of the reader and not every punch.
            within = punches.c.reader == span.reader, punches.c.at.between(span.first_at, span.last_at)
            note_takes(conn, "punches", [take])
            conn.execute(punches.delete().where(*within, punches.c["take"] == take))
        details = STORED["punch_details"]
        own = details.c.punch.between(take << PUNCH_SHIFT, ((take + 1) << PUNCH_SHIFT) - 1)
        note_takes_of(conn, "punch_details", own | (details.c["take"] == take))
        conn.execute(details.delete().where(own | (details.c["take"] == take)))
    note_takes_of(conn, "take_spans", STORED["take_spans"].c["take"].in_(takes))
    for name in ("punch_parts", "take_spans"):
        conn.execute(STORED[name].delete().where(STORED[name].c["take"].in_(takes)))
    forget_refused(conn, takes)
