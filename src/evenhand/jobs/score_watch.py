"""The watch over hands and readers, as a part of the reckoning: shown by Today and by Hands alike."""

from __future__ import annotations

from datetime import timedelta

import polars as pl

from evenhand import scores
from evenhand.jobs.reckoning import KEPT_HISTORY, Reckoning
from evenhand.store.tables import PUNCH_SHIFT
from evenhand.terms.columns import Frame
from evenhand.terms.zones import utc_start

__all__ = ["BUDGET", "LIMIT", "are_charts_drawn", "draw_charts", "watch_of"]

BUDGET, LIMIT = 1.0, 0.05
"""False alarms a month over all charts, and the share of refused presentations that is too much, unless asked."""


def watch_of(reckoning: Reckoning, budget: float = BUDGET, limit: float = LIMIT) -> scores.Watch:
    """Return the watch over what was recorded in the last half year; its parts are computed when first asked for.

    Raises Refusal for a budget or a limit that cannot be.
    """
    of = reckoning.snapshot
    sites = dict(of.readers.select("reader", "site").iter_rows())

    def make() -> scores.Watch:
        presented = _presentations(reckoning)
        as_of = int(reckoning.as_of.timestamp())
        logs = scores.ReaderLogs(presented, sites, as_of, reckoning.day)
        charts = reckoning.part(
            ("charts", budget, limit),
            # a reader whose clock runs ahead logs days that nobody else has
            lambda: scores.Charts(
                presented.filter(pl.col("at") < utc_start(reckoning.day + timedelta(days=2))),
                sites,
                as_of,
                budget,
                limit,
            ),
        )
        return scores.Watch(logs, charts)

    return reckoning.part(("watch", budget, limit), make)


def are_charts_drawn(reckoning: Reckoning) -> bool:
    """Whether the charts' findings are there without waiting for them."""
    return vars(watch_of(reckoning).charts).keys() >= {"alarms", "forecasts", "offsets"}


def draw_charts(reckoning: Reckoning) -> None:
    """Work out the charts' findings, which takes seconds over a large workplace."""
    charts = watch_of(reckoning).charts
    _ = charts.alarms, charts.forecasts, charts.offsets


def _presentations(reckoning: Reckoning) -> Frame:
    """Return what was recorded (PRESENTED), refused or accepted, with whoever holds the number."""
    of = reckoning.snapshot

    def make() -> Frame:
        # A server's snapshot may reach further back than a command's, and further for some people than for others.
        since = pl.col("at") >= utc_start(reckoning.day - KEPT_HISTORY)
        recorded = of.recorded.with_columns(reckoning.holders).filter(since)
        takes = of.takes.select(pl.col("take").cast(pl.Int64), "taken_at")
        taken = recorded.select(take=pl.col("punch") // 2**PUNCH_SHIFT).join(
            takes, on="take", how="left", maintain_order="left"
        )
        return scores.presentations_of(recorded, recorded["person"], of.readers, taken["taken_at"])

    return reckoning.part("presentations", make)
