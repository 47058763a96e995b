"""Hours of pay owed beside time worked, as the record presumes them and as somebody decided about them.

A record of a short, late or missing meal period raises a presumption that evidence may rebut (11 Cal.5th 58); rest
periods are not punched, so what is owed for a missed one somebody has to enter (Labor Code 226.7(c)).
"""

from __future__ import annotations

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.hours import PREMIUMS
from evenhand.terms.languages import sentence

__all__ = ["decide_premiums", "standing_decisions"]

ENTERED = sentence("entered by {author}: {reason}")
KEY = ["person", "workday", "kind"]
CITES = {
    "meal": "Cal. Labor Code 226.7(c)",
    "rest": "Cal. Labor Code 226.7(c)",
    "split_shift": "IWC wage orders, section 4(C)",
    "reporting": "IWC wage orders, section 5",
    "call_back": "the workplace's policy",
}


def standing_decisions(decisions: Frame) -> Frame:
    """Return the last word on each person, workday and kind of PREMIUM_DECISIONS that leaves not all to the record."""
    last = decisions.sort("decision").unique(KEY, keep="last", maintain_order=True)
    return last.filter(pl.col("action") != "presume")


def decide_premiums(premiums: Frame, weeks: Frame, decisions: Frame) -> Frame:
    """Return PREMIUMS as decided: without those that were struck, with those that were entered in place of others.

    What was entered belongs to the workweek (WEEKS) of the person that holds its workday; where nothing was worked in
    it, there is none.
    """
    standing = standing_decisions(decisions)
    if standing.is_empty():
        return premiums
    kept = premiums.join(standing, on=KEY, how="anti", maintain_order="left")
    entered = (
        standing.filter(pl.col("action") == "owe")
        .join(weeks.select("person", "workweek"), on="person")
        .filter((pl.col("workday") - pl.col("workweek")).dt.total_days().is_between(0, 6))
        .with_columns(
            says=pl.format(ENTERED.format(author="{}", reason="{}"), "author", "reason"),
            cites=pl.col("kind").replace_strict(CITES, return_dtype=pl.String),
            punch=pl.lit(None, pl.Int64),
        )
    )
    return pl.concat([kept, PREMIUMS.frame(entered.select(PREMIUMS.names).to_dict())]).sort(*KEY, maintain_order=True)
