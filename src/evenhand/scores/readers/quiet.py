"""A reader that is quieter than at the same hours of earlier weeks.

Source: the predictive distribution of a Poisson count with a gamma prior (negative binomial), from earlier weeks.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import polars as pl

from evenhand.scores.tables import READER_HEALTH
from evenhand.terms.columns import Frame
from evenhand.terms.zones import WEEK_S

__all__ = ["quiet_readers"]

WEEKS = 6
FEWEST_WEEKS = 2
UNLIKELY = 0.001
LONGEST_S = 3 * 86_400


def quiet_readers(presented: Frame, as_of: int) -> Frame:
    """Return the readers (READER_HEALTH) that have been silent as of an instant for longer than chance allows.

    The silence is compared with the same span of up to six earlier weeks. Their counts give the rate and how uneven
    it is; a silence that the reader has had before at those hours is not remarked upon. Where nobody was recorded
    anywhere since, it is the log that ends there.
    """
    until = presented.filter(pl.col("at") <= as_of)
    latest = until["at"].max()
    return READER_HEALTH.rows(_found(until, latest)) if isinstance(latest, int) else READER_HEALTH.empty()


def _found(presented: Frame, as_of: int) -> Iterator[dict[str, Any]]:
    for (reader,), rows in presented.group_by("reader", maintain_order=True):
        at = np.sort(rows["at"].to_numpy())
        last = int(at[-1])
        span = min(as_of - last, LONGEST_S)
        weeks = min(WEEKS, (as_of - int(at[0])) // WEEK_S)
        if weeks < FEWEST_WEEKS or span <= 0:
            continue
        ends = as_of - WEEK_S * np.arange(1, weeks + 1)
        counts = np.searchsorted(at, ends, side="right") - np.searchsorted(at, ends - span, side="right")
        chance = _chance_of_none(counts.astype(np.float64))
        if chance < UNLIKELY:
            missed = float(np.mean(counts))
            yield {
                "reader": reader,
                "kind": "quiet",
                "since": last,
                "size": missed,
                "says": f"{reader} has recorded nothing for {span / 3600:.1f} hours; about {missed:.0f} presentations "
                "came in the same hours of earlier weeks.",
                "proposal": "See whether it has power and whether people go elsewhere; fetch its log.",
            }


def _chance_of_none(counts: np.ndarray[tuple[int], np.dtype[np.float64]]) -> float:
    mean = float(counts.mean())
    if mean == 0:
        return 1.0
    if len(counts) > 1 and counts.min() == 0:
        return 1.0
    uneven = max(float(counts.var(ddof=1)) / mean, 1.0) if len(counts) > 1 else 1.0
    # negative binomial with this mean and variance mean x uneven; its chance of 0
    return float(np.exp(-mean)) if uneven == 1 else float(uneven ** (-mean / (uneven - 1)))
