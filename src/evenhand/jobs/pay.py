"""Pay in money of a snapshot's hours: of everybody's weeks, or of one person's week with its lines."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, fields, replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

import polars as pl

from evenhand import law, pay
from evenhand.jobs.hours import DayHours, PersonWeek, WorkedHours, around, compute_hours
from evenhand.jobs.snapshot import Snapshot
from evenhand.pay import DayPart, Pay, parts_of_day
from evenhand.terms.columns import Frame
from evenhand.terms.languages import Moment, pattern_of, sentence, told
from evenhand.terms.settings import Grace, Settings, SiteRules

__all__ = [
    "EverybodysPay",
    "PersonPay",
    "asks_for_money",
    "compute_pay",
    "day_pay",
    "is_in_money",
    "moved_days",
    "total_pay",
]

ASKED = {
    "missing_out": sentence(
        "no punch out after {moment:short}, so that its time is in no line; about {doubt:duration} are in doubt"
    ),
    "missing_in": sentence(
        "no punch in before {moment:short}, so that its time is in no line; about {doubt:duration} are in doubt"
    ),
    "long_span": sentence("the long span from {moment:short} is paid as punched, and asked about"),
    "same_time": sentence("two punches at {moment:short}, of which one is left out"),
}
IDLE_SALARY = told("what a salary pays for a week without hours is not worked out here; payroll says what it is")


@dataclass(frozen=True)
class PersonPay:
    """One person's workweek with its pay: PAY_LINES, PAY_WEEKS and PAY_FAULTS of that week; `total` as `total_pay`."""

    week: PersonWeek
    pay: Pay
    total: Decimal | None

    @property
    def totals(self) -> dict[str, Any]:
        """Return the row of PAY_WEEKS; empty where nothing was worked or earned."""
        return self.pay.weeks.row(0, named=True) if self.pay.weeks.height else {}

    @property
    def open(self) -> list[str]:
        """Return what keeps the week from being paid, or paid as it is written down, in words without a full stop.

        Punches that are missing and spans that are asked about are among it: their time is paid as it was punched.
        """
        idle = [IDLE_SALARY] if self.total is None and not self.totals else []
        return [*self._asked, *self.pay.faults["says"], *idle]

    @property
    def missing_punches(self) -> int:
        """Return how many punches of the week are missing, so that their time is in no line."""
        return sum(kind.startswith("missing") for kind in self.week.hours.questions["kind"])

    @property
    def total_says(self) -> str:
        """Return what the total is, where it is not all of it: what missing punches would pay is not in it."""
        missing = self.missing_punches
        if not missing:
            return ""
        return told(
            pattern_of(
                "without what {count} missing punch would pay",
                "without what {count:,} missing punches would pay",
                missing,
            ),
            count=missing,
        )

    @property
    def _asked(self) -> list[str]:
        zone, asked = self.week.rules.zone, self.week.hours.questions.sort("at")
        return [
            told(ASKED[kind], moment=Moment(at, zone), doubt=60 * minutes)
            for kind, at, minutes in asked.select("kind", "at", "minutes").iter_rows()
        ]


@dataclass(frozen=True)
class EverybodysPay:
    """PAY_WEEKS, PAY_ITEMS (all, and `on_earnings`) and PAY_FAULTS of everybody; lines are looked at one by one."""

    weeks: Frame
    items: Frame
    on_earnings: Frame
    faults: Frame

    @classmethod
    def of(cls, paid: Pay) -> EverybodysPay:
        """Return what is kept of a pay."""
        return cls(paid.weeks, paid.items, paid.on_earnings, paid.faults)

    def replaced(self, people: Collection[str], again: EverybodysPay) -> EverybodysPay:
        """Return the same with the pay of `people` as worked out again."""
        others = ~pl.col("person").is_in(list(people))
        frames = ((getattr(self, one.name), getattr(again, one.name)) for one in fields(self))
        return EverybodysPay(*(pl.concat([was.filter(others), now]) for was, now in frames))


def asks_for_money(settings: Settings) -> bool:
    """Whether the file for payroll has columns of money."""
    return any(pay.asks_for_pay(one.fields) for one in settings.import_definitions)


def is_in_money(snapshot: Snapshot) -> bool:
    """Whether anybody is paid by what is on file here, or payroll's file asks for money."""
    return asks_for_money(snapshot.settings) or pay.knows_money(snapshot.rates, snapshot.people, snapshot.earnings)


def compute_pay(
    snapshot: Snapshot, hours: WorkedHours, weeks: tuple[date, date], people: Collection[str] | None = None
) -> Pay:
    """Return the pay of the workweeks that begin from `weeks[0]` to `weeks[1]`, for everybody or for `people`.

    `hours` reach back over what is paid for a longer time, so that earlier weeks can be reopened.
    """
    roster, rates, earnings = snapshot.people, snapshot.rates, snapshot.earnings
    if people is not None:
        wanted = pl.col("person").is_in(list(people))
        roster, rates, earnings = (frame.filter(wanted) for frame in (roster, rates, earnings))
    named = {one.jurisdiction for rules in snapshot.rules.values() for one in (rules, *rules.changes)}
    return pay.compute_pay(
        hours.classed,
        hours.attributed,
        roster,
        rates,
        earnings,
        snapshot.rules,
        law.pay_laws(named, snapshot.own),
        weeks,
        premiums=hours.premiums,
        differentials=hours.differentials,
        differential_rates=_differential_rates(snapshot.settings),
    )


def moved_days(snapshot: Snapshot, hours: WorkedHours, hourly_rates: Frame, weeks: tuple[date, date]) -> Frame:
    """Return what rounding and grace gave and took (`pay.moved_days`) at the sites where they move times at all.

    `hourly_rates` are those of the hours, for laws that ask for the rate of a day.
    """
    policy = snapshot.settings.policy
    moving = {
        site: rules.zone
        for site, rules in snapshot.rules.items()
        if policy.grace != Grace() or any(one.rounding_s for one in (rules, *rules.changes))
    }
    placed = snapshot.people.select("person", pl.col("site").fill_null("")).iter_rows()
    zones = {person: moving[site] for person, site in placed if site in moving}
    theirs = around(hours.attributed, *weeks, snapshot.edge_days).filter(pl.col("person").is_in(list(zones)))
    as_punched = compute_hours(_moving_nothing(snapshot), theirs, hourly_rates, parts=()).weeks
    return pay.moved_days(hours.classed, hours.attributed, snapshot.people, snapshot.rates, zones, weeks, as_punched)


def _moving_nothing(snapshot: Snapshot) -> Snapshot:
    """Return the snapshot under the same rules with neither rounding nor grace."""

    def exact(rules: SiteRules) -> SiteRules:
        return replace(rules, rounding_s=0, changes=tuple(exact(one) for one in rules.changes))

    settings = snapshot.settings
    sites = {site: exact(rules) for site, rules in settings.sites.items()}
    return replace(snapshot, settings=replace(settings, sites=sites, policy=replace(settings.policy, grace=Grace())))


def total_pay(snapshot: Snapshot, person: str, paid: Pay, weeks: tuple[date, date]) -> Decimal | None:
    """Return all pay of one person's workweeks that begin from `weeks[0]` to `weeks[1]`, None where one's is not known.

    A week in which nothing was worked or earned pays 0.00; under a salary it is not known, since what a salary pays
    then is not worked out here.
    """
    totals = paid.weeks["total_pay"]
    if totals.null_count():
        return None
    theirs = pl.col("person") == person
    rates, roster = snapshot.rates.filter(theirs), snapshot.people.filter(theirs)
    for begins in pl.date_range(*weeks, "7d", eager=True):
        in_week = paid.weeks["workweek"].is_between(begins, begins + timedelta(days=6))
        if not in_week.any() and pay.salaried_people(rates, roster, begins):
            return None
    return sum(totals, Decimal("0.00")).quantize(Decimal("0.01"))


def day_pay(paid: PersonPay, day: DayHours) -> list[DayPart] | None:
    """Return what a day of the week adds to its pay; None where the week's pay is not known."""
    if paid.totals.get("total_pay") is None:
        return None
    return parts_of_day(paid.pay, day.starts, day.ends)


def _differential_rates(settings: Settings) -> dict[str, pay.DifferentialRate]:
    """Return what each differential of the policy adds; those of which the settings do not say it are left out."""
    return {
        one.name: pay.DifferentialRate(Fraction(one.an_hour), Fraction(one.multiple), one.is_of_days)
        for one in settings.policy.differentials
        if one.an_hour or one.multiple != 1
    }
