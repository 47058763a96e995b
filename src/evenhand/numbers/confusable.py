"""Numbers of people that lie one slip apart, weighed by how much their holders share readers and hours."""

from __future__ import annotations

import polars as pl

from evenhand.numbers.chance import SLIP_SHARES
from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.likeness.slips import slips_toward

__all__ = ["CONFUSABLE", "confusable_pairs"]

HOURS = 24

CONFUSABLE = Table(
    "confusable",
    "Pairs of people whose numbers are one slip apart, most likely to be confused first",
    (
        Column("person", "text", "One of the two", required=True),
        Column("number", "text", "Their number", required=True),
        Column("other", "text", "The other", required=True),
        Column("other_number", "text", "The other's number", required=True),
        Column("kind", "text", "The slip that turns one number into the other", required=True),
        Column("slip", "score", "P(that slip, given one is made), the larger of both ways", required=True),
        Column(
            "shared", "score", "Share of their punches at the same readers in the same hours, 0 to 1", required=True
        ),
        Column("weight", "score", "slip times shared: what the pairs are ranked by", required=True),
    ),
    key=("person", "other"),
)


def confusable_pairs(people: Frame, attributed: Frame) -> Frame:
    """Return CONFUSABLE for the people of the frame; `attributed` (ATTRIBUTED) says who uses which reader when.

    People without punches share 0. A slip at a reader that compares hands is refused, not paid to the other:
    the pair costs tries, and a wrong enrolment where a supervisor keys the slip.
    """
    held = people.filter(pl.col("number") != "").unique("number", keep="last", maintain_order=True)
    slips = slips_toward(held["number"], held["number"])
    weighed = slips.with_columns(
        number=pl.min_horizontal("keyed", "meant"),
        other_number=pl.max_horizontal("keyed", "meant"),
        slip=pl.col("kind").replace_strict(SLIP_SHARES, return_dtype=pl.Float64) * pl.col("likelihood"),
    )
    each_way = weighed.sort("slip", "kind", descending=[True, False]).group_by(
        "number", "other_number", "keyed", maintain_order=True
    )
    pairs = (
        each_way.agg(pl.col("kind").first(), most=pl.col("slip").first(), slip=pl.col("slip").sum())
        .sort("most", "kind", descending=[True, False])
        .group_by("number", "other_number", maintain_order=True)
        .agg(pl.col("kind").first(), pl.col("slip").max())
        .join(held.select("number", "person"), on="number")
        .join(held.select(other_number="number", other="person"), on="other_number")
    )
    shared = pairs.join(_shared(pairs, attributed), on=["person", "other"], how="left").with_columns(
        pl.col("shared").fill_null(0.0)
    )
    found = shared.with_columns(weight=pl.col("slip") * pl.col("shared")).select(CONFUSABLE.names)
    return CONFUSABLE.check(found.sort("weight", "slip", "number", descending=[True, True, False]))


def _shared(pairs: Frame, attributed: Frame) -> Frame:
    """What each pair has in common of the shares of their punches over readers and hours of the day."""
    # the hour in UTC serves: two people at one reader stand in one zone
    hour = pl.col("at") // 3600 % HOURS
    use = attributed.filter(pl.col("reader").is_not_null()).group_by("person", "reader", hour=hour).len()
    share = use.with_columns(share=pl.col("len") / pl.col("len").sum().over("person"))
    both = (
        pairs.select("person", "other")
        .join(share, on="person")
        .join(share.rename({"person": "other", "share": "others"}), on=["other", "reader", "hour"])
    )
    least = pl.min_horizontal("share", "others").sum()
    return both.group_by("person", "other").agg(shared=least)
