"""Who is bound by which rules, and by what their law says of pay."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.settings import SiteRules
from evenhand.terms.zones import day_start

__all__ = ["Binding", "bind"]


@dataclass(frozen=True)
class Binding:
    """Who is bound by what: `placed` (person, site, zone) of everybody whose site has rules."""

    placed: Frame
    rules: Mapping[str, SiteRules]
    laws: Mapping[str, PayLaw]

    @property
    def listed(self) -> Sequence[PayLaw]:
        """Return the laws by place, as the table of weeks names them."""
        return list(self.laws.values())

    def rate_period(self, site: str, workweek: date) -> tuple[date, int]:
        """Return the first day and the days of the regular-rate period that holds a site's workweek."""
        rules = self.rules[site].on(workweek)
        return rules.rate_period(self.laws[rules.jurisdiction].rate_period, workweek)

    @property
    def longest_period(self) -> int:
        """Return the days of the longest regular-rate period of any site, now or later."""
        every = [one for rules in self.rules.values() for one in (rules, *rules.changes)]
        kinds = [(one, self.laws[one.jurisdiction].rate_period) for one in every if one.jurisdiction in self.laws]
        return max([7, *(one.rate_period(kind, date.max)[1] for one, kind in kinds)])

    def with_workdays(self, rows: Frame) -> Frame:
        """Add `opens` and `closes` to rows (person, workweek, workday): the instants between which the workday lies."""
        placed = rows.join(self.placed.select("person", "site"), on="person", maintain_order="left")
        days = placed.select("site", "workweek", "workday").unique()
        bounds = [
            [day_start(rules.zone, day + timedelta(days=later), rules.workweek_s) for later in (0, 1)]
            for site, week, day in days.iter_rows()
            for rules in [self.rules[site].on(week)]
        ]
        opens, closes = (pl.Series([bound[end] for bound in bounds], dtype=pl.Int64) for end in (0, 1))
        known = days.with_columns(opens=opens, closes=closes)
        return placed.join(known, on=["site", "workweek", "workday"], maintain_order="left").drop("site")


def bind(people: Frame, rules: Mapping[str, SiteRules], laws: Mapping[str, PayLaw]) -> Binding:
    """Return who is bound by the rules of their site; people of a site without rules are left out."""
    zones = pl.select(
        site=pl.Series(list(rules), dtype=pl.String), zone=pl.Series([r.zone for r in rules.values()], dtype=pl.String)
    )
    placed = people.select("person", site=pl.col("site").fill_null("")).join(zones, on="site", maintain_order="left")
    return Binding(placed, rules, laws)
