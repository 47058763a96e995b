"""What rounding gave and took over a period, for each site, department and person.

Rounding is accepted only if over time it does not fail to pay for all the time actually worked (29 CFR 785.48(b)).
A rule that is neutral on paper need not be so in fact: habits and schedules decide where punches fall. What is
measured is the time between each punch that bounds paid time and the bound that was paid from, so grace periods count
with it. An average that is neutral for a site proves nothing for one person in it.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

import polars as pl

from evenhand.pay.exact import UNITS
from evenhand.pay.rates.held import held_rates
from evenhand.pay.rates.holding import with_rate
from evenhand.pay.rounding.neutrality import holm, mean_intervals, sign_flips
from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.wages import ROUNDING

__all__ = ["audit_days", "moved_bounds", "moved_days"]

EDGE = timedelta(days=7)
"""A shift may begin before its week and end after it."""
OF_SHIFT = ("person", "shift", "workweek")
MONEY = ("worth", "worth_overtime", "valued")
EXACT, NORMAL = "exact sign-flip test", "sign-flip test, normal approximation"


def moved_bounds(classed: Frame, attributed: Frame) -> Frame:
    """Return each punch that bounds paid time with the seconds that rounding gave (+) or took (-) there.

    `classed` (CLASSED) holds whole shifts. Columns: person, shift, workweek (in which the shift begins), punch, at,
    reader, gain_s. Where paid time runs on across a punch, as over a paid rest, the punch bounds nothing.
    """
    return _moved(_bounds(classed), attributed)


def _bounds(classed: Frame) -> Frame:
    """Return where paid time begins (sign 1) and stops (-1): person, shift, workweek, punch, paid_at [s], sign."""
    # A person's rows stand together and by time, so that each is compared with its neighbours: far cheaper than groups.
    of_other, of_next = _differs(1, "person"), _differs(-1, "person")
    opens = of_other | _differs(1, "shift")
    first, last = (of | _differs(by, "punch_in", "punch_out") for of, by in ((of_other, 1), (of_next, -1)))
    spans = classed.select(
        "person",
        "shift",
        "starts",
        "ends",
        "punch_in",
        "punch_out",
        workweek=pl.when(opens).then("workweek").forward_fill(),
        begins=first & (of_other | (pl.col("ends").shift(1) != pl.col("starts"))),
        stops=last & (of_next | (pl.col("starts").shift(-1) != pl.col("ends"))),
    )
    sign = {way: pl.lit(way, pl.Int64) for way in (1, -1)}
    return pl.concat(
        [
            spans.filter("begins").select(*OF_SHIFT, punch="punch_in", paid_at="starts", sign=sign[1]),
            spans.filter("stops").select(*OF_SHIFT, punch="punch_out", paid_at="ends", sign=sign[-1]),
        ]
    )


def _differs(by: int, *names: str) -> pl.Expr:
    """Whether a row differs from the one `by` rows before it, or has none there."""
    return pl.any_horizontal((pl.col(name) != pl.col(name).shift(by)).fill_null(value=True) for name in names)


def _moved(bounds: Frame, attributed: Frame, *kept: str) -> Frame:
    """Return the bounds with when and where their punches were made, what was given (+) or taken (-), and `kept`."""
    punched = bounds.join(attributed.select("punch", "at", "reader"), on="punch")
    gain = pl.col("sign") * (pl.col("at") - pl.col("paid_at"))
    return punched.select(*OF_SHIFT, "punch", "at", "reader", *kept, gain_s=gain)


def moved_days(
    classed: Frame,
    attributed: Frame,
    people: Frame,
    rates: Frame,
    zones: Mapping[str, str],
    weeks: tuple[date, date],
    as_punched: Frame,
) -> Frame:
    """Return what was given and taken in each shift that begins in workweeks from `weeks[0]` to `weeks[1]`.

    `classed` and `attributed` reach a workweek further on both sides, so that no shift is cut; `zones` are people's,
    and whom they leave out is left out here. `as_punched` (WEEKS) are the same people's weeks had no time been moved: a
    week that rounding keeps from overtime has overtime, else what was lost of it would count as ordinary time.
    Columns: person, shift, gain_s, punches, and `worth`, `worth_overtime` with how many punches are `valued`, in
    units of `_in_money`. A person's shifts rest on nobody else's.
    """
    zone = pl.col("person").replace_strict(zones, default=None, return_dtype=pl.String)
    placed = people.select("person", zone=zone).drop_nulls("zone")
    theirs = pl.col("person").is_in(placed["person"].implode())
    around = classed.filter(pl.col("workweek").is_between(weeks[0] - EDGE, weeks[1] + EDGE), theirs)
    bounds = _bounds(around).filter(pl.col("workweek").is_between(*weeks)).join(placed, on="person")
    moved = _moved(bounds, attributed, "zone")
    held = held_rates(rates, people).rates
    at = pl.col("reader").fill_null("") if (held["reader"] != "").any() else pl.lit("")
    # Shifts have few days and readers, so that few rows are left before their rates are looked up.
    days = moved.with_columns(reader=at, day=civil_days(moved["at"], moved["zone"])).group_by(
        *OF_SHIFT, "day", "reader"
    )
    overtime = _overtime_weeks(classed, as_punched)
    worth = _in_money(days.agg(pl.col("gain_s").sum(), punches=pl.len().cast(pl.Int64)), overtime, held)
    return worth.group_by("person", "shift").agg(pl.col("gain_s", *MONEY, "punches").sum())


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


def _overtime_weeks(classed: Frame, as_punched: Frame) -> Frame:
    """Return person and workweek of the weeks that have overtime, as they are paid or as they were punched."""
    paid = classed.filter(pl.col("pay_class") != "ordinary").select("person", "workweek")
    punched = as_punched.filter(pl.col("overtime_s") + pl.col("double_s") > 0).select("person", "workweek")
    return pl.concat([paid, punched]).unique()


def _in_money(days: Frame, overtime: Frame, held: Frame) -> Frame:
    """Add the exact worth of each gain at its person's hourly rate, and one and a half times it in `overtime` weeks.

    Worth is counted in twice the units of rates, times seconds; null where no one hourly rate is known.
    """
    hourly = held.filter(pl.col("plan") == "hourly").select("rate", of_hour="amount")
    return (
        with_rate(days, held)
        .join(hourly, on="rate", how="left")
        .join(overtime.with_columns(past=pl.lit(value=True)), on=["person", "workweek"], how="left")
        .with_columns(worth=pl.col("gain_s").cast(pl.Int128) * pl.col("of_hour") * 2)
        .with_columns(
            worth_overtime=pl.when("past").then(pl.col("worth") // 2 * 3).otherwise("worth"),
            valued=pl.when(pl.col("worth").is_not_null()).then("punches").otherwise(0),
        )
    )


def _cents(name: str) -> pl.Expr:
    """Return worth in money, rounded once to the cent, half up; null where no rate is known of any of it."""
    whole = 2 * UNITS * 3600
    cents = (pl.col(name).abs() * 200 + whole) // (2 * whole) * pl.col(name).sign()
    return pl.when(pl.col("valued") > 0).then(cents.cast(pl.Decimal(38, 4)) / 100)
