"""Which readers' logs end early: nothing was recorded, and no file was taken that could have told of it."""

from __future__ import annotations

from typing import Any

import polars as pl

from evenhand.checks.facts import Facts

__all__ = ["ended_logs"]


def ended_logs(facts: Facts) -> dict[str, dict[str, Any]]:
    """Return the rows of `health` on logs that end before the others of their site, by reader.

    A reader whose files go on with others' punches over half of that time is silent itself; its log is there.
    """
    found = {}
    for row in facts.health.filter(pl.col("kind") == "log_ends").iter_rows(named=True):
        own = facts.take_spans.filter(pl.col("reader") == row["reader"])["take"].implode()
        reaches = facts.take_spans.filter(pl.col("take").is_in(own))["last_at"].max()
        if isinstance(reaches, int) and 2 * reaches <= row["since"] + row["until"]:
            found[row["reader"]] = row
    return found
