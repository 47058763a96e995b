"""How far the store has come, table by table, so that nothing is read twice that has not changed."""

from __future__ import annotations

from dataclasses import dataclass

import sqlalchemy as sa

from evenhand.store.tables import DECISIONS, KEYED, PUNCH_SHIFT, STORED

__all__ = ["Revision", "revision"]

ERASED_SHIFT = PUNCH_SHIFT + 16
GROWING = ("takes", *DECISIONS, "rounds", "outcomes", "settings_texts")


@dataclass(frozen=True)
class Revision:
    """For each table of the store a number that grows with every change to it.

    For what is taken that is the last take, and above it, since a take may be taken back, how often takes were decided
    about; and of every table how often something was erased.
    """

    heights: tuple[tuple[str, int], ...]

    def __getitem__(self, table: str) -> int:
        """Return how far `table` has come."""
        return dict(self.heights)[table]

    def changed_since(self, earlier: Revision) -> frozenset[str]:
        """Return the tables that have changed since `earlier`."""
        return frozenset(table for table, _ in {*self.heights} - {*earlier.heights})


def revision(conn: sa.Connection) -> Revision:
    """Return how far each table has come."""
    takes, items, count = STORED["takes"].c, STORED["round_items"].c, sa.func.count()
    grown = {name: sa.select(count).select_from(STORED[name]) for name in GROWING}
    grown["round_items"] = sa.select(count + sa.func.coalesce(sa.func.sum(items.moved), 0))
    heights = conn.execute(sa.select(*(height.scalar_subquery() for height in grown.values()))).one()
    last = sa.select(takes.table, sa.func.max(takes["take"])).where(takes.taken + takes.enriched + takes.gone > 0)
    taken = dict.fromkeys(("punches", *KEYED), 0) | dict(iter(conn.execute(last.group_by(takes.table))))
    found = taken | {name: int(height) for name, height in zip(grown, heights, strict=True)}
    for name in (*taken, "takes"):
        found[name] += found["take_decisions"] << PUNCH_SHIFT
    for name in found:  # an erasure takes rows out of any table
        found[name] += found["erasures"] << ERASED_SHIFT if name != "erasures" else 0
    return Revision(tuple(sorted(found.items())))
