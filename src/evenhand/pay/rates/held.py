"""The rates that hold for each person, from RATES and the roster, and what is wrong with them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import polars as pl

from evenhand.pay.exact import UNITS
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence

__all__ = [
    "FOREVER",
    "IN_THIRTEENTHS",
    "SALARIES",
    "HeldRates",
    "held_rates",
    "hourly_rates",
    "knows_money",
    "salaried_people",
]

IN_THIRTEENTHS = {"week": 13, "half_month": 6, "month": 3}
"""A salary by the week: half a month's times 24 / 52, a month's times 12 / 52. Source: 29 CFR 778.113(b)."""
SALARIES = ("salary_fixed", "salary_fluctuating")
FOREVER = date.max
OWN, OVERLAP, ROSTER = 0, 1, 2
FAULTS = {
    "below_zero": pl.col("amount") < 0,
    "ends_early": pl.col("until") < pl.col("since"),
    "covers_nothing": (pl.col("plan") == "salary_fixed") & (pl.col("covers") <= 0),
}


@dataclass(frozen=True)
class HeldRates:
    """Rates that can be paid, and what keeps others from it.

    `rates`, one row each: rate (its place from 0), person, reader ('' for all work not at a reader with its own rate),
    since, until (dates), begins, stops (the same within the days of employment), plan, amount and floor [1/10000 of the
    currency], salary_for, covers [1/10000 h].
    `faults`: person, since, until (the days concerned), says.
    """

    rates: Frame
    faults: Frame


def held_rates(rates: Frame, people: Frame) -> HeldRates:
    """Return everybody's rates from RATES; the roster's hourly rate stands for those who have none for all work.

    A row without a last day holds until the next row of the same reader begins. What is unclear is never guessed: two
    rates that hold at once are both kept, so that neither is the one rate, and a faulty one is left out.
    """
    on_file = rates.with_columns(pl.col("reader").fill_null("")).sort("person", "reader", "valid_from")
    following = pl.col("valid_from").shift(-1).over("person", "reader") - timedelta(days=1)
    own = on_file.select(
        "person",
        "reader",
        since="valid_from",
        until=pl.coalesce("valid_to", following, pl.lit(FOREVER)),
        plan=pl.col("plan").fill_null("hourly"),
        amount=_units("amount"),
        salary_for=pl.col("salary_for").fill_null("week"),
        covers=_units("covers_hours").fill_null(0),
        floor=_units("floor"),
        source=pl.lit(OWN),
    )
    everywhere = own.filter(pl.col("reader") == "").select("person")
    roster = (
        people.filter(pl.col("hourly_rate").is_not_null())
        .join(everywhere, on="person", how="anti")
        .select(
            "person",
            reader=pl.lit(""),
            since=pl.lit(date.min),
            until=pl.lit(FOREVER),
            plan=pl.lit("hourly"),
            amount=_units("hourly_rate"),
            salary_for=pl.lit("week"),
            covers=pl.lit(0, pl.Int64),
            floor=pl.lit(None, pl.Int64),
            source=pl.lit(ROSTER),
        )
    )
    every = pl.concat([own, roster])
    employed = people.select("person", begins="hired_on", stops="left_on")
    held = every.filter(~pl.any_horizontal(*FAULTS.values())).drop("source").with_row_index("rate")
    held = held.join(employed, on="person", how="left", maintain_order="left").with_columns(
        begins=pl.max_horizontal("since", "begins"), stops=pl.min_horizontal("until", "stops")
    )
    some = held.height < every.height or own.height > 1
    return HeldRates(held, _faults(every) if some else _no_faults(every))


def knows_money(rates: Frame, people: Frame, earnings: Frame) -> bool:
    """Tell whether anything is on file that anybody could be paid by; where nothing is, no week's pay can be known."""
    return bool(rates.height or earnings.height or people["hourly_rate"].count())


def hourly_rates(rates: Frame, people: Frame) -> Frame:
    """Return what everybody is paid an hour, for laws that ask for the rate of a day; null where no hour has a rate.

    So it is with pieces, days and jobs. A salary for fixed hours is known by the hour too: a week of it over the hours
    it covers (29 CFR 778.113(a)), cut to whole units, which leaves it below or not below any limit in whole units. One
    for whatever hours are worked has no rate before they are.

    Columns: person, since, until (dates, both included), amount [1/10000 of the currency an hour].
    """
    held = held_rates(rates, people).rates
    weekly = pl.col("amount").cast(pl.Int128) * pl.col("salary_for").replace_strict(
        IN_THIRTEENTHS, return_dtype=pl.Int128
    )
    covers = pl.when(pl.col("plan") == "salary_fixed").then("covers")
    an_hour = (weekly * UNITS // (13 * covers.cast(pl.Int128))).cast(pl.Int64)
    amount = pl.when(pl.col("plan") == "hourly").then("amount").otherwise(an_hour)
    return held.select("person", "since", "until", amount=amount)


def _units(name: str) -> pl.Expr:
    return pl.col(name).cast(pl.Decimal(18, 4)).to_physical().cast(pl.Int64)


def _no_faults(every: Frame) -> Frame:
    return every.clear().select("person", "since", "until", says=pl.lit("", pl.String))


def _faults(every: Frame) -> Frame:
    """Return what is wrong with each rate, reader by reader, and which of them hold at once."""
    single = [every.filter(wrong).with_columns(kind=pl.lit(kind)) for kind, wrong in FAULTS.items()]
    earlier = [pl.col(name).shift(1).over("person", "reader").alias(f"earlier_{name}") for name in ("until", "amount")]
    overlaps = (
        every.filter(pl.col("source") == OWN)
        .with_columns(*earlier)
        .with_columns(both_until=pl.min_horizontal("earlier_until", "until"))
        .filter(pl.col("earlier_until").is_not_null(), pl.col("since") <= pl.col("both_until"))
        .with_columns(kind=pl.lit("overlap"), source=pl.lit(OVERLAP))
    )
    found = pl.concat([*single, overlaps], how="diagonal").sort(
        pl.col("source") == ROSTER, "reader", "source", "since", maintain_order=True
    )
    return found.select(
        "person",
        "since",
        until=pl.when(pl.col("kind") == "overlap").then("both_until").otherwise(pl.max_horizontal("since", "until")),
        says=pl.Series([_says(*row) for row in found.select(WORDED).iter_rows()], dtype=pl.String),
    )


BELOW_ZERO = sentence("the rate {amount} is below zero; correct it")
ENDS_EARLY = sentence("the rate from {since} ends on {until}, before it begins; correct one of the days")
COVERS_NOTHING = sentence("the salary from {since} does not say how many weekly hours it covers; add covers_hours")
TWO_HOLD = {
    (False, False): sentence(
        "two rates hold from {since} to {until}: {first} and {second}; end the first before the second begins"
    ),
    (False, True): sentence(
        "two rates hold from {since} on: {first} and {second}; end the first before the second begins"
    ),
    (True, False): sentence(
        "two rates hold at {reader} from {since} to {until}: {first} and {second}; end the first before the second "
        "begins"
    ),
    (True, True): sentence(
        "two rates hold at {reader} from {since} on: {first} and {second}; end the first before the second begins"
    ),
}
"""By whether they are of a reader, and whether they hold from a day on."""
WORDED = ("kind", "reader", "since", "until", "both_until", "amount", "earlier_amount")


def _says(kind: str, reader: str, since: date, until: date, both_until: date, amount: int, earlier: int | None) -> str:
    if kind == "below_zero":
        return BELOW_ZERO.format(amount=f"{amount / UNITS:.2f}")
    if kind == "ends_early":
        return ENDS_EARLY.format(since=since, until=until)
    if kind == "covers_nothing":
        return COVERS_NOTHING.format(since=since)
    return TWO_HOLD[bool(reader), both_until == FOREVER].format(
        reader=reader,
        since=since,
        until=both_until,
        first=f"{(earlier or 0) / UNITS:.2f}",
        second=f"{amount / UNITS:.2f}",
    )


def salaried_people(rates: Frame, people: Frame, workweek: date) -> set[str]:
    """Return who holds a salary on some day of a workweek on which they are employed."""
    employed = people.select(
        "person",
        first=pl.max_horizontal("hired_on", pl.lit(workweek)),
        last=pl.min_horizontal("left_on", pl.lit(workweek + timedelta(days=6))),
    )
    held = held_rates(rates, people).rates.filter(pl.col("plan").is_in(SALARIES)).join(employed, on="person")
    within = pl.max_horizontal("since", "first") <= pl.min_horizontal("until", "last")
    return set(held.filter(within)["person"])
