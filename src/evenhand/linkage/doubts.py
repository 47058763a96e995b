"""Owned punches that may be somebody else's: two people in one number."""

from __future__ import annotations

import polars as pl

from evenhand.linkage.comparisons.contradictions import TRAVEL_S
from evenhand.terms.columns import Frame
from evenhand.terms.likeness.names import bearers
from evenhand.terms.settings import Policy

__all__ = ["doubted"]

FEWEST_PUNCHES = 4
FEWEST_CLASHES = 3


def doubted(owned: Frame, people: Frame, readers: Frame, enrolments: Frame, policy: Policy) -> Frame:
    """Return the punches worth asking about: those of OWNED, with number and holder, as `link` wants them.

    A person's punches at a reader are doubted where the reader hangs at another site, where it holds another
    name beside the number, where they come within ten minutes of punches at another site, or where together with
    the person's others they go in twice without going out. The reader the person uses most at the own site stays.
    """
    counted = _by_reader(owned, people, readers, enrolments, policy)
    reasons = pl.col("is_away") | pl.col("is_misnamed") | (pl.col("clashes") >= FEWEST_CLASHES)
    suspect = counted.filter(reasons, ~pl.col("is_main"), pl.col("punches") >= FEWEST_PUNCHES)
    return (
        owned.join(suspect.select("person", "reader", "number"), on=["person", "reader"], how="inner")
        .filter(pl.col("punch") >= 0, pl.col("number").is_not_null())
        .select("punch", "reader", "number", "at", "direction", holder="person")
    )


def _by_reader(owned: Frame, people: Frame, readers: Frame, enrolments: Frame, policy: Policy) -> Frame:
    sites = readers.unique("reader", keep="first").select("reader", reader_site="site")
    placed = owned.join(sites, on="reader", how="inner").sort("person", "at", "punch")
    # a punch clashes with the one before it where both go the same way, or where nobody could have got there
    before = {name: pl.col(name).shift(1).over("person") for name in ("at", "direction", "reader", "reader_site")}
    apart = pl.col("reader") != before["reader"]
    later_s = pl.col("at") - before["at"]
    within = later_s.is_between(policy.double_s, policy.longest_span_s)
    same_way = (pl.col("direction") == before["direction"]) & within
    too_far = (pl.col("reader_site") != before["reader_site"]) & (later_s < TRAVEL_S)
    clash = (apart & (same_way.fill_null(value=False) | too_far)).fill_null(value=False)
    counted = (
        placed.with_columns(clash=clash)
        .group_by("person", "reader", "reader_site")
        .agg(punches=pl.len().cast(pl.Int64), clashes=pl.col("clash").sum().cast(pl.Int64))
        .join(people.select("person", "name", "number", "site"), on="person")
        .with_columns(is_away=(pl.col("site") != pl.col("reader_site")).fill_null(value=False))
    )
    return _misnamed(counted, enrolments).with_columns(
        is_main=pl.struct(-pl.col("is_misnamed").cast(pl.Int64), -pl.col("is_away").cast(pl.Int64), "punches", "reader")
        .rank("ordinal", descending=True)
        .over("person")
        == 1
    )


def _misnamed(counted: Frame, enrolments: Frame) -> Frame:
    beside = enrolments.unique(["reader", "number"], keep="first").select("reader", "number", beside="name")
    joined = counted.join(beside, on=["reader", "number"], how="left", maintain_order="left")
    borne = bearers(joined["beside"], joined.unique("person")).with_columns(is_borne=True)
    compared = joined.join(borne, left_on=["beside", "person"], right_on=["written", "person"], how="left")
    tells = pl.col("beside").fill_null("").str.strip_chars() != ""
    return compared.with_columns(is_misnamed=tells & pl.col("is_borne").is_null())
