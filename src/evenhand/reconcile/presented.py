"""Who presented a hand last, under numbers that one person has or that several had one after the other."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import polars as pl

from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame

__all__ = ["last_seen_of", "presented_by"]


def presented_by(presented: Frame, holding: Frame, zones: Mapping[str, str], zone: str) -> Frame:
    """Return what came under numbers that several had (PRESENTED_UNDER), with `person` and `is_last`, the last.

    What came since somebody else held the number is that holder's, whoever keyed it. `holding` is the roster with a row
    for each span in which somebody held a number, `zones` are those of the readers, `zone` that of any other.
    """
    shared = _shared(holding)
    came = presented.join(shared.select("number").unique(), on="number", how="semi")
    clocks = came["reader"].replace_strict(zones, default=zone, return_dtype=pl.String)
    came = came.with_columns(day=civil_days(came["at"], clocks)).sort("day")
    begun = shared.select("number", "since").unique().sort("since")
    began = came.join_asof(begun, left_on="day", right_on="since", by="number", check_sortedness=False)
    last = (pl.col("since") == pl.col("since").max().over("number")).alias("is_last")
    return began.join(shared.with_columns(last), on=["number", "since"]).drop("day", "since")


def last_seen_of(last_seen: Frame, presented: Frame, holding: Frame) -> Frame:
    """Return the last presentation of each holder of a number at each reader: reader, number, person, last_at.

    `last_seen` (LAST_SEEN) tells of numbers that one person has alone, `presented` is that of `presented_by`.
    """
    held = holding.select("person", "number").drop_nulls().unique()
    alone = held.filter(~pl.col("number").is_in(_shared(holding)["number"].implode()))
    last = presented.group_by("reader", "number", "person").agg(last_at=pl.col("at").max())
    seen = last_seen.join(alone, on="number").select(last.columns)
    return pl.concat([seen, last]).sort("reader", "number", "person")


def _shared(holding: Frame) -> Frame:
    """Return the numbers that several held, one after the other or at once: person, number, since which day."""
    held = holding.select("person", "number", since=pl.col("hired_on").fill_null(date.min))
    return held.drop_nulls("number").filter(pl.col("person").n_unique().over("number") > 1)
