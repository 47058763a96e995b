"""Weeks that a payment for a longer time reopens: the overtime on each week's share, and premium hours at its rate.

Sources: 29 CFR 778.209 and 778.119-120: pay without it, then go back over the weeks that earned it. Hours owed for meal
and rest periods are paid at the regular rate of pay, which holds such payments too (Ferra v. Loews, 11 Cal.5th 858,
2021, from memory); so are the others that are owed at the regular rate, such as for reporting.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import polars as pl

from evenhand.pay.due.regular_rate import PERIOD, Due
from evenhand.pay.earned.payments import share_entries, with_share
from evenhand.pay.exact import UNITS, Exact, whole
from evenhand.terms.columns import Frame

__all__ = ["AT_MINIMUM", "Reopened", "reopened_premiums", "reopened_weeks"]

AT_MINIMUM = "split_shift"
"""The kind of premium hours that is owed at the minimum wage and not at the regular rate."""

LAST_DAY = pl.col("earned_in") + pl.duration(days=pl.col("period_days") - 1)


@dataclass(frozen=True)
class Reopened:
    """What past weeks owe on later payments.

    `rows`: payment, name, week (the place of the one it is paid with), past (that of the last week with hours of the
    reopened regular-rate period), earned_in (the period's first workweek), beyond_s; `owed` is the amount of each.
    """

    rows: Frame
    owed: Exact


def reopened_weeks(weeks: Frame, deferred: Frame, earned: Frame, due: Due) -> Reopened | None:
    """Return what the payments of `deferred` that are paid with a week asked for owe for the weeks before it.

    `deferred` are all payments for a longer time. What a week owes is the difference with and without the share, so
    that credits beyond the earlier overtime are used up first; earlier payments for a longer time stand in both.
    None where nothing is reopened.
    """
    if deferred.is_empty():
        return None
    beyond = pl.Series(due.beyond_s.tolist(), dtype=pl.Int64)
    past = _past(weeks.with_columns(beyond_s=beyond)).filter(pl.col("beyond_s") > 0)
    pairs = _pairs(weeks, deferred, past)
    if pairs.is_empty():
        return None
    shares = share_entries(with_share(pairs, "earned_in", LAST_DAY), "pair")
    before = _earlier_shares(pairs, deferred)
    flats = pl.concat([shares.filter("is_flat")["pair"], before.filter("is_flat")["pair"]])
    of_week = pairs["past"].is_in(earned.filter("is_flat")["week"].unique().implode())
    divides = due.straight_s[pairs["past"].to_numpy()] > 0
    kept = divides | ~(pairs["pair"].is_in(flats.implode()) | of_week).to_numpy()
    owed = _owed(pairs, shares, before, due)
    kept &= np.array(owed.rounded(100)) > 0
    rows = pairs.select("payment", "name", "week", "past", "earned_in", "beyond_s")
    return Reopened(rows.filter(pl.Series(kept)), owed.take(np.flatnonzero(kept)))


def reopened_premiums(weeks: Frame, deferred: Frame, owed: Frame, due: Due) -> Reopened | None:
    """Return what those payments owe on premium hours (`owed`, PREMIUMS with their week) of the weeks before.

    Each is owed at the regular rate, so at its week's share for an hour: over the hours worked, or of a flat bonus that
    straight hours divide over those; `beyond_s` are the premium hours' seconds. None where nothing is owed.
    """
    if deferred.is_empty():
        return None
    hours = (
        owed.filter(pl.col("kind") != AT_MINIMUM)
        .group_by(PERIOD)
        .agg(units=pl.col("hours").cast(pl.Decimal(18, 4)).to_physical().cast(pl.Int64).sum())
    )
    past = _past(weeks.join(hours, on=PERIOD, maintain_order="left"))
    pairs = _pairs(weeks, deferred, past.with_columns(beyond_s=pl.col("units") * 3600 // UNITS))
    if pairs.is_empty():
        return None
    shares = share_entries(with_share(pairs, "earned_in", LAST_DAY), "pair").sort("pair")
    past_rows = pairs["past"].to_numpy().astype(np.intp)
    amount = Exact.zeros(pairs.height)
    for flat, over in ((False, due.worked_s), (True, due.straight_s)):
        of_kind = shares.filter(pl.col("is_flat") == flat)
        sums = Exact(whole(of_kind["in_rate"]) * 3600, whole(of_kind["below"]))
        sums = sums.summed(of_kind["pair"].to_numpy().astype(np.intp), pairs.height)
        amount += sums.times((over[past_rows] > 0).astype(object), np.maximum(over[past_rows], 1))
    amount = amount.times(whole(pairs["units"]), UNITS)
    kept = np.flatnonzero(np.array(amount.rounded(100)) > 0)
    rows = pairs.select("payment", "name", "week", "past", "earned_in", "beyond_s")
    return Reopened(rows[kept], amount.take(kept))


def _past(weeks: Frame) -> Frame:
    """Return the last week of each regular-rate period, up to which all that is due on it counts.

    Columns of `weeks` with `past` (its place) and `earned_in` in place of `week`, `workweek` and `period`.
    """
    last = weeks.unique(PERIOD, keep="last", maintain_order=True)
    others = ("workweek", "asked", "by_straight_hours")
    return last.drop(others).rename({"week": "past", "period": "earned_in"})


def _pairs(weeks: Frame, deferred: Frame, past: Frame) -> Frame:
    """Return each of the payments that are paid with a week asked for beside each `past` period that it reopens."""
    asked = weeks.filter("asked").select("person", "week", "by_straight_hours", "period", settles="workweek")
    return (
        deferred.join(asked, on=["person", "settles"])
        .join(past, on="person")
        .filter(pl.col("opens") <= LAST_DAY, pl.col("earned_in") < pl.col("period"))
        .sort("payment", "earned_in")
        .with_row_index("pair")
    )


def _earlier_shares(pairs: Frame, deferred: Frame) -> Frame:
    """Return the entries, by pair, of payments that reopened the pair's week before; its own have an entry there."""
    others = deferred.rename({"settles": "settled"}).drop("opens")
    columns = ("pair", "person", "settles", "earned_in", "period_days", "by_straight_hours")
    both = pairs.select(columns).join(others, on="person")
    both = both.filter(pl.col("settled") < pl.col("settles"), ~pl.col("settled").is_between("earned_in", LAST_DAY))
    shares = share_entries(with_share(both, "earned_in", LAST_DAY), "pair")
    return shares.filter(pl.col("in_rate") != 0).sort("pair")


def _owed(pairs: Frame, shares: Frame, before: Frame, due: Due) -> Exact:
    """Return what each pair's share adds to what its week owes beyond straight pay."""
    past = pairs["past"].to_numpy().astype(np.intp)
    overtime, double = due.overtime_s[past], due.double_s[past]
    # What a sum adds to the regular rate is owed half in overtime and whole in double time.
    more, over = overtime + 2 * double, 2 * due.worked_s[past]

    def value(frame: Frame, column: str, *, flat: bool) -> Exact:
        of_kind = frame.filter(pl.col("is_flat") == flat)
        sums = Exact(whole(of_kind[column]), whole(of_kind["below"]))
        return sums.summed(of_kind["pair"].to_numpy().astype(np.intp), pairs.height)

    earlier = due.premium.take(past) + value(before, "in_rate", flat=False).times(more, over)
    later = earlier + value(shares, "in_rate", flat=False).times(more, over)
    credit = due.credit.take(past)
    used = credit + value(shares, "credit", flat=False)
    on_hours = (later - used).not_below_zero() - (earlier - credit).not_below_zero()
    # A flat bonus that straight hours divide is owed one and a half times in overtime, twice in double time.
    straight = 2 * np.maximum(due.straight_s[past], 1)
    return on_hours + value(shares, "in_rate", flat=True).times(3 * overtime + 4 * double, straight)
