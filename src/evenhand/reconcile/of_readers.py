"""Where a reader itself falls short: supervisors and room."""

from __future__ import annotations

from collections.abc import Iterator

import polars as pl

from evenhand.reconcile.picture import Picture, discrepancies
from evenhand.reconcile.roster import works_at
from evenhand.terms.columns import Frame
from evenhand.terms.tables import DISCREPANCIES

__all__ = ["SUPERVISORS_NEEDED", "able_supervisors", "of_readers"]

SUPERVISORS_NEEDED = 2
NEARLY_FULL = 0.9
MOST_NAMES = 6


def of_readers(facts: Picture) -> Iterator[Frame]:
    """Yield DISCREPANCIES of readers short of supervisors, with other authority than the roster's, or nearly full."""
    tells = facts.roster["is_supervisor"].is_not_null().any()
    right = facts.standings.filter(pl.col("state") == "right").join(
        facts.roster.select("person", "call", by_roster=pl.col("is_supervisor").fill_null(value=False)),
        on="person",
        maintain_order="left",
    )
    yield _few_supervisors(facts, right if not tells else right.filter("by_roster"), _not_counted(facts, tells=tells))
    if tells:
        yield _mismatches(facts, right)
    yield _nearly_full(facts)


def able_supervisors(roster: Frame, holders: Frame) -> Frame:
    """Return who of the roster is employed, may enrol others, and alone holds a number, in the roster's order."""
    alone = holders.filter(pl.col("holders").list.len() == 1)
    named = roster.filter("is_here", pl.col("is_supervisor").fill_null(value=False))
    return named.join(alone.select("number"), on="number", how="semi", maintain_order="left")


def _not_counted(facts: Picture, *, tells: bool) -> Frame:
    """Return reader and `not_counted`: whom its list gives authority and who is no supervisor for it all the same."""
    roster = facts.roster.select(
        "person", "call", by_roster=pl.col("is_supervisor").fill_null(value=False), right="number"
    )
    beside = facts.standings.filter("has_authority").join(
        roster, on="person", how="left", maintain_order="left", suffix="_of_person"
    )
    beside = beside.filter((pl.col("state") != "right") | (pl.lit(tells) & ~pl.col("by_roster")))
    meant = pl.format("a wrong number: may be the hand of {}, whose number is {}", "call", "right_of_person")
    why = (
        pl.when(pl.col("state") == "right")
        .then(pl.format("{} is no supervisor on the roster", "call"))
        .when(pl.col("state") == "leaver")
        .then(pl.format("{} has left", "call"))
        .when(pl.col("state") == "shared")
        .then(pl.lit("several people hold that number"))
        .when(pl.col("person").is_not_null() & pl.col("right_of_person").is_not_null())
        .then(meant)
        .otherwise(pl.lit("nobody on the roster holds that number"))
    )
    named = pl.when(pl.col("name").is_not_null()).then(pl.format("{} {}", "number", "name")).otherwise("number")
    told = beside.with_columns(says=pl.format("{} ({})", named, why))
    return told.group_by("reader", maintain_order=True).agg(not_counted=pl.col("says").str.join("; "))


def _few_supervisors(facts: Picture, may: Frame, not_counted: Frame) -> Frame:
    names = pl.format("{} {}", "number", "call")
    standing = (
        may.filter("has_authority")
        .group_by("reader", maintain_order=True)
        .agg(count=pl.len(), who=names.str.join(", "))
    )
    listed = facts.standings.group_by("reader").agg(listed=pl.len())
    few = (
        facts.readers.select("reader", of_reader="site")
        .join(standing, on="reader", how="left", maintain_order="left")
        .join(listed, on="reader", how="left", maintain_order="left")
        .join(not_counted, on="reader", how="left", maintain_order="left")
        .filter(pl.col("count").fill_null(0) < SUPERVISORS_NEEDED)
    )
    if few.is_empty():
        return DISCREPANCIES.empty()
    able = able_supervisors(facts.roster, facts.holders).select("call", of_person="site")
    could = (
        few.select("reader", "of_reader")
        .join(able, how="cross", maintain_order="left_right")
        .filter(works_at("of_person", "of_reader"))
        .group_by("reader", maintain_order=True)
        .agg(could=pl.col("call").head(MOST_NAMES).str.join(", "), more=pl.len().cast(pl.Int64) - MOST_NAMES)
    )
    more = pl.when(pl.col("more") > 0).then(pl.format(" and {} more", "more")).otherwise(pl.lit(""))
    told = (
        pl.when(pl.col("listed").is_null() | pl.col("reader").is_in(_tell_authority(facts).implode()))
        .then(pl.lit(""))
        .otherwise(pl.lit(", as its list does not say who may enrol others"))
    )
    also = pl.format("; with authority on its list but not counted: {}", "not_counted")
    beside = pl.when(pl.col("not_counted").is_null()).then(pl.lit("")).otherwise(also)
    numbers = pl.when(pl.col("listed") == 1).then(pl.lit("number")).otherwise(pl.lit("numbers"))
    nobody = pl.lit("nobody")
    evidence = pl.format(
        "{} lists {} {}; supervisors enrolled with authority: {}{}{}; supervisors on the roster of site {}: {}{}",
        "reader", pl.col("listed").fill_null(0), numbers, pl.col("who").fill_null(nobody), told, beside, "of_reader",
        pl.col("could").fill_null(nobody), more,
    )  # fmt: skip
    return discrepancies("few_supervisors", few.join(could, on="reader", how="left"), evidence)


def _tell_authority(facts: Picture) -> pl.Series:
    """The readers whose lists say who may enrol others."""
    return facts.standings.filter("tells_authority")["reader"].unique()


def _mismatches(facts: Picture, right: Frame) -> Frame:
    rows = right.filter(
        pl.col("reader").is_in(facts.readers["reader"].implode()),
        pl.col("reader").is_in(_tell_authority(facts).implode()),
        pl.col("by_roster") != pl.col("has_authority"),
    )
    is_one = pl.when("by_roster").then(pl.lit("a supervisor")).otherwise(pl.lit("no supervisor"))
    may = pl.when("has_authority").then(pl.lit("with")).otherwise(pl.lit("without"))
    says = "{} is {} on the roster but enrolled at {} under {} {} authority to enrol others"
    return discrepancies("supervisor_mismatch", rows, pl.format(says, "call", is_one, "reader", "number", may))


def _nearly_full(facts: Picture) -> Frame:
    listed = facts.standings.group_by("reader").agg(listed=pl.len())
    rows = (
        facts.readers.filter(pl.col("capacity").is_not_null())
        .join(listed, on="reader", how="left")
        .with_columns(pl.col("listed").fill_null(0))
        .filter(pl.col("listed") >= NEARLY_FULL * pl.col("capacity"))
    )
    return discrepancies(
        "near_capacity", rows, pl.format("{} holds {} hands and {} are enrolled", "reader", "capacity", "listed")
    )
