"""Which rate holds for work on a day and at a reader."""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Frame

__all__ = ["with_rate"]


def with_rate(asked: Frame, held: Frame) -> Frame:
    """Return `asked` (person, day, reader, ...) with `rate`, the one of `held` that holds then and there.

    A rate of the reader comes before one for all work. Null where none holds, or more than one does.
    """
    alone = held.filter(pl.col("person").is_unique(), pl.col("reader") == "")
    numbered = asked.with_row_index("ask").join(
        alone.select("person", "since", "until", one="rate"), on="person", how="left", maintain_order="left"
    )
    within = pl.when(pl.col("day").is_between("since", "until")).then("one")
    several = held.join(alone, on="person", how="anti").select("rate", "person", "since", "until", at="reader")
    found = _one_of_several(numbered.select("ask", "person", "day", "reader"), several)
    return (
        numbered.join(found, on="ask", how="left", maintain_order="left")
        .with_columns(rate=pl.coalesce("rate", within))
        .drop("ask", "since", "until", "one")
    )


def _one_of_several(asked: Frame, rates: Frame) -> Frame:
    """Return the rate of each `ask` for which exactly one holds, of people with several rates, or one at a reader."""
    of_reader = pl.col("at") != ""
    holding = (
        asked.join(rates, on="person", maintain_order="left")
        .filter(pl.col("day").is_between("since", "until"), ~of_reader | (pl.col("at") == pl.col("reader")))
        .select("ask", "rate", of_reader=of_reader)
    )
    nearer = holding.filter(pl.col("of_reader"))
    if nearer.height:
        holding = pl.concat([nearer, holding.join(nearer, on="ask", how="anti")])
    return holding.filter(pl.col("ask").is_unique()).select("ask", "rate")
