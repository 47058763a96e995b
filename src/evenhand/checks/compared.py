"""Discrepancies between roster and readers, as the checks take them up."""

from __future__ import annotations

from typing import Any

import polars as pl

from evenhand.checks.facts import Facts

__all__ = ["by", "discrepancies"]

Row = dict[str, Any]


def discrepancies(facts: Facts, kind: str) -> list[Row]:
    """Return the discrepancies of one kind, in the frame's order."""
    return list(facts.discrepancies.filter(pl.col("kind") == kind).iter_rows(named=True))


def by(rows: list[Row], *columns: str) -> dict[tuple[Any, ...], list[Row]]:
    """Return the rows grouped by these columns, in order of appearance."""
    groups: dict[tuple[Any, ...], list[Row]] = {}
    for row in rows:
        groups.setdefault(tuple(row[column] for column in columns), []).append(row)
    return groups
