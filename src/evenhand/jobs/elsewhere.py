"""Work at readers of sites under another law than that of the person's own site, where that law gives more."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import polars as pl

from evenhand import law
from evenhand.jobs.hours import around
from evenhand.jobs.reckoning import Reckoning
from evenhand.terms.columns import Frame
from evenhand.terms.hours import ELSEWHERE
from evenhand.terms.settings import Period, SiteRules
from evenhand.terms.workplace import rules_of_site

__all__ = ["find_elsewhere"]


def find_elsewhere(reckoning: Reckoning, period: Period) -> Frame:
    """Return who worked in the period at readers of a site whose law would have given them more (ELSEWHERE).

    The hours there are worked out once more under the rules of that site, from the punches at its readers alone.
    """
    of = reckoning.snapshot
    names = {str(site) for site in of.readers["site"].drop_nulls().unique()}
    found = {site: rules_of_site(of.settings, of.readers, site) for site in sorted(names)}
    places = {site: rules.on(period.first) for site, rules in found.items() if rules is not None}
    homes = {site: rules.on(period.first) for site, rules in of.rules.items()}
    if len({rules.jurisdiction for rules in (*places.values(), *homes.values())}) < 2:
        return ELSEWHERE.empty()
    people = of.people.select("person", home=pl.col("site").fill_null(""))
    punches = around(reckoning.hours.attributed, period.first, period.last, of.edge_days).join(
        of.readers.select("reader", "site"), on="reader", how="left", maintain_order="left"
    )
    rows = []
    for site, rules in places.items():
        foreign = [home for home, own in homes.items() if own.jurisdiction != rules.jurisdiction]
        away = people.filter(pl.col("home").is_in(foreign))["person"]
        there = punches.filter(pl.col("person").is_in(away.implode()), pl.col("site") == site).drop("site")
        if there.height:
            own = {who: homes[home] for who, home in people.iter_rows() if home in homes}
            rows += _gains(reckoning, period, site, rules, there, own)
    return ELSEWHERE.rows(rows)


def _gains(
    reckoning: Reckoning, period: Period, site: str, rules: SiteRules, there: Frame, homes: dict[str, SiteRules]
) -> list[dict[str, object]]:
    """Return a row for each person whom the law of the place gives more for the work that began there."""
    of = reckoning.snapshot
    hours = law.compute_hours(
        there, rules, of.settings.policy, keep_steps=False, schedules=of.schedules,
        rates=reckoning.hourly_rates, own=of.own,
    )  # fmt: skip
    # The two workweeks may begin on different days, so both are looked at as days of the period.
    until = period.last + timedelta(days=6)
    inside = pl.col("workweek").is_between(period.first - timedelta(days=6), until)
    mine = reckoning.hours.classed.filter(inside, pl.col("punch_in").is_in(there["punch"].implode()))
    theirs = hours.classed.join(mine.select("punch_in").unique(), on="punch_in", how="semi")
    rows = []
    for person in mine["person"].unique().sort():
        paid, due = _seconds(mine, person), _seconds(theirs, person)
        here, gives = (_owed(frame.filter(inside), person) for frame in (reckoning.hours.premiums, hours.premiums))
        if due["overtime"] + 2 * due["double"] > paid["overtime"] + 2 * paid["double"] or gives > here:
            rows.append(
                {
                    "person": person, "site": site, "law": rules.jurisdiction, "home_law": homes[person].jurisdiction,
                    "worked_s": sum(paid.values()), "overtime_s": paid["overtime"], "double_s": paid["double"],
                    "overtime_there_s": due["overtime"], "double_there_s": due["double"],
                    "premium_hours": here, "premium_hours_there": gives,
                }
            )  # fmt: skip
    return rows


def _seconds(spans: Frame, person: str) -> dict[str, int]:
    """Return the seconds of a person's spans (CLASSED) by class."""
    theirs = spans.filter(pl.col("person") == person)
    lasts = theirs.group_by("pay_class").agg((pl.col("ends") - pl.col("starts")).sum())
    return {"ordinary": 0, "overtime": 0, "double": 0} | dict(lasts.iter_rows())


def _owed(premiums: Frame, person: str) -> Decimal:
    return sum(premiums.filter(pl.col("person") == person)["hours"], Decimal(0))
