"""Roster, enrolments and punches laid side by side, for everything that compares them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import polars as pl

from evenhand.reconcile.roster import holders_now
from evenhand.terms.columns import Frame
from evenhand.terms.tables import DISCREPANCIES

__all__ = ["Picture", "discrepancies"]


@dataclass(frozen=True)
class Picture:
    """What is known on the day: `roster` of `roster_on`, `standings` of the enrolments, punches of `count_seen`.

    `seen` counts all accepted punches, `unattributed` those that belong to nobody.
    """

    roster: Frame
    readers: Frame
    standings: Frame
    seen: Frame
    unattributed: Frame

    @cached_property
    def holders(self) -> Frame:
        """Return who holds each number and has not left (`holders_now`)."""
        return holders_now(self.roster)


EMPTY = {name: pl.lit(None, dtype).alias(name) for name, dtype in DISCREPANCIES.schema.items()} | {
    "punches": pl.lit(0, pl.Int64).alias("punches")
}


def discrepancies(kind: str, rows: Frame, evidence: pl.Expr) -> Frame:
    """Return DISCREPANCIES of one kind; columns of the table that `rows` lacks are empty, no punches where not told."""
    if rows.is_empty():
        return DISCREPANCIES.empty()
    given = {name: pl.col(name) for name in DISCREPANCIES.names if name in rows.columns}
    told = EMPTY | given | {"kind": pl.lit(kind).alias("kind"), "evidence": evidence.alias("evidence")}
    return DISCREPANCIES.check(rows.select(told.values()))
