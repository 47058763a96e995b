"""Unattributed punches, and the little the roster can say of them."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.reconcile.picture import Picture, discrepancies
from evenhand.reconcile.roster import bare
from evenhand.reconcile.seen import in_words
from evenhand.terms.columns import Frame

__all__ = ["of_punches"]


def of_punches(facts: Picture) -> Iterator[Frame]:
    """Yield DISCREPANCIES of what arrives under numbers nobody holds, and of those that only zeros in front part."""
    told = in_words(facts.unattributed, facts.readers)
    yield _unattributed(facts, told)
    yield _lost_zeros(facts, told)


def _unattributed(facts: Picture, told: Frame) -> Frame:
    hands = facts.standings.filter(pl.col("state").is_in(["wrong", "zeros"])).select("reader", "number", "person")
    holding = facts.roster.filter(pl.col("number").is_not_null())
    last = holding.group_by("number", maintain_order=True).agg(pl.col("call", "hired_on", "left_on").last())
    shared = facts.holders.select("number", count=pl.col("holders").list.len())
    rows = (
        told.join(hands, on=["reader", "number"], how="left")
        .join(last, on="number", how="left")
        .join(shared, on="number", how="left")
    )
    hired = pl.col("hired_on").cast(pl.String).fill_null("the beginning")
    left = pl.col("left_on").cast(pl.String).fill_null("today")
    why = (
        pl.when(pl.col("count") > 1)
        .then(pl.format("which {} people hold", "count"))
        .when(pl.col("call").is_not_null())
        .then(pl.format("held by {}, employed from {} to {}", "call", hired, left))
        .otherwise(pl.lit("which nobody on the roster holds"))
    )
    says = pl.format("{} accepted {} {} under {}, {}", "reader", "many", "when", "number", why)
    return discrepancies("unattributed_punches", rows, says)


def _lost_zeros(facts: Picture, told: Frame) -> Frame:
    holding = facts.roster.filter(pl.col("number").is_not_null())
    here = holding.filter("is_here").select("person", "call", other="number", bare=bare("number"))
    meant = here.filter(pl.len().over("bare") == 1, pl.col("bare") != "")
    rows = (
        told.with_columns(bare=bare("number"))
        .join(meant, on="bare")
        .join(facts.standings, on=["reader", "number"], how="anti")
        .join(holding, on="number", how="anti")
    )
    says = "{} logs {}; but for zeros in front this is {}, the number of {}; {} {}"
    return discrepancies("lost_zeros", rows, pl.format(says, "reader", "number", "other", "call", "many", "when"))
