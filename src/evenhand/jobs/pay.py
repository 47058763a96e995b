"""Pay in money: of everybody's weeks, or of one person's week with its lines."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import polars as pl

from evenhand import law, pay
from evenhand.jobs.hours import DayHours, PersonWeek, WorkedHours, hours_between, person_week, rules_in_force
from evenhand.jobs.reckoning import RULES_FOLDER
from evenhand.jobs.workspace import Workspace
from evenhand.pay import Pay
from evenhand.pay.day import DayPart, parts_of_day
from evenhand.store import frames
from evenhand.store.own_rules import read_own_rules
from evenhand.terms.columns import Frame

__all__ = [
    "PersonPay",
    "asks_for_money",
    "day_pay",
    "pay_between",
    "pay_of_hours",
    "pay_of_week",
    "person_pay",
    "total_pay",
]


@dataclass(frozen=True)
class PersonPay:
    """One person's workweek with its pay: PAY_LINES, PAY_WEEKS and PAY_FAULTS of that week."""

    week: PersonWeek
    pay: Pay

    @property
    def totals(self) -> dict[str, object]:
        """Return the row of PAY_WEEKS; empty where nothing was worked or earned."""
        return self.pay.weeks.row(0, named=True) if self.pay.weeks.height else {}


def asks_for_money(workspace: Workspace) -> bool:
    """Whether the file for payroll has columns of money."""
    return any(field in pay.MONEY_FIELDS for _, field in workspace.settings.handoff_columns)


def pay_between(
    workspace: Workspace,
    first: date,
    last: date,
    *,
    people: Collection[str] | None = None,
    hours: WorkedHours | None = None,
) -> Pay:
    """Return the pay of all workweeks that begin from `first` to `last`, for everybody or for `people`.

    `hours` are those weeks' hours where they are known already. Hours of earlier weeks are worked out only where a
    payment for a longer time reopens them.
    """
    with workspace.store.reading() as conn:
        roster, rates, earnings = frames.people(conn), frames.rates(conn), frames.earnings(conn)
    if people is not None:
        wanted = pl.col("person").is_in(list(people))
        roster, rates, earnings = (frame.filter(wanted) for frame in (roster, rates, earnings))
    since = pay.earliest_earned(earnings, (first, last)) - timedelta(days=6)
    worked = hours
    if worked is None:
        worked = hours_between(workspace, first, last, people=people)
    if since < first - timedelta(days=6):
        earned = earnings.filter(pl.col("earned_from") < first)["person"].unique().to_list()
        before = hours_between(workspace, since, first - timedelta(days=1), people=earned)
        worked = _with_earlier(worked, before)
    return _paid(workspace, worked, worked.owned, roster, rates, earnings, (first, last))


def pay_of_hours(workspace: Workspace, hours: law.Hours, owned: Frame, person: str, weeks: tuple[date, date]) -> Pay:
    """Return one person's pay for hours that are only supposed, without reopening earlier weeks."""
    with workspace.store.reading() as conn:
        roster, rates, earnings = frames.people(conn), frames.rates(conn), frames.earnings(conn)
    mine = pl.col("person") == person
    return _paid(workspace, hours, owned, roster.filter(mine), rates.filter(mine), earnings.filter(mine), weeks)


def total_pay(paid: Pay) -> Decimal | None:
    """Return all pay of these weeks, None where a week's is not known."""
    totals = paid.weeks["total_pay"]
    return None if totals.null_count() else sum(totals, Decimal("0.00")).quantize(Decimal("0.01"))


def pay_of_week(workspace: Workspace, week: PersonWeek) -> PersonPay:
    """Return one person's week, worked out already, with its pay."""
    person = str(week.person["person"])
    return PersonPay(week, pay_between(workspace, week.workweek, week.workweek, people=[person], hours=week.hours))


def day_pay(workspace: Workspace, paid: PersonPay, day: DayHours) -> list[DayPart]:
    """Return what a day of the week adds to its pay; nothing where the week's pay is not known."""
    if paid.totals.get("total_pay") is None:
        return []
    mine = pl.col("person") == paid.week.person["person"]
    with workspace.store.reading() as conn:
        roster, rates = frames.people(conn).filter(mine), frames.rates(conn).filter(mine)
    zones = {str(paid.week.person["person"]): paid.week.rules.zone}
    return parts_of_day(day.classed, paid.week.hours.owned, roster, rates, zones, paid.pay.lines)


def person_pay(workspace: Workspace, person: str, day: date) -> PersonPay:
    """Return the workweek of `person` that holds `day`, with its pay; raises Refusal where nobody answers to it."""
    return pay_of_week(workspace, person_week(workspace, person, day))


def _paid(
    workspace: Workspace,
    hours: WorkedHours | law.Hours,
    owned: Frame,
    roster: Frame,
    rates: Frame,
    earnings: Frame,
    weeks: tuple[date, date],
) -> Pay:
    by_site = rules_in_force(workspace, roster)
    named = {one.jurisdiction for rules in by_site.values() for one in (rules, *rules.changes)}
    return pay.compute_pay(
        hours.classed,
        owned,
        roster,
        rates,
        earnings,
        by_site,
        law.pay_laws(named, read_own_rules(workspace.directory / RULES_FOLDER)),
        weeks,
        premiums=hours.premiums,
        differentials=hours.differentials,
        differential_rates=_differential_rates(workspace),
    )


def _differential_rates(workspace: Workspace) -> dict[str, pay.DifferentialRate]:
    """Return what each differential of the policy adds; those of which the settings do not say it are left out."""
    return {
        one.name: pay.DifferentialRate(Fraction(one.an_hour), Fraction(one.multiple), one.is_of_days)
        for one in workspace.settings.policy.differentials
        if one.an_hour or one.multiple != 1
    }


def _with_earlier(hours: WorkedHours, before: WorkedHours) -> WorkedHours:
    return WorkedHours(
        classed=pl.concat([before.classed, hours.classed]),
        weeks=pl.concat([before.weeks, hours.weeks]),
        questions=hours.questions,
        steps=hours.steps,
        owned=pl.concat([before.owned, hours.owned]).unique(subset="punch", keep="last"),
        unowned=hours.unowned,
        premiums=pl.concat([before.premiums, hours.premiums]),
        differentials=pl.concat([before.differentials, hours.differentials]),
    )
