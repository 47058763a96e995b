"""What clock windows, weekends and public holidays add to the hourly rate, by the workplace's own policy."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

import polars as pl

from evenhand.pay.earned.entries import entries
from evenhand.pay.exact import UNITS
from evenhand.pay.worktime import WEEK
from evenhand.terms.columns import Frame
from evenhand.terms.payroll import DIFFERENTIAL

__all__ = ["DifferentialRate", "differential_entries", "differential_time"]

PLACE = 4
CREDITABLE_FROM = Fraction(3, 2)


@dataclass(frozen=True)
class DifferentialRate:
    """What a differential adds: so much an hour, or a multiple of the rate of the work.

    `of_days` says that it is paid because of the day (a weekend, a holiday), not because of the clock: from one and a
    half times the rate on, only then is it creditable. Source: 29 USC 207(e)(6); 29 CFR 778.203.
    """

    an_hour: Fraction = Fraction(0)
    multiple: Fraction = Fraction(1)
    of_days: bool = False


def differential_time(windows: Frame, stretches: Frame, held: Frame, rates: Mapping[str, DifferentialRate]) -> Frame:
    """Return the time for which differentials add something, cut where its hourly rate changes.

    `windows` are DIFFERENTIALS with their week; `stretches` (WorkTime's) have their rate. Columns of `windows` with
    `begins`, `stops` and `spent` [s], `by_hour` (whether an hourly rate pays it), `base` (that rate, where the
    differential goes by it), and `per_unit`, `per_hour`, `below`: it adds (base x per_unit + per_hour) / below an hour;
    `credits`. Kinds without a rate add nothing and are left out.
    """
    kinds = pl.concat([_terms("", DifferentialRate()).clear(), *(_terms(*one) for one in rates.items())])
    hourly = held.filter(pl.col("plan") == "hourly").select("rate", base="amount")
    return (
        windows.with_row_index("window")
        .join(kinds, on="kind", how="inner", maintain_order="left")
        .join(stretches.select(*WEEK, "rate", since="starts", until="ends"), on=WEEK, maintain_order="left_right")
        .with_columns(begins=pl.max_horizontal("starts", "since"), stops=pl.min_horizontal("ends", "until"))
        .with_columns(spent=pl.col("stops") - pl.col("begins"))
        .filter(pl.col("spent") > 0)
        .join(hourly, on="rate", how="left", maintain_order="left")
        .with_columns(
            by_hour=pl.col("base").is_not_null(),
            base=pl.when("of_rate").then(pl.col("base").fill_null(0)).otherwise(0).cast(pl.Int128),
        )
        .with_columns(pl.col("credits") & (pl.col("base") > 0))
    )


def differential_entries(shared: Frame) -> Frame:
    """Return an entry for each kind and hourly rate of `differential_time`.

    A premium that is not creditable counts in the regular rate. Source: 29 CFR 778.207(b).
    """
    paid = shared.group_by("week", "kind", "base", maintain_order=True).agg(
        pl.col("spent").sum(), pl.col("of_rate", "per_unit", "per_hour", "below", "credits").first()
    )
    extra = pl.col("base") * pl.col("per_unit") + pl.col("per_hour")
    credited, amount = pl.col("credits"), extra * pl.col("spent")
    nothing = pl.lit(0, pl.Int128)
    return entries(
        paid,
        place=PLACE,
        order=pl.int_range(pl.len()),
        kind=pl.when(credited).then(pl.lit("premium")).otherwise(pl.lit("differential")),
        item=DIFFERENTIAL + pl.col("kind"),
        label=pl.col("kind"),
        seconds=pl.col("spent"),
        below=3600 * pl.col("below"),
        amount=amount,
        in_rate=pl.when(credited).then(nothing).otherwise(amount),
        credit=pl.when(credited).then(amount).otherwise(nothing),
        rate=extra,
        rate_below=pl.col("below"),
    )


def _terms(kind: str, rate: DifferentialRate) -> Frame:
    """Return what a kind adds to an hour at a rate of so many units: (rate x per_unit + per_hour) / below."""
    more, fixed = rate.multiple - 1, rate.an_hour
    return pl.select(
        kind=pl.lit(kind),
        of_rate=pl.lit(more != 0),
        per_unit=pl.lit(more.numerator * fixed.denominator, pl.Int128),
        per_hour=pl.lit(fixed.numerator * more.denominator * UNITS, pl.Int128),
        below=pl.lit(UNITS * more.denominator * fixed.denominator, pl.Int128),
        credits=pl.lit(rate.of_days and rate.multiple >= CREDITABLE_FROM),
    )
