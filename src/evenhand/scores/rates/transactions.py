"""From presentations to transactions: all attempts a person makes for one purpose.

Source: ISO/IEC 2382-37:2022, 37.06.45 (transaction), and ISO/IEC 19795-1 (rates of transactions), from memory.
"""

from __future__ import annotations

import numpy as np
import polars as pl

from evenhand.scores.tables import TRANSACTIONS
from evenhand.terms.columns import Frame

__all__ = ["ATTEMPTS", "GAP_S", "separate_suspects", "transactions"]

GAP_S = 120
"""Attempts farther apart than this [s] have another purpose."""
ATTEMPTS = 3
"""Attempts a reader allows before it wants the number again. Common practice, no source."""

# A mated score this many times the person's own median is not credible; in placements of nine equal features the
# chance of eight medians is below 1e-8 (chi-square); but a hurt hand may score so, and tries to the end.
FAR = 8.0
ORDINARY = 3.0
SOON_S = 1800


def transactions(presented: Frame, *, gap_s: int = GAP_S, attempts: int = ATTEMPTS) -> Frame:
    """Return the transactions (TRANSACTIONS) of presentations (PRESENTED), by reader, person and time.

    A transaction ends with an acceptance, after `attempts` refusals, or when `gap_s` pass. One that was rejected
    with scores far beyond the person's own was probably another hand or a number keyed by a slip if it was given up
    before the last attempt, if the person was accepted soon before or after, or if their next scores are as ever:
    it is marked, so that it can be counted apart.
    """
    usual = presented.filter(~pl.col("is_refused")).group_by("person").agg(usual=pl.col("score").median())
    grouped = (
        _numbered(presented, gap_s, attempts)
        .group_by("transaction", maintain_order=True)
        .agg(
            pl.col("person", "reader", "day").first(),
            pl.col("at").first(),
            last=pl.col("at").last(),
            attempts=pl.len(),
            is_rejected=pl.col("is_refused").all(),
            closest=pl.col("score").min(),
        )
        .join(usual, on="person", how="left", maintain_order="left")
    )
    soon, as_ever = _accepted_soon(grouped), _as_ever_next(grouped)
    unlike = pl.col("soon") | pl.col("as_ever") | (pl.col("attempts") < attempts)
    far = (pl.col("closest") > FAR * pl.col("usual")).fill_null(value=False)
    return TRANSACTIONS.frame(
        grouped.with_columns(soon=soon, as_ever=as_ever)
        .select(
            "person",
            "reader",
            "day",
            "at",
            pl.col("attempts"),
            seconds=pl.col("last") - pl.col("at"),
            is_rejected="is_rejected",
            is_suspect=pl.col("is_rejected") & far & unlike,
        )
        .to_dict()
    )


def _numbered(presented: Frame, gap_s: int, attempts: int) -> Frame:
    """Number the transactions that presentations belong to, by reader, person and time."""
    key = ["reader", "person"]
    return (
        presented.sort("reader", "person", "at", "punch")
        .with_columns(
            ends_before=(
                ~pl.col("is_refused").shift(1).over(key).fill_null(value=False)
                | (pl.col("at").diff().over(key).fill_null(gap_s + 1) > gap_s)
            )
        )
        .with_columns(run=pl.col("ends_before").cum_sum())
        .with_columns(transaction=pl.struct("run", pl.int_range(pl.len()).over("run") // attempts).rank("dense"))
    )


def _accepted_soon(grouped: Frame) -> pl.Series:
    """Whether the person was accepted within half an hour before or after, at any reader."""
    placed = grouped.select("person", "at", "is_rejected").with_row_index("row").sort("person", "at")
    accepted = pl.when(~pl.col("is_rejected")).then(pl.col("at"))
    before = accepted.forward_fill().over("person")
    after = accepted.backward_fill().over("person")
    near = ((pl.col("at") - before) <= SOON_S) | ((after - pl.col("at")) <= SOON_S)
    return placed.with_columns(soon=near.fill_null(value=False)).sort("row")["soon"]


def _as_ever_next(grouped: Frame) -> pl.Series:
    """Whether the person's next transaction, at any reader, was accepted with an ordinary score."""
    placed = (
        grouped.select("person", "at", "is_rejected", "closest", "usual").with_row_index("row").sort("person", "at")
    )
    ordinary = (~pl.col("is_rejected") & (pl.col("closest") <= ORDINARY * pl.col("usual"))).fill_null(value=False)
    following = ordinary.shift(-1).over("person").fill_null(value=False)
    return placed.with_columns(as_ever=following).sort("row")["as_ever"]


def separate_suspects(presented: Frame) -> tuple[Frame, Frame]:
    """Return the presentations (PRESENTED) of credible transactions, and those of suspect ones."""
    ordered = presented.sort("reader", "person", "at", "punch")
    grouped = transactions(ordered)
    # both stand by reader, person and time, so each presentation's transaction is found by repeating them
    suspect = grouped["is_suspect"].gather(np.repeat(np.arange(grouped.height), grouped["attempts"].to_numpy()))
    return ordered.filter(~suspect), ordered.filter(suspect)
