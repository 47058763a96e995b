"""Roster, enrolments and punches laid side by side, for everything that compares them."""

from __future__ import annotations

from dataclasses import dataclass

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.tables import DISCREPANCIES

__all__ = ["Picture", "discrepancies"]


@dataclass(frozen=True)
class Picture:
    """What is known on the day: `roster` of `roster_on`, `standings` of the enrolments, punches of `count_seen`.

    `seen` counts all accepted punches, `unowned` those that belong to nobody.
    """

    roster: Frame
    readers: Frame
    standings: Frame
    seen: Frame
    unowned: Frame


def discrepancies(kind: str, rows: Frame, evidence: pl.Expr) -> Frame:
    """Return DISCREPANCIES of one kind; columns of the table that `rows` lacks are empty, no punches where not told."""
    nothing = {name: pl.lit(None, dtype) for name, dtype in DISCREPANCIES.schema.items()} | {"punches": pl.lit(0)}
    given = {name: pl.col(name) for name in DISCREPANCIES.names if name in rows.columns}
    told = nothing | given | {"kind": pl.lit(kind), "evidence": evidence}
    return rows.select(told[name].cast(dtype).alias(name) for name, dtype in DISCREPANCIES.schema.items())
