"""Where the roster itself disagrees: no number, one number for two, too long a number, a hand on no reader."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.reconcile.picture import Picture, discrepancies
from evenhand.reconcile.roster import works_at
from evenhand.terms.columns import Frame
from evenhand.terms.tables import DISCREPANCIES

__all__ = ["of_roster"]


def of_roster(facts: Picture) -> Iterator[Frame]:
    """Yield DISCREPANCIES between people, their numbers and what readers can take or hold of them."""
    yield _no_number(facts.roster)
    yield _shared(facts)
    yield _too_long(facts)
    yield _not_enrolled(facts)


def _no_number(roster: Frame) -> Frame:
    without = roster.filter("is_here", pl.col("number").is_null())
    return discrepancies("no_number", without.drop("number"), pl.format("the roster gives {} no number to key", "call"))


def _shared(facts: Picture) -> Frame:
    """Each number with the first who holds it and each of the others."""
    held = facts.holders.filter(pl.col("holders").list.len() > 1)
    if held.is_empty():
        return DISCREPANCIES.empty()
    calls = facts.roster.select("person", "call")
    pairs = (
        held.select("number", person="holder", other=pl.col("holders").list.slice(1))
        .explode("other")
        .join(calls, on="person", maintain_order="left")
        .join(calls.rename({"person": "other", "call": "other_call"}), on="other", maintain_order="left")
    )
    seen = facts.unattributed.group_by("number").agg(
        pl.col("punches").sum(), pl.col("first_at").min(), pl.col("last_at").max()
    )
    rows = pairs.join(seen, on="number", how="left").with_columns(pl.col("punches").fill_null(0))
    return discrepancies(
        "shared_number", rows, pl.format("the roster gives {} to {} and to {}", "number", "call", "other_call")
    )


def _too_long(facts: Picture) -> Frame:
    digits = pl.col("number").str.len_chars()
    limited = facts.readers.filter(pl.col("max_digits").is_not_null()).select("reader", "max_digits", of_reader="site")
    here = facts.roster.filter("is_here").select("person", "number", of_person="site")
    # nearly every number is as long as every reader accepts: the pairs to look at are few
    long = here.filter(digits > (limited["max_digits"].min() if limited.height else 0))
    rows = long.join(limited, how="cross").filter(digits > pl.col("max_digits"), works_at("of_person", "of_reader"))
    return discrepancies(
        "too_long", rows, pl.format("{} has {} digits and {} accepts {}", "number", digits, "reader", "max_digits")
    )


def _not_enrolled(facts: Picture) -> Frame:
    roster, readers = facts.roster, facts.readers
    sites = readers.unique("reader", keep="first").select("reader", at="site")
    placed = facts.standings.select("number", "person", "state", "reader").join(sites, on="reader", how="left")
    is_shared = pl.col("state") == "shared"
    holders = facts.holders.select("number", person="holders").explode("person")
    known = pl.concat(
        [
            placed.filter(is_shared).select("number", "at").unique().join(holders, on="number").select("person", "at"),
            placed.filter(~is_shared, pl.col("person").is_not_null()).select("person", "at"),
        ]
    ).unique()
    here = roster.filter("is_here", pl.col("number").is_not_null())
    lost = pl.concat(
        [
            here.filter(pl.col("site").is_not_null()).join(
                known, left_on=["person", "site"], right_on=["person", "at"], how="anti"
            ),
            here.filter(pl.col("site").is_null()).join(known, on="person", how="anti"),
        ]
    )
    of_site = readers.group_by("site").agg(there=pl.col("reader").sort().str.join(", "))
    rows = lost.join(of_site, on="site", how="left")
    everywhere = readers["reader"].sort().str.join(", ").first() if readers.height else None
    there = pl.when(pl.col("site").is_null()).then(pl.lit(everywhere)).otherwise("there")
    evidence = pl.coalesce(
        pl.format("{} is on none of the readers of site {} ({})", "number", "site", there),
        pl.format("{} is on none of the readers of any site ({})", "number", there),
        pl.format("site {} has no reader on which {} could be enrolled", "site", "number"),
        pl.format("no site has a reader on which {} could be enrolled", "number"),
    )
    return discrepancies("not_enrolled", rows, evidence)
