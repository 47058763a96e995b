"""Decisions about punches and hours: corrections, whose punches are whose, hours owed beside the time worked."""

from __future__ import annotations

from collections.abc import Mapping

import polars as pl

from evenhand import reconcile
from evenhand.jobs.decision_log.columns import counted_in_words, is_last, logged, taken_back
from evenhand.jobs.snapshot import Snapshot
from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.words import as_clock

__all__ = ["corrections", "hours_owed", "ruled_out"]

ALIKE = ("action", "person", "author", "reason", "made_at", "direction", "day", "clock", "reader", "keyed", "was")


def corrections(of: Snapshot) -> Frame:
    """Return corrections and attributions (LOG); what was given, or taken back, together is one row."""
    made = of.corrections
    if made.is_empty():
        return logged(made, "correction", "corrections", "correction", says=pl.lit(""))
    told = _with_punches(of, made)
    # Of a punch that was given away only its number and reader tell it; it may be of many days.
    many = pl.col("action").is_in(["attribute", "withdraw"])
    is_given = many & (pl.col("root_action") == "attribute")
    told = told.with_columns(pl.when(is_given).then(None).otherwise(name).alias(name) for name in ("day", "clock"))
    told = told.with_columns(alone=pl.when(pl.col("root_action") != "attribute").then("correction"))
    alike = (*ALIKE, "root_action", "taken_back", "alone")
    # What took a row back is named by the number under which it stands in the log: the last of its row.
    told = told.with_columns(as_one=pl.col("correction").max().over(alike))
    as_one = dict(told.select("correction", "as_one").iter_rows())
    told = told.with_columns(pl.col("undone_by").replace(as_one))
    rows = told.group_by(alike, maintain_order=True).agg(
        pl.col("correction").max(),
        pl.col("withdraws").max(),
        pl.col("undone_by").max(),
        count=pl.len(),
        undone=pl.col("undone_by").is_not_null().sum(),
    )
    when = pl.when(pl.col("clock").is_null()).then(pl.lit("")).otherwise(pl.format(" at {}", "clock"))
    way = pl.when(pl.col("direction").is_null()).then(pl.lit("")).otherwise(pl.format(", {}", "direction"))
    under = (
        pl.when(pl.col("keyed").is_null()).then(pl.lit("")).otherwise(pl.format(" under {} at {}", "keyed", "reader"))
    )
    punches = counted_in_words("a punch", "punches")
    to_nobody = pl.col("person").fill_null("") == ""
    says = (
        pl.when(pl.col("action") == "add")
        .then(pl.format("a punch added{}{}", when, way))
        .when(pl.col("action") == "leave_out")
        .then(pl.format("the punch{} left out", when))
        .when(pl.col("action") == "direct")
        .then(pl.format("the punch{} said to go {}", when, "direction"))
        .when(pl.col("action") == "withdraw")
        .then(
            pl.when(pl.col("count") == 1)
            .then(pl.format("correction {} taken back", "withdraws"))
            .otherwise(pl.format("{} corrections taken back{}", "count", under))
        )
        .when(to_nobody)
        .then(pl.format("{}{} returned to whoever holds the number", punches, under))
        .otherwise(pl.format("{}{} given to this person", punches, under))
    )
    return logged(
        rows,
        pl.when(pl.col("root_action") == "attribute").then(pl.lit("attribution")).otherwise(pl.lit("correction")),
        "corrections",
        "correction",
        count=pl.col("count"),
        author=pl.col("author"),
        person=pl.when(to_nobody).then("was").otherwise("person"),
        reader=pl.col("reader"),
        about=pl.col("reader") + "/" + pl.col("keyed"),
        day=pl.col("day"),
        says=says,
        reason=pl.col("reason"),
        stands=pl.col("undone") < pl.col("count"),
        taken_back_by=pl.when(pl.col("undone") == pl.col("count")).then("undone_by"),
    )


def _with_punches(of: Snapshot, made: Frame) -> Frame:
    """Return corrections with what each is about: reader, number keyed and civil day there, and what took it back."""
    numbers = made["correction"].to_list()
    root = reconcile.roots(made, numbers)
    withdrawn = taken_back(dict(made.drop_nulls("withdraws").select("correction", "withdraws").iter_rows()))
    given = _overtaken(made, withdrawn)
    undone = dict(given.drop_nulls("by").select("correction", "by").iter_rows()) | withdrawn
    told = made.select("correction", root_action="action", about="punch", added="at")
    added = made.filter(pl.col("action") == "add").select(about=-pl.col("correction"), added_at="at")
    logs = of.recorded.filter(pl.col("punch").is_in(made["punch"].drop_nulls().implode()))
    zones = {site: rules.zone for site, rules in of.rules.items()}
    sites = dict(of.people.select("person", "site").iter_rows())
    rows = (
        made.with_columns(
            root=pl.col("correction").replace_strict(root, return_dtype=pl.Int64),
            undone_by=pl.col("correction").replace_strict(undone, default=None, return_dtype=pl.Int64),
        )
        .join(made.select(withdraws="correction", taken_back="action"), on="withdraws", how="left")
        .join(told, left_on="root", right_on="correction", how="left")
        .join(logs.select("reader", about="punch", keyed="number", logged_at="at"), on="about", how="left")
        .join(added, on="about", how="left")
        .join(given.select("correction", "was"), on="correction", how="left")
        .with_columns(when=pl.coalesce("added", "added_at", "logged_at"))
        .sort("correction")
    )
    zone = (
        rows["person"]
        .replace_strict(sites, default=None, return_dtype=pl.String)
        .replace_strict(zones, default=of.zone, return_dtype=pl.String)
    )
    zones_known = zone.fill_null(of.zone)
    clocks = [
        None if at is None else as_clock(at, in_zone, is_named=of.zones_meet)
        for at, in_zone in zip(rows["when"], zones_known, strict=True)
    ]
    return rows.with_columns(pl.Series("clock", clocks, dtype=pl.String), day=civil_days(rows["when"], zones_known))


def _overtaken(made: Frame, withdrawn: Mapping[int, int]) -> Frame:
    """Return attributions, with `by`, the later one of the same punch that counts instead, and `was`, whose it was.

    An undone gift is no withdrawal: the punch is said to be nobody's, or another's, after it. `was` is null where no
    attribution that counts stood before.
    """
    counts = ~pl.col("correction").is_in(list(withdrawn))
    return (
        made.filter(pl.col("action") == "attribute")
        .sort("correction")
        .select(
            "correction",
            by=pl.when(counts).then("correction").shift(-1).backward_fill().over("punch"),
            was=pl.when(counts).then("person").shift(1).forward_fill().over("punch").replace("", None),
        )
    )


def ruled_out(of: Snapshot) -> Frame:
    """Return whose punches were said not to be whose (LOG)."""
    rows = of.rejected_attributions
    says = (
        pl.when(pl.col("is_withdrawn"))
        .then(pl.format("punches under {} at {} may be theirs again", "number", "reader"))
        .otherwise(pl.format("punches under {} at {} are not theirs", "number", "reader"))
    )
    return logged(
        rows,
        "attribution",
        "rejected_attributions",
        "rejection",
        author=pl.col("author"),
        person=pl.col("person"),
        reader=pl.col("reader"),
        about=pl.col("reader") + "/" + pl.col("number"),
        says=says,
        reason=pl.col("reason"),
        stands=is_last("reader", "number", "person", number="rejection"),
    )


def hours_owed(of: Snapshot) -> Frame:
    """Return what was said of hours owed beside the time worked (LOG)."""
    what = pl.col("kind").replace({"reporting": "reporting time"}).str.replace_all("_", " ")
    says = (
        pl.when(pl.col("action") == "strike")
        .then(pl.format("hours owed for {} struck", what))
        .when(pl.col("action") == "owe")
        .then(pl.format("{} h owed for {} entered", pl.col("hours").cast(pl.String), what))
        .otherwise(pl.format("hours owed for {} left to the record again", what))
    )
    return logged(
        of.premium_decisions,
        "hours owed",
        "premium_decisions",
        "decision",
        author=pl.col("author"),
        person=pl.col("person"),
        day=pl.col("workday"),
        says=says,
        reason=pl.col("reason"),
        stands=is_last("person", "workday", "kind", number="decision"),
    )
