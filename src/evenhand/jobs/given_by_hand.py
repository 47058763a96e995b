"""What was given to somebody by hand, held against what the roster says since."""

from __future__ import annotations

import polars as pl

from evenhand.jobs.reckoning import Reckoning
from evenhand.terms.columns import Frame
from evenhand.terms.tables import GIVEN, OVERTAKEN_ATTRIBUTIONS

__all__ = ["given_by_hand", "overtaken_attributions"]


def given_by_hand(reckoning: Reckoning) -> Frame:
    """Return what somebody gave to whom, by reader, number and person (GIVEN)."""

    def make() -> Frame:
        of = reckoning.snapshot
        given = of.standing_corrections.filter(pl.col("action") == "attribute").sort("correction")
        last = given.unique("punch", keep="last").filter(pl.col("person") != "")
        if last.is_empty():
            return GIVEN.empty()
        told = of.recorded.select("punch", "reader", "number").join(
            last.select("punch", "person", "author", "made_at"), on="punch"
        )
        by = told.sort("made_at").group_by("reader", "number", "person", maintain_order=True)
        found = by.agg(pl.col("author", "made_at").last(), punches=pl.len().cast(pl.Int64))
        return GIVEN.frame(found.select(GIVEN.names).sort("reader", "number", "person").to_dict(as_series=True))

    return reckoning.part("given by hand", make)


def overtaken_attributions(reckoning: Reckoning) -> Frame:
    """Return the punches given by hand whose number the roster gives to another since (OVERTAKEN_ATTRIBUTIONS).

    Whose number it was is kept with every attribution; where that is not known, it is taken to have been nobody's.
    """

    def make() -> Frame:
        of = reckoning.snapshot
        given = of.standing_corrections.filter(pl.col("action") == "attribute").sort("correction")
        last = given.unique("punch", keep="last").filter(pl.col("person") != "")
        if last.is_empty():
            return OVERTAKEN_ATTRIBUTIONS.empty()
        told = of.recorded.with_columns(now=reckoning.holders.cast(pl.String)).join(
            last.drop("at", "direction"), on="punch", maintain_order="left"
        )
        others = (pl.col("now") != pl.col("person")) & (pl.col("now") != pl.col("holder").fill_null(""))
        found = told.filter(others).drop("holder").rename({"now": "holder"})
        return found.select(OVERTAKEN_ATTRIBUTIONS.names)

    return reckoning.part("overtaken attributions", make)
