"""What was earned beside the hours (EARNINGS), brought to the workweeks it is paid with and counts in."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

import polars as pl

from evenhand.pay.binding import Binding
from evenhand.pay.earned.entries import entries
from evenhand.pay.exact import UNITS
from evenhand.pay.rates.holding import with_rate
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence
from evenhand.terms.settings import SiteRules

__all__ = ["BESIDE_HOURS", "payment_entries", "payments", "share_entries", "with_share"]

PIECES, NOW, DEFERRED = BESIDE_HOURS = 1, 2, 3
NEVER_IN_RATE = ("gift", "expense", "leave")
NAMES = {
    "bonus": sentence("bonus"),
    "flat_bonus": sentence("flat bonus"),
    "commission": sentence("commission"),
    "piece": sentence("piece earnings"),
    "job": sentence("job earnings"),
    "flat_sum": sentence("flat sum"),
    "premium": sentence("premium already paid"),
    "gift": sentence("gift"),
    "expense": sentence("expense"),
    "leave": sentence("pay for leave"),
}
LABELLED = {
    "bonus": sentence("bonus: {label}"),
    "flat_bonus": sentence("flat bonus: {label}"),
    "commission": sentence("commission: {label}"),
    "piece": sentence("piece earnings: {label}"),
    "job": sentence("job earnings: {label}"),
    "flat_sum": sentence("flat sum: {label}"),
    "premium": sentence("premium already paid: {label}"),
    "gift": sentence("gift: {label}"),
    "expense": sentence("expense: {label}"),
    "leave": sentence("pay for leave: {label}"),
}


def payments(earnings: Frame, binding: Binding, weeks: tuple[date, date], held: Frame) -> Frame:
    """Return what bound people earned beside their hours and are paid with workweeks from `weeks[0]` to `weeks[1]`.

    With them those of the weeks that share their regular-rate periods.

    With it what they were paid before, where one of these payments is for a longer time; all in a fixed order.

    Columns: payment (place from 0), person, kind, name, first, last (days), opens, settles (the workweeks of the
    two days), is_deferred (earned in more than one workweek), amount [1/10000 of the currency]. Pieces and jobs are
    paid at the rate of the last day that earned them; amount is null where that rate is missing.
    """
    first, last = weeks[0], weeks[1] + timedelta(days=6)
    shared = first - timedelta(days=binding.longest_period - 7)
    longer = earnings.filter(pl.col("earned_to").is_between(first, last), pl.col("earned_from") < first)["person"]
    listed = (
        earnings.filter(pl.col("earned_to") <= last)
        .filter((pl.col("earned_to") >= shared) | pl.col("person").is_in(longer.unique().implode()))
        .join(binding.placed, on="person")
        .sort("person", "earned_from", "kind", "label")
        .with_columns(first="earned_from", last="earned_to", day="earned_to", reader=pl.lit(""))
    )
    named = pl.col("kind").replace_strict(NAMES, return_dtype=pl.String)
    begun = {kind: label.format(label="") for kind, label in LABELLED.items()}
    with_label = pl.col("kind").replace_strict(begun, return_dtype=pl.String) + pl.col("label")
    labelled = pl.col("label").fill_null("") != ""
    paid = pl.col("amount").cast(pl.Decimal(18, 4)).to_physical().cast(pl.Int64)
    by_units = listed.filter(pl.col("amount").is_null(), pl.col("units").is_not_null())
    rated = with_rate(listed, held) if by_units.height else listed.with_columns(rate=pl.lit(None, pl.UInt32))
    rated = rated.join(held.select("rate", "plan", of_one="amount"), on="rate", how="left", maintain_order="left")
    counted = pl.when(pl.col("plan") == pl.col("kind")).then(pl.col("units") * pl.col("of_one"))
    return rated.with_columns(
        opens=_workweeks(rated, "first", binding.rules), settles=_workweeks(rated, "last", binding.rules)
    ).select(
        pl.int_range(pl.len(), dtype=pl.Int64).alias("payment"),
        "person",
        "kind",
        "first",
        "last",
        "opens",
        "settles",
        name=pl.when(labelled).then(with_label).otherwise(named),
        is_deferred=pl.col("opens") != pl.col("settles"),
        amount=pl.coalesce(paid, counted),
    )


def _workweeks(listed: Frame, day: str, rules: Mapping[str, SiteRules]) -> pl.Series:
    """Return the first day of the workweek that holds each `day`, under the rules of the site on that day."""

    def begins(site: str, of: date) -> date:
        return of - timedelta(days=(of.weekday() - rules[site].on(of).workweek_day) % 7)

    pairs = listed.select("site", day)
    known = {pair: begins(*pair) for pair in pairs.unique().iter_rows()}
    return pl.Series([known[pair] for pair in pairs.iter_rows()], dtype=pl.Date)


def with_share(paid: Frame, since: str, until: pl.Expr) -> Frame:
    """Add `share` and `share_below`: the part of each payment for the days from `since` to `until` (columns).

    By days among all that earned it: equal for whole weeks, as 29 CFR 778.209(b) has it where the hours that earned it
    cannot be told.
    """
    begins = pl.max_horizontal("first", since)
    ends = pl.min_horizontal(pl.col("last"), until)
    days = pl.max_horizontal((ends - begins).dt.total_days() + 1, 0)
    whole = (pl.col("last") - pl.col("first")).dt.total_days() + 1
    return paid.with_columns(
        share=pl.col("amount").fill_null(0).cast(pl.Int128) * days, share_below=whole.cast(pl.Int128) * UNITS
    )


def share_entries(paid: Frame, by: str = "week") -> Frame:
    """Return an entry for each payment: columns of `payments`, with share, by_straight_hours and `by`, for whose it is.

    It is paid whole, and counts with its share. Sums that do not grow with the hours are all in the rate
    (29 CFR 778.310), premiums already paid are credited instead (29 USC 207(e)(5)-(7), (h)), and gifts, expenses and
    leave are neither (29 USC 207(e)(1)-(3)).
    """
    kind, nothing = pl.col("kind"), pl.lit(0, pl.Int128)
    out = kind.is_in([*NEVER_IN_RATE, "premium"])
    amount = pl.col("amount").fill_null(0).cast(pl.Int128) * (pl.col("share_below") // UNITS)
    return entries(
        paid,
        by,
        place=pl.when("is_deferred").then(DEFERRED).otherwise(NOW),
        order=pl.col("payment"),
        kind=kind,
        label=pl.col("name"),
        below=pl.col("share_below"),
        amount=amount,
        in_rate=pl.when(out).then(nothing).otherwise("share"),
        credit=pl.when(kind == "premium").then("share").otherwise(nothing),
        is_flat=(kind == "flat_bonus") & pl.col("by_straight_hours"),
    )


def payment_entries(settled: Frame, by_rate: Frame) -> list[Frame]:
    """Return entries for what is paid with each week (`share_entries`'s columns), and for the pieces of its time.

    Pieces of one week are held against their hourly floor, for the time that is paid by the piece; `by_rate` as in
    `rate_entries`. Source: 29 CFR 778.111(a) and (b).
    """
    by_piece = by_rate.filter(pl.col("plan") == "piece")
    if settled.is_empty() and by_piece.is_empty():
        return []
    of_week = (pl.col("kind") == "piece") & ~pl.col("is_deferred")
    time = by_piece.group_by("week").agg(seconds=pl.col("worked_s").sum(), floor=pl.col("floor").max().fill_null(0))
    pieces = settled.filter(of_week).group_by("week").agg(pieces=pl.col("amount").sum())
    found = [share_entries(settled.filter(~of_week))]
    if time.height or pieces.height:
        both = pieces.join(time, on="week", how="full", coalesce=True)
        counted = pl.col("pieces").fill_null(0).cast(pl.Int128) * 3600
        amount = pl.max_horizontal(counted, pl.col("floor").fill_null(0).cast(pl.Int128) * pl.col("seconds"), 0)
        found.append(
            entries(
                both,
                place=PIECES,
                order=0,
                kind="piece",
                label=NAMES["piece"],
                seconds=pl.col("seconds"),
                below=3600 * UNITS,
                amount=amount,
                in_rate=amount,
            )
        )
    return found
