"""Hands that one reader refuses far more often than hands are refused elsewhere at its site.

Scores are not needed. Source: exact binomial tail against the share of the rest of the site, with half a refusal more
than was seen there, so that a site without any other refusal does not make every one remarkable (the prior of Jeffreys
would be half a refusal and half an acceptance; common practice, no source).
"""

from __future__ import annotations

from collections.abc import Mapping

import polars as pl

from evenhand.scores.readers.logs import Logs
from evenhand.scores.tables import REFUSED_HANDS
from evenhand.terms.columns import Frame
from evenhand.terms.lately import LATELY_DAYS, is_lately
from evenhand.terms.zones import DAY_S

__all__ = ["refused_hands"]

FEWEST = 5
TIMES = 3
UNLIKELY = 1e-4


def refused_hands(logs: Logs, as_of: int, sites: Mapping[str, str]) -> Frame:
    """Return the hands (REFUSED_HANDS) under one number at one reader, over the last four weeks, by reader and number.

    A hand is named where at least five presentations were refused, three times the share of the rest of the site, and
    chance alone would do so in less than one of ten thousand.
    """
    from scipy.special import bdtrc

    recent = logs.presented.filter(is_lately(as_of)).select("reader", "number", "person", "is_refused")
    refused = recent.filter("is_refused").group_by("reader", "number").agg(pl.len().alias("refused"))
    often = refused.filter(pl.col("refused") >= FEWEST)
    if often.is_empty():
        return REFUSED_HANDS.empty()
    tried = recent.filter(pl.col("number").is_in(often["number"].unique().implode())).group_by("reader", "number")
    at_site = recent.group_by("reader").agg(all_tried=pl.len(), all_refused=pl.col("is_refused").sum())
    at_site = at_site.with_columns(
        site=pl.col("reader").cast(pl.String).replace_strict(dict(sites), default="", return_dtype=pl.String)
    ).with_columns(pl.col("all_tried", "all_refused").sum().over("site"))
    hands = (
        often.join(tried.agg(pl.len().alias("presentations"), pl.col("person").last()), on=["reader", "number"])
        .join(at_site, on="reader")
        .with_columns(pl.col("reader", "person").cast(pl.String), pl.col(pl.UInt32).cast(pl.Int64))
        .with_columns(
            elsewhere_refused=pl.col("all_refused") - pl.col("refused"),
            elsewhere_presentations=pl.col("all_tried") - pl.col("presentations"),
        )
        .with_columns(
            usual=pl.col("elsewhere_refused") / pl.col("elsewhere_presentations"),
            cautious=(pl.col("elsewhere_refused") + 0.5) / (pl.col("elsewhere_presentations") + 1),
        )
        .filter(
            pl.col("elsewhere_presentations") > 0,
            pl.col("refused") >= TIMES * pl.col("cautious") * pl.col("presentations"),
        )
    )
    count, trials, usual = (hands[name].to_numpy() for name in ("refused", "presentations", "cautious"))
    found = hands.with_columns(chance=pl.Series(bdtrc(count - 1, trials, usual), dtype=pl.Float64))
    found = _against_before(logs, found.filter(pl.col("chance") < UNLIKELY), as_of)
    return found.select(REFUSED_HANDS.names).sort("reader", "number")


def _against_before(logs: Logs, hands: Frame, as_of: int) -> Frame:
    """Add how often each hand was refused there before, and the chance of so many now, were it so still.

    Source: the beta-binomial prediction from the earlier counts and the prior of Jeffreys.
    """
    from scipy.stats import betabinom

    named = logs.presented.filter(pl.col("number").is_in(hands["number"].unique().implode()))
    before = named.filter(pl.col("at") <= as_of - LATELY_DAYS * DAY_S).group_by("reader", "number")
    earlier = before.agg(
        earlier_refused=pl.col("is_refused").sum().cast(pl.Int64), earlier_presentations=pl.len().cast(pl.Int64)
    ).with_columns(pl.col("reader").cast(pl.String))
    joined = hands.join(earlier, on=["reader", "number"], how="left", maintain_order="left")
    joined = joined.with_columns(pl.col("earlier_refused", "earlier_presentations").fill_null(0))
    count, trials, errors, seen = (
        joined[name].to_numpy() for name in ("refused", "presentations", "earlier_refused", "earlier_presentations")
    )
    chance = betabinom.sf(count - 1, trials, errors + 0.5, seen - errors + 0.5)
    return joined.with_columns(
        chance_as_before=pl.when(pl.col("earlier_presentations") > 0).then(pl.Series(chance, dtype=pl.Float64))
    )
