"""What a workweek earned, entry by entry, from its time, the rates that hold and what was earned beside the hours."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from evenhand.pay import earnings
from evenhand.pay.earnings import Earning
from evenhand.pay.rates import PersonRates, Rate
from evenhand.pay.stretches import WeekTime
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.records import Citation

__all__ = ["Earned", "Entry", "earned_entry", "piece_entries", "plan_entries"]

NAMES = {
    "bonus": "bonus",
    "flat_bonus": "flat bonus",
    "commission": "commission",
    "piece": "piece earnings",
    "job": "job earnings",
    "flat_sum": "flat sum",
    "premium": "premium already paid",
    "gift": "gift",
    "expense": "expense",
    "leave": "pay for leave",
}
EXCLUDED = ("gift", "expense", "leave")


@dataclass(frozen=True)
class Entry:
    """An earning with what its line shows.

    A `flat` one is a flat bonus divided by the hours that are not overtime: `in_rate` is what the week divides.
    """

    earning: Earning
    seconds: int | None = None
    rate: Fraction | None = None
    flat: bool = False

    @property
    def is_excluded(self) -> bool:
        """Whether the sum is paid without counting in the rate or being credited."""
        return not (self.earning.in_rate or self.earning.creditable)


@dataclass(frozen=True)
class Earned:
    """One row of EARNINGS in money; `amount` is None where a rate for its pieces or jobs is missing."""

    person: str
    first: date
    last: date
    kind: str
    label: str
    amount: Fraction | None

    @classmethod
    def from_row(cls, row: Mapping[str, Any], rates: PersonRates) -> Earned:
        """Return a row of EARNINGS; pieces and jobs are paid at the rate of the last day that earned them."""
        amount = None if row["amount"] is None else Fraction(row["amount"])
        if amount is None and row["units"] is not None:
            rate = rates.on(row["earned_to"])
            amount = row["units"] * rate.amount if rate and rate.plan == row["kind"] else None
        return cls(
            row["person"],
            row["earned_from"],
            row["earned_to"],
            row["kind"],
            NAMES[row["kind"]] + (f": {row['label']}" if row["label"] else ""),
            amount,
        )

    def share(self, workweek: date) -> Fraction:
        """Return the workweek's share, by its days among all days that earned the sum.

        Equal for whole weeks, as 29 CFR 778.209(b) has it where the hours that earned it cannot be told.
        """
        begins, ends = max(self.first, workweek), min(self.last, workweek + timedelta(days=6))
        days = max(0, (ends - begins).days + 1)
        return (self.amount or Fraction(0)) * days / ((self.last - self.first).days + 1)


def plan_entries(week: WeekTime, rates: PersonRates, law: PayLaw) -> list[Entry]:
    """Return what the week's rates pay for its time, without pieces and jobs, which are counted elsewhere."""
    entries: list[Entry] = []
    salaries = _salaries(week, rates)
    # A salary divided by the hours it covers stands beside other rates only as part of their weighted average.
    mixed = sum(1 for rate in week.by_rate if rate) > 1
    for rate, seconds in week.by_rate.items():
        if rate is None or rate.plan in ("piece", "job"):
            continue
        if rate.is_salary:
            entries.append(_salary(rate, salaries.get(rate, Fraction(1)), seconds, law, mixed=mixed))
        elif rate.plan == "day":
            days = sum(1 for of_day in week.days.values() if of_day == rate)
            paid = earnings.day_or_job_rate(rate.amount, days)
            entries.append(Entry(_under(law, "day", paid), None, rate.amount))
        else:
            where = f" at {rate.reader}" if rate.reader else ""
            paid = earnings.hourly(rate.amount, seconds, f"hourly pay{where}")
            entries.append(Entry(_under(law, "hourly", paid), seconds, rate.amount))
    return entries


def piece_entries(week: WeekTime, earned: Sequence[Earned], law: PayLaw) -> list[Entry]:
    """Return the pieces' earnings against their hourly floor, for the time that is paid by the piece."""
    own = [(rate, seconds) for rate, seconds in week.by_rate.items() if rate and rate.plan == "piece"]
    pieces = sum((one.amount or Fraction(0) for one in earned if one.kind == "piece"), Fraction(0))
    if not own:
        return [Entry(_under(law, "piece", earnings.piecework(pieces, 0)))] if pieces else []
    floor = max((rate.floor or Fraction(0) for rate, _ in own), default=Fraction(0))
    seconds = sum(seconds for _, seconds in own)
    return [Entry(_under(law, "piece", earnings.piecework(pieces, seconds, floor)), seconds)]


def earned_entry(one: Earned, law: PayLaw, in_rate: Fraction | None = None) -> Entry:
    """Return what was earned beside the hours; `in_rate` is the week's share of a sum for a longer time."""
    amount = one.amount or Fraction(0)
    share = amount if in_rate is None else in_rate
    if one.kind in EXCLUDED:
        return Entry(earnings.excluded(amount, one.label, law.source_of(one.kind)))
    if one.kind == "premium":
        cites = Citation(law.source_of("premium"))
        return Entry(Earning(one.label, amount, Fraction(0), cites, creditable=share))
    if one.kind == "flat_bonus" and law.flat_bonus_by_straight_hours:
        cites = Citation(law.source_of("flat_bonus"))
        return Entry(Earning(one.label, amount, share, cites), flat=True)
    make = {"commission": earnings.commission, "flat_sum": earnings.flat_sum}.get(one.kind, earnings.bonus)
    if one.kind in ("piece", "job"):
        return Entry(
            _under(law, one.kind, replace(earnings.day_or_job_rate(amount, 1), label=one.label, in_rate=share))
        )
    return Entry(_under(law, one.kind, replace(make(amount, one.label), in_rate=share)))


def _salary(rate: Rate, part: Fraction, seconds: int, law: PayLaw, *, mixed: bool) -> Entry:
    weekly = rate.weekly * part
    if law.salary_hours_s:
        # There a salary pays for the hours that are not overtime only, whatever was agreed.
        paid = earnings.salary_for_hours(weekly, int(law.salary_hours_s * part), seconds)
    elif rate.plan == "salary_fluctuating":
        paid = earnings.salary_for_whatever_hours(weekly)
    else:
        paid = earnings.salary_for_hours(weekly, int(rate.covers_s * part), seconds)
    if mixed:
        paid = replace(paid, in_rate=paid.amount, spread_s=None)
    return Entry(_under(law, rate.plan, paid), None, weekly)


def _salaries(week: WeekTime, rates: PersonRates) -> dict[Rate, Fraction]:
    """Return each salary's part of the week: all of it, or its days where another rate holds on other days."""
    days = [week.workweek + timedelta(days=offset) for offset in range(7)]
    holding = [rate for day in days if (rate := rates.on(day))]
    if len(_distinct(holding)) < 2:
        return {}
    return {rate: Fraction(holding.count(rate), len(holding)) for rate in _distinct(holding) if rate.is_salary}


def _under(law: PayLaw, kind: str, paid: Earning) -> Earning:
    return replace(paid, cites=Citation(law.source_of(kind)))


def _distinct(rates: Iterable[Rate]) -> list[Rate]:
    return list(dict.fromkeys(rates))
