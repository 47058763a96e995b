"""Decisions about findings, files, rounds, what payroll is told, the policy on hands, erasures and settings."""

from __future__ import annotations

import polars as pl

from evenhand.jobs.decision_log.columns import day_in_words, is_last, logged, taken_back
from evenhand.jobs.snapshot import Snapshot
from evenhand.terms.columns import Frame

__all__ = ["erasures", "files", "hand_offs", "policies", "rounds", "settings", "settled", "teaching"]

CAME = {
    "enrolled": "enrolled",
    "removed": "taken off",
    "try_again": "to be tried again",
    "stopped": "stopped after five presentations",
    "did_not_come": "did not come",
    "passed_over": "passed over",
    "not_done": "put aside undone",
    "cannot": "cannot be enrolled",
    "undone": "taken back",
}


def settled(of: Snapshot) -> Frame:
    """Return which findings were let stand, and opened again (LOG); of a person where the finding's key names one."""
    parts = pl.col("finding").str.split("/")
    who = parts.list.get(1, null_on_oob=True)
    told = pl.col("says").fill_null(pl.col("finding"))
    return logged(
        of.settled,
        "settlement",
        "settled",
        "settlement",
        author=pl.col("author"),
        person=pl.when(who.is_in(of.people["person"].implode())).then(who),
        about=pl.col("finding"),
        day=parts.list.last().str.to_date("%Y-%m-%d", strict=False),
        says=pl.when(pl.col("is_withdrawn")).then(pl.format("opened again: {}", "finding")).otherwise(told),
        reason=pl.col("reason"),
        stands=is_last("finding", number="settlement"),
    )


def hand_offs(of: Snapshot) -> Frame:
    """Return which files were handed to payroll, and how differences of periods handed off are made good (LOG)."""
    period = pl.format("{} to {}", day_in_words("first_day"), day_in_words("last_day"))
    later = dict(of.handoffs.drop_nulls("replaces").select("replaces", "handoff").iter_rows())
    by = pl.col("handoff").replace_strict(later, default=None, return_dtype=pl.Int64)
    files = logged(
        of.handoffs,
        "hand-off",
        "handoffs",
        "handoff",
        author=pl.col("author"),
        about=pl.col("file"),
        day=pl.col("last_day"),
        says=pl.format("{} handed off: {}", period, "file"),
        reason=pl.when(pl.col("reason") != "").then("reason"),
        stands=by.is_null(),
        taken_back_by=by,
    )
    way = (
        pl.when(pl.col("way") == "elsewhere")
        .then(pl.lit("made good outside of payroll's files"))
        .otherwise(pl.lit("made good in the next period's file"))
    )
    differences = logged(
        of.adjustments,
        "hand-off",
        "adjustments",
        "adjustment",
        author=pl.col("author"),
        day=pl.col("last_day"),
        says=pl.format("difference of {} {}", period, way),
        reason=pl.col("reason"),
    )
    return pl.concat([files, differences])


def files(of: Snapshot) -> Frame:
    """Return which takes were taken back or read again (LOG)."""
    rows = of.take_decisions.join(of.takes.select("take", "file"), on="take", how="left")
    file = pl.format("{}, take {},", pl.col("file").fill_null("a file"), pl.col("take").fill_null(0))
    says = (
        pl.when(pl.col("action") == "back")
        .then(pl.format("{} taken back", file))
        .when(pl.col("action") == "again")
        .then(pl.format("{} read again", file))
        .otherwise(pl.lit("the store made anew from what was taken and decided"))
    )
    return logged(
        rows,
        "file",
        "take_decisions",
        "decision",
        author=pl.col("author"),
        about=pl.col("take"),
        says=says,
        reason=pl.col("reason"),
        stands=pl.when(pl.col("take").is_not_null()).then(is_last("take", number="decision")),
    )


def policies(of: Snapshot) -> Frame:
    """Return which versions of the policy on hands were added (LOG)."""
    return logged(
        of.consent_policies,
        "consent",
        "consent_policies",
        "policy",
        author=pl.col("author"),
        about=pl.col("policy"),
        day=pl.col("in_force_from"),
        says=pl.format("version {} of {} added, in force from {}", "policy", "name", day_in_words("in_force_from")),
    )


def erasures(of: Snapshot) -> Frame:
    """Return what was erased (LOG); of whom it was is kept nowhere."""
    what = pl.when(pl.col("what") == "hand").then(pl.lit("what came of somebody's hand")).otherwise(pl.lit("somebody"))
    return logged(
        of.erasures,
        "erasure",
        "erasures",
        "erasure",
        author=pl.col("author"),
        says=pl.format("{} erased", what),
        reason=pl.col("reason"),
    )


def rounds(of: Snapshot) -> Frame:
    """Return which rounds were planned, and what came of whom at the readers (LOG)."""
    planned = logged(
        of.rounds,
        "round",
        "rounds",
        "round",
        author=pl.col("author"),
        about=pl.col("round"),
        day=pl.col("day"),
        says=pl.format("round planned: {}", "title"),
    )
    items = of.round_items.select("item", "round", "reader", "person", "number")
    days = of.rounds.select("round", "day")
    told = of.outcomes.join(items, on="item", how="left").join(days, on="round", how="left")
    says = pl.format("number {}: {}", pl.col("number").fill_null("not told"), pl.col("result").replace(CAME))
    done = logged(
        told.with_columns(order=pl.col("made_at").rank("ordinal")),
        "round",
        "outcomes",
        "outcome",
        author=pl.col("author"),
        person=pl.col("person"),
        reader=pl.col("reader"),
        about=pl.col("round"),
        day=pl.col("day"),
        says=says,
        reason=pl.col("reason"),
        stands=is_last("item", number="order"),
    )
    return pl.concat([planned, done])


def teaching(of: Snapshot) -> Frame:
    """Return who played the round to practise on, and which steps of its own the workplace wrote (LOG)."""
    back = taken_back(dict(of.practices.drop_nulls("takes_back").select("practice", "takes_back").iter_rows()))
    by = pl.col("practice").replace_strict(back, default=None, return_dtype=pl.Int64)
    played = logged(
        of.practices,
        "teaching",
        "practices",
        "practice",
        author=pl.col("author"),
        person=pl.col("person"),
        day=pl.col("day"),
        says=pl.when(pl.col("takes_back").is_null())
        .then(pl.lit("the round to practise on played"))
        .otherwise(pl.format("practice {} taken back", "takes_back")),
        stands=by.is_null(),
        taken_back_by=by,
    )
    steps = logged(
        of.own_steps,
        "teaching",
        "own_steps",
        "version",
        author=pl.col("author"),
        about=pl.col("kind"),
        says=pl.format("own steps for {} written", "kind"),
        reason=pl.col("reason"),
        stands=is_last("kind", number="version"),
    )
    return pl.concat([played, steps])


def settings(of: Snapshot) -> Frame:
    """Return which settings, layouts and own rules were changed, or found to differ where nobody says by whom (LOG)."""
    noticed = of.settings_noticed.rename({"noticed_at": "made_at"})
    back = taken_back(dict(noticed.drop_nulls("withdraws").select("running", "withdraws").iter_rows()))
    by = pl.col("running").replace_strict(back, default=None, return_dtype=pl.Int64)
    is_first = pl.col("running") == pl.col("running").min().over("file")
    says = (
        pl.when(pl.col("withdraws").is_not_null())
        .then(pl.format("as before change {}", "withdraws"))
        .when(pl.col("author").is_not_null())
        .then(pl.lit("changed"))
        .when(pl.col("is_gone"))
        .then(pl.lit("found to be gone"))
        .when(is_first)
        .then(pl.lit("found for the first time"))
        .otherwise(pl.lit("found to have changed"))
    )
    return logged(
        noticed,
        "settings",
        "settings_texts",
        "running",
        author=pl.col("author"),
        about=pl.col("file"),
        says=pl.format("{} {}", "file", says),
        reason=pl.col("reason"),
        stands=pl.when(pl.col("author").is_not_null()).then(by.is_null()),
        taken_back_by=by,
    )
