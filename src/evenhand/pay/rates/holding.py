"""Which rate holds for work on a day and at a reader."""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Frame

__all__ = ["with_rate"]


def with_rate(asked: Frame, held: Frame) -> Frame:
    """Return `asked` (person, day, reader, ...) with `rate`, the one of `held` that holds then and there.

    A rate of the reader comes before one for all work. Null where none holds, or more than one does.
    """
    numbered = asked.with_row_index("ask")
    rates = held.select("rate", "person", "since", "until", at="reader")
    of_reader = pl.col("at") != ""
    holding = (
        numbered.select("ask", "person", "day", "reader")
        .join(rates, on="person", maintain_order="left")
        .filter(pl.col("day").is_between("since", "until"), ~of_reader | (pl.col("at") == pl.col("reader")))
        .select("ask", "rate", of_reader=of_reader)
    )
    nearer = holding.filter(pl.col("of_reader"))
    if nearer.height:
        holding = pl.concat([nearer, holding.join(nearer, on="ask", how="anti")])
    found = holding.filter(pl.col("ask").is_unique())
    return numbered.join(found.select("ask", "rate"), on="ask", how="left", maintain_order="left").drop("ask")
