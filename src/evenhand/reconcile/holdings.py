"""Who alone held a number, and from when to when."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

import numpy as np
import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.zones import DAY_S, offsets_of

__all__ = ["sole_holdings"]

BEGINNING, END = -(2**62), 2**62


def sole_holdings(people: Frame, zones: Iterable[str]) -> Frame:
    """Return the spans in which exactly one employed person holds a number, in each zone.

    Columns: number, zone, person, starts, ends (instants, half-open). `hired_on` and `left_on` are whole civil
    days in the zone of the reader, both inclusive; an empty one is open. While two people hold a number at
    once nobody holds it alone, so that span is absent. A number handed on after somebody left has two spans.
    """
    numbered = people.with_columns(pl.col("number").str.strip_chars()).filter(pl.col("number") != "")
    held = numbered.select("number", "person", "hired_on", "left_on")
    spans = [_in_zone(held, zone) for zone in sorted(set(zones))]
    if not spans:
        return _in_zone(held.clear(), "UTC")
    return _alone(pl.concat(spans))


def _in_zone(held: Frame, zone: str) -> Frame:
    return held.select(
        "number",
        pl.lit(zone).alias("zone"),
        "person",
        _midnights(held["hired_on"], zone, 0, BEGINNING).alias("starts"),
        _midnights(held["left_on"], zone, 1, END).alias("ends"),
    )


def _midnights(days: pl.Series, zone: str, later: int, when_empty: int) -> pl.Series:
    filled = days.fill_null(dt.date(1970, 1, 1)).to_physical().to_numpy().astype(np.int64)
    instants, _, _ = offsets_of(zone).from_local((filled + later) * DAY_S)
    return pl.Series(np.where(days.is_null().to_numpy(), when_empty, instants))


def _alone(spans: Frame) -> Frame:
    keys = ["number", "zone"]
    bounds = pl.concat([spans.select(*keys, at="starts"), spans.select(*keys, at="ends")])
    pieces = bounds.unique().sort(*keys, "at").with_columns(until=pl.col("at").shift(-1).over(keys)).drop_nulls("until")
    return (
        pieces.join(spans, on=keys)
        .filter(pl.col("starts") <= pl.col("at"), pl.col("until") <= pl.col("ends"))
        .group_by(*keys, "at", "until")
        .agg(pl.col("person").first(), pl.len().alias("holders"))
        .filter(pl.col("holders") == 1)
        .select(*keys, "person", starts="at", ends="until")
    )
