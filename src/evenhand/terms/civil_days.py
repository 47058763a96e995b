"""The civil day of an instant, on the clock of its own row."""

from __future__ import annotations

import numpy as np
import polars as pl

from evenhand.terms.zones import DAY_S, offsets_of

__all__ = ["civil_days"]


def civil_days(instants: pl.Series, zones: pl.Series) -> pl.Series:
    """Return the civil day of each instant [s since 1970-01-01T00:00:00Z] in its zone; null where either is null."""
    at = instants.fill_null(0).to_numpy()
    days = np.zeros(len(at), np.int64)
    for zone in zones.drop_nulls().unique():
        rows = (zones == zone).fill_null(value=False).to_numpy()
        days[rows] = offsets_of(zone).to_local(at[rows]) // DAY_S
    known = instants.is_not_null() & zones.is_not_null()
    return pl.select(pl.when(known).then(pl.Series(days, dtype=pl.Int64).cast(pl.Int32).cast(pl.Date))).to_series()
