"""What was given to somebody by hand, held against what the roster says since."""

from __future__ import annotations

import polars as pl

from evenhand.jobs.reckoning import Reckoning
from evenhand.terms.columns import Frame
from evenhand.terms.tables import OVERTAKEN_ATTRIBUTIONS

__all__ = ["overtaken_attributions"]


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
