"""The roster as it stands on one day, in columns."""

from __future__ import annotations

from datetime import date

import polars as pl

from evenhand.terms.columns import Frame

__all__ = ["bare", "holders_now", "roster_on", "works_at"]


def roster_on(people: Frame, day: date) -> Frame:
    """Return `people` as they stand on `day`, in their order; first and last day of employment both count.

    `number` is null where there is none to key; added are `call`, the name with the identifier behind it, `has_left`
    and `is_here`, which is false for those yet to come too.
    """
    number = pl.col("number").str.strip_chars()
    has_left = (pl.col("left_on") < day).fill_null(value=False)
    return people.with_columns(
        number=pl.when(number != "").then(number),
        call=pl.format("{} ({})", "name", "person"),
        has_left=has_left,
        is_here=~has_left & ~(pl.col("hired_on") > day).fill_null(value=False),
    )


def holders_now(roster: Frame) -> Frame:
    """Return number, `holders` who have not left, in the roster's order, and the first of them as `holder`."""
    standing = roster.filter(~pl.col("has_left"), pl.col("number").is_not_null())
    by_number = standing.group_by("number", maintain_order=True).agg(holders="person")
    return by_number.with_columns(holder=pl.col("holders").list.first())


def works_at(of_person: str, of_reader: str) -> pl.Expr:
    """Return whether the two sites go together: where either is not told, they do."""
    return (pl.col(of_person) == pl.col(of_reader)).fill_null(value=True)


def bare(number: str) -> pl.Expr:
    """Return the number without zeros in front."""
    return pl.col(number).str.strip_chars_start("0")
