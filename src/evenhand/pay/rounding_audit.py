"""What rounding gave and took over a period, for each site, department and person.

Rounding is accepted only if over time it does not fail to pay for all the time actually worked (29 CFR 785.48(b)).
A rule that is neutral on paper need not be so in fact: habits and schedules decide where punches fall. What is
measured is the time between each punch that bounds paid time and the bound that was paid from, so grace periods count
with it. An average that is neutral for a site proves nothing for one person in it.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

import polars as pl

from evenhand.pay.neutrality import holm, mean_interval, sign_flip
from evenhand.pay.rates import PersonRates, rates_of_people
from evenhand.pay.regular_rate import money
from evenhand.terms.columns import Frame
from evenhand.terms.wages import ROUNDING
from evenhand.terms.zones import civil_date

__all__ = ["audit_rounding", "moved_bounds"]

LEVELS = ("site", "department", "person")
RATE_UNITS = 10_000  # a rate is kept to four decimals


def moved_bounds(classed: Frame, owned: Frame) -> Frame:
    """Return each punch that bounds paid time with the seconds that rounding gave (+) or took (-) there.

    `classed` (CLASSED) holds whole shifts. Columns: person, shift, workweek (in which the shift begins), punch, at,
    reader, gain_s. Where paid time runs on across a punch, as over a paid rest, the punch bounds nothing.
    """
    spans = (
        classed.group_by("person", "shift", "punch_in", "punch_out")
        .agg(pl.col("starts").min(), pl.col("ends").max(), pl.col("workweek").min())
        .sort("person", "starts", "ends")
        .with_columns(
            pl.col("workweek").min().over("person", "shift"),
            begins=(pl.col("ends").shift(1).over("person") != pl.col("starts")).fill_null(value=True),
            stops=(pl.col("starts").shift(-1).over("person") != pl.col("ends")).fill_null(value=True),
        )
    )
    at = owned.select("punch", "at", "reader")
    keep = ("person", "shift", "workweek", "punch", "at", "reader", "gain_s")
    starts = spans.filter("begins").join(at, left_on="punch_in", right_on="punch")
    ends = spans.filter("stops").join(at, left_on="punch_out", right_on="punch")
    return pl.concat(
        [
            starts.with_columns(punch="punch_in", gain_s=pl.col("at") - pl.col("starts")).select(keep),
            ends.with_columns(punch="punch_out", gain_s=pl.col("ends") - pl.col("at")).select(keep),
        ]
    ).sort("person", "at")


def audit_rounding(
    classed: Frame, owned: Frame, people: Frame, rates: Frame, zones: Mapping[str, str], weeks: tuple[date, date]
) -> Frame:
    """Return ROUNDING for the shifts that begin in workweeks from `weeks[0]` to `weeks[1]`.

    `classed` and `owned` reach a workweek further on both sides, so that no shift is cut; `zones` places people.
    People are the clusters of sites and departments, days those of a person. Chances are adjusted by Holm's method
    among all rows of the same level.
    """
    bounds = moved_bounds(classed, owned).filter(pl.col("workweek").is_between(*weeks))
    if bounds.is_empty():
        return ROUNDING.empty()
    placed = people.select("person", pl.col("site").fill_null(""), pl.col("department").fill_null(""))
    bounds = _in_money(bounds, classed, rates_of_people(rates, people), zones).join(placed, on="person")
    rows: list[dict[str, Any]] = []
    for level in LEVELS:
        of_level = _rows(bounds.filter(pl.col(level) != ""), level, "shift" if level == "person" else "person")
        for row, adjusted in zip(of_level, holm([row["chance"] for row in of_level]), strict=True):
            row["adjusted"] = adjusted
        rows += of_level
    return ROUNDING.rows(rows)


def _rows(bounds: Frame, level: str, cluster: str) -> list[dict[str, Any]]:
    """Return a row for each name of the level; `cluster` is the column whose values are its independent units."""
    counted = (pl.len().cast(pl.Int64).alias("punches"), pl.struct("person", "shift").n_unique().alias("days"))
    clusters = bounds.group_by(level, cluster).agg(pl.col("gain_s").sum(), *counted).sort(level, cluster)
    totals = (
        bounds.group_by(level)
        .agg(
            pl.col("person").n_unique().alias("people"),
            pl.col("worth", "worth_overtime").sum(),
            pl.col("worth").count().alias("valued"),
        )
        .sort(level)
    )
    sums, punches, days = (clusters[name].cast(pl.Int64).to_numpy() for name in ("gain_s", "punches", "days"))
    rows, begins = [], 0
    sizes = clusters.group_by(level, maintain_order=True).len()["len"].to_list()
    for size, total in zip(sizes, totals.iter_rows(named=True), strict=True):
        part = slice(begins, begins + size)
        begins += size
        per_punch, punch_low, punch_high = mean_interval(sums[part], punches[part])
        per_day, day_low, day_high = mean_interval(sums[part], days[part])
        chance, test = sign_flip(sums[part].tolist())
        rows.append(
            {
                "level": level,
                "name": total[level],
                "punches": int(punches[part].sum()),
                "days": int(days[part].sum()),
                "people": total["people"],
                "total_s": int(sums[part].sum()),
                "per_punch_s": per_punch,
                "punch_low_s": punch_low,
                "punch_high_s": punch_high,
                "per_day_s": per_day,
                "day_low_s": day_low,
                "day_high_s": day_high,
                "chance": chance,
                "test": test,
                "money": _money(total["worth"]) if total["valued"] else None,
                "overtime_money": _money(total["worth_overtime"]) if total["valued"] else None,
            }
        )
    return rows


def _in_money(bounds: Frame, classed: Frame, held: Mapping[str, PersonRates], zones: Mapping[str, str]) -> Frame:
    """Add each bound's exact worth at its person's hourly rate, and one and a half times it in overtime weeks."""
    rates = [
        _hourly(held.get(person), at, reader or "", zones[person]) if person in zones else None
        for person, at, reader in bounds.select("person", "at", "reader").iter_rows()
    ]
    overtime = classed.filter(pl.col("pay_class") != "ordinary").select("person", "workweek").unique()
    return (
        bounds.with_columns(pl.Series("rate", rates, dtype=pl.Int64))
        .join(overtime.with_columns(past=pl.lit(value=True)), on=["person", "workweek"], how="left")
        .with_columns(worth=pl.col("gain_s") * pl.col("rate") * 2)
        .with_columns(worth_overtime=pl.when(pl.col("past")).then(pl.col("worth") // 2 * 3).otherwise(pl.col("worth")))
    )


def _hourly(rates: PersonRates | None, at: int, reader: str, zone: str) -> int | None:
    """Return the hourly rate in whole units of RATE_UNITS, in which rates are exact; None where there is none."""
    if rates is None:
        return None
    rate = rates.only or rates.on(civil_date(zone, at), reader)
    return int(rate.amount * RATE_UNITS) if rate and rate.plan == "hourly" else None


def _money(worth: int) -> Decimal:
    return money(Fraction(worth, 2 * RATE_UNITS * 3600))
