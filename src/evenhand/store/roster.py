"""Who the rows of a roster without identifiers are: those whose numbers the roster holds already."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.tables import REJECTS

__all__ = ["identified", "identified_since"]

FOLDED = pl.col("name").str.to_lowercase().str.replace_all(r"[\s,;]+", " ").str.split(" ").list.sort().list.join(" ")


def identified(before: Frame, frame: Frame, lines: npt.NDArray[np.int64]) -> tuple[Frame, npt.NDArray[np.int64], Frame]:
    """Return the rows of a roster, and their lines, under the identifiers known for them, and those refused (REJECTS).

    `before` are the stored people, with since when each is `gone`. A row that stands under its own number for want of
    an identifier is whoever is listed with that number and by that name; under another name it is refused, since two
    people of one number would have no punch between them.
    """
    known = set(before["person"])
    listed = before.filter(pl.col("gone").is_null() & (pl.col("person") != pl.col("number")))
    holders = listed.select("number", holder="person", holder_name="name", holder_folded=FOLDED)
    rows = frame.with_columns(
        folded=FOLDED,
        line=pl.Series(lines, dtype=pl.Int64),
        wanting=(pl.col("person").is_null() | (pl.col("person") == pl.col("number"))) & pl.col("number").is_not_null(),
    )
    rows = rows.with_columns(wanting=pl.col("wanting") & ~pl.col("number").is_in(list(known)))
    met = rows.filter("wanting").join(holders, on="number", maintain_order="left")
    if met.is_empty():
        return frame, lines, REJECTS.empty()
    same = met.filter(pl.col("folded") == pl.col("holder_folded")).unique("line", keep="none")
    others = met.join(same, on="line", how="anti", maintain_order="left").unique("line", maintain_order=True)
    meant = rows.join(same.select("line", "holder"), on="line", how="left", maintain_order="left")
    meant = meant.join(others, on="line", how="anti", maintain_order="left")
    meant = meant.with_columns(person=pl.coalesce("holder", "person"))
    rejects = [_held(row) for row in others.iter_rows(named=True)]
    return meant.select(frame.columns), meant["line"].to_numpy(), REJECTS.rows(rejects)


def identified_since(listed: Frame, frame: Frame) -> Frame:
    """Return the people listed under their numbers whom a roster names by an identifier, under the same number.

    `known_as` is that identifier; empty where two people of one name have the number.
    """
    named = frame.filter(pl.col("person") != pl.col("number")).select("number", known_as="person", folded=FOLDED)
    named = named.group_by("number", "folded").agg(
        pl.when(pl.col("known_as").n_unique() == 1).then(pl.col("known_as").first()).alias("known_as")
    )
    unnamed = listed.filter(pl.col("person") == pl.col("number")).with_columns(folded=FOLDED)
    met = unnamed.join(named, on=["number", "folded"], maintain_order="left")
    return met.select(*listed.columns, "known_as")


def _held(row: dict[str, Any]) -> dict[str, Any]:
    return {
        "line": row["line"],
        "column": "number",
        "seen": row["number"],
        "reason": told(
            "the roster lists {holder} with this number; give this person's identifier, or correct the number",
            holder=f"{row['holder']} {row['holder_name']}",
        ),
    }
