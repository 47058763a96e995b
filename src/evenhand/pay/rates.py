"""Which rate holds for work on a day and at a reader; what is unclear about rates is a fault, never a guess."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from typing import Any

from evenhand.pay.earnings import monthly_to_weekly, semimonthly_to_weekly
from evenhand.terms.columns import Frame

__all__ = ["PersonRates", "Rate", "lowest_hourly_rates", "rates_of_people"]

SALARIES = ("salary_fixed", "salary_fluctuating")
FOREVER = date.max


@dataclass(frozen=True, eq=False)
class Rate:
    """One row of RATES, or the roster's hourly rate; `since` and `until` are its first and last days.

    Two rates are the same only if they are one row: what is alike on paper may have been agreed apart.
    """

    plan: str
    amount: Fraction
    since: date = date.min
    until: date = FOREVER
    reader: str = ""
    salary_for: str = "week"
    covers_s: int = 0
    floor: Fraction | None = None

    @property
    def is_salary(self) -> bool:
        """Whether the rate pays for the week rather than for time, pieces, days or jobs."""
        return self.plan in SALARIES

    @property
    def weekly(self) -> Fraction:
        """Return a salary by the week. Source: 29 CFR 778.113(b)."""
        if self.salary_for == "month":
            return monthly_to_weekly(self.amount)
        return semimonthly_to_weekly(self.amount) if self.salary_for == "half_month" else self.amount


@dataclass(frozen=True)
class PersonRates:
    """One person's rates, and what is wrong with them: sentences with the days they concern."""

    rates: tuple[Rate, ...]
    faults: tuple[tuple[date, date, str], ...] = ()

    def on(self, day: date, reader: str = "") -> Rate | None:
        """Return the one rate for work begun at `reader` on `day`; None where none, or more than one, holds."""
        if self.only is not None:
            return self.only
        for place in (reader, "") if reader else ("",):
            holding = [rate for rate in self.rates if rate.reader == place and rate.since <= day <= rate.until]
            if holding:
                return holding[0] if len(holding) == 1 else None
        return None

    @cached_property
    def only(self) -> Rate | None:
        """Return the one rate that holds on every day and at every reader, where there is one."""
        rate = self.rates[0] if len(self.rates) == 1 else None
        return rate if rate and (rate.since, rate.until, rate.reader) == (date.min, FOREVER, "") else None

    @cached_property
    def changes(self) -> list[date]:
        """Return the days on which a rate begins, or no longer holds."""
        ends = {rate.until + timedelta(days=1) for rate in self.rates if rate.until != FOREVER}
        return sorted(ends | {rate.since for rate in self.rates if rate.since != date.min})

    def faults_in(self, first: date, last: date) -> list[str]:
        """Return what is wrong with the rates of these days."""
        return [says for since, until, says in self.faults if since <= last and until >= first]


def rates_of_people(rates: Frame, people: Frame) -> dict[str, PersonRates]:
    """Return everybody's rates from RATES; the roster's hourly rate stands for those without a row of their own.

    A row without a last day holds until the next row of the same reader begins.
    """
    rows: dict[str, list[dict[str, Any]]] = {}
    for row in rates.sort("person", "valid_from").iter_rows(named=True):
        rows.setdefault(row["person"], []).append(row)
    roster: Mapping[str, Decimal | None] = dict(people.select("person", "hourly_rate").iter_rows())
    return {person: _person(rows.get(person, ()), roster.get(person)) for person in sorted({*roster, *rows}, key=str)}


def lowest_hourly_rates(rates: Frame, people: Frame) -> dict[str, Decimal | None]:
    """Return everybody's lowest hourly rate on file, for laws that ask for a rate; None where there is none."""
    return {
        person: min((_four_decimals(rate.amount) for rate in held.rates if rate.plan == "hourly"), default=None)
        for person, held in rates_of_people(rates, people).items()
    }


def _person(rows: Sequence[Mapping[str, Any]], on_roster: Decimal | None) -> PersonRates:
    found: list[Rate] = []
    faults: list[tuple[date, date, str]] = []
    for reader in sorted({row["reader"] or "" for row in rows}):
        own = [row for row in rows if (row["reader"] or "") == reader]
        nexts = [*(row["valid_from"] for row in own[1:]), None]
        here = [_rate(row, following) for row, following in zip(own, nexts, strict=True)]
        faults += [(rate.since, max(rate.since, rate.until), says) for rate in here for says in _faults(rate)]
        faults += [overlap for earlier, later in pairwise(here) if (overlap := _overlap(earlier, later))]
        found += here
    if on_roster is not None and not any(rate.reader == "" for rate in found):
        roster_rate = Rate("hourly", Fraction(on_roster))
        found.append(roster_rate)
        faults += [(date.min, FOREVER, says) for says in _faults(roster_rate)]
    sound = tuple(rate for rate in found if not _faults(rate))
    return PersonRates(sound, tuple(faults))


def _rate(row: Mapping[str, Any], following: date | None) -> Rate:
    until = row["valid_to"] or (following - timedelta(days=1) if following else FOREVER)
    return Rate(
        plan=row["plan"] or "hourly",
        amount=Fraction(row["amount"]),
        since=row["valid_from"],
        until=until,
        reader=row["reader"] or "",
        salary_for=row["salary_for"] or "week",
        covers_s=int(Fraction(row["covers_hours"] or 0) * 3600),
        floor=None if row["floor"] is None else Fraction(row["floor"]),
    )


def _faults(rate: Rate) -> list[str]:
    said = []
    if rate.amount < 0:
        said.append(f"the rate {float(rate.amount):.2f} is below zero; correct it")
    if rate.until < rate.since:
        said.append(f"the rate from {rate.since} ends on {rate.until}, before it begins; correct one of the days")
    if rate.plan == "salary_fixed" and rate.covers_s <= 0:
        said.append(f"the salary from {rate.since} does not say how many weekly hours it covers; add covers_hours")
    return said


def _overlap(earlier: Rate, later: Rate) -> tuple[date, date, str] | None:
    until = min(earlier.until, later.until)
    if later.since > until:
        return None
    days = f"from {later.since} " + ("on" if until == FOREVER else f"to {until}")
    where = f" at {later.reader}" if later.reader else ""
    amounts = f"{float(earlier.amount):.2f} and {float(later.amount):.2f}"
    says = f"two rates hold{where} {days}: {amounts}; end the first before the second begins"
    return later.since, until, says


def _four_decimals(amount: Fraction) -> Decimal:
    return Decimal(int(amount * 10_000)).scaleb(-4)
