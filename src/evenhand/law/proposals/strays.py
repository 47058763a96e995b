"""Whether a punch under a number nobody holds may be the one that is missing.

Source: common practice, no source. It may be where it lies in the time in which the punch is missing, at a reader
that the person uses, and is not marked the other way. Then no time is proposed: whose that punch is comes first.
"""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.hours import PROPOSALS

__all__ = ["link_strays"]

NEAR_S = 2 * 60
"""How far outside the interval the punch may lie, beside half of the interval."""


def link_strays(proposals: Frame, attributed: Frame, unattributed: Frame) -> Frame:
    """Return the proposals, each with the punch of `unattributed` (RECORDED) that may be the missing one.

    `attributed` (ATTRIBUTED) says which readers people use.
    """
    timed = proposals.filter(pl.col("earliest_at").is_not_null()).select(
        "person", "punch", "way", "earliest_at", "latest_at"
    )
    if timed.is_empty() or unattributed.is_empty():
        return proposals
    theirs = pl.col("person").is_in(timed["person"].unique().implode())
    used = attributed.lazy().filter(theirs).select("person", "reader").unique().collect()
    strays = unattributed.select("reader", "number", stray_at="at", stray_way="direction")
    earliest, latest = pl.col("earliest_at"), pl.col("latest_at")
    middle, reach = (earliest + latest) // 2, latest - earliest + NEAR_S
    apart = (pl.col("stray_at") - middle).abs()
    beside = (
        timed.join(used, on="person")
        .join(strays, on="reader")
        .filter(apart <= reach, pl.col("stray_way").is_null() | (pl.col("stray_way") == pl.col("way")))
    )
    nearest = beside.sort(apart, "number").unique(["person", "punch"], keep="first", maintain_order=True)
    found = nearest.select("person", "punch", stray=pl.format("{}/{}", "reader", "number"), stray_at="stray_at")
    told = proposals.drop("stray", "stray_at").join(found, on=["person", "punch"], how="left", maintain_order="left")
    silent = (
        pl.when(pl.col("stray").is_null()).then(name).alias(name)
        for name in ("at", "earliest_at", "latest_at", "likely")
    )
    return told.with_columns(silent).select(PROPOSALS.names)
