"""Accepted punches counted by reader and number."""

from __future__ import annotations

import polars as pl

from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.tables import SEEN
from evenhand.terms.words import counted

__all__ = ["count_seen", "in_words"]


def count_seen(recorded: Frame, since: int | None = None) -> Frame:
    """Return SEEN: the presentations under each number at each reader, and how many of them were accepted.

    Where `since` is given [s since 1970-01-01T00:00:00Z], only those from then on are counted. One without an outcome
    was accepted. Corrections do not change it: a hand was there.
    """
    accepted = pl.col("outcome").fill_null("accepted") == "accepted"
    at = pl.when(accepted).then("at")
    counted_from = recorded.lazy() if since is None else recorded.lazy().filter(pl.col("at") >= since)
    counts = counted_from.group_by("reader", "number")
    return SEEN.check(
        counts.agg(
            presentations=pl.len().cast(pl.Int64),
            punches=accepted.sum().cast(pl.Int64),
            first_at=at.min(),
            last_at=at.max(),
        ).collect()
    )


def in_words(rows: Frame, readers: Frame) -> Frame:
    """Return the rows (reader, punches, first_at, last_at) with `many`, such as '3 punches', and the days as `when`."""
    zones = readers.unique("reader", keep="first").select("reader", "zone")
    placed = rows.join(zones, on="reader", how="left", maintain_order="left")
    first, last = pl.col("first_on"), pl.col("last_on")
    when = (
        pl.when(first == last)
        .then(pl.format("on {}", first))
        .when(first.is_not_null())
        .then(pl.format("from {} to {}", first, last))
        .otherwise(pl.lit("at times that cannot be placed, because the reader is not listed"))
    )
    many = pl.Series("many", [counted(count, "punch", "punches") for count in placed["punches"]], dtype=pl.String)
    days = {on: civil_days(placed[at], placed["zone"]) for on, at in (("first_on", "first_at"), ("last_on", "last_at"))}
    dated = placed.with_columns(many, **days)
    return dated.with_columns(when=when).drop("zone", "first_on", "last_on")
