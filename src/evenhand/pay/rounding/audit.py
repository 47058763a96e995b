"""What rounding gave and took over a period, for each site, department and person.

Rounding is accepted only if over time it does not fail to pay for all the time actually worked (29 CFR 785.48(b)).
A rule that is neutral on paper need not be so in fact: habits and schedules decide where punches fall. What is
measured is the time between each punch that bounds paid time and the bound that was paid from, so grace periods count
with it. An average that is neutral for a site proves nothing for one person in it.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import polars as pl

from evenhand.pay.exact import UNITS
from evenhand.pay.rates.held import held_rates
from evenhand.pay.rates.holding import with_rate
from evenhand.pay.rounding.neutrality import holm, mean_intervals, sign_flips
from evenhand.pay.worktime import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.wages import ROUNDING

__all__ = ["audit_days", "moved_bounds", "moved_days"]

MONEY = ("worth", "worth_overtime", "valued")
EXACT, NORMAL = "exact sign-flip test", "sign-flip test, normal approximation"


def moved_bounds(classed: Frame, attributed: Frame) -> Frame:
    """Return each punch that bounds paid time with the seconds that rounding gave (+) or took (-) there.

    `classed` (CLASSED) holds whole shifts. Columns: person, shift, workweek (in which the shift begins), punch, at,
    reader, gain_s. Where paid time runs on across a punch, as over a paid rest, the punch bounds nothing.
    """
    # By person and time, rows that follow one another are compared: far cheaper than in groups by person.
    of_other = (pl.col("person") != pl.col("person").shift(1)).fill_null(value=True)
    of_next = (pl.col("person") != pl.col("person").shift(-1)).fill_null(value=True)
    opens = of_other | (pl.col("shift") != pl.col("shift").shift(1))
    spans = (
        classed.group_by("punch_in", "punch_out")
        .agg(
            pl.col("person", "shift").first(),
            pl.col("starts").min(),
            pl.col("ends").max(),
            pl.col("workweek").min(),
        )
        .sort("person", "starts", "ends")
        .with_columns(
            workweek=pl.when(opens).then("workweek").forward_fill(),
            begins=of_other | (pl.col("ends").shift(1) != pl.col("starts")),
            stops=of_next | (pl.col("starts").shift(-1) != pl.col("ends")),
        )
    )
    at = attributed.select("punch", "at", "reader")
    keep = ("person", "shift", "workweek", "punch", "at", "reader", "gain_s")
    starts = spans.filter("begins").join(at, left_on="punch_in", right_on="punch")
    ends = spans.filter("stops").join(at, left_on="punch_out", right_on="punch")
    return pl.concat(
        [
            starts.with_columns(punch="punch_in", gain_s=pl.col("at") - pl.col("starts")).select(keep),
            ends.with_columns(punch="punch_out", gain_s=pl.col("ends") - pl.col("at")).select(keep),
        ]
    )


def moved_days(
    classed: Frame, attributed: Frame, people: Frame, rates: Frame, zones: Mapping[str, str], weeks: tuple[date, date]
) -> Frame:
    """Return what was given and taken in each shift that begins in workweeks from `weeks[0]` to `weeks[1]`.

    `classed` and `attributed` reach a workweek further on both sides, so that no shift is cut; `zones` are people's.
    Columns: person, shift, gain_s, punches, and `worth`, `worth_overtime` with how many punches are `valued`, in
    units of `_in_money`. A person's shifts rest on nobody else's.
    """
    bounds = moved_bounds(classed, attributed).filter(pl.col("workweek").is_between(*weeks))
    worth = _in_money(bounds, classed, held_rates(rates, people).rates, zones)
    return worth.group_by("person", "shift").agg(pl.col("gain_s", *MONEY).sum(), punches=pl.len().cast(pl.Int64))


def audit_days(days: Frame, people: Frame) -> Frame:
    """Return ROUNDING of what was given and taken day by day (as of `moved_days`), for each level by name.

    People are the clusters of sites and departments, days those of a person. Chances are adjusted by Holm's method
    among all rows of the same level.
    """
    if days.is_empty():
        return ROUNDING.empty()
    by_day = days.sort("person", "shift").with_columns(days=pl.lit(1, pl.Int64))
    of_people = by_day.group_by("person", maintain_order=True).agg(pl.col("gain_s", *MONEY, "punches", "days").sum())
    placed = people.select("person", pl.col("site").fill_null(""), pl.col("department").fill_null(""))
    clusters = of_people.join(placed, on="person", maintain_order="left")
    rows = [
        _level(clusters.filter(pl.col(level) != "").sort(level, "person"), level) for level in ("site", "department")
    ]
    rows.append(_level(by_day, "person"))
    return pl.concat([ROUNDING.empty(), *(ROUNDING.frame(found.to_dict()) for found in rows if found.height)])


def _level(clusters: Frame, level: str) -> Frame:
    """Return the rows of ROUNDING for one level from its clusters, which come in order of the level."""
    if clusters.is_empty():
        return ROUNDING.empty()
    totals = clusters.group_by(level, maintain_order=True).agg(
        pl.col("punches", "days", *MONEY).sum(), people=pl.col("person").n_unique(), total_s=pl.col("gain_s").sum()
    )
    group = clusters[level].rle_id().cast(pl.Int64).to_numpy()
    sums, punches, days = (clusters[name].to_numpy() for name in ("gain_s", "punches", "days"))
    per_punch, per_day = mean_intervals(group, sums, punches), mean_intervals(group, sums, days)
    chance, exact = sign_flips(group, sums)
    found = {
        **dict(zip(("per_punch_s", "punch_low_s", "punch_high_s"), per_punch, strict=True)),
        **dict(zip(("per_day_s", "day_low_s", "day_high_s"), per_day, strict=True)),
        "chance": chance,
        "adjusted": holm(chance),
    }
    return (
        totals.rename({level: "name"})
        .with_columns(
            *(pl.Series(name, numbers, nan_to_null=True) for name, numbers in found.items()),
            level=pl.lit(level),
            test=pl.when(pl.Series(exact)).then(pl.lit(EXACT)).otherwise(pl.lit(NORMAL)),
            money=_cents("worth"),
            overtime_money=_cents("worth_overtime"),
        )
        .select(ROUNDING.names)
    )


def _in_money(bounds: Frame, classed: Frame, held: Frame, zones: Mapping[str, str]) -> Frame:
    """Add each bound's exact worth at its person's hourly rate, and one and a half times it in overtime weeks.

    Worth is counted in twice the units of rates, times seconds; null where no one hourly rate is known.
    """
    zone = pl.col("person").replace_strict(zones, default=None, return_dtype=pl.String)
    asked = bounds.with_columns(pl.col("reader").fill_null(""), zone=zone).filter(pl.col("zone").is_not_null())
    rated = with_rate(asked.select("punch", "person", "reader", day=civil_days(asked, "at")), held)
    hourly = held.filter(pl.col("plan") == "hourly").select("rate", of_hour="amount")
    overtime = classed.filter(pl.col("pay_class") != "ordinary").select("person", "workweek").unique()
    return (
        bounds.join(rated.select("punch", "rate"), on="punch", how="left")
        .join(hourly, on="rate", how="left")
        .join(overtime.with_columns(past=pl.lit(value=True)), on=["person", "workweek"], how="left")
        .with_columns(worth=pl.col("gain_s").cast(pl.Int128) * pl.col("of_hour") * 2)
        .with_columns(
            worth_overtime=pl.when("past").then(pl.col("worth") // 2 * 3).otherwise("worth"),
            valued=pl.col("worth").is_not_null().cast(pl.Int64),
        )
    )


def _cents(name: str) -> pl.Expr:
    """Return worth in money, rounded once to the cent, half up; null where no rate is known of any of it."""
    whole = 2 * UNITS * 3600
    cents = (pl.col(name).abs() * 200 + whole) // (2 * whole) * pl.col(name).sign()
    return pl.when(pl.col("valued") > 0).then(cents.cast(pl.Decimal(38, 4)) / 100)
