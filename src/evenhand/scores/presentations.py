"""Presentations as this room works on them: who holds the number that was keyed, and the civil time at the reader."""

from __future__ import annotations

import numpy as np
import polars as pl

from evenhand.scores.coding import code_names
from evenhand.scores.tables import PRESENTED
from evenhand.terms.columns import Frame
from evenhand.terms.zones import DAY_S, offsets_of

__all__ = ["presentations_of"]


def presentations_of(recorded: Frame, holders: pl.Series, readers: Frame, taken_at: pl.Series) -> Frame:
    """Return the presentations (PRESENTED) of readers that are listed, by reader and time, names as enumerations.

    `recorded` (RECORDED) are all that were logged, whatever came of them; `holders` (rows,) is the one person who holds
    the number of each, null where there is none, and `taken_at` (rows,) when its file was taken [s since 1970].
    """
    places = readers.unique("reader", keep="first").select("reader", "zone")
    columns = ("punch", "number", "reader", "at", "direction", "score")
    presented = recorded.select(
        *columns,
        person=holders,
        is_refused=(pl.col("outcome") == "refused").fill_null(value=False),
        taken_at=taken_at,
    )
    presented = code_names(presented.filter(pl.col("reader").is_in(places["reader"].implode())))
    local = _civil(presented, dict(places.iter_rows()))
    return presented.with_columns(
        day=pl.Series(local // DAY_S, dtype=pl.Int32).cast(pl.Date), clock_s=pl.Series(local % DAY_S)
    ).select(PRESENTED.names)


def _civil(presented: Frame, zones: dict[str, str]) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    """Civil time in the zone of each reader; presentations stand by reader."""
    at = presented["at"].to_numpy()
    local = np.empty(len(at), dtype=np.int64)
    opens = 0
    for reader, count in presented["reader"].rle().struct.unnest().select("value", "len").iter_rows():
        here = slice(opens, opens + count)
        local[here] = offsets_of(zones[reader]).to_local(at[here])
        opens += count
    return local
