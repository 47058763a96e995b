"""What rounding gave and took over a period, for each site, department and person.

Rounding is accepted only if over time it does not fail to pay for all the time actually worked (29 CFR 785.48(b)).
A rule that is neutral on paper need not be so in fact: habits and schedules decide where punches fall. What is
measured is the time between each punch that bounds paid time and the bound that was paid from, so grace periods count
with it. An average that is neutral for a site proves nothing for one person in it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction
from typing import Any

import polars as pl

from evenhand.pay.neutrality import holm, mean_interval, sign_flip
from evenhand.pay.rates import PersonRates, rates_of_people
from evenhand.pay.regular_rate import TIME_AND_A_HALF, money
from evenhand.terms.columns import Frame
from evenhand.terms.wages import ROUNDING
from evenhand.terms.zones import civil_date

__all__ = ["audit_rounding", "moved_bounds"]

LEVELS = ("site", "department", "person")


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
    bounds = bounds.join(placed, on="person", maintain_order="left").with_row_index("place")
    worth = _worth(bounds, classed, rates_of_people(rates, people), zones)
    rows: list[dict[str, Any]] = []
    for level in LEVELS:
        of_level = [
            {"level": level, "name": name} | _row(group, worth, "shift" if level == "person" else "person")
            for (name,), group in sorted(bounds.partition_by(level, as_dict=True).items())
            if name
        ]
        for row, adjusted in zip(of_level, holm([row["chance"] for row in of_level]), strict=True):
            row["adjusted"] = adjusted
        rows += of_level
    return ROUNDING.rows(rows)


def _row(bounds: Frame, worth: Sequence[tuple[Fraction, Fraction] | None], cluster: str) -> dict[str, Any]:
    clusters = bounds.group_by(cluster, maintain_order=True).agg(
        pl.col("gain_s").sum(), punches=pl.len().cast(pl.Int64), days=pl.col("shift").n_unique().cast(pl.Int64)
    )
    sums = clusters["gain_s"].to_numpy()
    per_punch, punch_low, punch_high = mean_interval(sums, clusters["punches"].to_numpy())
    per_day, day_low, day_high = mean_interval(sums, clusters["days"].to_numpy())
    valued = [amounts for place in bounds["place"] if (amounts := worth[place]) is not None]
    chance, test = sign_flip(clusters["gain_s"].to_list())
    return {
        "punches": bounds.height,
        "days": int(clusters["days"].sum()),
        "people": bounds["person"].n_unique(),
        "total_s": int(sums.sum()),
        "per_punch_s": per_punch,
        "punch_low_s": punch_low,
        "punch_high_s": punch_high,
        "per_day_s": per_day,
        "day_low_s": day_low,
        "day_high_s": day_high,
        "chance": chance,
        "test": test,
        "money": money(sum((straight for straight, _ in valued), Fraction(0))) if valued else None,
        "overtime_money": money(sum((more for _, more in valued), Fraction(0))) if valued else None,
    }


def _worth(
    bounds: Frame, classed: Frame, held: Mapping[str, PersonRates], zones: Mapping[str, str]
) -> list[tuple[Fraction, Fraction] | None]:
    """Value each bound at its person's hourly rate, and one and a half times it in weeks with overtime."""
    overtime = set(classed.filter(pl.col("pay_class") != "ordinary").select("person", "workweek").unique().iter_rows())
    worth: list[tuple[Fraction, Fraction] | None] = []
    columns = ("person", "workweek", "at", "reader", "gain_s")
    for person, workweek, at, reader, gain_s in bounds.select(columns).iter_rows():
        rate = held[person].on(civil_date(zones[person], at), reader or "") if person in zones else None
        if rate is None or rate.plan != "hourly":
            worth.append(None)
            continue
        amount = rate.amount * gain_s / 3600
        worth.append((amount, amount * TIME_AND_A_HALF if (person, workweek) in overtime else amount))
    return worth
